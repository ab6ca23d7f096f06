"""How long things take where the config says nothing. Every number: common practice, no source."""

from collections.abc import Mapping
from typing import Final

from lacunar.config import JobName
from lacunar.schedule.types import Range

MINUTES: Final[Mapping[JobName, Range]] = {
    "board": (2.0, 4.0),
    "square metre": (5.0, 12.0),
    "furring strip": (8.0, 15.0),
    "reading": (1.0, 2.0),
    "saw setting": (3.0, 6.0),
    "crosscut": (0.5, 1.5),
    "rip": (2.0, 5.0),
    "pocket": (2.0, 4.0),
    "beam piece": (20.0, 40.0),
    "slat": (3.0, 6.0),
    "cut-out": (20.0, 45.0),
    "trim strip": (4.0, 8.0),
    "nail hole": (0.2, 0.5),
}
"""Low and high for one: a board fetched and sorted, a square metre of one coat, a strip, piece or slat put up, a
reading taken and written down, the saw set, a cut, a pocket drilled, a slat cut round a lamp, a hole filled."""

PROTECT: Final[Range] = (1.0, 3.0)
"""Hours: furniture out, floor covered, power off and checked, lamps down."""

CLEAR: Final[Range] = (1.5, 4.0)
"""Hours: lamps up by who may, dust, tools."""

ACCLIMATISE: Final[Range] = (72.0, 336.0)
"""Hours that boards lie in the room before they are cut."""

PAINT_DRIES: Final[Range] = (2.0, 6.0)
FINISH_DRIES: Final[Range] = (6.0, 24.0)
"""Hours until the next coat, or until it may be touched; what the can says is right."""

READINGS: Final[Mapping[str, int]] = {"openings": 4, "coffers": 6, "last": 2, "trim": 1}
"""Of each piece of a cross beam, coffer, rip and strip of trim."""
