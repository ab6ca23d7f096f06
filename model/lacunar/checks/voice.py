"""How a check speaks: findings with lengths as the config writes them, and what an assumption does to a pass."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from lacunar.checks.finding import Finding, Level
from lacunar.checks.subject import Subject
from lacunar.units import format_length, told_mark

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
    """

    check: str
    source: str
    subject: Subject

    @property
    def mark(self) -> float:
        """The finest mark that findings are printed to."""
        config = self.subject.config
        return told_mark(config.units, config.read_to)

    def length(self, mm: float) -> str:
        """A length to the nearest mark, in words; what is less than half a mark says so."""
        units, mark = self.subject.config.units, self.mark
        if 1e-3 < abs(mm) < mark / 2.0:
            return f"less than {format_length(mark, units, mark, 'words')}"
        return format_length(mm, units, mark, "words")

    def at_least(self, mm: float) -> str:
        """A length to the next greater mark, for what has to be added or taken off."""
        steps = math.ceil(mm / self.mark - 1e-3)
        return format_length(steps * self.mark, self.subject.config.units, self.mark, "words")

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
        """One finding; numbers default to millimetres."""
        return Finding(
            check=self.check,
            level=level,
            where=where,
            value=None if value is None else float(value),
            limit=None if limit is None else float(limit),
            unit=unit,
            message=message,
            fix=fix,
            source=self.source,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Assumption:
    """Something that nobody has measured: what is taken instead, and what to do about it."""

    taken: str
    fix: str


def settle(found: Sequence[Finding], passed: Finding, rests_on: Iterable[Assumption] = ()) -> tuple[Finding, ...]:
    """What was found, or the pass where nothing was; a pass that rests on an assumption becomes a question."""
    if found:
        return tuple(found)
    assumed = tuple(rests_on)
    if not assumed:
        return (passed,)
    taken = tuple(one.taken for one in assumed)
    return (replace(passed, level="ask", assumed=taken, fix="; ".join(one.fix for one in assumed)),)


def gather(found: Sequence[Finding], coffer_of: dict[str, str]) -> tuple[Finding, ...]:
    """One finding for a coffer where more than ALIKE of its parts say the same, the worst; the rest as they are.

    Where that still leaves more than MANY of one level, the worst stands for all of them.

    Args:
        found: findings about parts that all say the same, in order.
        coffer_of: the coffer of each part's id that may be gathered.
    """
    result: list[Finding] = []
    for level in dict.fromkeys(finding.level for finding in found):
        alike = [finding for finding in found if finding.level == level]
        coffers = list(dict.fromkeys(coffer_of.get(finding.where, finding.where) for finding in alike))
        groups = {coffer: [f for f in alike if coffer_of.get(f.where, f.where) == coffer] for coffer in coffers}
        if sum(1 if len(group) > ALIKE else len(group) for group in groups.values()) > MANY:
            result.append(_for_all(alike, f"{len(alike)} parts in {len(coffers)} coffers alike"))
            continue
        for coffer, group in groups.items():
            if len(group) <= ALIKE:
                result += group
            else:
                result.append(replace(_for_all(group, f"{len(group)} parts alike"), where=coffer))
    return tuple(result)


def _for_all(found: Sequence[Finding], how_many: str) -> Finding:
    worst = max(found, key=_excess)
    message = f"{how_many}, the worst is {worst.where}: {worst.message}"
    return replace(worst, message=message, alike=len(found))


def tell_once(found: Sequence[Finding], what: str) -> tuple[Finding, ...]:
    """The findings as they are, or the worst of each level where more than ALIKE say the same.

    Args:
        found: findings about parts of one design, in order.
        what: plural of what they are about ("pieces").
    """
    result: list[Finding] = []
    for level in dict.fromkeys(finding.level for finding in found):
        alike = [finding for finding in found if finding.level == level]
        if len(alike) <= ALIKE:
            result += alike
            continue
        result.append(_for_all(alike, f"{len(alike)} {what} alike"))
    return tuple(result)


def coffers_of(subject: Subject) -> dict[str, str]:
    """The coffer of each part that belongs to one."""
    return {part.id: part.coffer for part in subject.parts if part.coffer is not None}


def _excess(finding: Finding) -> float:
    if finding.value is None or finding.limit is None:
        return 0.0
    return abs(finding.value - finding.limit)


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


def assumed_joists(subject: Subject) -> tuple[Assumption, ...]:
    """What is assumed of the joists."""
    if not subject.layout.joists.assumed:
        return ()
    return (Assumption(taken="where the joists are", fix="find the joists and write framing.joists"),)
