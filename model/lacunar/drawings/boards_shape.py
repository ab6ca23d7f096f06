"""A board as bands along it, each a full width or a section that is ripped; and where it lies on the page."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.drawing import Spot
from lacunar.plan import Board, Cut

BAR: Final = 8.4
"""mm on paper. Every board is drawn as wide, so that two rips can be lettered."""
KERF: Final = 0.5
"""mm on paper. A kerf is drawn no narrower."""
AIR: Final = 0.6
"""mm on paper. Between a text and what is beside it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Where boards lie on the page.

    Attributes:
        left: of a board's left end, mm from the page's.
        right: no text reaches further.
        ratio: mm of paper for one mm of board.
    """

    left: float
    right: float
    ratio: float

    def x(self, along: float) -> float:
        """On the page, mm."""
        return self.left + along * self.ratio


def corners_of(cut: Cut, width: float, scale: Scale) -> tuple[Spot, ...]:
    """Of a piece, from the near edge at its start, clockwise on the page."""
    low, high = cut.across or (0.0, width)
    low_end, high_end = cut.across_end or (low, high)
    (near, far), (far_end, near_end) = _slanted(cut.slants[0], width), _slanted(cut.slants[1], width)
    spots = (
        (cut.start + near, low),
        (cut.start + far, high),
        (cut.end - far_end, high_end),
        (cut.end - near_end, low_end),
    )
    return tuple((scale.x(along), BAR * (1.0 - across / width)) for along, across in spots)


def _slanted(angle_deg: float, width: float) -> tuple[float, float]:
    """How far the two edges of a slanted end fall short of its long point: at its start near and far edge."""
    short = width * math.tan(math.radians(abs(angle_deg)))
    return (short, 0.0) if angle_deg < 0.0 else (0.0, short)


Stretch = tuple[float, float]
"""From and to along a board, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SawnBand:
    """What ends at a crosscut.

    Attributes:
        start: along the board, mm.
        end: the same.
        cuts: one of full width, or the rips beside each other, the farthest from the near edge first.
        blank: of rips: the section that they are ripped from, before their last crosscut.
    """

    start: float
    end: float
    cuts: tuple[Cut, ...]
    blank: Stretch | None = None


def bands(board: Board) -> tuple[SawnBand, ...]:
    """In order along the board; rips that overlap along it are beside each other."""
    found: list[list[Cut]] = []
    for cut in sorted(board.cuts, key=lambda cut: cut.start):
        together = cut.blank is not None and found and cut.start < max(other.end for other in found[-1])
        if together and found[-1][0].blank == cut.blank:
            found[-1].append(cut)
        else:
            found.append([cut])
    return tuple(_band(cuts) for cuts in found)


def _band(cuts: Sequence[Cut]) -> SawnBand:
    return SawnBand(
        start=min(cut.start for cut in cuts),
        end=max(cut.end for cut in cuts),
        cuts=tuple(sorted(cuts, key=lambda cut: -(cut.across or (0.0, 0.0))[0])),
        blank=cuts[0].blank,
    )
