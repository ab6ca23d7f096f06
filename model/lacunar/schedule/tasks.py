"""What there is to do in one job, in the order of work, and how long it takes."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final, get_args

from lacunar.config import CoatTable, Config, JobName, PackName, When
from lacunar.cost import Cost, Item
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.schedule.practice import ACCLIMATISE, CLEAR, FINISH_DRIES, MINUTES, PAINT_DRIES, PROTECT, READINGS
from lacunar.schedule.types import Gate, Range, Task
from lacunar.told import counted
from lacunar.units import area_text

NONE: Final[Range] = (0.0, 0.0)


@dataclass(frozen=True)
class _Work:
    """What is counted of a job."""

    config: Config
    layout: Layout
    parts: tuple[Part, ...]
    plan: Plan
    cost: Cost

    @cached_property
    def minutes(self) -> Mapping[JobName, Range]:
        """Of one; those of the config are certain."""
        return {**MINUTES, **{name: (mm, mm) for name, mm in self.config.crew.rates.items()}}

    def hours(self, counts: Mapping[JobName, float], more: Range = NONE) -> Range:
        """Of so many of each."""
        low, high = (
            more[way] + math.fsum(number * self.minutes[name][way] for name, number in counts.items()) / 60.0
            for way in (0, 1)
        )
        return low, high

    def of(self, *kinds: str) -> tuple[Part, ...]:
        """Parts that are bought and cut."""
        return tuple(part for part in self.parts if part.bought and part.kind in kinds)

    @property
    def paints(self) -> tuple[Item, ...]:
        """All that is painted on, and tape."""
        return tuple(item for item in self.cost.items if item.group == "finish")

    def coats(self, when: When) -> tuple[CoatTable, ...]:
        """Of finish that is put on then."""
        finish = self.config.finish
        return finish.coats if finish is not None and finish.when == when else ()

    def settings(self, parts: Sequence[Part]) -> int:
        """How often the saw is set for some parts, once each."""
        names = {part.id for part in parts}
        return sum(not names.isdisjoint(setting.parts) for setting in self.plan.settings)

    def saw(self, parts: Sequence[Part]) -> Range:
        """To cut some parts: settings, cuts, rips, pockets, cut-outs."""
        return self.hours(
            {
                "saw setting": self.settings(parts),
                "crosscut": len(parts),
                "rip": sum(part.ripped for part in parts),
                "pocket": sum(len(part.pockets) for part in parts),
                "cut-out": sum(len(part.notches) for part in parts),
            }
        )


def list_tasks(config: Config, layout: Layout, parts: Sequence[Part], plan: Plan, cost: Cost) -> tuple[Task, ...]:
    """All from fetching boards to the lamps, as if nothing were done yet; what a job does not have is left out."""
    work = _Work(config, layout, tuple(parts), plan, cost)
    found: dict[str, Task] = {}
    replaced: dict[str, tuple[str, ...]] = {}
    for task in _all(work):
        after = tuple(dict.fromkeys(name for asked in task.after for name in _there(asked, replaced)))
        if task.hours[1] + task.wait[1] <= 0.0:
            replaced[task.name] = after
        else:
            found[task.name] = replace(task, after=tuple(name for name in after if not _waits(found, after, name)))
    return tuple(found.values())


def _waits(found: Mapping[str, Task], names: Sequence[str], for_: str) -> bool:
    """Whether any of some tasks waits for one, however many stand between."""
    return any(for_ in found[name].after or _waits(found, found[name].after, for_) for name in names)


def _there(name: str, replaced: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """What to wait for instead of something that there is not."""
    return replaced.get(name, (name,))


def _all(work: _Work) -> Iterator[Task]:
    boards = [board for board in work.plan.boards if not board.on_hand]
    yield Task(
        name="fetch the boards",
        what=counted(len(boards), "board"),
        people=2,
        hours=work.hours({"board": len(boards)}, (1.0, 3.0) if boards else NONE),
        where="away",
    )
    yield Task(name="boards get used to the room", after=("fetch the boards",), wait=ACCLIMATISE if boards else NONE)
    yield Task(name="protect the room", people=2, hours=PROTECT)
    yield from _overhead(work)
    yield from _coats(work, "before", "boards get used to the room")
    yield from _beams(work)
    yield from _slats(work)
    yield from _trim(work)
    yield from _coats(work, "after", "fill the nail holes")
    yield Task(
        name="clear up, lamps back", after=(_last_coat(work, "after", "fill the nail holes"),), people=2, hours=CLEAR
    )


def _overhead(work: _Work) -> Iterator[Task]:
    """The old ceiling: paint behind the gaps, furring."""
    area = math.fsum(item.need for item in work.paints if item.name == "behind paint")
    yield Task(
        name="paint behind the gaps",
        what=f"{area_text(area, work.config.units)}, all coats" if area else "",
        after=("protect the room",),
        hours=work.hours({"square metre": area}),
        wait=PAINT_DRIES if area else NONE,
        smells=True,
    )
    furring = work.of("furring")
    yield Task(
        name="put up furring",
        what=counted(len(furring), "strip"),
        after=("paint behind the gaps", "boards get used to the room"),
        people=2,
        hours=_sum(work.saw(furring), work.hours({"furring strip": len(furring)})),
        is_loud=True,
    )


def _coats(work: _Work, when: When, after: str) -> Iterator[Task]:
    """The finish, coat by coat: on horses before anything is cut, or in place at the end."""
    coats = work.coats(when)
    area = math.fsum(item.need for item in work.paints if item.name not in get_args(PackName)) / max(len(coats), 1)
    for number, coat in enumerate(coats, 1):
        words = " ".join(word for word in (coat.kind, coat.colour, coat.sheen) if word)
        yield Task(
            name=_coat_name(number),
            what=f"{words}, {area_text(area, work.config.units)}",
            after=(after if number == 1 else _coat_name(number - 1),),
            hours=work.hours({"square metre": area}),
            wait=FINISH_DRIES,
            where="saw" if when == "before" else "room",
            smells=True,
        )


def _coat_name(number: int) -> str:
    return f"finish, coat {number}"


def _last_coat(work: _Work, when: When, otherwise: str) -> str:
    coats = work.coats(when)
    return _coat_name(len(coats)) if coats else otherwise


def _measured(work: _Work, gate: Gate, number: int, what: str, after: Sequence[str]) -> Task:
    readings = number * READINGS[gate]
    return Task(
        name=f"measure {what}",
        what=counted(readings, "reading"),
        after=tuple(after),
        gate=gate,
        people=2,
        hours=work.hours({"reading": readings}),
    )


def _beams(work: _Work) -> Iterator[Task]:
    pieces = work.of("cross beam", "main beam", "half beam", "ledger")
    cross = [part for part in pieces if part.kind == "cross beam"]
    overhead = ("put up furring", "paint behind the gaps")
    yield _measured(work, "openings", len(cross), "openings", overhead)
    coated = _last_coat(work, "before", "boards get used to the room")
    yield _cut(work, "cut beams", "piece", pieces, ("measure openings", coated))
    yield _up("put up beams", "piece", pieces, work.hours({"beam piece": len(pieces)}), ("cut beams", *overhead))


def _slats(work: _Work) -> Iterator[Task]:
    slats = work.of("slat")
    rips = [part for part in slats if any(part.sawn_edges)]
    full = [part for part in slats if not any(part.sawn_edges)]
    coated = _last_coat(work, "before", "boards get used to the room")
    coffers = len(work.layout.coffers) if slats else 0
    yield _measured(work, "coffers", coffers, "coffers", ("put up beams", "put up furring", "paint behind the gaps"))
    yield _cut(work, "cut slats", "slat", full, ("measure coffers", coated))
    yield _up("put up slats", "slat", full, work.hours({"slat": len(full)}), ("cut slats",))
    yield _measured(work, "last", len(rips), "last holes", ("put up slats",))
    yield _cut(work, "rip last slats", "slat", rips, ("measure last holes", "put up slats", coated))
    yield _up("put up last slats", "slat", rips, work.hours({"slat": len(rips)}), ("rip last slats",))


def _trim(work: _Work) -> Iterator[Task]:
    strips = work.of("trim")
    coated = _last_coat(work, "before", "boards get used to the room")
    yield _measured(work, "trim", len(strips), "sides", ("put up last slats", "put up slats", "put up beams"))
    yield _cut(work, "cut trim", "strip", strips, ("measure sides", coated))
    yield _up("put up trim", "strip", strips, work.hours({"trim strip": len(strips)}), ("cut trim",))
    holes = sum(len(part.nails) for part in work.of("slat", "trim"))
    yield Task(
        name="fill the nail holes",
        what=counted(holes, "hole"),
        after=("put up trim", "put up last slats", "put up slats", "put up beams"),
        hours=work.hours({"nail hole": holes}),
    )


def _cut(work: _Work, name: str, one: str, parts: Sequence[Part], after: tuple[str, ...]) -> Task:
    return Task(name=name, what=counted(len(parts), one), after=after, hours=work.saw(parts), where="saw", is_loud=True)


def _up(name: str, one: str, parts: Sequence[Part], hours: Range, after: tuple[str, ...]) -> Task:
    return Task(name=name, what=counted(len(parts), one), after=after, people=2, hours=hours, is_loud=True)


def _sum(a: Range, b: Range) -> Range:
    return a[0] + b[0], a[1] + b[1]
