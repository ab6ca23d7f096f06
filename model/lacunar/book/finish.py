"""Finish: what is painted on, how much of it, how long it dries, and what to try first."""

from collections.abc import Iterator
from typing import Final

from lacunar.book.subject import Book
from lacunar.cost import FinishItem
from lacunar.drawings import Block, Heading, Table, Words
from lacunar.told import counted
from lacunar.units import area_text

SAMPLES: Final = (
    (
        "Finish two offcuts first, every coat, one of a pale board and one of a dark one. Hold them to the ceiling by "
        "day and by lamplight before you open the other cans."
    ),
    "Stir, and pour cans of one colour together, so that the last board is the colour of the first.",
    "What the can says of drying, of recoating and of fresh air is right; the hours here are only for the calendar.",
    "Oily rags heat up by themselves and may burn: dry them outdoors, spread flat, never in a heap.",
)
"""Source: common practice, no source."""


def finish(book: Book) -> Iterator[Block]:
    """A row for each can; nothing where nothing is painted."""
    items = [item for item in book.cost.items if isinstance(item, FinishItem)]
    table = book.config.finish
    if not items or table is None:
        return
    units = book.config.units
    yield Heading(text="Finish")
    if table.coats:
        coats = counted(len(table.coats), "coat")
        when = "before they are cut, all four sides" if table.when == "before" else "when all is up, where it shows"
        yield Words(texts=(f"The wood gets {coats} {when}. Paint behind the gaps comes first of all.",))
    yield Table(
        head=("What", "Where", "All coats", "A can covers", "Cans"),
        rows=tuple(
            (item.name, item.what, area_text(item.need, units), area_text(item.holds, units), f"{item.count}")
            for item in items
        ),
        shares=(1, 1, 0, 0, 0),
        right=(2, 3, 4),
        bold=(0, 4),
    )
    drying = [task for task in book.calendar.tasks if task.smells]
    yield Heading(text="Drying", level=2)
    yield Table(
        head=("Coat", "Then wait"),
        rows=tuple((task.name, f"{task.wait[0]:.0f} to {task.wait[1]:.0f} hours") for task in drying),
        shares=(0, 1),
        bold=(0,),
    )
    yield Words(texts=SAMPLES)
