"""Two sticks for each coffer: across its slats with all of their edges, and along them with what they are nailed to."""

import math
from collections.abc import Iterable, Iterator, Sequence

from lacunar.book.sticks import Band, Half, Stick, merged
from lacunar.geometry import Line, Point
from lacunar.layout import Coffer, Layout, OverheadLines, Running, overhead_lines, running_dimensions

HALVES: tuple[Half, Half] = ("upper", "lower")
"""At the first corner, clockwise round the coffer, of the side that the stick is held at, and at its second corner:
read from below, these lie at its upper and its lower edge."""


def coffer_sticks(layout: Layout) -> Iterator[Stick]:
    """By coffer: the stick across its slats, then the one along them."""
    lines: dict[str, list[OverheadLines]] = {}
    for one in overhead_lines(layout):
        lines.setdefault(one.coffer, []).append(one)
    pairs = zip(running_dimensions(layout), running_dimensions(layout, far=True), strict=True)
    for coffer, (near, far) in zip(layout.coffers, pairs, strict=True):
        over, at = lines.get(coffer.id, []), coffer.start_side
        along = [one for one in over if one.side == at and not coffer.cut_to_shape]
        if near.marks:
            yield _across(layout, coffer, near, far, along)
        for side in dict.fromkeys(one.side for one in over if one not in along):
            yield _along(layout, coffer, side, [one for one in over if one.side == side])


def _across(layout: Layout, coffer: Coffer, near: Running, far: Running, over: Sequence[OverheadLines]) -> Stick:
    """From the start side on; where slats lie at an angle from slat 1, whose edge is their base."""
    slats = [
        Band(kind="slat", name=f"S{one.number:02}", start=low, end=high, half=half)
        for one, other in zip(near.marks, far.marks, strict=True)
        for half, low, high in zip(HALVES, (one.start, one.end), (other.start, other.end), strict=True)
    ]
    held = "slat 1" if coffer.cut_to_shape else coffer.sides[coffer.start_side].against
    bands = [*slats, *_over(layout, over), *_holes(layout, coffer, near.base)]
    return _held(coffer, coffer.start_side, near.base, "both edges of every slat", held, bands)


def _along(layout: Layout, coffer: Coffer, side: int, over: Sequence[OverheadLines]) -> Stick:
    """From the side that the lines over the coffer are measured from."""
    base = coffer.sides[side].line
    kinds = " and ".join({"joist": "joists", "furring": "furring"}[kind] for kind in sorted({one.kind for one in over}))
    bands = [*_over(layout, over), *_holes(layout, coffer, base)]
    return _held(coffer, side, base, kinds, coffer.sides[side].against, bands)


def _held(coffer: Coffer, side: int, base: Line, shows: str, hold: str, bands: Iterable[Band]) -> Stick:
    made, n = merged(bands), len(coffer.sides)
    first, second = (coffer.sides[i % n].against for i in (side - 1, side + 1))
    reach = max(_off(coffer, base, point) for point in coffer.outline)
    return Stick(
        names=(coffer.id,),
        shows=shows,
        hold=hold,
        held="the start side" if side == coffer.start_side else "the side at the ends of its slats nearer A",
        edges=(first, second) if first != second else (f"{first} (1)", f"{second} (2)"),
        length=max([reach, *(band.end for band in made)]),
        bands=made,
    )


def _over(layout: Layout, over: Iterable[OverheadLines]) -> Iterator[Band]:
    """Joists by their middles, strips of furring with both edges."""
    widths = {strip.id: strip.width for strip in layout.furring_strips}
    for one in over:
        for mark in one.marks:
            first, second = mark.distances
            lean = math.hypot(1.0, (second - first) / math.dist(*mark.ends))
            wide = widths.get(mark.name, 0.0) * lean
            name = mark.name.rpartition("-")[2]
            for half, at in zip(HALVES, mark.distances, strict=True):
                yield Band(kind="strip" if wide else "joist", name=name, start=at, end=at + wide, half=half)


def _holes(layout: Layout, coffer: Coffer, base: Line) -> Iterator[Band]:
    for hole in layout.cut_outs:
        if hole.coffer == coffer.id:
            offs = [_off(coffer, base, point) for point in hole.outline]
            yield Band(kind="hole", name=hole.name, start=min(offs), end=max(offs), half="both")


def _off(coffer: Coffer, base: Line, point: Point) -> float:
    """How far from a line that has the coffer to its right, true length."""
    return -base.offset(point) * coffer.ceiling.stretch(base.left)
