"""What a plan buys for one section, as a problem again whose sizes can be changed a little."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from lacunar.parts import Part
from lacunar.plan.cutting import BoardProblem, Effort, ShortageError, solve_boards
from lacunar.plan.nesting import make_nest
from lacunar.plan.purchase import counts_of
from lacunar.plan.saw import Saw
from lacunar.plan.sticks import make_sticks
from lacunar.plan.types import Board, Cut, Section
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

    def longer(self, by: int) -> int:
        """Ticks where slats are so many longer."""
        return max(self.ticks + by, self.least) if by and self.is_slat else self.ticks


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
        lengths = [piece.longer(ticks) if what == "slats" else piece.ticks for piece in self.pieces]
        waste = self.problem.end_waste + (ticks if what == "end waste" else 0)
        stocks = tuple(
            replace(stock, length=stock.length + ticks) if what == "boards" and not is_measured else stock
            for stock, is_measured in zip(self.problem.stocks, self.measured, strict=True)
        )
        if waste < 0 or min(lengths) <= 0 or min(stock.length for stock in stocks) <= 0:
            return None
        return replace(self.problem, stocks=stocks, end_waste=waste).cutting(lengths)


def bought_of(section: Section, boards: Sequence[Board], parts: Sequence[Part], saw: Saw) -> Bought | None:
    """The plan's problem again at the lengths that it chose, of a section's boards and parts; None for no boards."""
    if not section.proofs or not boards:
        return None
    whole = section.proofs[0].problem
    actual = {row.length: row.actual for row in saw.shop.board if row.stock == section.stock and row.actual}
    cut = Counter(saw.down(actual.get(board.length, board.length)) for board in boards if not board.on_hand)
    sold = [replace(stock, price=whole.price(s)) for s, stock in enumerate(whole.stocks)]
    stocks = tuple(stock for stock in sold if stock.price == 0 or cut[stock.length])
    pieces = _crosscuts(boards, parts, whole.kerf, saw)
    problem = replace(whole, stocks=stocks).cutting([piece.ticks for piece in pieces])
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
    measured = {saw.down(length) for length in actual.values()}
    return Bought(
        problem=problem,
        pieces=pieces,
        measured=tuple(stock.length in measured for stock in stocks),
        counts=counts,
        cost=cost,
        bound=solution.bound,
    )


def _crosscuts(boards: Sequence[Board], parts: Sequence[Part], kerf: int, saw: Saw) -> tuple[Crosscut, ...]:
    """As it lies on the boards; strips by what they take of a board when they share cuts."""
    sticks = make_sticks(parts, saw)
    nest = make_nest(sticks, saw)
    if nest is not None:
        return tuple(Crosscut(nest.ticks(stick, saw), is_slat=False) for stick in sticks)
    slats = {part.id for part in parts if part.kind == "slat"}
    found: list[Crosscut] = []
    for board in boards:
        groups = _sections(board.cuts)
        for group, after in zip(groups, [*groups[1:], None], strict=True):
            first, end = group[0], group[0].end
            if first.blank is not None:
                # Rips that lie one behind the other may share a blank, a saw cut between each two.
                shared = after is not None and after[0].blank == first.blank
                end = after[0].start - saw.mm(kerf) if after is not None and shared else first.blank[1]
            is_slat = any(cut.part in slats for cut in group)
            found.append(
                Crosscut(saw.near(end - first.start), is_slat, 0 if first.blank is None else saw.rip.least_blank)
            )
    return tuple(found)


def _sections(cuts: Sequence[Cut]) -> list[list[Cut]]:
    """Cuts by the full-width section that they come out of: rips beside each other are one, the near edge first."""
    groups: list[list[Cut]] = []
    for cut in sorted(cuts, key=lambda cut: (cut.start, cut.across or (0.0, 0.0))):
        beside = groups[-1] if groups else None
        if beside is not None and cut.blank is not None and cut.start < max(one.end for one in beside) - ARITHMETIC:
            beside.append(cut)
            beside.sort(key=lambda one: one.across or (0.0, 0.0))
        else:
            groups.append([cut])
    return groups
