"""Plans of one stock that cost more and need fewer stops: the fewest stops first, each cheaper than the one before."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from lacunar.plan.cutting import (
    Effort,
    Rate,
    ShortageError,
    cheapest_lengths,
    lengths_by,
    rate_of,
    spans_inside,
)
from lacunar.plan.lumber import BoardStocks, make_stocks
from lacunar.plan.pieces import PieceSet, clashing, make_piece_set
from lacunar.plan.purchase import Proof
from lacunar.plan.purchase_search import cheapest_purchase
from lacunar.plan.saw import Saw
from lacunar.plan.section import SectionPlan, plan_section, section_plan
from lacunar.plan.solved_lengths import EFFORT, SolvedLengths, within
from lacunar.plan.sticks import Stick
from lacunar.plan.stock import Offer

TRIED = Effort(work=0.3, tidy=False)
"""For the boards of each number of stops. Measured: a tenth of a second, or the whole where a proof is hard."""

RATES = 2
"""What lengths are worth that is tried for each number of stops."""

MOST_TRIED = 16
"""Numbers of stops that are tried, at most: between two of different cost always the one in the middle."""


def stops_of(plan: SectionPlan, saw: Saw) -> int:
    """Marks that serve the parts whose lengths may be chosen."""
    free = [stick.id for piece in plan.pieces for stick in piece.sticks if stick.is_free]
    return len({plan.lengths[name] for name in free if name not in plan.apart and not plan.lengths[name] % saw.read})


class SectionWays:
    """The plans of one stock and species: the cheapest, and dearer ones by fewer stops, made when they are asked for.

    That none is cheaper by as few stops is not proved.
    """

    def __init__(self, sticks: Sequence[Stick], offers: Sequence[Offer], saw: Saw) -> None:
        """See `plan_section`, which makes the cheapest."""
        self._sticks, self._offers, self._saw = sticks, offers, replace(saw, most_stops=None)

    @cached_property
    def cheapest(self) -> SectionPlan:
        """By any number of stops."""
        return plan_section(self._sticks, self._offers, self._saw)

    @cached_property
    def dearer(self) -> tuple[SectionPlan, ...]:
        """By fewer stops than the cheapest, none of them cheaper: the fewest first, each cheaper than before."""
        cheapest, saw = self.cheapest, self._saw
        if not cheapest.proofs or not any(stick.is_free for stick in self._sticks):
            return ()
        whole = [stick for stick in self._sticks if stick.id in cheapest.lengths]
        # The margin is kept where it costs nothing.
        inner = [[replace(stick, span=stick.inner) for stick in whole]] if saw.margin else []
        pairs = [(piece.sticks[0].id, piece.sticks[1].id) for piece in cheapest.pieces if len(piece.sticks) == 2]
        stocks = make_stocks(self._offers, saw)
        rungs = _Ladder(make_piece_set(whole, pairs, stocks, saw), stocks, cheapest, saw).rungs()
        sets = [make_piece_set(sticks, pairs, stocks, saw) for sticks in (*inner, whole)]
        kept, found = list[SectionPlan](), filter(None, [_planned(sets, rung, stocks, saw) for rung in rungs])
        for plan in sorted(found, key=lambda plan: (stops_of(plan, saw), plan.cost)):
            is_cheaper = not kept or plan.cost < kept[-1].cost
            if is_cheaper and plan.cost >= cheapest.cost and stops_of(plan, saw) < stops_of(cheapest, saw):
                kept.append(plan)
        return tuple(
            replace(
                p, bound=cheapest.bound, proofs=cheapest.proofs, witness=cheapest.witness, left_out=cheapest.left_out
            )
            for p in kept
        )

    def at_most(self, stops: int | None) -> SectionPlan:
        """The cheapest known by no more stops; where these are too few, the rest is cut to measure."""
        if stops is None or stops_of(self.cheapest, self._saw) <= stops:
            return self.cheapest
        enough = len(self.cheapest.witness) <= stops
        within = [plan for plan in self.dearer if stops_of(plan, self._saw) <= stops] if enough else []
        return within[-1] if within else plan_section(self._sticks, self._offers, replace(self._saw, most_stops=stops))


@dataclass(frozen=True, slots=True)
class _Rung:
    """So many marks, what lengths are worth that chose them, and the boards to buy: counts and cost with spares."""

    marks: int
    rate: Rate
    counts: tuple[int, ...]
    cost: int


class _Ladder:
    """The boards to buy for fewer and fewer marks."""

    def __init__(self, piece_set: PieceSet, stocks: BoardStocks, cheapest: SectionPlan, saw: Saw) -> None:
        self._timber, self._cull = piece_set.timber, stocks.cull
        self._inside, self._apart, self._fewest = spans_inside([piece.span for piece in piece_set.pieces], saw.read)
        self._most, self._least = stops_of(cheapest, saw), cheapest.cost
        self._proof: Proof = cheapest.proofs[0]
        self._rungs: dict[int, _Rung | None] = {}

    def rungs(self) -> list[_Rung]:
        """The fewest marks, then those at which it is cheaper. Between two of different cost the middle is tried."""
        if self._fewest >= self._most:
            return []
        self._rungs[self._fewest] = self._rung(self._fewest)
        ranges = [(self._fewest, self._most)]
        for low, high in ranges:
            if self._cost(low) > self._cost(high) and high - low > 1 and len(self._rungs) < MOST_TRIED:
                middle = (low + high) // 2
                self._rungs[middle] = self._rung(middle)
                ranges += [(low, middle), (middle, high)]
        kept = list[_Rung]()
        for _, rung in sorted(self._rungs.items()):
            if rung is not None and (not kept or rung.cost < kept[-1].cost):
                kept.append(rung)
        return kept

    def _cost(self, marks: int) -> float:
        """The least that was found by no more marks."""
        if marks >= self._most:
            return self._least
        return min((rung.cost for n, rung in self._rungs.items() if rung and n <= marks), default=math.inf)

    def _rung(self, marks: int) -> _Rung | None:
        """The cheapest boards that were found for so many marks."""
        best: _Rung | None = None
        rate = rate_of(self._proof.problem, self._proof.certificate)
        for _ in range(RATES):
            lengths = cheapest_lengths(self._inside, self._apart, rate, marks)
            if lengths is None:
                break
            problem = self._timber.cutting(lengths)
            try:
                purchase = cheapest_purchase(problem, self._cull, TRIED)
            except ShortageError:
                break
            if best is None or purchase.cost < best.cost:
                best = _Rung(marks, rate, purchase.counts, purchase.cost)
            if purchase.cost <= self._least:
                break
            rate = rate_of(problem, purchase.proof.certificate)
        return best


def _planned(sets: Sequence[PieceSet], rung: _Rung, stocks: BoardStocks, saw: Saw) -> SectionPlan | None:
    """By the marks and from the boards of a rung: the first pieces that these do for, and whose rips still pair."""
    for piece_set in sets:
        used, timber = within(stocks, piece_set.timber, rung.counts)
        spans = [piece.span for piece in piece_set.pieces]
        found = lengths_by(spans, timber, rung.marks, rung.rate, saw.read, EFFORT)
        if found is None:
            continue
        solved = SolvedLengths(ticks=found.lengths, apart=(), solution=found.boards)
        problem = replace(piece_set.timber, stocks=used.stocks).cutting(found.lengths)
        plan = section_plan(piece_set, used, solved, problem, saw)
        if not clashing(plan.pieces, plan.lengths, saw):
            return plan
    return None
