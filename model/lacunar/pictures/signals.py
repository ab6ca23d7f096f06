"""Signals that come while a library's code runs, which would swallow what a handler raises: kept for later."""

import contextlib
import signal
import threading
from collections.abc import Generator, Mapping
from typing import Any, Final

SIGNALS: Final = (signal.SIGINT, signal.SIGTERM)


class Remembered:
    """Signals that have come, and who heeded them before."""

    def __init__(self, before: Mapping[int, Any]) -> None:
        """None has come yet."""
        self.come: list[int] = []
        self._before = before

    def note(self, number: int, _frame: object) -> None:
        """As a handler: it raises nothing."""
        self.come.append(number)

    @contextlib.contextmanager
    def heeded(self) -> Generator[None]:
        """In the block a signal does at once what it did before."""
        _listen(self._before)
        try:
            yield
        finally:
            _listen(dict.fromkeys(self._before, self.note))


@contextlib.contextmanager
def remembered() -> Generator[Remembered]:
    """In the block signals are noted alone; after it those that came do what they did before."""
    is_main = threading.current_thread() is threading.main_thread()
    # One that whoever started us wants ignored stays so.
    found = {number: signal.getsignal(number) for number in SIGNALS if is_main}
    before = {number: handler for number, handler in found.items() if handler is not signal.SIG_IGN}
    signals = Remembered(before)
    _listen(dict.fromkeys(before, signals.note))
    try:
        yield signals
    finally:
        _listen(before)
    for number in signals.come[:1]:
        signal.raise_signal(number)


def _listen(handlers: Mapping[int, Any]) -> None:
    for number, handler in handlers.items():
        signal.signal(number, handler)
