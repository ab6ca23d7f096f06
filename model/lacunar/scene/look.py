"""What the pictures need to know beyond the ceiling itself, resolved in the room's own terms."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from lacunar.config import CameraTable, CoatTable, Config, Door, Fixture, WindowTable
from lacunar.materials import DEFAULT_OLD_CEILING
from lacunar.survey import Room

OpeningKind = Literal["window", "door"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """A window or door. `start`: from the wall's first corner going clockwise to the near jamb, seen as left."""

    kind: OpeningKind
    wall: str
    start: float
    width: float
    sill: float
    head: float
    hinge: str = "left"


@dataclass(frozen=True, slots=True, kw_only=True)
class Look:
    """Everything of the config that changes how the ceiling looks.

    Attributes:
        openings: windows and doors.
        fixtures: by name.
        coats: finish of the new wood.
        behind: paint on the old ceiling; "" where it stays as it is.
        colours: measured colours: "beams", "slats", "trim", "walls", "floor" to a colour.
        stands: extra cameras.
        old_ceiling: thickness of the finish above, mm.
        refinished: existing beams that get the new wood's finish.
        assumed: sentences on what was assumed for the pictures alone.
    """

    openings: tuple[Opening, ...] = ()
    fixtures: Mapping[str, Fixture] = field(default_factory=dict[str, Fixture])
    coats: tuple[CoatTable, ...] = ()
    behind: str = ""
    colours: Mapping[str, str] = field(default_factory=dict[str, str])
    stands: tuple[CameraTable, ...] = ()
    old_ceiling: float = DEFAULT_OLD_CEILING.thickness
    refinished: frozenset[str] = frozenset()
    assumed: tuple[str, ...] = ()

    def of_kind(self, kind: OpeningKind) -> tuple[Opening, ...]:
        """The openings of one kind."""
        return tuple(opening for opening in self.openings if opening.kind == kind)


def look_of(config: Config, room: Room) -> Look:
    """What a config says of looks; a room without a window gets one, and says so."""
    openings, assumed = _openings(room, config.window, config.door)
    named = config.colour.model_dump(exclude={"samples"}, exclude_none=True)
    finish = config.finish
    old = config.framing.old_ceiling
    return Look(
        openings=openings,
        fixtures={fixture.name: fixture for fixture in config.fixture},
        coats=finish.coats if finish else (),
        behind=(finish.behind or "") if finish else "",
        colours={key: str(value) for key, value in named.items()},
        stands=config.camera,
        old_ceiling=(old or DEFAULT_OLD_CEILING).thickness,
        assumed=assumed,
    )


def _start(room: Room, wall: str, from_corner: str, at: float, width: float) -> tuple[str, float]:
    """The wall's clockwise name, and where the opening starts on it, seen from inside as its left jamb."""
    name = wall if wall in room.walls else wall[::-1]
    from_first = not from_corner or from_corner == name[0]
    return name, at if from_first else math.dist(*room.wall(name)) - at - width


def _openings(
    room: Room, windows: Sequence[WindowTable], doors: Sequence[Door]
) -> tuple[tuple[Opening, ...], tuple[str, ...]]:
    out: list[Opening] = []
    for w in windows:
        wall, start = _start(room, w.wall, w.from_, w.at, w.width)
        out.append(Opening(kind="window", wall=wall, start=start, width=w.width, sill=w.sill, head=w.head))
    for d in doors:
        wall, start = _start(room, d.wall, d.from_, d.at, d.width)
        out.append(Opening(kind="door", wall=wall, start=start, width=d.width, sill=0.0, head=d.height, hinge=d.hinge))
    if windows:
        return tuple(out), ()
    wall = _free_wall(room, out)
    return (*out, *_assumed_windows(room, wall)), (f"Pictures: no window was given; they show windows in wall {wall}.",)


def _free_wall(room: Room, doors: list[Opening]) -> str:
    """The longest wall without a door, AB where several are about as long."""
    taken = {d.wall for d in doors}
    free = [w for w in room.walls if w not in taken] or list(room.walls)
    return max(free, key=lambda w: (round(math.dist(*room.wall(w)) / 1500.0), -room.walls.index(w)))


def _assumed_windows(room: Room, wall: str) -> tuple[Opening, ...]:
    """Evenly spread windows, one to about two and a half metres of wall."""
    length = math.dist(*room.wall(wall))
    n = max(1, round(length / 2600.0))
    width = min(1100.0, 0.45 * length / n)
    head = min(2100.0, min(room.heights) - 320.0)
    return tuple(
        Opening(
            kind="window",
            wall=wall,
            start=(k + 0.5) * length / n - width / 2,
            width=width,
            sill=head - 1350.0,
            head=head,
        )
        for k in range(n)
    )
