"""Two sticks for each coffer: across its slats with all of their edges, and along them with what they are nailed to."""

from collections.abc import Iterator, Sequence

from lacunar.book.sticks import Band, Half, Kind, Stick, merged
from lacunar.geometry import Line, Point, Ring, extent
from lacunar.layout import Coffer, Layout, Running, running_dimensions

ASKEW = 0.5
"""Sine: what lies more nearly along a stick than 30 degrees is not marked on it."""

HALVES: tuple[Half, Half] = ("upper", "lower")


def coffer_sticks(layout: Layout) -> Iterator[Stick]:
    """By coffer: the stick across its slats, then the one along them."""
    pairs = zip(running_dimensions(layout), running_dimensions(layout, far=True), strict=True)
    for coffer, (near, far) in zip(layout.coffers, pairs, strict=True):
        yield from _across(layout, coffer, near, far)
        yield from _along(layout, coffer)


def _across(layout: Layout, coffer: Coffer, near: Running, far: Running) -> Iterator[Stick]:
    """From the start side on; its upper edge, read from below, at the start side's first corner."""
    if not near.marks:
        return
    start = coffer.sides[coffer.start_side]
    ends = (near.base.at(0.0), near.base.at(near.length))
    lines = [Line(end, _back(near.base.left)) for end in ends]
    stretch = coffer.ceiling.stretch(near.base.left)
    slats = [
        Band(kind="slat", name=f"S{one.number:02}", start=low, end=high, half=half)
        for one, other in zip(near.marks, far.marks, strict=True)
        for half, low, high in zip(HALVES, (one.start, one.end), (other.start, other.end), strict=True)
    ]
    yield Stick(
        names=(coffer.id,),
        shows="both edges of every slat",
        hold=_at_an_angle(coffer) or start.against,
        edges=_corners_at(coffer),
        length=max(_reach(coffer.outline, line) for line in lines) * stretch,
        bands=merged([*slats, *_crossing(layout, coffer, lines, stretch)]),
    )


def _along(layout: Layout, coffer: Coffer) -> Iterator[Stick]:
    """From the side at the start side's first corner on; read from below its lower edge lies at the start side."""
    start, n = coffer.sides[coffer.start_side], len(coffer.sides)
    if coffer.cut_to_shape:
        return
    first = start.line
    across = coffer.sides[(coffer.start_side + 2) % n]
    # The side across runs the other way round the coffer.
    lines = [across.line.reversed() if n == 4 else first, first]
    begins = coffer.sides[coffer.start_side - 1].line
    lines = [Line(line.crossing(begins), line.direction) for line in lines]
    stretch = coffer.ceiling.stretch(first.direction)
    bands = merged(_crossing(layout, coffer, lines, stretch))
    if not bands:
        return
    yield Stick(
        names=(coffer.id,),
        shows="furring and joists" if layout.furring else "joists",
        hold=coffer.sides[coffer.start_side - 1].against,
        edges=(across.against if n == 4 else start.against, start.against),
        length=max(start.length, across.length) * stretch,
        bands=bands,
    )


def _crossing(layout: Layout, coffer: Coffer, lines: Sequence[Line], stretch: float) -> Iterator[Band]:
    """Strips of furring, joists and holes that lie across a stick, where its two edges meet them."""
    length = max(_reach(coffer.outline, line) for line in lines)
    for half, line in zip(HALVES, lines, strict=True):
        for strip in layout.furring_strips:
            if strip.coffer == coffer.id and _lies_across(line, Line.through(*strip.axis)):
                name = strip.id.rpartition("-")[2]
                yield _band("strip", name, _met(line, strip.outline, Line.through(*strip.axis)), half, stretch)
        for number, joist in enumerate(layout.joists.lines, start=1):
            if _lies_across(line, joist) and 0.0 < (at := line.along(line.crossing(joist))) < length:
                yield _band("joist", f"joist {number}", (at, at), half, stretch)
        for hole in layout.cut_outs:
            if hole.coffer == coffer.id:
                yield _band("hole", hole.name, extent(hole.outline, line), half, stretch)


def _band(kind: Kind, name: str, span: tuple[float, float], half: Half, stretch: float) -> Band:
    return Band(kind=kind, name=name, start=span[0] * stretch, end=span[1] * stretch, half=half)


def _met(line: Line, outline: Ring, axis: Line) -> tuple[float, float]:
    """Where the two long edges of a strip cross a line."""
    offsets = [axis.offset(point) for point in outline]
    low, high = sorted(line.along(line.crossing(axis.shifted(by))) for by in (min(offsets), max(offsets)))
    return low, high


def _lies_across(line: Line, other: Line) -> bool:
    return abs(line.direction[0] * other.direction[1] - line.direction[1] * other.direction[0]) > ASKEW


def _reach(outline: Ring, line: Line) -> float:
    """How far along a line a coffer goes."""
    return max(line.along(point) for point in outline)


def _corners_at(coffer: Coffer) -> tuple[str, str]:
    """What stands at the start side's first and second corner; told apart where it is the same."""
    n, at = len(coffer.sides), coffer.start_side
    first, second = (coffer.sides[i % n].against for i in (at - 1, at + 1))
    return (first, second) if first != second else (f"{first} (1)", f"{second} (2)")


def _at_an_angle(coffer: Coffer) -> str:
    return "the edge of slat 1" if coffer.cut_to_shape else ""


def _back(way: Point) -> Point:
    return (-way[0], -way[1])
