"""The boards of one stock and species: lengths, rips, boards and their order, with what is proved of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    Effort,
    SawOrder,
    ShortageError,
    Stock,
    Timber,
    best_stops,
    choose_lengths,
    fewest_stops,
    order_boards,
    solve_boards,
)
from lacunar.plan.grid import Grid
from lacunar.plan.nesting import Nest, make_nest
from lacunar.plan.pieces import Piece, clashing, is_free, make_pieces, relaxed_blanks, rip_lengths, rip_saw, span_of
from lacunar.plan.refute import Refuted
from lacunar.plan.spares import Proof, StockChoice, choose_stocks, counts_of, total_cost
from lacunar.plan.stock import Offer, is_priced

EFFORT = Effort(work=3.0)
"""For each search. Measured: rooms of ours need a hundredth of it, and odd ones end within some seconds."""

CENTS = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Lumber:
    """What one stock can be bought and cut as.

    Attributes:
        offers: of each stock of `stocks`.
        stocks: for the cutting core; boards on hand at no price.
        cull: share that is bought on top; 0 where prices are unknown.
    """

    offers: tuple[Offer, ...]
    stocks: tuple[Stock, ...]
    cull: float
    priced: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPlan:
    """How the parts of one stock and species are cut.

    Attributes:
        pieces: that the boards give.
        ticks: of the board that each piece takes, in the patterns' terms.
        lengths: part id to what it is cut to, ticks.
        lumber: `solution.patterns` point into its stocks.
        problem: that the solution solves.
        cost: of the boards to buy, spares included, in cents; ticks of board length where prices are unknown.
        bound: no plan costs less.
        apart: parts that none of the marks serves where their number is limited.
        fewest: marks that any choice of lengths needs.
        witness: parts that prove it.
        left_out: parts that no board gives.
    """

    pieces: tuple[Piece, ...]
    ticks: tuple[int, ...]
    lengths: Mapping[str, int]
    lumber: Lumber
    nest: Nest | None
    problem: BoardProblem
    solution: BoardSolution | None
    order: SawOrder | None
    cost: int
    bound: int
    proofs: tuple[Proof, ...]
    refuted: tuple[Refuted, ...]
    apart: frozenset[str]
    fewest: int
    witness: tuple[str, ...]
    left_out: tuple[Part, ...]


def make_lumber(offers: Sequence[Offer], cull: float, grid: Grid) -> Lumber:
    """Every length that can be bought, and every one on hand as boards without a price."""
    priced = is_priced(offers)
    rows: list[tuple[Offer, Stock]] = []
    for offer in offers:
        length = grid.down(offer.actual)
        if offer.on_hand:
            rows.append((offer, Stock(length=length, price=0, supply=offer.on_hand)))
        if offer.for_sale:
            price = round((offer.price or 0.0) * CENTS) if priced else None
            rows.append((offer, Stock(length=length, price=price, supply=offer.supply)))
    return Lumber(
        offers=tuple(offer for offer, _ in rows),
        stocks=tuple(stock for _, stock in rows),
        cull=cull if priced else 0.0,
        priced=priced,
    )


def plan_section(parts: Sequence[Part], offers: Sequence[Offer], config: Config, grid: Grid) -> SectionPlan:
    """Cheapest boards first, then few stops, then lengths near the designed ones.

    Args:
        parts: of one stock and species, in the order in which they go up.
        offers: what is left of it.
        config: saw, trim, shop.
        grid: ticks.
    """
    lumber = make_lumber(offers, config.shop.cull, grid)
    wide = replace(grid, margin=0)
    every = _wood(parts, frozenset(), lumber, config, wide)
    pieces, choice = _affordable(every.pieces, every.timber, lumber)
    if choice is None:
        return _nothing(parts, lumber)
    kept = frozenset(part.id for piece in pieces for part in piece.parts)
    mine = [part for part in parts if part.id in kept]
    proved = _bound(pieces, mine, every.timber, lumber, choice, config, wide)
    # The margin is kept where it costs nothing: the boards come first.
    plan = None
    if grid.margin and any(is_free(part) for part in mine):
        plan = _without_clash(mine, lumber, choice, config, grid)
    if plan is None or plan.cost > total_cost(every.timber.problem(()), choice.counts, lumber.cull):
        plan = _without_clash(mine, lumber, choice, config, wide) or plan
    assert plan is not None, "the boards that were chosen give the pieces"
    left_out = tuple(part for part in parts if part.id not in kept)
    return replace(plan, bound=proved.bound, proofs=proved.proofs, refuted=proved.refuted, left_out=left_out)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Wood:
    """What is cut, and what from."""

    pieces: tuple[Piece, ...]
    timber: Timber
    nest: Nest | None


def _wood(parts: Sequence[Part], alone: frozenset[str], lumber: Lumber, config: Config, grid: Grid) -> _Wood:
    nest = make_nest(parts, config)
    timber = Timber(
        stocks=lumber.stocks,
        kerf=grid.up(config.shop.kerf * (nest.kerf_factor if nest else 1.0)),
        end_waste=grid.up(config.shop.end_waste + (nest.end if nest else 0.0)),
    )
    return _Wood(pieces=_nested(make_pieces(parts, config, grid, alone), nest, config, grid), timber=timber, nest=nest)


def _nothing(parts: Sequence[Part], lumber: Lumber) -> SectionPlan:
    return SectionPlan(
        pieces=(),
        ticks=(),
        lengths={},
        lumber=lumber,
        nest=None,
        problem=BoardProblem(stocks=lumber.stocks, demands=()),
        solution=None,
        order=None,
        cost=0,
        bound=0,
        proofs=(),
        refuted=(),
        apart=frozenset(),
        fewest=0,
        witness=(),
        left_out=tuple(parts),
    )


def _without_clash(
    parts: Sequence[Part], lumber: Lumber, choice: StockChoice, config: Config, grid: Grid
) -> SectionPlan | None:
    """Rips that no longer share a section at the lengths that were chosen are cut by themselves."""
    alone: frozenset[str] = frozenset()
    while True:
        wood = _wood(parts, alone, lumber, config, grid)
        plan = _planned(wood, lumber, choice, config, grid)
        if plan is None:
            return None
        saw = rip_saw([part for part in parts if part.ripped], config, grid)
        bad = clashing(plan.pieces, plan.lengths, saw, config, grid)
        if not bad:
            return plan
        alone |= set(bad)


def _planned(wood: _Wood, lumber: Lumber, choice: StockChoice, config: Config, grid: Grid) -> SectionPlan | None:
    """Lengths, boards and order; None where the boards there are do not give the pieces."""
    solved = _solved(wood, lumber, choice, config.shop.stops, grid)
    if solved is None:
        return None
    used, lengths, problem = solved
    ticks, solution = lengths.ticks, lengths.solution
    # Of whole intervals: the margin is a wish, and no proof may rest on it.
    marks = _fewest(wood.pieces, config, replace(grid, margin=0))
    return SectionPlan(
        pieces=wood.pieces,
        ticks=ticks,
        lengths=_lengths(wood.pieces, ticks, wood.nest, config, grid),
        lumber=replace(
            lumber, offers=tuple(lumber.offers[s] for s in used), stocks=tuple(lumber.stocks[s] for s in used)
        ),
        nest=wood.nest,
        problem=problem,
        solution=solution,
        order=order_boards(solution.patterns, stops=config.shop.flip_stops, stack=config.shop.stack),
        cost=total_cost(problem, counts_of(solution, len(used)), lumber.cull),
        bound=0,
        proofs=(),
        refuted=(),
        apart=frozenset(part.id for i in lengths.apart for part in wood.pieces[i].parts),
        fewest=len(marks),
        witness=marks,
        left_out=(),
    )


def _affordable(
    pieces: Sequence[Piece], timber: Timber, lumber: Lumber
) -> tuple[tuple[Piece, ...], StockChoice | None]:
    """As many of the pieces as the boards give at their shortest, and which lengths of board are best for them."""
    left = list(pieces) if timber.stocks else []
    while left:
        problem = timber.problem([piece.span.lo for piece in left])
        try:
            return tuple(left), choose_stocks(problem, lumber.cull, replace(EFFORT, tidy=False))
        except ShortageError as shortage:
            for i, count in shortage.missing:
                short = [n for n, piece in enumerate(left) if piece.span.lo == problem.demands[i].length]
                left = [piece for n, piece in enumerate(left) if n not in short[len(short) - count :]]
    return (), None


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lengths:
    """What each piece takes of a board, those that no mark serves, and the boards."""

    ticks: tuple[int, ...]
    apart: tuple[int, ...]
    solution: BoardSolution


def _solved(
    wood: _Wood, lumber: Lumber, choice: StockChoice, most: int | None, grid: Grid
) -> tuple[list[int], _Lengths, BoardProblem] | None:
    """Within the counts that cost least with their spares; else from as many boards as are wanted.

    Returns:
        The stocks that are used, the lengths with their boards, and the problem without the limit of counts.
    """
    every = range(len(lumber.stocks))
    owned = [stock.price == 0 for stock in lumber.stocks]
    for counts in (choice.counts, None):
        used = [s for s in every if counts is None or counts[s] or owned[s]]
        stocks = tuple(
            lumber.stocks[s] if counts is None or owned[s] else replace(lumber.stocks[s], supply=counts[s])
            for s in used
        )
        try:
            lengths = _chosen(wood.pieces, replace(wood.timber, stocks=stocks), most, grid)
        except ShortageError:
            continue
        problem = replace(wood.timber, stocks=tuple(lumber.stocks[s] for s in used)).problem(lengths.ticks)
        return used, lengths, problem
    return None


def _chosen(pieces: Sequence[Piece], timber: Timber, most: int | None, grid: Grid) -> _Lengths:
    """Lengths by the boards; where that takes more marks than `most`, by the best so many marks."""
    spans = [piece.span for piece in pieces]
    free = [i for i, piece in enumerate(pieces) if piece.is_free]
    ticks, apart = [span.lo for span in spans], list[int]()
    if free:
        found = choose_lengths(spans, timber, grid.read, EFFORT)
        if most is None or len({found.lengths[i] for i in free}) <= most:
            return _Lengths(ticks=found.lengths, apart=(), solution=found.boards)
        for i, stop in zip(free, best_stops([spans[i] for i in free], most, grid.read).stops, strict=True):
            ticks[i] = spans[i].wish if stop is None else stop
            apart += [i] if stop is None else []
    return _Lengths(ticks=tuple(ticks), apart=tuple(apart), solution=solve_boards(timber.problem(ticks), EFFORT))


def _bound(
    pieces: Sequence[Piece],
    parts: Sequence[Part],
    timber: Timber,
    lumber: Lumber,
    choice: StockChoice,
    config: Config,
    grid: Grid,
) -> StockChoice:
    """What no choice of lengths, pairs of rips and boards goes below."""
    rips = [part for part in parts if part.ripped]
    blanks = relaxed_blanks(rips, rip_saw(rips, config, grid), config, grid)
    shortest = [piece.span.lo for piece in pieces if piece.blank is None]
    paired = sorted(piece.span.lo for piece in pieces if piece.blank is not None)
    if sorted(blanks) == paired:
        return choice
    return choose_stocks(timber.problem([*shortest, *blanks]), lumber.cull, replace(EFFORT, tidy=False))


def _fewest(pieces: Sequence[Piece], config: Config, grid: Grid) -> tuple[str, ...]:
    """Parts of which no two share a mark: one for every stop that any choice of lengths needs."""
    free = [part for piece in pieces for part in piece.parts if part.interval is not None]
    found = fewest_stops([span_of(part, config, grid) for part in free], grid.read)
    return tuple(free[i].id for i in found.proof)


def nested_ticks(part: Part, nest: Nest, config: Config, grid: Grid) -> int:
    """What a strip takes of a board where it shares its cuts, the kerf aside."""
    return grid.up(grid.mm(span_of(part, config, grid).lo) - sum(nest.saved(part)))


def _nested(pieces: Sequence[Piece], nest: Nest | None, config: Config, grid: Grid) -> tuple[Piece, ...]:
    """Strips by what they take of a board when they share cuts."""
    if nest is None:
        return tuple(pieces)
    out: list[Piece] = []
    for piece in pieces:
        ticks = nested_ticks(piece.parts[0], nest, config, grid)
        out.append(replace(piece, span=replace(piece.span, lo=ticks, hi=ticks, wish=ticks), is_free=False))
    return tuple(out)


def _lengths(
    pieces: Sequence[Piece], ticks: Sequence[int], nest: Nest | None, config: Config, grid: Grid
) -> Mapping[str, int]:
    if nest is None:
        return rip_lengths(pieces, ticks, config, grid)
    return {part.id: span_of(part, config, grid).lo for piece in pieces for part in piece.parts}
