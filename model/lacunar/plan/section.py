"""The boards of one stock and species: lengths, rips, boards and their order, with what is proved of them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.choice import Proof, StockChoice, choose_stocks, counts_of
from lacunar.plan.chosen import EFFORT, choose_boards
from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    SawOrder,
    ShortageError,
    Timber,
    fewest_stops,
    order_boards,
)
from lacunar.plan.grid import Grid
from lacunar.plan.lumber import Lumber, make_lumber
from lacunar.plan.nesting import Nest
from lacunar.plan.pair_search import Pairing
from lacunar.plan.pairing import best_pairs, longest_saved
from lacunar.plan.pieces import Piece, clashing, is_free, span_of
from lacunar.plan.spares import total_cost
from lacunar.plan.stock import Offer
from lacunar.plan.wood import Wood, lengths_of, make_wood


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
        proofs: of the bound, see `Pairing.proofs`.
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
    apart: frozenset[str]
    fewest: int
    witness: tuple[str, ...]
    left_out: tuple[Part, ...]


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
    every = make_wood(parts, longest_saved(parts, config, wide), lumber, config, wide)
    pieces, choice = _affordable(every.pieces, every.timber, lumber)
    if choice is None:
        return _nothing(parts, lumber)
    kept = frozenset(part.id for piece in pieces for part in piece.parts)
    mine = [part for part in parts if part.id in kept]
    paired = best_pairs(pieces, choice, partial(_solved, every.timber, lumber), config, wide)
    # The margin is kept where it costs nothing: the boards come first.
    plan = None
    if grid.margin and any(is_free(part) for part in mine):
        plan = _without_clash(mine, lumber, paired, config, grid)
    if plan is None or plan.cost > paired.choice.cost:
        plan = _without_clash(mine, lumber, paired, config, wide) or plan
    assert plan is not None, "the boards that were chosen give the pieces"
    left_out = tuple(part for part in parts if part.id not in kept)
    return replace(plan, bound=paired.bound, proofs=paired.proofs, left_out=left_out)


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
        apart=frozenset(),
        fewest=0,
        witness=(),
        left_out=tuple(parts),
    )


def _without_clash(
    parts: Sequence[Part], lumber: Lumber, paired: Pairing, config: Config, grid: Grid
) -> SectionPlan | None:
    """Rips that no longer share a section at the lengths that were chosen are cut by themselves."""
    pairs = list(paired.pairs)
    while True:
        wood = make_wood(parts, pairs, lumber, config, grid)
        plan = _planned(wood, lumber, paired.choice, config, grid)
        if plan is None:
            return None
        bad = clashing(plan.pieces, plan.lengths, config, grid)
        if not bad:
            return plan
        pairs = [pair for pair in pairs if pair not in bad]


def _planned(wood: Wood, lumber: Lumber, choice: StockChoice, config: Config, grid: Grid) -> SectionPlan | None:
    """Lengths, boards and order; None where the boards there are do not give the pieces."""
    solved = choose_boards(wood, lumber, choice, config.shop.stops, grid)
    if solved is None:
        return None
    used, lengths, problem = solved
    ticks, solution = lengths.ticks, lengths.solution
    # Of whole intervals: the margin is a wish, and no proof may rest on it.
    marks = _fewest(wood.pieces, config, replace(grid, margin=0))
    return SectionPlan(
        pieces=wood.pieces,
        ticks=ticks,
        lengths=lengths_of(wood, ticks, config, grid),
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
        lengths = [piece.span.lo for piece in left]
        try:
            return tuple(left), _solved(timber, lumber, lengths)
        except ShortageError as shortage:
            demands = timber.problem(lengths).demands
            for i, count in shortage.missing:
                short = [n for n, piece in enumerate(left) if piece.span.lo == demands[i].length]
                left = [piece for n, piece in enumerate(left) if n not in short[len(short) - count :]]
    return (), None


def _solved(timber: Timber, lumber: Lumber, lengths: Sequence[int]) -> StockChoice:
    return choose_stocks(timber.problem(lengths), lumber.cull, replace(EFFORT, tidy=False))


def _fewest(pieces: Sequence[Piece], config: Config, grid: Grid) -> tuple[str, ...]:
    """Parts of which no two share a mark: one for every stop that any choice of lengths needs."""
    free = [part for piece in pieces for part in piece.parts if part.interval is not None]
    found = fewest_stops([span_of(part, config, grid) for part in free], grid.read)
    return tuple(free[i].id for i in found.proof)
