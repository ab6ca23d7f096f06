"""What a calendar is made of. Hours of work, or of waiting."""

from dataclasses import dataclass, field
from typing import Literal

Range = tuple[float, float]
"""Low and high."""

Where = Literal["room", "saw", "away"]
Gate = Literal["", "openings", "coffers", "last", "trim"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """Something to do, as long as it takes.

    Attributes:
        name: what is done, in words.
        what: how much of it, in words; "" where that says nothing.
        after: names of what must be done before, and dry.
        gate: the sheet of field measures that is filled in here; what comes after waits for it.
        people: who do it together.
        hours: that they work at it.
        wait: hours until the next may begin: drying, getting used to the room.
        where: in the room, at the saw, or elsewhere.
        is_loud: neighbours hear it.
        smells: of paint or finish.
    """

    name: str
    what: str = ""
    after: tuple[str, ...] = ()
    gate: Gate = ""
    people: int = 1
    hours: Range = (0.0, 0.0)
    wait: Range = (0.0, 0.0)
    where: Where = "room"
    is_loud: bool = field(default=False, metadata={"alias": "loud"})
    smells: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Dated(Task):
    """A task in the calendar.

    Attributes:
        begins: the day on which it begins, from 1, when all goes quickly and when all goes slowly.
        ends: the day on which it ends, waiting left out.
        beside: names of what others do at the same time, either way.
    """

    begins: tuple[int, int]
    ends: tuple[int, int]
    beside: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Calendar:
    """How long the job takes: an estimate.

    Attributes:
        tasks: in the order of work.
        person_hours: of all people together, waiting left out.
        days: from the first to the last.
        room_days: of them, from the first to the last on which somebody works in the room.
        people: who work.
        hours_a_day: of each.
        notes: sentences: what was taken, and what is not counted.
    """

    tasks: tuple[Dated, ...]
    person_hours: Range
    days: tuple[int, int]
    room_days: tuple[int, int]
    people: int
    hours_a_day: float
    notes: tuple[str, ...]
