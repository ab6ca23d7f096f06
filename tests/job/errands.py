"""What another process can do for a test."""

import os
from collections.abc import Callable


def who(step: Callable[[str, float], None]) -> list[str]:
    """The number of the process that does it."""
    step("here", 0.5)
    return [str(os.getpid())]


def patience(_step: Callable[[str, float], None]) -> list[str]:
    """How far the process that does it lets others go first."""
    return [str(os.nice(0))]
