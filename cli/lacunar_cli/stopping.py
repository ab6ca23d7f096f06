"""How a command is stopped: at any moment, with a status that says so."""

import contextlib
import os
import signal
import sys
import threading
from collections.abc import Callable, Generator
from types import FrameType
from typing import Final

SIGNALS: Final = (signal.SIGINT, signal.SIGTERM)


AGAIN: Final = 0.002
"""Seconds until a signal that came during an import is told again: less than any command takes between two of them."""

IMPORTS: Final = "<frozen importlib._bootstrap>"
"""Where Python's own imports run. Source: CPython, Lib/importlib/_bootstrap.py, frozen."""


class Terminated(KeyboardInterrupt):
    """Told to end, by whoever may."""


@contextlib.contextmanager
def stoppable() -> Generator[None]:
    """Let a signal stop the block as an exception, so that what it has begun is cleared away."""
    before = {number: signal.getsignal(number) for number in SIGNALS}
    _listen(_stop)
    try:
        yield
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)


def leave_at_once(words: bytes = b"") -> None:
    """Where there is nothing to clear away, and what runs may take a signal for a fault or not end for one."""

    def leave(number: int, _frame: FrameType | None) -> None:
        if words:
            os.write(2, words)
        os._exit(128 + number)

    _listen(leave)


def deaf() -> None:
    """From here on a signal comes too late: all is done, and the status tells it."""
    for number in SIGNALS:
        signal.signal(number, signal.SIG_IGN)


def _listen(handler: Callable[[int, FrameType | None], None]) -> None:
    """Take signals, but none that whoever started us wants ignored."""
    for number in SIGNALS:
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, handler)


def _stop(number: int, frame: FrameType | None) -> None:
    if _is_importing(frame):
        # A library that is interrupted while it loads takes it for a fault of its own, and prints that.
        later = threading.Timer(AGAIN, _send_again, (number,))
        later.daemon = True
        later.start()
        return
    raise Terminated if number == signal.SIGTERM else KeyboardInterrupt


def _is_importing(frame: FrameType | None) -> bool:
    while frame is not None:
        if frame.f_code.co_filename == IMPORTS:
            return True
        frame = frame.f_back
    return False


def _send_again(number: int) -> None:
    """To the main thread, so that whatever it waits for ends."""
    main = threading.main_thread().ident
    if sys.platform == "win32" or main is None:
        signal.raise_signal(number)
    else:
        signal.pthread_kill(main, number)
