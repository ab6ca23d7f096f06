"""What stops the work. Each error carries every problem that was found, not the first one.

LacunarError
├── ConfigError    the file, a key or a value
├── SurveyError    measurements that make no room
├── LayoutError    a room and a config that make no ceiling
├── PlanError      parts that no board can serve
├── ReportError    a report that cannot be read
└── ExportError    a file or folder that cannot be written
"""

from collections.abc import Sequence
from dataclasses import dataclass

LONGEST = 600
"""Characters of one text of a message; nobody reads more."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """One thing that is wrong: where, what was read and what is allowed, and what to do.

    Attributes:
        where: file, line and key, or the thing in the room ("reading-room.toml:31 slats.gap").
        what: what was got and the limit, both with units.
        fix: what to do; empty where `what` says it.
    """

    where: str
    what: str
    fix: str = ""

    def __str__(self) -> str:
        """One line: where, what, fix; a text of thousands of characters, as some cell may hold, is shortened."""
        tail = f"; {_short(self.fix)}" if self.fix else ""
        return f"{_short(self.where)}: {_short(self.what)}{tail}"


def _short(text: str) -> str:
    return text if len(text) <= LONGEST else f"{text[: LONGEST // 2]} ... {text[-LONGEST // 2 :]}"


class LacunarError(Exception):
    """Something in the input stops the work; `problems` has all of it."""

    def __init__(self, problems: Sequence[Problem]) -> None:
        """Keep every problem; the message is one line each."""
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class ConfigError(LacunarError):
    """The config cannot be read or breaks a rule."""


class SurveyError(LacunarError):
    """The measurements make no room, or not one room."""


class LayoutError(LacunarError):
    """No ceiling can be arranged in this room with this config."""


class PlanError(LacunarError):
    """A part cannot be cut from any board."""


class ReportError(LacunarError):
    """A report cannot be read back."""


class ExportError(LacunarError):
    """A file or folder cannot be written."""
