"""Story sticks: strips at full size that carry where things go, so that nobody measures twice."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

Half = Literal["upper", "lower", "both"]
"""A stick's upper long edge, as it is read, or its lower one: each is held to a line of its own."""
Kind = Literal["slat", "row", "strip", "joist", "hole"]

SAME: Final = 0.05
"""mm. Two sticks or two halves that differ by less are one: a pencil line is thicker."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """What lies along a stick: from where to where, mm from the end that is held; a line where both are the same."""

    kind: Kind
    name: str
    start: float
    end: float
    half: Half


@dataclass(frozen=True, slots=True, kw_only=True)
class Stick:
    """One stick.

    Attributes:
        names: what it is for, alike ones together: "C1", "C2".
        shows: in words.
        hold: what its first end is held at.
        held: the same for whatever it is for, where that is the same in other words: "the start side".
        edges: what the upper and the lower edge lie along, as it is read from below.
        length: mm.
    """

    names: tuple[str, ...]
    shows: str
    hold: str
    held: str = ""
    edges: tuple[str, str]
    length: float
    bands: tuple[Band, ...]

    @property
    def alike(self) -> bool:
        """Both edges say the same."""
        return all(band.half == "both" for band in self.bands)


def merged(bands: Iterable[Band]) -> tuple[Band, ...]:
    """With one band in place of two halves that say the same, from the end that is held on."""
    found: dict[tuple[Kind, str], list[Band]] = {}
    for band in bands:
        found.setdefault((band.kind, band.name), []).append(band)
    made: list[Band] = []
    for halves in found.values():
        first, *others = halves
        if others and all(_alike(first, other) for other in others):
            halves = [replace(first, half="both")]
        made += halves
    return tuple(sorted(made, key=lambda band: (band.start, band.half)))


def _alike(one: Band, other: Band) -> bool:
    return abs(one.start - other.start) <= SAME and abs(one.end - other.end) <= SAME


def gathered(sticks: Iterable[Stick]) -> tuple[Stick, ...]:
    """Alike sticks as one with all their names."""
    found: list[Stick] = []
    for stick in sticks:
        n = next((n for n, other in enumerate(found) if _one(stick, other)), None)
        if n is None:
            found.append(stick)
        else:
            other = found[n]
            hold = other.hold if stick.hold == other.hold else stick.held
            found[n] = replace(other, names=(*other.names, *stick.names), hold=hold)
    return tuple(found)


def _one(stick: Stick, other: Stick) -> bool:
    """Whether one serves for both; where its edges are alike it does not matter what lies along them."""
    hangs_on = [(one.shows, one.held or one.hold, len(one.bands), one.alike or one.edges) for one in (stick, other)]
    if hangs_on[0] != hangs_on[1]:
        return False
    pairs = zip(stick.bands, other.bands, strict=True)
    return abs(stick.length - other.length) <= SAME and all(
        (one.kind, one.name, one.half) == (two.kind, two.name, two.half) and _alike(one, two) for one, two in pairs
    )
