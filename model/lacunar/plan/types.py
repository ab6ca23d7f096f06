"""What a plan is made of. Lengths in mm, money in the config's currency.

Metadata of a field is for the report, which holds these very rows: its key there, or that it is left out.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field

from lacunar.plan.purchase import Proof
from lacunar.told import Told


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One position of the stop block, rip fence or mitre, and the parts cut at it; what does not apply is None.

    Attributes:
        id: "stop-1", "fence-1", "mitre-1", ...
        fence_end: of a taper, cut on a sled: its narrower width, the fence being its wider one.
        apart: cut to measure, because no mark of the tape lies in the part's interval.
    """

    id: str
    stock: str
    species: str
    stop: float | None = None
    fence: float | None = None
    fence_end: float | None = None
    mitre_deg: float | None = field(default=None, metadata={"alias": "mitre"})
    apart: bool = False
    parts: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One part on a board.

    Attributes:
        start: along the board, from its left end as it lies on the saw stand.
        end: end - start is the part's length, long point to long point, on the mark that it is cut to.
        across: of a rip: where it lies across the board at `start`, from the near edge; None for a full width.
        across_end: the same at `end`.
        blank: of a rip: the full-width section that is crosscut first, from and to along the board.
        turned: it lies end for end: its second end is at `start`.
        slants: of mitred strips that share cuts: angles of the cuts at `start` and `end` away from square, degrees,
            positive where the far edge lies further right. Neighbours then overlap in start and end.
    """

    part: str
    start: float = field(metadata={"alias": "from"})
    end: float = field(metadata={"alias": "to"})
    across: tuple[float, float] | None = None
    across_end: tuple[float, float] | None = None
    blank: tuple[float, float] | None = None
    turned: bool = False
    slants: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One board and what is cut from it, in order along it. Boards stand in the order in which they are pulled.

    Attributes:
        id: "B1", "B2", ... in pull order.
        price: 0 for one that is on hand; None where unknown.
        on_hand: it is there already.
        offcut: what is left beyond the last kerf, end waste taken off.
        keep: the offcut is long enough to be used again.
        turn: number of the turn at the saw, from 1; boards of one turn are cut alike, stacked where the saw takes it.
        rest: number in done.board, from 0, of the board that it is what is left of; None for a whole one.
    """

    id: str
    stock: str
    species: str
    length: float
    price: float | None
    on_hand: bool
    cuts: tuple[Cut, ...]
    offcut: float
    keep: bool
    turn: int
    rest: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """One or more boards that are cut alike at once.

    Attributes:
        number: from 1, through all stocks.
        boards: ids.
        stops: settings that are used, in the order of cutting.
        placed: those of them for which a stop has to be set anew.
    """

    number: int
    boards: tuple[str, ...]
    stops: tuple[str, ...]
    placed: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Buy:
    """One line of the shopping list: boards to be cut, spares for the cull, price each, total for both."""

    stock: str
    species: str
    length: float
    count: int
    spare: int
    price: float | None
    total: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unserved:
    """A part that no board can give, why, and what to change."""

    part: str
    stock: str
    length: float
    reason: Told
    cure: Told = field(default=Told(""), metadata={"exclude": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """What is proved and known of the boards of one stock and species.

    Attributes:
        cost: of its boards with spares, in money; None without prices.
        lower_bound: no lengths within the intervals, no pairing of rips and no boards cost less; None without prices.
        proven: cost and bound agree; without prices, the board lengths do.
        gap: (cost - lower_bound) / lower_bound; of board length where there is no price; None where the bound is 0.
        stops: marks that serve its parts.
        apart: parts that none of them serves; they are cut to measure.
        fewest: no lengths within the intervals need fewer marks.
        witness: parts whose intervals share no mark pairwise: the proof of `fewest`.
        placements: how often a stop is set in the order of the boards.
        least_placements: no order of these boards needs fewer.
        pulls: how often boards, or stacks of them, are picked up in that order: each once.
        pulls_by_stop: how often where every stop is set once, and all that it serves is cut from board after board.
        saved: board length that rips save by sharing sections, mm.
        proofs: of the bound, in whole ticks and cents: every way to pair the rips needs pieces no shorter than those of
            one of these. None where nothing is cut.
        by_clock: an outer time limit ended the search, so that another machine may find another plan.
        margin_cost: of `cost`, what is for margins of measured slats; mm of board length without prices.
    """

    stock: str
    species: str
    cost: float | None
    lower_bound: float | None
    gap: float | None
    proven: bool
    stops: int
    apart: int
    fewest: int
    witness: tuple[str, ...]
    placements: int
    least_placements: int
    pulls: int
    pulls_by_stop: int
    saved: float
    by_clock: bool
    margin_cost: float
    proofs: tuple[Proof, ...] = field(default=(), metadata={"exclude": True})


@dataclass(frozen=True, slots=True, kw_only=True)
class StopChoice:
    """A plan by no more stops.

    Attributes:
        most: marks for the slats of a stock: the plan is that of `shop.stops` with this number.
        stops: of all stocks.
        placements: how often one is set, of all stocks.
        cost: as that of the plan; None where a price is missing.
        board_length: likewise, mm.
        proven: no plan costs less, by any number of stops.
    """

    most: int
    stops: int
    placements: int
    cost: float | None
    board_length: float
    proven: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """How every bought part is cut.

    Attributes:
        lengths: part id to the length it is cut to.
        settings: stops, fences, mitres.
        boards: in the order in which they are pulled.
        turns: at the saw, in order.
        sections: by stock and species.
        slots: part id to where it waits: coffer and length, in the order of first need on site, from 1.
        cost: of all boards with the spares for the cull, before tax; None where a price is missing.
        lower_bound: no plan can cost less; None where unknown.
        gap: (cost - lower_bound) / lower_bound, of board length where there is no price; None where the bound is 0.
        proven: in every section.
        board_length: of all boards to be cut, mm.
        used_length: of the parts on them, side by side ones once, mm.
        waste: share of board length that ends in no part.
        by_stops: the cheapest plans found by fewer stops, the fewest first, each cheaper than the one before, then this
            plan. Empty where none was looked for or found.
    """

    lengths: Mapping[str, float]
    settings: tuple[Setting, ...]
    boards: tuple[Board, ...]
    turns: tuple[Turn, ...]
    sections: tuple[Section, ...]
    buy: tuple[Buy, ...]
    unserved: tuple[Unserved, ...]
    slots: Mapping[str, int]
    cost: float | None
    lower_bound: float | None
    gap: float | None
    proven: bool
    board_length: float
    used_length: float
    waste: float
    by_stops: tuple[StopChoice, ...] = ()

    @property
    def distinct_lengths(self) -> int:
        """How many lengths the saw is set to, those of each stock by themselves; what is cut to measure counts too."""
        return sum(setting.stop is not None for setting in self.settings)
