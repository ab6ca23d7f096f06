"""One line that moves, on a terminal only."""

import sys
from typing import Final

from lacunar_cli.terminal import is_watched

WIDTH: Final = 24


class Progress:
    """A bar on stderr; nothing at all where stderr is no terminal. Use as a context."""

    def __init__(self) -> None:
        """Look once whether anybody watches."""
        self._watched = is_watched(sys.stderr)

    def __enter__(self) -> "Progress":
        """Itself."""
        return self

    def __call__(self, text: str, share: float) -> None:
        """Say what is being done; `share` of all the work is done, 0 to 1."""
        if self._watched:
            done = round(WIDTH * max(0.0, min(1.0, share)))
            bar = "#" * done + "." * (WIDTH - done)
            sys.stderr.write(f"\r\x1b[K[{bar}] {text[:48]}")
            sys.stderr.flush()

    def __exit__(self, *_: object) -> None:
        """Clear the line."""
        if self._watched:
            sys.stderr.write("\r\x1b[K")
            sys.stderr.flush()
