"""A board as bands along it: a full width, or a section that is ripped."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.plan import Board, Cut

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
