"""The boards of one stock and species: lengths, rips, boards and their order, with what is proved of them."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from lacunar.plan.cutting import (
    BoardProblem,
    BoardSolution,
    SawTurn,
    ShortageError,
    Span,
    fewest_stops,
    order_boards,
)
from lacunar.plan.lumber import BoardStocks, make_stocks
from lacunar.plan.nesting import Nest
from lacunar.plan.pair_search import Pairing
from lacunar.plan.pairing import best_pairs, longest_saved
from lacunar.plan.pieces import BoardPiece, PieceSet, clashing, make_piece_set
from lacunar.plan.purchase import Proof, Purchase, counts_of
from lacunar.plan.purchase_search import cheapest_purchase
from lacunar.plan.saw import Saw
from lacunar.plan.solved_lengths import EFFORT, SolvedLengths, solve_lengths
from lacunar.plan.spares import total_cost
from lacunar.plan.sticks import Stick
from lacunar.plan.stock import Offer

NO_PROBLEM = BoardProblem(stocks=(), demands=())


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionPlan:
    """How the parts of one stock and species are cut; with its stocks alone, what is left where no board gives any.

    Attributes:
        stocks: `solution.patterns` point into them.
        pieces: that the boards give.
        ticks: of the board that each piece takes, in the patterns' terms.
        lengths: part id to what it is cut to, ticks.
        problem: that the solution solves.
        order: of the boards.
        cost: of the boards to buy, spares included, in cents; ticks of board length where prices are unknown.
        bound: no plan costs less.
        margin_cost: what it costs more for the margins of measured slats.
        proofs: of the bound, see `Pairing.proofs`.
        apart: parts that none of the marks serves where their number is limited.
        witness: parts of which no two share a mark: one for each that any choice of lengths needs.
        left_out: parts that no board gives.
    """

    stocks: BoardStocks
    pieces: tuple[BoardPiece, ...] = ()
    ticks: tuple[int, ...] = ()
    lengths: Mapping[str, int] = field(default_factory=dict[str, int])
    nest: Nest | None = None
    problem: BoardProblem = NO_PROBLEM
    solution: BoardSolution | None = None
    order: tuple[SawTurn, ...] = ()
    cost: int = 0
    bound: int = 0
    margin_cost: int = 0
    proofs: tuple[Proof, ...] = ()
    apart: frozenset[str] = frozenset()
    witness: tuple[str, ...] = ()
    left_out: tuple[Stick, ...] = ()


def plan_section(sticks: Sequence[Stick], offers: Sequence[Offer], saw: Saw) -> SectionPlan:
    """Cheapest boards first, unless margins are worth more; then few stops, then lengths near the designed ones.

    The sticks are of one stock and species, in the order in which they go up; the offers are what is left of it.
    """
    stocks = make_stocks(offers, saw)
    every = make_piece_set(sticks, longest_saved(sticks, saw), stocks, saw)
    pieces, purchase = _affordable(every.pieces, every.timber, stocks.cull)
    if purchase is None:
        return SectionPlan(stocks=stocks, left_out=tuple(sticks))
    whole = {stick.id: stick for piece in pieces for stick in piece.sticks}
    mine = [stick for stick in sticks if stick.id in whole]
    paired = best_pairs(pieces, purchase, lambda lows: _purchase(every.timber, stocks.cull, lows), saw)
    plan = _with_margins(mine, stocks, paired, saw)
    # Of whole intervals: the margin is a wish, and no proof may rest on it.
    spanned = [whole[stick.id] for piece in plan.pieces for stick in piece.sticks if stick.part.interval is not None]
    proof = fewest_stops([stick.span for stick in spanned], saw.read).proof
    return replace(
        plan,
        bound=paired.bound,
        proofs=paired.proofs,
        witness=tuple(spanned[i].id for i in proof),
        left_out=tuple(stick for stick in sticks if stick.id not in whole),
    )


def _with_margins(sticks: Sequence[Stick], stocks: BoardStocks, paired: Pairing, saw: Saw) -> SectionPlan:
    """The widest margins that cost no board; those of measured slats may cost less than the wood that they save."""

    def with_spans(spans: Sequence[Span], pairing: Pairing = paired) -> SectionPlan | None:
        kept = [replace(stick, span=span) for stick, span in zip(sticks, spans, strict=True)]
        return _without_clash(kept, stocks, pairing, saw)

    whole, inner, safe = ([getattr(stick, name) for stick in sticks] for name in ("span", "inner", "safe"))
    tries, wide = [inner, whole], None
    if safe != inner:
        bought = _bought_for(safe, sticks, stocks, paired, saw)
        wide = with_spans(safe, bought) if bought is not None else None
        if wide is not None and wide.cost <= paired.purchase.cost:
            return wide
        # Only what is kept from the short end can cost a board.
        tries.insert(0, [replace(one, lo=span.lo) for one, span in zip(safe, whole, strict=True)])
    plan: SectionPlan | None = None
    for spans, _ in groupby(tries):
        found = with_spans(spans)
        plan = found or plan
        if found is not None and found.cost <= paired.purchase.cost:
            break
    assert plan is not None, "the boards that were chosen give the pieces"
    if wide is None or wide.cost - plan.cost >= _spoilt(plan, sticks, saw) - _spoilt(wide, sticks, saw):
        return plan
    return replace(wide, margin_cost=wide.cost - plan.cost)


def _bought_for(
    spans: Sequence[Span], sticks: Sequence[Stick], stocks: BoardStocks, paired: Pairing, saw: Saw
) -> Pairing | None:
    """The pairing with the cheapest boards for these lengths; None where the boards there are do not give them."""
    kept = [replace(stick, span=span) for stick, span in zip(sticks, spans, strict=True)]
    piece_set = make_piece_set(kept, paired.pairs, stocks, saw)
    try:
        purchase = _purchase(piece_set.timber, stocks.cull, [piece.span.lo for piece in piece_set.pieces])
    except ShortageError:
        return None
    return replace(paired, purchase=purchase)


def _spoilt(plan: SectionPlan, sticks: Sequence[Stick], saw: Saw) -> float:
    """What the measured slats cost that come out too short, on average; in the units of the plan's cost."""
    problem = plan.problem
    prices = [problem.price(s) / stock.length for s, stock in enumerate(problem.stocks) if problem.price(s)]
    wood = math.fsum(stick.too_short(saw.mm(plan.lengths[stick.id])) * plan.lengths[stick.id] for stick in sticks)
    return wood * min(prices, default=0.0)


