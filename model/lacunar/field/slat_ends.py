"""A slat between two sides as drawn and as measured: rule 8 once more."""

from collections.abc import Mapping
from dataclasses import dataclass

from lacunar.config import Slats
from lacunar.layout import nearest_mark
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC


@dataclass(frozen=True, slots=True, kw_only=True)
class Ends:
    """A slat's room between two sides, at the edges of the slat. True lengths.

    Attributes:
        tight: between the innermost points.
        wide: between the outermost points.
        lean: outermost less innermost, at the lower and the higher end along the coffer's frame.
    """

    tight: float
    wide: float
    lean: tuple[float, float]


def new_lengths(slats: Slats, mark: float, part: Part, before: Ends, after: Ends) -> Mapping[str, float]:
    """A slat's row: length and interval; the length alone where its ends follow the sides.

    A stump at a cut-out has one end that may move: it takes half of what the whole slat would.
    """
    shares = 1.0 if all(part.grow) else sum(part.grow) / 2.0
    if part.interval is None:
        return {"length": part.length + shares * (after.wide - before.wide)}
    tighter = shares * (after.tight - before.tight)
    steeper = 2.0 * shares * (max(after.lean) - max(before.lean))
    longest = part.interval[1] + tighter
    shortest = min(part.interval[0] + tighter + steeper, longest)
    if max(abs(tighter), abs(steeper)) <= ARITHMETIC:
        return {"length": part.length, "shortest": part.interval[0], "longest": part.interval[1]}
    wished = _designed(slats, part)
    length = nearest_mark(wished + tighter, shortest, longest, mark)
    return {"length": length, "shortest": shortest, "longest": longest}


def _designed(slats: Slats, part: Part) -> float:
    """The length that a slat wishes for, before it is put on a mark; of a stump the one that it has."""
    assert part.interval is not None
    if part.grow != (0.5, 0.5):
        return part.length
    return part.interval[1] + 2.0 * slats.least_end_gap - 2.0 * slats.end_gap
