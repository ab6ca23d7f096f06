"""What a plan buys for one section, as a problem again whose sizes can be changed a little."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.choice import counts_of
from lacunar.plan.cutting import BoardProblem, Demand, Effort, ShortageError, solve_boards
from lacunar.plan.grid import Grid
from lacunar.plan.nesting import make_nest
from lacunar.plan.pieces import LEAST_BLANK
from lacunar.plan.types import Board, Cut, Section
from lacunar.plan.wood import nested_ticks
from lacunar.tolerances import ARITHMETIC

EFFORT = Effort(work=0.3, tidy=False)
"""For each question. Measured: rooms of ours need a hundredth of it."""

What = Literal["slats", "end waste", "boards"]


@dataclass(frozen=True, slots=True)
class Crosscut:
    """One full-width piece.

    Attributes:
        ticks: that it takes of the board.
        is_slat: it is as long as a slat, or rips for slats come out of it.
        least: ticks; no shorter piece is ripped.
    """

    ticks: int
    is_slat: bool
    least: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """What is cut from boards on hand and of the lengths that the plan buys.

    Attributes:
        problem: as planned; every stock has a price, its length as sold where prices are unknown.
        measured: of each stock: what it measures is known.
        counts: boards of each stock that the plan takes.
        cost: of them.
        bound: no plan of these pieces from these lengths of board costs less.
    """

    problem: BoardProblem
    pieces: tuple[Crosscut, ...]
    measured: tuple[bool, ...]
    counts: tuple[int, ...]
    cost: int
    bound: int

    def changed(self, what: What, ticks: int) -> BoardProblem | None:
        """With longer slats, more waste at each end or longer boards, by so many ticks; None where there are none."""
        pieces = _lengths(self.pieces, ticks if what == "slats" else 0)
        waste = self.problem.end_waste + (ticks if what == "end waste" else 0)
        stocks = tuple(
            replace(stock, length=stock.length + ticks) if what == "boards" and not known else stock
            for stock, known in zip(self.problem.stocks, self.measured, strict=True)
        )
        if waste < 0 or min(pieces) <= 0 or min(stock.length for stock in stocks) <= 0:
            return None
        return replace(self.problem, stocks=stocks, demands=_demands(pieces), end_waste=waste)


def bought_of(
    section: Section, boards: Sequence[Board], parts: Sequence[Part], config: Config, grid: Grid
) -> Bought | None:
    """The plan's problem again at the lengths that it chose; None where nothing is cut.

    Args:
        section: what is bought of one stock and species.
        boards: of this section.
        parts: that are cut from them.
        config: saw and shop.
        grid: ticks.
    """
    if not section.proofs:
        return None
    whole = section.proofs[0].problem
    actual = {row.length: row.actual for row in config.shop.board if row.stock == section.stock and row.actual}
    cut = Counter(grid.down(actual.get(board.length, board.length)) for board in boards if not board.on_hand)
    sold = [replace(stock, price=whole.price(s)) for s, stock in enumerate(whole.stocks)]
    stocks = tuple(stock for stock in sold if stock.price == 0 or cut[stock.length])
    pieces = _crosscuts(boards, parts, whole.kerf, config, grid)
    problem = replace(whole, stocks=stocks, demands=_demands(_lengths(pieces, 0)))
    try:
        solution = solve_boards(problem, EFFORT)
    except ShortageError:
        return None
    counts, cost = tuple(counts_of(solution, len(stocks))), solution.cost
    planned = tuple(cut[stock.length] if stock.price else n for stock, n in zip(stocks, counts, strict=True))
    paid = sum(problem.price(s) * n for s, n in enumerate(planned))
    if solution.bound <= paid <= cost:
        # The plan was looked for longer, and is what a person has in hand.
        counts, cost = planned, paid
    known = {grid.down(length) for length in actual.values()}
    return Bought(
        problem=problem,
        pieces=pieces,
        measured=tuple(stock.length in known for stock in stocks),
        counts=counts,
        cost=cost,
        bound=solution.bound,
    )


def _lengths(pieces: Sequence[Crosscut], slats: int) -> Mapping[int, int]:
    """How many of each length, with slats so many ticks longer."""
    return Counter(max(p.ticks + slats, p.least) if slats and p.is_slat else p.ticks for p in pieces)


def _demands(lengths: Mapping[int, int]) -> tuple[Demand, ...]:
    return tuple(Demand(length=length, count=lengths[length]) for length in sorted(lengths, reverse=True))


def _crosscuts(
    boards: Sequence[Board], parts: Sequence[Part], kerf: int, config: Config, grid: Grid
) -> tuple[Crosscut, ...]:
    """As it lies on the boards; strips by what they take of a board when they share cuts."""
    nest = make_nest(parts, config)
    if nest is not None:
        return tuple(Crosscut(nested_ticks(part, nest, config, grid), is_slat=False) for part in parts)
    slats = {part.id for part in parts if part.kind == "slat"}
    least = grid.up(LEAST_BLANK[config.units])
    found: list[Crosscut] = []
    for board in boards:
        groups = _sections(board.cuts)
        for group, after in zip(groups, [*groups[1:], None], strict=True):
            first = group[0]
            end = first.end
            if first.blank is not None:
                # Rips that lie one behind the other may share a blank, a saw cut between each two.
                shared = after is not None and after[0].blank == first.blank
                end = after[0].start - grid.mm(kerf) if after is not None and shared else first.blank[1]
            is_slat = any(cut.part in slats for cut in group)
            found.append(Crosscut(grid.near(end - first.start), is_slat, 0 if first.blank is None else least))
    return tuple(found)


def _sections(cuts: Sequence[Cut]) -> list[list[Cut]]:
    """Cuts by the full-width section that they come out of: rips beside each other are one, the near edge first."""
    groups: list[list[Cut]] = []
    for cut in sorted(cuts, key=lambda cut: (cut.start, cut.across or (0.0, 0.0))):
        last = groups[-1] if groups else None
        if last is not None and cut.blank is not None and cut.start < max(one.end for one in last) - ARITHMETIC:
            last.append(cut)
            last.sort(key=lambda one: one.across or (0.0, 0.0))
        else:
            groups.append([cut])
    return groups
