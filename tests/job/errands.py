"""What another process can do for a test."""

import os
from collections.abc import Callable
from pathlib import Path

from lacunar.job import Job


def who(step: Callable[[str, float], None]) -> list[str]:
    """The number of the process that does it."""
    step("here", 0.5)
    return [str(os.getpid())]


def sign(_job: Job, path: Path, *_: object) -> list[str]:
    """A file with the number of the process that writes it."""
    path.write_text(str(os.getpid()), encoding="utf-8")
    return [f"{path.name} is there"]


def fall(*_: object) -> None:
    """As a library that ends its process."""
    os._exit(3)


def patience(_step: Callable[[str, float], None]) -> list[str]:
    """How far the process that does it lets others go first."""
    return [str(os.nice(0))]
