"""One line that moves, on a terminal only."""

import contextlib
import sys
from collections.abc import Callable, Generator
from typing import Final

from lacunar_cli.terminal import is_watched

WIDTH: Final = 24


@contextlib.contextmanager
def progress_bar() -> Generator[Callable[[str, float], None]]:
    """A bar on stderr, told what is being done and the share of all work that is done; nothing if nobody watches."""
    watched = is_watched(sys.stderr)

    def write(text: str) -> None:
        if watched:
            sys.stderr.write(f"\r\x1b[K{text}")
            sys.stderr.flush()

    def tell(text: str, share: float) -> None:
        done = round(WIDTH * max(0.0, min(1.0, share)))
        write(f"[{'#' * done}{'.' * (WIDTH - done)}] {text[:48]}")

    try:
        yield tell
    finally:
        write("")
