"""How many slats, how wide: rules 6 and 7 as arithmetic, without a drawing."""

import math
import operator
from dataclasses import dataclass, replace

from lacunar.layout.types import Wedge
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

NEARLY = INCH / 16.0
"""A last slat that is narrower than a board by less than the kerf and this is not worth its rip: common practice."""

FAN_LIMIT = INCH / 8.0
"""A gap may be so much wider at its other end before the eye sees it: common practice, no source."""

ROUNDS = 20
"""What turning takes of a coffer settles to a thousandth each time: it has come to rest in six, or it never will."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rule:
    """What the config says of slats, for one coffer.

    Attributes:
        width: of a full slat.
        gap: between slats.
        edge_gap: wished for beside the first and the last.
        least_edge_gap: that still does.
        narrowest_rip: narrower slats are not made.
        kerf: of the saw.
        hidden: how far trim reaches past the edge gap at most: trim width less the least overlap.
        wedge: "auto" or what is forced.
        centred: two equal rips, first and last.
    """

    width: float
    gap: float
    edge_gap: float
    least_edge_gap: float
    narrowest_rip: float
    kerf: float
    hidden: float
    wedge: str
    centred: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """Slats across a coffer, in order, at its narrower end and what the other end adds.

    Attributes:
        widths: of each slat at the narrower end.
        widths_end: of each at the wider end.
        ripped: of each, whether it is narrower than a board.
        edge_gaps: beside the first and the last at the narrower end.
        edge_gap_end: beside the last at the wider end.
        gap: between slats at the narrower end.
        gap_end: between slats at the wider end.
        wedge: how the change was taken.
    """

    widths: tuple[float, ...]
    widths_end: tuple[float, ...]
    ripped: tuple[bool, ...]
    edge_gaps: tuple[float, float]
    edge_gap_end: float
    gap: float
    gap_end: float
    wedge: Wedge

    @property
    def n_full(self) -> int:
        """Slats as wide as the board."""
        return self.ripped.count(False)


def fill(clear: float, change: float, rule: Rule, over: float = math.inf) -> Filling:
    """Fill a coffer.

    Args:
        clear: width between the two sides at the narrower end.
        change: how much wider the other end is, 0 or more.
        rule: the config's wishes.
        over: from the narrower end to the wider one, mm; where that is far, slats of a fan are turned by nothing.
    """
    even = _even(clear, rule)
    if change <= ARITHMETIC:
        return even
    wedge = _choose(even, change, rule)
    if wedge == "fan":
        fanned = _fanned(clear, change, over, rule)
        if fanned is not None:
            return fanned
    if wedge in ("fan", "taper"):
        tapered = _tapered(clear, even, change, rule)
        if tapered is not None:
            return tapered
    return replace(even, edge_gap_end=even.edge_gaps[1] + change, wedge="leave")


def _even(clear: float, rule: Rule) -> Filling:
    return _centred(clear, rule) if rule.centred else _from_start(clear, rule)


def _fanned(clear: float, change: float, over: float, rule: Rule) -> Filling | None:
    """Rule 6 in what is left once the slats are turned; None where that is less than two slats."""
    lost = takes = 0.0
    for _ in range(ROUNDS):
        lost, takes = takes, _turning(_even(clear - takes, rule), change / over)
    # It may go to and fro between two numbers of slats: then the first edge gap has the hundredths that are over.
    lost = max(lost, takes)
    even = _even(clear - lost, rule)
    gaps = len(even.widths) - 1
    if gaps < 1:
        return None
    first = even.edge_gaps[0] + lost - _turning(even, change / over)
    return replace(even, edge_gaps=(first, even.edge_gaps[1]), gap_end=even.gap + change / gaps, wedge="fan")


def _turning(even: Filling, slope: float) -> float:
    """How much wider across slats become that turn one after the other, until the last lies along its side.

    Turned by an angle of tangent t, a slat is sqrt(1 + t2) times as wide across, and so is the edge gap beside the last
    one, which is measured square to the side.
    """
    gaps = max(len(even.widths) - 1, 1)
    turned = (math.hypot(1.0, slope * i / gaps) - 1.0 for i in range(len(even.widths)))
    return (math.hypot(1.0, slope) - 1.0) * even.edge_gaps[1] + math.fsum(map(operator.mul, even.widths, turned))


def _choose(even: Filling, change: float, rule: Rule) -> str:
    """What to do about a change of width. Boards laid tight cannot fan: a gap of nothing has no narrow end."""
    gaps = len(even.widths) - 1
    can_fan = gaps > 0 and rule.gap > 0.0
    if rule.wedge != "auto":
        return "taper" if rule.wedge == "fan" and not can_fan else rule.wedge
    if change <= rule.hidden - even.edge_gaps[1] + ARITHMETIC:
        return "leave"
    return "fan" if can_fan and change / gaps <= FAN_LIMIT + ARITHMETIC else "taper"


def _filling(widths: list[float], rule: Rule, edge_gaps: tuple[float, float]) -> Filling:
    return Filling(
        widths=tuple(widths),
        widths_end=tuple(widths),
        ripped=tuple(width < rule.width - ARITHMETIC for width in widths),
        edge_gaps=edge_gaps,
        edge_gap_end=edge_gaps[1],
        gap=rule.gap,
        gap_end=rule.gap,
        wedge="none",
    )


def _from_start(clear: float, rule: Rule) -> Filling:
    """Rule 6."""
    w, g, e = rule.width, rule.gap, rule.edge_gap
    between = clear - 2.0 * e
    n = math.floor((between + g + ARITHMETIC) / (w + g))
    last = between - n * (w + g)
    if n <= 0:
        return _filling([min(max(between, 0.0), w)], rule, (e, e))
    if last <= ARITHMETIC:
        each = e + (last + g) / 2.0
        return _filling([w] * n, rule, (each, each))
    if last < rule.narrowest_rip - ARITHMETIC:
        return _two_rips(n, last, rule)
    short = w - last
    if short <= rule.kerf + NEARLY + ARITHMETIC:
        each = e - short / 2.0
        if each >= min(e, rule.least_edge_gap) - ARITHMETIC:
            return _filling([w] * (n + 1), rule, (each, each))
        return _two_rips(n, last, rule)
    return _filling([w] * n + [last], rule, (e, e))


def _two_rips(n: int, last: float, rule: Rule) -> Filling:
    rip = (rule.width + last) / 2.0
    return _filling([rip, *[rule.width] * (n - 1), rip], rule, (rule.edge_gap, rule.edge_gap))


def _centred(clear: float, rule: Rule) -> Filling:
    """As many full slats as leave both rips in [narrowest_rip, width]."""
    w, g, e = rule.width, rule.gap, rule.edge_gap
    between = clear - 2.0 * e
    n = math.floor((between - g - 2.0 * rule.narrowest_rip + ARITHMETIC) / (w + g))
    if n < 0:
        return _from_start(clear, replace(rule, centred=False))
    rip = (between - (n + 1) * g - n * w) / 2.0
    if rip > w + ARITHMETIC:
        return _from_start(clear, replace(rule, centred=False))
    return _filling([rip, *[w] * n, rip], rule, (e, e))


def _tapered(clear: float, even: Filling, change: float, rule: Rule) -> Filling | None:
    """The change goes into as few tapered slats as can take it, none wider than the board or narrower than a rip."""
    w, g, e = rule.width, rule.gap, rule.edge_gap
    between = clear - 2.0 * e
    most = len(even.widths)
    first = 2 if rule.centred or even.ripped[0] else 1
    for k in range(first, most + 2):
        for n in range(most, -1, -1):
            narrow = (between - n * (w + g) - (k - 1) * g) / k
            wide = narrow + change / k
            if narrow >= rule.narrowest_rip - ARITHMETIC and wide <= w + ARITHMETIC:
                return _with_tapers(n, k, narrow, wide, rule)
    return None


def _with_tapers(n: int, k: int, narrow: float, wide: float, rule: Rule) -> Filling:
    before = 0 if k == 1 else 1
    after = k - before
    even = _filling([*[narrow] * before, *[rule.width] * n, *[narrow] * after], rule, (rule.edge_gap, rule.edge_gap))
    return replace(
        even,
        widths_end=(*[wide] * before, *[rule.width] * n, *[wide] * after),
        ripped=(*[True] * before, *[False] * n, *[True] * after),
        wedge="taper",
    )
