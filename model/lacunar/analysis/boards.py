"""Boards as the plan cuts them: what each gives its parts, and what lies between two cuts."""

import math
from dataclasses import dataclass

from lacunar.analysis.subject import Subject
from lacunar.plan import Board, Cut, stock_width


@dataclass(frozen=True, slots=True, kw_only=True)
class RipFit:
    """How a rip lies across its board, mm.

    Attributes:
        section: of the stock, across.
        outside: how far it lies outside that; negative inside.
        width: that the board gives it, at the end where that differs most from its own.
        own: its own width there.
    """

    section: float
    outside: float
    width: float
    own: float


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFit:
    """One part on a board, mm.

    Attributes:
        part: id.
        length: that the board gives it.
        outside: how far it lies outside what the board has between its squared ends; negative inside.
        rip: None where it is as wide as the board.
    """

    part: str
    length: float
    outside: float
    rip: RipFit | None


@dataclass(frozen=True, slots=True, kw_only=True)
class CutGap:
    """Two neighbours by their ids, the first further left, and what lies between them square to the saw cut, mm.

    It is negative where one lies over the other.
    """

    parts: tuple[str, str]
    between: float


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardFit:
    """One board of the plan by its id, its cuts in order along it, and its neighbours, in a row or side by side."""

    board: str
    stock: str
    cuts: tuple[CutFit, ...]
    gaps: tuple[CutGap, ...]


def board_fits(subject: Subject) -> tuple[BoardFit, ...]:
    """Every board in order."""
    return tuple(_board_fit(subject, board) for board in subject.plan.boards)


def _board_fit(subject: Subject, board: Board) -> BoardFit:
    shop = subject.config.shop
    measured = [row.actual for row in shop.board if (row.stock, row.length) == (board.stock, board.length)]
    end = next((actual for actual in measured if actual is not None), board.length) - shop.end_waste
    cuts = [
        CutFit(
            part=cut.part,
            length=cut.end - cut.start,
            outside=max(shop.end_waste - cut.start, cut.end - end),
            rip=_rip_fit(subject, cut),
        )
        for cut in board.cuts
    ]
    pairs = _neighbours(board)
    gaps = [CutGap(parts=(one.part, other.part), between=_between(subject, one, other)) for one, other in pairs]
    return BoardFit(board=board.id, stock=board.stock, cuts=tuple(cuts), gaps=tuple(gaps))


def _rip_fit(subject: Subject, cut: Cut) -> RipFit | None:
    part, config = subject.part(cut.part), subject.config
    if part is None or cut.across is None:
        return None
    lies, section = (cut.across, cut.across_end or cut.across), stock_width(part, config.slats, config.cross_beams)
    ends = (part.width, part.width if part.width_end is None else part.width_end)
    widths = zip((high - low for low, high in lies), reversed(ends) if cut.turned else ends, strict=True)
    width, own = max(widths, key=lambda pair: abs(pair[0] - pair[1]))
    outside = max(-min(low for low, _ in lies), max(high for _, high in lies) - section)
    return RipFit(section=section, outside=outside, width=width, own=own)


def _neighbours(board: Board) -> list[tuple[Cut, Cut]]:
    """Pairs of cuts between which no other lies whole: at most two rips lie side by side."""
    cuts = sorted(board.cuts, key=lambda cut: (cut.start, cut.end))
    return [
        (one, other)
        for i, one in enumerate(cuts)
        for n, other in enumerate(cuts[i + 1 : i + 4], start=i + 1)
        if not any(one.end <= cut.start and cut.end <= other.start for cut in cuts[i + 1 : n])
    ]


def _between(subject: Subject, one: Cut, other: Cut) -> float:
    if one.across is not None and other.across is not None and other.start < one.end:
        return max(_beside(one, other), _beside(other, one))
    part = subject.part(one.part)
    width = 0.0 if part is None else part.width
    lean = math.tan(math.radians(one.slants[1])), math.tan(math.radians(other.slants[0]))
    # Faces at the near edge and at the far edge, from the long points that start and end are.
    near = other.start + width * max(-lean[1], 0.0) - (one.end - width * max(lean[0], 0.0))
    far = other.start + width * max(lean[1], 0.0) - (one.end - width * max(-lean[0], 0.0))
    return min(near, far) * math.cos(math.atan(max(abs(lean[0]), abs(lean[1]))))


def _beside(near: Cut, far: Cut) -> float:
    """How far the far rip's edge lies beyond the near rip's, at the worse end of where both are."""
    places = (max(near.start, far.start), min(near.end, far.end))
    return min(_edge(far, at)[0] - _edge(near, at)[1] for at in places)


def _edge(cut: Cut, at: float) -> tuple[float, float]:
    """Where a rip lies across the board at a place along it."""
    first, second = cut.across or (0.0, 0.0), cut.across_end or cut.across or (0.0, 0.0)
    share = (at - cut.start) / (cut.end - cut.start)
    return first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1])
