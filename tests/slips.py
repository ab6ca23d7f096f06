"""Every distance of a room, each misread as tapes are: who misreads one gets a message that helps."""

import math
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from lacunar.config import Config, read_config_text
from lacunar.units import FOOT, INCH, UnitError, read_length

MEASURED = ("room", "window", "door", "beam", "beams", "cross_beams", "slats", "trim", "fixture", "framing")
"""Tables whose lengths come from a tape."""

_INCHES = tuple(n * INCH for n in (1, 2, 6)) + tuple(n * FOOT for n in (1, 2, 5, 10))
_METRIC = (10.0, 100.0, 1000.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Slip:
    """One distance misread.

    Attributes:
        room: the file.
        key: as an override writes it.
        true: mm.
        read: mm.
    """

    room: Path
    key: str
    true: float
    read: float

    @property
    def distance(self) -> str:
        """The name of the distance, where it is one of `room.measured`; else ""."""
        return self.key.removeprefix('room.measured."')[:-1] if self.key.startswith("room.measured.") else ""

    def config(self) -> Config:
        """The room as misread."""
        text = self.room.read_text(encoding="utf-8")
        return read_config_text(text, self.room, [(self.key, f"{self.read!r} mm")])


def slips(room: Path) -> Iterator[Slip]:
    """Every slip of every distance of a room."""
    raw = tomllib.loads(room.read_text(encoding="utf-8"))
    metric = raw.get("units") == "mm"
    for key, true in _lengths({table: raw[table] for table in MEASURED if table in raw}, "", metric):
        steps = _METRIC if metric else _INCHES
        reads = [true + sign * step for step in steps for sign in (-1.0, 1.0)]
        for read in (*reads, true / 2.0, true * 2.0, true * 10.0, true / 10.0):
            yield Slip(room=room, key=key, true=true, read=max(read, 0.0))


def _lengths(value: Any, path: str, metric: bool) -> Iterator[tuple[str, float]]:
    if isinstance(value, dict):
        for key, item in cast(dict[str, Any], value).items():
            name = f'"{key}"' if path == "room.measured" else key
            yield from _lengths(item, f"{path}.{name}" if path else name, metric)
    elif isinstance(value, list):
        for number, item in enumerate(cast(list[Any], value), 1):
            yield from _lengths(item, f"{path}.{number}", metric)
    elif _may_be_length(value, metric):
        try:
            size = read_length(value, "mm" if metric else "in")
        except UnitError:
            return
        if math.isfinite(size) and size > 0.0:
            yield path, size


def _may_be_length(value: object, metric: bool) -> bool:
    """A text with a figure in it; in a metric room a number that is no count too."""
    if isinstance(value, str):
        return any(c.isdigit() for c in value)
    return metric and isinstance(value, float | int) and not isinstance(value, bool) and value > 9
