"""The calendar: what is done when, what waits for which measure, what two people can do side by side."""

from collections.abc import Iterator, Sequence
from typing import Final

from lacunar.book.subject import Book
from lacunar.drawings import BLACK, GREY, WHITE, Block, Figure, Heading, Stroke, Table, Text, Thing, Words, rectangle
from lacunar.reports import calendar_words, hours_words
from lacunar.schedule import Dated
from lacunar.told import from_to, sentence

NAMES: Final = 62.0
"""mm. Of the names beside the bars."""
PITCH: Final = 6.2
BAR: Final = 3.8
"""mm."""
DAYS: Final = (1, 2, 5, 10, 20, 50)
"""From one lettered day to the next."""


def calendar(book: Book) -> Iterator[Block]:
    """How long in all; bars; a row for each task."""
    told = book.calendar
    yield Heading(text="Calendar")
    yield Words(
        texts=(
            (
                "Boards get used to the room and paint behind the gaps dries before anything is measured. Nothing "
                "is cut before its measure is taken: those rows say MEASURE."
            ),
            *(sentence(text) for text in calendar_words(told)),
        )
    )
    yield Words(texts=("Black: all goes quickly. White: all goes slowly.",), keep=True)
    yield _bars(told.tasks)
    beside = any(task.beside for task in told.tasks)
    yield Table(
        head=("Task", "How much", "People", "Hours", "Days", *(["Beside it"] if beside else [])),
        rows=tuple(_row(task)[: 6 if beside else 5] for task in told.tasks),
        shares=(1.3, 1, 0, 0, 0, *([1.2] if beside else [])),
        bold=(0,),
        size=9.5,
    )


def _row(task: Dated) -> tuple[str, ...]:
    quick, slow = (from_to(*days) for days in zip(task.begins, task.ends, strict=True))
    days = quick if quick == slow else f"{quick}, or {slow}"
    wait = f"{hours_words(task.wait)} waiting" if task.wait[1] else ""
    hours = "; ".join(filter(None, [hours_words(task.hours) if task.hours[1] else "", wait]))
    return _name(task), task.what, f"{task.people}" if task.hours[1] else "", hours, days, ", ".join(task.beside)


def _name(task: Dated) -> str:
    """A measure is a gate: what comes after waits for it."""
    return task.name.replace("measure", "MEASURE", 1) if task.gate else task.name


def _bars(tasks: Sequence[Dated]) -> Figure:
    """A row for each task, a bar for either way."""
    last = max(max(task.ends) for task in tasks)
    day = (182.0 - NAMES) / last
    top, tall = 6.0, 6.0 + PITCH * len(tasks)
    step = next((days for days in DAYS if days * day >= 7.0), DAYS[-1])
    things: list[Thing] = []
    for number in range(step, last + 1, step):
        x = NAMES + (number - 0.5) * day
        things.append(Text(at=(x, 2.5), text=f"{number}", size=8.0, anchor="centre", colour=GREY))
        things.append(Stroke(points=((x, top - 1.0), (x, tall)), width=0.1, colour="#b0b0b0"))
    for row, task in enumerate(tasks):
        y = top + row * PITCH
        things.append(Text(at=(0.0, y + BAR / 2.0), text=_name(task), size=9.0, bold=bool(task.gate)))
        for way, (fill, down) in enumerate(((BLACK, 0.0), (WHITE, BAR / 2.0))):
            left = NAMES + (task.begins[way] - 1) * day
            wide = (task.ends[way] - task.begins[way] + 1) * day
            things.append(rectangle((left, y + down), (wide, BAR / 2.0), width=0.2, fill=fill))
    return Figure(size=(182.0, tall), things=tuple(things))
