"""How little longer, shorter or more changes what a plan has to buy.

The pieces of a plan stay what they are, but for the one change that is looked at, and come out of boards of the lengths
that the plan buys. Each flip is proved: dearer where no plan is as cheap as before, cheaper where one is cheaper than
any was. What the effort cannot tell is no flip. Cost never falls with longer pieces or less board, so the nearest flip
is found by halving.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.bought import EFFORT, Bought, What, bought_of
from lacunar.plan.cutting import BoardSolution, Certificate, ShortageError, afford_boards, solve_boards
from lacunar.plan.lumber import CENTS
from lacunar.plan.purchase import counts_of
from lacunar.plan.saw import Saw, make_saw
from lacunar.plan.spares import spares, total_cost
from lacunar.plan.types import Plan, Section
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

REACH = {"in": 3.0 / 8.0 * INCH, "mm": 10.0}
"""mm. Changes up to this are looked at: what boards run over or under, and what a saw stand takes. Source: common
practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Flip:
    """The least change of one kind, in one direction, that changes what is bought of one stock and species.

    Attributes:
        what: length of all slats; waste at each end of every board; what boards measure that nobody has measured.
        by: mm; more than 0 is longer or more. A whole number of marks that slats are cut to.
        is_dearer: more is bought, or less.
        boards: bought more, spares included; less than 0 for fewer; None where boards of the lengths that the plan
            buys do not give all parts any more.
        length: of those boards, mm, likewise.
        money: likewise; None without prices.
        unfit: with shorter slats: those that would be shorter than their interval allows.
    """

    stock: str
    species: str
    what: What
    by: float
    is_dearer: bool
    boards: int | None
    length: float
    money: float | None
    unfit: tuple[str, ...] = ()


def find_flips(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[Flip, ...]:
    """The nearest change that makes it dearer, and the nearest that makes it cheaper, of each kind and section.

    Args:
        parts: as cut.
        plan: of these parts.
        config: saw and shop.
    """
    grid = make_saw(config)
    by_id = {part.id: part for part in parts}
    found: list[Flip] = []
    for section in plan.sections:
        cut_up = [b for b in plan.boards if (b.stock, b.species) == (section.stock, section.species)]
        mine = [by_id[name] for name in dict.fromkeys(cut.part for board in cut_up for cut in board.cuts)]
        bought = bought_of(section, cut_up, mine, grid)
        if bought is None:
            continue
        for what, is_dearer in _questions(bought):
            sign = 1 if is_dearer == (what != "boards") else -1
            steps = sign * _nearest(bought, what, sign * grid.read, is_dearer, grid)
            if steps == 0:
                continue
            by = steps * grid.tape.read_to
            boards, length, money = _difference(bought, what, steps * grid.read, section, grid)
            flip = Flip(
                stock=section.stock,
                species=section.species,
                what=what,
                by=by,
                is_dearer=is_dearer,
                boards=boards,
                length=length,
                money=money,
                unfit=_unfit(mine, plan.lengths, by) if what == "slats" and by < 0.0 else (),
            )
            found.append(flip)
    return tuple(found)


def _questions(bought: Bought) -> list[tuple[What, bool]]:
    """What is changed, and whether to look for dearer."""
    kinds: list[What] = []
    if any(piece.is_slat for piece in bought.pieces):
        kinds.append("slats")
    kinds.append("end waste")
    if not all(bought.measured):
        kinds.append("boards")
    return [(what, is_dearer) for what in kinds for is_dearer in (True, False)]


def _nearest(bought: Bought, what: What, step: int, is_dearer: bool, grid: Saw) -> int:
    """How many steps of so many ticks flip it; 0 where none within reach do."""
    reach = REACH[grid.tape.units]
    if what == "end waste" and step < 0:
        reach = min(reach, grid.shop.end_waste)
    most = int((reach + ARITHMETIC) / grid.tape.read_to)
    return _first(lambda n: _is_flip(bought, what, n * step, is_dearer), most)


def _first(holds: Callable[[int], bool], most: int) -> int:
    """The least number from 1 to `most` for which it holds, and then for all above it; 0 for none."""
    if most < 1 or not holds(most):
        return 0
    low, high = 0, most
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if holds(middle) else (middle, high)
    return high


def _is_flip(bought: Bought, what: What, ticks: int, is_dearer: bool) -> bool:
    """Proved: no plan of the changed pieces costs as little as before; or one costs less than any did."""
    problem = bought.changed(what, ticks)
    if problem is None or (bought.bound == 0 and not is_dearer):
        return False
    try:
        answer = afford_boards(problem, bought.cost if is_dearer else bought.bound - 1, EFFORT)
    except ShortageError:
        return is_dearer
    return isinstance(answer, Certificate if is_dearer else BoardSolution)


def _difference(
    bought: Bought, what: What, ticks: int, section: Section, grid: Saw
) -> tuple[int | None, float, float | None]:
    """Boards more, length of board more, mm, and money more, spares included."""
    problem = bought.changed(what, ticks)
    assert problem is not None
    try:
        counts = counts_of(solve_boards(problem, EFFORT), len(problem.stocks))
    except ShortageError:
        return None, 0.0, None
    cull = grid.shop.cull if section.cost is not None else 0.0
    boards, length = 0, 0.0
    for before, after, stock in zip(bought.counts, counts, bought.problem.stocks, strict=True):
        more = after + spares(after, cull) - before - spares(before, cull) if stock.price else 0
        boards += more
        length += more * grid.mm(stock.length)
    money = total_cost(problem, counts, cull) - total_cost(bought.problem, bought.counts, cull)
    return boards, length, money / CENTS if section.cost is not None else None


def _unfit(parts: Sequence[Part], lengths: Mapping[str, float], by: float) -> tuple[str, ...]:
    """Slats that would be shorter than their interval allows; one without an interval is as long as it must be."""
    return tuple(
        part.id
        for part in parts
        if part.kind == "slat" and (part.interval is None or lengths[part.id] + by < part.interval[0] - ARITHMETIC)
    )
