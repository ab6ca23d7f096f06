"""What reading a value hangs on, and how a wrong one is told."""

import difflib
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from pydantic import BeforeValidator, PlainSerializer, ValidationInfo, WithJsonSchema
from pydantic_core import PydanticCustomError

from lacunar.units import Units

CUSTOM = "lacunar"
"""Type of the errors whose message is ready to be printed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Context:
    """What a value's meaning hangs on.

    Attributes:
        units: what bare numbers are in.
        corners: letters of the room's corners in order; "" where the file's own are not usable.
        marks: names of the room's marks; None where the file's own are not usable.
        beam_ends: names of the measured beams' ends ("E1.AB"); None likewise.
    """

    units: Units = "in"
    corners: str = "ABCD"
    marks: tuple[str, ...] | None = ()
    beam_ends: tuple[str, ...] | None = ()

    @property
    def walls(self) -> tuple[str, ...]:
        """Wall names in the order of the corners."""
        return walls_of(self.corners)

    def wall(self, name: str) -> str | None:
        """The wall as the corners run ("BA" is "AB"); None where it is no wall of this room."""
        if not self.corners:
            return name
        return next((wall for wall in self.walls if name in (wall, wall[::-1])), None)


def walls_of(corners: str) -> tuple[str, ...]:
    """Wall names in the order of the corners: AB, BC, ..."""
    return tuple(a + b for a, b in zip(corners, corners[1:] + corners[:1], strict=True))


def reading(info: ValidationInfo) -> Context:
    """The context that a config is read in."""
    context: object = info.context
    return context if isinstance(context, Context) else Context()


def kind(
    read: Callable[..., object], schema: dict[str, Any], write: Callable[[Any], object] | None = None
) -> tuple[object, ...]:
    """What makes a type a kind of value: how it is read, described to editors, and written where not as it is."""
    writing = (PlainSerializer(write, when_used="json"),) if write else ()
    return BeforeValidator(read), WithJsonSchema(schema), *writing


def wrong(what: str, fix: str = "") -> PydanticCustomError:
    """An error with a message that is ready to be printed."""
    return PydanticCustomError(CUSTOM, "{what}", {"what": what, "fix": fix})


def shown(value: object) -> str:
    """A value as it stands in the file, short."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f'"{value}"' if len(value) <= 60 else f'"{value[:57]}..."'
    if isinstance(value, Mapping):
        return "a table"
    if isinstance(value, Sequence):
        return "a list" if value else "an empty list"
    text = str(value)
    return text if len(text) <= 60 else f"{text[:57]}..."


def listed(words: Iterable[str], quote: str = '"') -> str:
    """Words as a person lists them: `"a", "b" or "c"`."""
    quoted = [f"{quote}{word}{quote}" for word in words]
    return " or ".join(part for part in (", ".join(quoted[:-1]), *quoted[-1:]) if part)


def first_of(names: Sequence[str], most: int, number: Callable[[int], str] = str) -> str:
    """So many names at most: "a, b and 3 more", the 3 told by `number`."""
    more = len(names) - most
    return ", ".join(names[:most]) + (f" and {number(more)} more" if more > 0 else "")


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """Advice that names the known word most like this one, or ""."""
    folded = {word.lower(): word for word in known}
    found = difflib.get_close_matches(name.lower(), folded, n=1, cutoff=0.5)
    return f'did you mean "{folded[found[0]]}"?' if found else ""
