"""Parts that no board gives: why, and what would give them."""

import math
from collections.abc import Sequence

from lacunar.config import LONGEST_BOARD
from lacunar.plan.groups import Group
from lacunar.plan.pieces import make_piece_set
from lacunar.plan.saw import Saw
from lacunar.plan.stock import Offer, fits_car
from lacunar.plan.types import Unserved
from lacunar.told import Told, amount
from lacunar.tolerances import ARITHMETIC


def unserved(group: Group, saw: Saw) -> list[Unserved]:
    """Parts that no board gives, and why; the cure is one for all that lack longer boards, one for the rest."""
    left_out = [stick.part for stick in group.plan.left_out]
    piece_set = make_piece_set(group.sticks, (), group.plan.stocks, saw)
    taken = {piece.sticks[0].id: piece.span.lo for piece in piece_set.pieces}
    needs = {part.id: saw.mm(taken[part.id] + 2 * piece_set.timber.end_waste) for part in left_out}
    most: dict[bool, float] = {}
    for need in needs.values():
        is_there = bool(_long_enough(group.rows, need))
        most[is_there] = max(most.get(is_there, 0.0), need)
    cures = {is_there: _cure(need, group, saw) for is_there, need in most.items()}
    return [
        Unserved(
            part=part.id,
            stock=group.stock,
            length=part.length,
            reason=Told(_why(part.length, needs[part.id], group, saw)),
            cure=Told(cures[bool(_long_enough(group.rows, needs[part.id]))]),
        )
        for part in left_out
    ]


def _why(length: float, needs: float, group: Group, saw: Saw) -> str:
    """For a carpenter."""
    stock, rows = group.stock, group.rows
    if not rows:
        return f"{stock} is not in the shop table; add a [[shop.board]] for it"
    if any(row.on_hand or row.supply for row in _long_enough(rows, needs)):
        return f"the boards of {stock} that there are do not give all of them (shop.board: on_hand, supply)"
    usable = [row for row in rows if row.for_sale or row.on_hand]
    if not usable:
        return f"every {stock} is longer than {_told(saw.shop.longest or 0.0, saw)}, the longest that fits the car"
    longest = max(row.length for row in usable)
    car = " that fits the car" if longest < max(row.length for row in rows) else ""
    waste = 2.0 * saw.shop.end_waste
    section = needs - waste
    ripped = f", ripped from a section of {_told(section, saw)}" if section > length + saw.tape.read_to else ""
    return (
        f"{_told(length, saw)} long{ripped}; the longest {stock}{car}, {_told(longest, saw)}, "
        f"gives {_told(longest - waste, saw)} once both ends are squared"
    )


def _cure(needs: float, group: Group, saw: Saw) -> str:
    """What to change so that a board gives it."""
    shop, stock = saw.shop, group.stock
    there = _long_enough(group.rows, needs)
    if there:
        row = min(there, key=lambda row: (not fits_car(row, shop.longest), row.length))
        return f"let more {stock} of {_told(row.length, saw)} be bought: {_let(row, saw)}"
    least = _marks_up(needs, saw)
    if least > LONGEST_BOARD.mm(saw.tape.units):
        return "nobody sells so long a board: plan shorter parts"
    board = f"a {stock} of {_told(least, saw)} or longer"
    say = f"add {board} to what is sold (shop.board)"
    if not shop.board:
        say = f"write what is sold of every stock (shop.board), {board} among it"
    is_long = shop.longest is not None and shop.longest < least - ARITHMETIC
    return f"{say}, and set shop.longest no shorter" if is_long else say


def _let(row: Offer, saw: Saw) -> str:
    """What in a row of the shop table, or beside it, keeps boards from being bought."""
    wrong = ["leave out its supply"] if row.supply is not None else []
    wrong += ["give its price"] if row.on_hand and row.price is None else []
    if not fits_car(row, saw.shop.longest):
        wrong.append(f'shop.longest = "{_told(_marks_up(row.length, saw), saw)}"')
    return ", ".join(wrong)


def _long_enough(rows: Sequence[Offer], needs: float) -> list[Offer]:
    return [row for row in rows if row.actual >= needs - ARITHMETIC]


def _marks_up(mm: float, saw: Saw) -> float:
    """The next mark that is no shorter."""
    return math.ceil(mm / saw.tape.read_to - ARITHMETIC) * saw.tape.read_to


def _told(mm: float, saw: Saw) -> str:
    return amount(saw.tape.text(mm, "words"), mm)
