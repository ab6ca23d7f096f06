"""Slats whose coffers were measured: how far they keep from both ends of their intervals, and what gives more."""

import math
from dataclasses import dataclass

from lacunar.analysis.subject import Subject
from lacunar.layout import LEAST_TONGUE
from lacunar.parts import Part
from lacunar.plan import wished_margins
from lacunar.tolerances import ARITHMETIC, CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class Margins:
    """Slats that were measured and are not cut yet. Lengths in mm.

    Attributes:
        slats: how many.
        wanted: the least and the most that any of them is to keep; None where there are none.
        least: that any of them keeps; None where there are none.
        lacking: ids of those that keep less than they are to.
        narrow: ids of those of them with no mark in their interval that keeps it: no other plan would.
        wider_trim: trim wider by so much gives every narrow one such a mark; None where none is narrow, or where trim
            does not tell: a cut-out limits the length, or no length hides both ends.
        read_twice: of the narrow ones, ids of those whose coffers would leave enough if every length were read twice.
        cost: what boards cost more for the margins.
        more_boards: how much more length of board the margins take where the slats' boards have no price.
    """

    slats: int
    wanted: tuple[float, float] | None
    least: float | None
    lacking: tuple[str, ...]
    narrow: tuple[str, ...]
    wider_trim: float | None
    read_twice: tuple[str, ...]
    cost: float
    more_boards: float


def margins_of(subject: Subject) -> Margins:
    """At the lengths of the plan."""
    config, mark, sections = subject.config, subject.config.read_to, subject.plan.sections
    wished = wished_margins(subject.parts, config)
    parts = [part for part in subject.parts if part.id in wished and part.id not in config.done.cut]
    kept = {part.id: min(part.length - low, high - part.length) for part in parts for low, high in (_interval(part),)}
    lacking = [part for part in parts if kept[part.id] < wished[part.id] - CONTACT]
    narrow = [part for part in lacking if _lacks(part, wished[part.id], mark) > CONTACT]
    wider = [_wider_trim(part, wished[part.id], mark) for part in narrow]
    twice = wished_margins(subject.parts, config, readings=2)
    return Margins(
        slats=len(parts),
        wanted=(min(wished[part.id] for part in parts), max(wished[part.id] for part in parts)) if parts else None,
        least=min(kept.values(), default=None),
        lacking=tuple(part.id for part in lacking),
        narrow=tuple(part.id for part in narrow),
        wider_trim=math.ceil(max(wider) / mark - ARITHMETIC) * mark if wider and math.isfinite(max(wider)) else None,
        # A second reading moves the interval: whatever marks it has then, one is half a mark from its middle at most.
        read_twice=tuple(part.id for part in narrow if _spare(part) - mark >= 2.0 * twice[part.id] - ARITHMETIC),
        cost=math.fsum(one.margin_cost for one in sections if one.cost is not None),
        more_boards=math.fsum(one.margin_cost for one in sections if one.cost is None),
    )


def _interval(part: Part) -> tuple[float, float]:
    assert part.interval is not None, "only slats with an interval have a margin"
    return part.interval


def _spare(part: Part) -> float:
    shortest, longest = _interval(part)
    return longest - shortest


def _lacks(part: Part, margin: float, mark: float) -> float:
    """How much shorter the shortest length would have to be for a mark that keeps a margin from both ends."""
    shortest, longest = _interval(part)
    return shortest + margin - math.floor((longest - margin + ARITHMETIC) / mark) * mark


def _wider_trim(part: Part, margin: float, mark: float) -> float:
    """Wider trim hides as much more at each end that hangs on the coffer; infinite where that does not tell."""
    lacks = _lacks(part, margin, mark)
    if _spare(part) <= ARITHMETIC or _meets_cut_out(part, _interval(part)[0] - lacks):
        return math.inf
    return lacks / (2.0 if all(part.grow) else sum(part.grow))


def _meets_cut_out(part: Part, length: float) -> bool:
    """So short, an end leaves too little wood beside a cut-out."""
    reach = math.dist(*part.axis)
    rooms = ((notch.along[0], reach - notch.along[1]) for notch in part.notches)
    return any(
        share > 0.0 and room - LEAST_TONGUE < share * (part.length - length)
        for pair in rooms
        for share, room in zip(part.grow, pair, strict=True)
    )
