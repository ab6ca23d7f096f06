"""How a check speaks: findings with lengths as the config writes them, and what an assumption does to a pass."""

import inspect
import math
from collections.abc import Callable, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from lacunar.analysis import Analysis, Subject
from lacunar.checks.finding import Finding, Level
from lacunar.config import Config
from lacunar.parts import Part
from lacunar.told import Told, amount, count, place, with_ids
from lacunar.units import format_length

T = TypeVar("T")
K = TypeVar("K", bound=Hashable)

MEASURE_MORE = (
    "take the distances that `lacunar measure` lists, or both diagonals, or from the middle of each wall to its two far"
    " corners, and write them in room.measured"
)
"""What makes distances test each other, whichever check misses them."""

ALIKE = 3
"""More findings of one kind than this in one coffer become one for the coffer."""


MANY = 8
"""More findings of one kind and level than this become one for the ceiling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Voice:
    """One check's voice.

    Attributes:
        check: name of the check.
        source: where its limits come from.
        subject: what it looks at.
        analysis: what is worked out of that.
        advised: changes of the config are tried for what findings say to do.
    """

    check: str
    source: str
    subject: Subject
    analysis: Analysis
    advised: bool = True

    @property
    def config(self) -> Config:
        """Of the subject."""
        return self.subject.config

    @property
    def mark(self) -> float:
        """The finest mark that findings are printed to."""
        return self.config.tape.told

    def length(self, mm: float) -> str:
        """A length to the nearest mark, in words; what is less than half a mark says so."""
        units, mark = self.config.units, self.mark
        if 1e-3 < abs(mm) < mark / 2.0:
            return f"less than {amount(format_length(mark, units, mark, 'words'), mark)}"
        return amount(format_length(mm, units, mark, "words"), mm)

    def at_least(self, mm: float) -> str:
        """A length to the next greater mark, for what has to be added or taken off."""
        steps = math.ceil(mm / self.mark - 1e-3)
        return amount(format_length(steps * self.mark, self.config.units, self.mark, "words"), mm)

    def say(
        self,
        level: Level,
        where: str,
        message: str,
        *,
        value: float | None = None,
        limit: float | None = None,
        unit: str = "mm",
        fix: str = "",
    ) -> Finding:
        """One finding; numbers default to millimetres, lengths in its texts are this voice's own."""
        return Finding(
            check=self.check,
            level=level,
            where=where,
            value=None if value is None else float(value),
            limit=None if limit is None else float(limit),
            unit=unit,
            message=self.told(message),
            fix=self.told(fix),
            source=self.source,
        )

    def told(self, text: str) -> Told:
        """A text with the ids of this ceiling known in it."""
        return Told(with_ids(text, self.subject.ids))

    def part(self, name: str) -> Part:
        """The part of this id."""
        return self.subject.parts[self.subject.by_id[name]]

    def gather(self, found: Iterable[Finding]) -> tuple[Finding, ...]:
        """Findings about parts, told once for a coffer or the ceiling where many say the same."""
        return gather(found, {part.id: part.coffer for part in self.subject.parts if part.coffer is not None})


Found = tuple[Finding, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check.

    Attributes:
        name: as findings bear it.
        source: where its limits come from.
        explanation: what it means, why, what to do and where its limits come from.
        run: what it finds.
    """

    name: str
    source: str
    explanation: str
    run: Callable[[Voice], Found]

    def __call__(self, subject: Subject, analysis: Analysis, *, advised: bool = True) -> Found:
        """What it finds."""
        voice = Voice(check=self.name, source=self.source, subject=subject, analysis=analysis, advised=advised)
        return self.run(voice)


def check(name: str, source: str, explanation: str | None = None) -> Callable[[Callable[[Voice], Found]], Check]:
    """Makes a check of a function, explained by its own docstring or by that of a module."""

    def made(run: Callable[[Voice], Found]) -> Check:
        text = inspect.cleandoc(explanation or run.__doc__ or "")
        return Check(name=name, source=source, explanation=text, run=run)

    return made


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """Something that nobody has measured: what is taken instead, and what to do about it."""

    taken: str
    fix: str


def settle(found: Sequence[Finding], passed: Finding, rests_on: Iterable[Assumption] = ()) -> Found:
    """What was found, or the pass where nothing was; a pass that rests on an assumption becomes a question."""
    if found:
        return tuple(found)
    assumed = tuple(rests_on)
    if not assumed:
        return (passed,)
    taken = tuple(Told(one.taken) for one in assumed)
    return (replace(passed, level="ask", assumed=taken, fix=Told("; ".join(one.fix for one in assumed))),)


def grouped(items: Iterable[T], key: Callable[[T], K]) -> dict[K, list[T]]:
    """Items by a key, in the order in which keys come first."""
    groups: dict[K, list[T]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return groups


def least_each(items: Iterable[T], key: Callable[[T], K], size: Callable[[T], float]) -> list[T]:
    """Of each key the item of least size, in the order in which keys come first."""
    return [min(alike, key=size) for alike in grouped(items, key).values()]


def gather(found: Iterable[Finding], coffer_of: Mapping[str, str]) -> Found:
    """One finding for a coffer where more than ALIKE of its parts say the same, the worst; the rest as they are.

    Where that still leaves more than MANY of one level, the worst stands for all of them.

    Args:
        found: findings about parts that all say the same, in order.
        coffer_of: the coffer of each part's id that may be gathered.
    """
    result: list[Finding] = []
    for alike in grouped(found, lambda finding: finding.level).values():
        coffers = grouped(alike, lambda finding: coffer_of.get(finding.where, finding.where))
        if sum(1 if len(group) > ALIKE else len(group) for group in coffers.values()) > MANY:
            result.append(_for_all(alike, f"{count(len(alike))} parts in {count(len(coffers))} coffers alike"))
            continue
        for coffer, group in coffers.items():
            many = len(group) > ALIKE
            result += [replace(_for_all(group, f"{count(len(group))} parts alike"), where=coffer)] if many else group
    return tuple(result)


def tell_once(found: Iterable[Finding], what: str) -> Found:
    """The findings as they are, or the worst of each level where more than ALIKE say the same.

    Args:
        found: findings about parts of one design, in order.
        what: plural of what they are about ("pieces").
    """
    result: list[Finding] = []
    for alike in grouped(found, lambda finding: finding.level).values():
        result += alike if len(alike) <= ALIKE else [_for_all(alike, f"{count(len(alike))} {what} alike")]
    return tuple(result)


def _for_all(found: Sequence[Finding], how_many: str) -> Finding:
    worst = max(found, key=lambda finding: finding.excess)
    told = Told(f"{how_many}, the worst is {place(worst.where)}: {worst.message.marked}")
    return replace(worst, message=told, worst=worst.where, alike=len(found))


def assumed_shape(subject: Subject) -> tuple[Assumption, ...]:
    """What is assumed of the room's shape and of where the beams hang."""
    found: list[Assumption] = []
    if subject.room.square_assumed:
        corner = subject.room.corners[0]
        found.append(Assumption(taken=f"corner {corner} is square", fix="measure both diagonals"))
    if subject.config.beams is not None:
        taken = "the existing beams are evenly spread and parallel"
        found.append(Assumption(taken=taken, fix="measure both ends of every beam and write each as [[beam]]"))
    return tuple(found)
