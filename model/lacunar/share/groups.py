"""What is switched on and off together in the figure, and the order in which it is pulled apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from lacunar.scene import Body, Scene

ROOM: Final = "room"
LAMPS: Final = "lamps and fixtures"


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """One switch.

    Attributes:
        name: its word on the page.
        level: how many distances it goes down when all is pulled apart; None stays where it is.
        covers: what lies behind it is dark as long as it is there.
    """

    name: str
    level: int | None
    covers: bool = True


GROUPS: Final = (
    Group(name="old ceiling and joists", level=0),
    Group(name="furring", level=1),
    Group(name="beams that are there", level=2),
    Group(name="new beams", level=2),
    Group(name="slats", level=3),
    Group(name="trim", level=4),
    Group(name=LAMPS, level=3, covers=False),
    Group(name=ROOM, level=None, covers=False),
)
"""From the top down, as people are told of them."""

THERE: Final = frozenset({"existing beam", "moulding"})
"""Kinds of what hangs there already."""

APART_SHARE: Final = 0.15
"""Of the room's narrower side from one level to the next, all pulled apart. Source: tuned by eye."""


def group_of(body: Body) -> int | None:
    """Number of the group that a body is switched with; None where it is not shown."""
    names = [group.name for group in GROUPS]
    match body.layer:
        case "above" | "old ceiling":
            return 0
        case "beams" | "mouths":
            return names.index("beams that are there" if body.kind in THERE else "new beams")
        case "furring" | "slats" | "trim":
            return names.index(body.layer)
        case "pockets":
            return None
        case "fixture":
            return names.index(LAMPS)
        case "room" | "furniture":
            return names.index(ROOM)


def present(bodies: Sequence[Body]) -> tuple[int, ...]:
    """Numbers of the groups of which there is anything."""
    return tuple(sorted({number for body in bodies if (number := group_of(body)) is not None}))


def wall_of(body: Body, scene: Scene) -> int | None:
    """Edge of the room's outline that a body stands at; None for what stands in the room or over it."""
    if body.layer != "room" or body.name == "floor":
        return None
    middle = body.points[:, :2].mean(axis=0).astype(float)
    ring = np.array(scene.outline)
    along = np.roll(ring, -1, axis=0) - ring
    share = np.clip(((middle - ring) * along).sum(axis=1) / (along**2).sum(axis=1), 0.0, 1.0)
    return int(np.argmin(np.linalg.norm(ring + share[:, None] * along - middle, axis=1)))


def apart_by(scene: Scene) -> float:
    """Metres from one level to the next; the lowest stays over the floor."""
    ring = np.array(scene.outline)
    deepest = max(group.level or 0 for group in GROUPS)
    return float(min(APART_SHARE * np.ptp(ring, axis=0).min(), 0.85 * scene.height / deepest))