def _without_clash(sticks: Sequence[Stick], stocks: BoardStocks, paired: Pairing, saw: Saw) -> SectionPlan | None:
    """Rips that no longer share a section at the lengths that were chosen are cut by themselves."""
    pairs = list(paired.pairs)
    while True:
        plan = _planned(sticks, pairs, stocks, paired.purchase, saw)
        bad = clashing(plan.pieces, plan.lengths, saw) if plan is not None else ()
        if not bad:
            return plan
        pairs = [pair for pair in pairs if pair not in bad]


def _planned(
    sticks: Sequence[Stick], pairs: Sequence[tuple[str, str]], stocks: BoardStocks, purchase: Purchase, saw: Saw
) -> SectionPlan | None:
    """Lengths, boards and order; None where the boards there are do not give the pieces."""
    piece_set = make_piece_set(sticks, pairs, stocks, saw)
    solved = solve_lengths(piece_set, stocks, purchase, saw)
    if solved is None:
        return None
    return section_plan(piece_set, *solved, saw)


def section_plan(
    piece_set: PieceSet, stocks: BoardStocks, lengths: SolvedLengths, problem: BoardProblem, saw: Saw
) -> SectionPlan:
    """Pieces at the lengths that were chosen, their boards in order, and what they cost."""
    solution = lengths.solution
    return SectionPlan(
        stocks=stocks,
        pieces=piece_set.pieces,
        ticks=lengths.ticks,
        lengths=piece_set.part_lengths(lengths.ticks, saw),
        nest=piece_set.nest,
        problem=problem,
        solution=solution,
        order=order_boards(solution.patterns, stops=saw.shop.flip_stops, stack=saw.shop.stack),
        cost=total_cost(problem, counts_of(solution, len(problem.stocks)), stocks.cull),
        apart=frozenset(stick.id for i in lengths.apart for stick in piece_set.pieces[i].sticks),
    )


def _affordable(
    pieces: Sequence[BoardPiece], timber: BoardProblem, cull: float
) -> tuple[tuple[BoardPiece, ...], Purchase | None]:
    """As many of the pieces as the boards give at their shortest, and which lengths of board are best for them."""
    left = list(pieces) if timber.stocks else []
    while left:
        lengths = [piece.span.lo for piece in left]
        try:
            return tuple(left), _purchase(timber, cull, lengths)
        except ShortageError as shortage:
            demands = timber.cutting(lengths).demands
            for i, count in shortage.missing:
                short = [n for n, piece in enumerate(left) if piece.span.lo == demands[i].length]
                left = [piece for n, piece in enumerate(left) if n not in short[len(short) - count :]]
    return (), None


def _purchase(timber: BoardProblem, cull: float, lengths: Sequence[int]) -> Purchase:
    return cheapest_purchase(timber.cutting(lengths), cull, replace(EFFORT, tidy=False))
