"""buy-list.csv: the boards and sheets to bring home, and those that are there already."""

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.cost import Cost, SheetItem
from lacunar.plan import Buy, Plan
from lacunar.tape import Tape

NO_PRICE: Final = "no price given"


@dataclass(frozen=True, slots=True, kw_only=True)
class BuyRow:
    """Text as the yard reads it: `count` is needed, `spare` for boards not good enough, `to_buy` both."""

    stock: str
    species: str = ""
    length_mm: str = ""
    length: str = ""
    count: str
    spare: str = "0"
    to_buy: str = "0"
    price: str = "0.00"
    total: str = "0.00"
    notes: str = "on hand"


def buy_rows(plan: Plan, cost: Cost, tape: Tape) -> tuple[BuyRow, ...]:
    """One row for each length to buy, then for each that is used from what is on hand, then the total.

    Sheets stand after the boards, with their width and what they are for in the notes. There is no total where a
    price is missing.
    """
    there = Counter((board.stock, board.species, board.length) for board in plan.boards if board.on_hand)
    return (
        *(_bought(line, line.stock, line.species, tape, spare=line.spare) for line in plan.buy),
        *(_bought(item, item.name, "", tape, _size(item, tape), item.unsure) for item in cost.sheets if item.count),
        *(
            BuyRow(stock=stock, species=species, **_length(mm, tape), count=str(n))
            for (stock, species, mm), n in there.items()
        ),
        *(_sheet_on_hand(item, tape) for item in cost.sheets if item.on_hand),
        *_total(plan, [item for item in cost.sheets if item.count], cost.currency),
    )


def _bought(line: Buy | SheetItem, name: str, species: str, tape: Tape, *notes: str, spare: int = 0) -> BuyRow:
    return BuyRow(
        stock=name,
        species=species,
        **_length(line.length, tape),
        count=str(line.count),
        spare=str(spare),
        to_buy=str(line.count + spare),
        price="" if line.price is None else f"{line.price:.2f}",
        total="" if line.total is None else f"{line.total:.2f}",
        notes="; ".join(note for note in (*notes, NO_PRICE if line.price is None else "") if note),
    )


def _sheet_on_hand(item: SheetItem, tape: Tape) -> BuyRow:
    notes = f"on hand; {_size(item, tape)}"
    return BuyRow(stock=item.name, **_length(item.length, tape), count=str(item.on_hand), notes=notes)


def _length(mm: float, tape: Tape) -> dict[str, str]:
    return {"length_mm": f"{mm:.2f}", "length": tape.cut_text(mm)}


def _size(item: SheetItem, tape: Tape) -> str:
    """How wide, and what for."""
    return ", ".join(text for text in (f"{tape.cut_text(item.width)} wide", item.use) if text)


def _total(plan: Plan, sheets: Sequence[SheetItem], currency: str) -> Iterator[BuyRow]:
    bought = (*plan.buy, *sheets)
    totals = [line.total for line in bought if line.total is not None]
    if totals and len(totals) == len(bought):
        count, spare = sum(line.count for line in bought), sum(line.spare for line in plan.buy)
        yield BuyRow(
            stock="total",
            count=str(count),
            spare=str(spare),
            to_buy=str(count + spare),
            price="",
            total=f"{math.fsum(totals):.2f}",
            notes=f"{currency}, before tax and delivery",
        )
