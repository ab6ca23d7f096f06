"""Pieces that are cut already, dealt again to the slats as measured: which fit, which to trim, which to cut new.

Dealing is a minimum-cost matching of slats and pieces by three costs in turn: new wood by length, then cuts on pieces
of the pile, then what those cuts take off. Least new length is least new pieces too: the sets of slats that a pile can
serve are the independent sets of a transversal matroid, and a heaviest one under positive weights is a largest one.
Source: J. Edmonds and D. R. Fulkerson, Transversals and matroid partition, 1965 (from memory).

After each cost, only edges that some best matching uses are kept, found by the duals: by complementary slackness every
matching of those edges is best, so the next cost chooses among all best ones and no others.
Source: H. W. Kuhn, The Hungarian method for the assignment problem, 1955 (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Literal

import numpy as np
from numpy.typing import NDArray

from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC, CONTACT

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the pile.

    Attributes:
        line: of the file that it stands in, or any number that tells it from others.
        width: None where it is as wide as its stock.
    """

    line: int
    stock: str
    length: float
    width: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Dealt:
    """One slat and where it comes from.

    Attributes:
        use: "fits" as it is, "trim" a piece of the pile, or cut "new".
        piece: None where it is new.
        length: that the slat then has.
        off_length: what is cut off the piece's length.
        off_width: what is ripped off its width.
    """

    slat: str
    use: Literal["fits", "trim", "new"]
    piece: Piece | None
    length: float
    off_length: float = 0.0
    off_width: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Dealing:
    """A pile dealt.

    Attributes:
        slats: every slat, in the order of the parts.
        left: pieces that serve no slat, in the order of the pile.
    """

    slats: tuple[Dealt, ...]
    left: tuple[Piece, ...]

    def of(self, use: Literal["fits", "trim", "new"]) -> tuple[Dealt, ...]:
        """The slats that are served in one way."""
        return tuple(dealt for dealt in self.slats if dealt.use == use)

    @property
    def new_length(self) -> float:
        """Length of all slats that are cut new."""
        return sum(dealt.length for dealt in self.of("new"))


def deal_pile(parts: Sequence[Part], pile: Sequence[Piece], width: float) -> Dealing:
    """Deal a pile to the slats of all coffers: least new wood, then fewest cuts, then least cut off.

    A piece fits where its length lies in the slat's interval and its width is the slat's. A longer one is cut to the
    slat's length, a wider one is ripped; a slat whose ends are cut to an angle is always cut from a longer piece.
    `width` is that of the slats' stock.
    """
    slats = [part for part in parts if part.kind == "slat"]
    offers = [[_offer(slat, piece, width) for piece in pile] for slat in slats]
    matched = _match([slat.length for slat in slats], offers, len(pile))
    dealt = [_dealt(slat, matched[i], offers[i], pile) for i, slat in enumerate(slats)]
    used = {j for j in matched if j is not None}
    return Dealing(slats=tuple(dealt), left=tuple(piece for j, piece in enumerate(pile) if j not in used))


@dataclass(frozen=True, slots=True)
class _Offer:
    """What it takes to make a slat of a piece."""

    off_length: float
    off_width: float

    @property
    def cuts(self) -> int:
        return (self.off_length > 0.0) + (self.off_width > 0.0)


def _offer(slat: Part, piece: Piece, stock_width: float) -> _Offer | None:
    """None where the piece cannot become the slat."""
    if piece.stock != slat.stock:
        return None
    shortest, longest = slat.interval or (slat.length, slat.length)
    mitred = any(end.mitre_deg for end in slat.ends)
    width = piece.width if piece.width is not None else stock_width
    wanted = max(slat.width, slat.width_end or 0.0)
    if piece.length < shortest - ARITHMETIC or width < wanted - CONTACT:
        return None
    tapered = slat.width_end is not None
    off_width = max(width - min(slat.width, slat.width_end or slat.width), 0.0)
    off_width = off_width if off_width > CONTACT or tapered else 0.0
    if piece.length <= longest + ARITHMETIC and not mitred:
        return _Offer(0.0, off_width)
    return _Offer(max(piece.length - slat.length, ARITHMETIC), off_width) if piece.length >= slat.length else None


def _dealt(slat: Part, j: int | None, offers: Sequence[_Offer | None], pile: Sequence[Piece]) -> Dealt:
    offer = None if j is None else offers[j]
    if j is None or offer is None:
        return Dealt(slat=slat.id, use="new", piece=None, length=slat.length)
    return Dealt(
        slat=slat.id,
        use="trim" if offer.cuts else "fits",
        piece=pile[j],
        length=slat.length if offer.off_length else pile[j].length,
        off_length=offer.off_length,
        off_width=offer.off_width,
    )


def _match(lengths: Sequence[float], offers: Sequence[Sequence[_Offer | None]], n_pieces: int) -> list[int | None]:
    """The piece of each slat, or None for new wood.

    Rows are slats, then one more for each piece that may stay over; columns are pieces, then one for each new slat.
    """
    n = len(lengths)
    size = n + n_pieces
    if n == 0 or n_pieces == 0:
        return [None] * n
    allowed = np.ones((size, size), np.bool_)
    costs = np.zeros((3, size, size))
    for i, row in enumerate(offers):
        for j, offer in enumerate(row):
            allowed[i, j] = offer is not None
            if offer is not None:
                costs[1, i, j], costs[2, i, j] = offer.cuts, offer.off_length
    costs[0, :n, n_pieces:] = np.array(lengths)[:, None]
    columns = np.arange(size)
    for cost in costs:
        columns = _assign(cost, allowed)
        allowed &= _tight(cost, allowed, columns)
    return [int(j) if j < n_pieces else None for j in columns[:n]]


def _assign(cost: Floats, allowed: Bools) -> NDArray[np.intp]:
    import scipy.optimize as optimise  # pyright: ignore[reportMissingTypeStubs] - it has none

    solver: Any = optimise
    return solver.linear_sum_assignment(np.where(allowed, cost, np.inf))[1]


def _tight(cost: Floats, allowed: Bools, columns: NDArray[np.intp]) -> Bools:
    """Edges that some best assignment may use: those whose reduced cost is nothing.

    The columns' duals are shortest ways in the graph of exchanges (a row that leaves its column for another): without
    a better assignment it has no negative ring, so as many rounds as there are columns settle them.
    """
    rows = np.arange(len(columns))
    change = np.where(allowed, cost - cost[rows, columns][:, None], np.inf)
    duals = np.zeros(len(columns))
    for _ in rows:
        better = np.minimum(duals, (duals[columns][:, None] + change).min(axis=0))
        if (better >= duals - ARITHMETIC).all():
            break
        duals = better
    reduced = change + duals[columns][:, None] - duals[None, :]
    return reduced <= 10.0 * ARITHMETIC
