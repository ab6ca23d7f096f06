"""Buying: aisle by aisle, what to leave there, what the car takes, what to order ahead, what goes back."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.amounts import amount_text, mass_text, need_text
from lacunar.book.subject import Book
from lacunar.cost import ESTIMATE, Item, money_text
from lacunar.drawings import Block, Heading, Table, Words
from lacunar.parts import BEAM_PIECES
from lacunar.reports import buy_rows
from lacunar.told import counted

REJECT: Final = (
    "Sight along each board. Leave it there if it is bowed or crooked by more than its own thickness.",
    "Leave it if it rocks on a flat floor, cupped, or if one corner stands up, twisted.",
    "Leave boards with loose knots, knots at an edge, splits further in than a hand, or bark.",
    "Leave wet boards: heavy, cold to the hand, dark at the ends. They shrink after they are up.",
    "Take all boards of a kind from one lot, so that their colour goes together.",
)
"""Source: common practice, no source."""

MANY: Final = 40
"""Boards of one length: more than stand on a shelf. Own judgement."""

RETURN: Final = "Keep the receipts. Spare boards that are still whole, and packs that nobody opened, go back."


def buying(book: Book) -> Iterator[Block]:
    """Boards and sheets, then all else that is bought."""
    rows = buy_rows(book.plan, book.cost, book.config.tape)
    yield Heading(text="Buying")
    yield Words(texts=(f"Prices are {ESTIMATE}.",))
    yield Heading(text="Boards and sheets", level=2)
    yield Table(
        head=("What", "Length", "Buy", "Spare in it", "Each", "Total", "Notes"),
        rows=tuple(
            (f"{r.stock} {r.species}".strip(), r.length, r.to_buy, r.spare, r.price, r.total, r.notes) for r in rows
        ),
        shares=(2, 0, 0, 0, 0, 0, 1),
        right=(2, 3, 4, 5),
        bold=(2,),
    )
    yield Words(texts=REJECT)
    yield from _other(book)
    yield Heading(text="Bringing it home", level=2)
    yield Words(texts=(*_load(book), *_ahead(book), RETURN))


def _other(book: Book) -> Iterator[Block]:
    """Nails, screws, adhesive, paint: by whole packs."""
    units, currency = book.config.units, book.cost.currency
    items = [item for item in book.cost.items if item.group in ("fasteners", "finish")]
    if not items:
        return

    def money(amount: float | None) -> str:
        return "" if amount is None else money_text(amount, currency)

    def holds(item: Item) -> str:
        return amount_text(item.holds, item.unit, units)

    yield Heading(text="Nails, screws, paint", level=2)
    yield Table(
        head=("What", "For", "Needed", "One holds", "Buy", "Total"),
        rows=tuple(
            (item.name, item.what, need_text(item, units), holds(item), f"{item.count}", money(item.total))
            for item in items
        ),
        shares=(1, 1.3, 0, 0, 0, 0),
        right=(2, 3, 4, 5),
        bold=(4,),
    )
    unsure = {item.name: item.unsure for item in items if item.unsure}
    notes = (*(f"{name}: {why}" for name, why in unsure.items()), *book.cost.notes)
    yield Words(texts=notes)


def _load(book: Book) -> Iterator[str]:
    load, units = book.cost.load, book.config.units
    if load.boards:
        longest = book.config.tape.words(load.longest)
        trips = counted(load.loads, "car load")
        boards, most = counted(load.boards, "board"), mass_text(load.limit_kg, units)
        yield (
            f"{boards}, the longest {longest}, {mass_text(load.mass_kg, units)} in all: {trips} of "
            f"at most {most}. Wet timber weighs more."
        )
    if load.unknown:
        yield f"The weight of {counted(load.unknown, 'board or sheet')} is not known and not in that."
    if load.too_long:
        yield f"{counted(load.too_long, 'piece')} longer than the car takes: have them delivered."


def _ahead(book: Book) -> Iterator[str]:
    """What a shop may not have on its shelf."""
    beams = {part.stock for part in book.parts if part.bought and part.kind in BEAM_PIECES}
    lines = [
        f"{line.count + line.spare} of {line.stock} {line.species}"
        for line in book.plan.buy
        if line.stock in beams or line.count + line.spare >= MANY
    ]
    if lines:
        yield f"Ask ahead, a shop may have to order them: {'; '.join(lines)}."
