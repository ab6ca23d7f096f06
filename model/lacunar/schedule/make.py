"""Tasks on days: as early as what comes before, what dries and the people allow."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from typing import Final

from lacunar.config import Config
from lacunar.cost import Cost
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.schedule.tasks import list_tasks
from lacunar.schedule.types import Calendar, Dated, Task

DAY: Final = 24.0

ESTIMATE: Final = "an estimate: hours are common practice without a source, unless crew.rates gives them"


@dataclass(frozen=True, slots=True)
class _Span:
    """Hours on the clock, from the morning of the first day; `free` is when what it makes may be used."""

    start: float
    end: float
    free: float


def make_calendar(config: Config, layout: Layout, parts: Sequence[Part], plan: Plan, cost: Cost) -> Calendar:
    """The whole job on days, as if nothing were done yet: all at its quickest, and all at its slowest."""
    return dated(list_tasks(config, layout, parts, plan, cost), config.crew.people, config.crew.hours)


def dated(tasks: Sequence[Task], people: int, hours: float) -> Calendar:
    """Each task begins as soon as it can; where people lack, the one that stands first. It rests over night.

    Args:
        tasks: each after those that it waits for.
        people: who work.
        hours: that each works a day, to 24.

    Raises:
        ValueError: tasks wait for each other, or for one that there is not.
    """
    ways = [_spans(tasks, people, hours, pick) for pick in (0, 1)]

    def days(name: str) -> tuple[tuple[int, int], tuple[int, int]]:
        first, last = ((_day(way[name].start), _last_day(way[name])) for way in ways)
        return (first[0], last[0]), (first[1], last[1])

    rows = tuple(
        Dated(
            **{field.name: getattr(task, field.name) for field in fields(Task)},
            begins=(when := days(task.name))[0],
            ends=when[1],
            beside=_beside(task, tasks, ways),
        )
        for task in tasks
    )
    low, high = (math.fsum(task.people * task.hours[way] for task in tasks) for way in (0, 1))
    in_room = [row for row in rows if row.where == "room" and row.hours[1] > 0.0]
    return Calendar(
        tasks=rows,
        person_hours=(low, high),
        days=_span(rows),
        room_days=_span(in_room),
        people=people,
        hours_a_day=hours,
        notes=(ESTIMATE, *_notes(tasks, people)),
    )


def _span(rows: Sequence[Dated]) -> tuple[int, int]:
    low, high = (
        max((row.ends[way] for row in rows), default=0) - min((row.begins[way] for row in rows), default=1) + 1
        for way in (0, 1)
    )
    return low, high


def _spans(tasks: Sequence[Task], people: int, hours: float, way: int) -> Mapping[str, _Span]:
    done: dict[str, _Span] = {}
    waiting, running = list(tasks), list[tuple[float, int]]()
    now = 0.0
    while waiting:
        now = _working(now, hours)
        running = [(end, busy) for end, busy in running if end > now]
        idle = people - sum(busy for _, busy in running)
        for task in tuple(waiting):
            busy = min(task.people, people) if task.hours[way] else 0
            if busy > idle or any(name not in done or done[name].free > now for name in task.after):
                continue
            alone = task.people / busy if busy else 1.0
            end = _after(now, task.hours[way] * alone, hours)
            done[task.name] = _Span(now, end, end + task.wait[way])
            running.append((end, busy))
            idle -= busy
            waiting.remove(task)
        times = [*(end for end, _ in running), *(span.free for span in done.values())]
        if waiting:
            now = min(time for time in times if time > now)
    return done


def _working(time: float, hours: float) -> float:
    """The same time, or the next morning."""
    return time if time % DAY < hours else (time // DAY + 1.0) * DAY


def _after(start: float, work: float, hours: float) -> float:
    """When so many hours of work are done that begin then."""
    left = hours - start % DAY
    if work <= left:
        return start + work
    days, rest = divmod(work - left, hours)
    return (start // DAY + 1.0 + days) * DAY + rest if rest else (start // DAY + days) * DAY + hours


def _day(time: float) -> int:
    return int(time // DAY) + 1


def _last_day(span: _Span) -> int:
    return max(_day(span.start), math.ceil(span.end / DAY))


def _beside(task: Task, tasks: Sequence[Task], ways: Sequence[Mapping[str, _Span]]) -> tuple[str, ...]:
    def at_once(other: Task) -> bool:
        pairs = ((way[task.name], way[other.name]) for way in ways)
        return all(max(a.start, b.start) < min(a.end, b.end) for a, b in pairs)

    return tuple(other.name for other in tasks if other is not task and at_once(other))


def _notes(tasks: Sequence[Task], people: int) -> list[str]:
    more = [task.name for task in tasks if task.people > people]
    return [f"two people and a prop are wanted to {name}: somebody must be asked" for name in more]
