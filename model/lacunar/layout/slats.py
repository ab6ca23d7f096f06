"""Slats of one coffer: bands cut to length, hung, and cut out round fixtures."""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon

from lacunar.geometry import Line, Plane, Point, Ring, end_mitres, extent
from lacunar.layout.angled import Corners, angled_bands, place_slats
from lacunar.layout.bands import Band
from lacunar.layout.cells import Cell
from lacunar.layout.cutouts import Fragment, notch
from lacunar.layout.fill import Rule
from lacunar.layout.grid import QUARTER
from lacunar.layout.polygons import clip, common, endless, inset, inset_each, is_convex, pieces_of, ring_of, strip
from lacunar.layout.squaring import EndRule, Length, Reach, reach, square_length
from lacunar.layout.types import CutOut, Slat
from lacunar.tolerances import ARITHMETIC, POLYGON_AREA
from lacunar.units import INCH

LEAST_TONGUE = INCH / 2.0
"""mm. What an end that may move keeps between itself and a cut-out. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hanging:
    """What all slats of a coffer share.

    Attributes:
        rule: widths and gaps.
        ends: end gaps and trim.
        ceiling: plane that the coffer's slats lie against.
        corner: the room's corner A; a slat's first end is the one nearer to it.
        trim_width: what lies wholly behind trim is left out.
    """

    rule: Rule
    ends: EndRule
    ceiling: Plane
    corner: Point
    trim_width: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """A slat before fixtures are cut out of it."""

    outline: Ring
    axis: tuple[Point, Point]
    length: float
    interval: tuple[float, float] | None
    reach: Reach | None


def hang_slats(cell: Cell, bands: Sequence[Band], hanging: Hanging, holes: Sequence[CutOut]) -> tuple[Slat, ...]:
    """Cut every band to length in its coffer."""
    if not bands:
        return ()
    axis = bands[0].axis_line
    gaps = [0.0 if axis.lean_to(side.line) < QUARTER else hanging.ends.end_gap for side in reversed(cell.sides)]
    # The coffer's ring runs the other way round than its sides, from the same first corner.
    return _hang(cell, bands, inset_each(cell.ring, gaps), hanging, holes)


def _hang(
    cell: Cell, bands: Sequence[Band], covered: Ring, hanging: Hanging, holes: Sequence[CutOut]
) -> tuple[Slat, ...]:
    made: list[Slat] = []
    for number, band in enumerate(bands, start=1):
        made.extend(_name(cell, number, band, _cut_band(cell.ring, covered, band, hanging), hanging, holes))
    return tuple(made)


def angled_slats(
    cell: Cell, direction: Point, hanging: Hanging, holes: Sequence[CutOut]
) -> tuple[tuple[Band, ...], tuple[Slat, ...]]:
    """Slats at an angle to the sides: every end follows the side that it meets."""
    covered = inset(cell.ring, hanging.ends.end_gap)
    along = _with_corner_on_left(Line(covered[0], direction), hanging.corner, covered)
    corners = Corners.of(covered, inset(cell.ring, hanging.trim_width), along)
    overlap = hanging.trim_width - hanging.rule.hidden
    place = place_slats(corners, hanging.rule, overlap, hanging.ends.end_gap)
    bands = angled_bands(corners, place, along, hanging.rule)
    return bands, _hang(cell, bands, covered, hanging, holes)


def _with_corner_on_left(line: Line, corner: Point, ring: Ring) -> Line:
    middle = sum(line.offset(p) for p in ring) / len(ring)
    return line if line.offset(corner) >= middle else line.reversed()


def _regions(ring: Ring, band: Band) -> tuple[Ring, ...]:
    """What of a coffer lies between a band's two edges."""
    if is_convex(ring):
        left = clip(clip(ring, band.near.reversed()), band.far)
        return (left,) if len(left) >= 3 and Polygon(left).area > POLYGON_AREA else ()
    # Half planes and no quadrilateral: the edges of a tapered band may cross somewhere outside.
    span = endless(ring)
    left = common(Polygon(ring), strip(band.near.reversed(), span[1], 0.0, span))
    return tuple(ring_of(polygon) for polygon in pieces_of(common(left, strip(band.far, span[1], 0.0, span))))


def _cut_band(ring: Ring, covered: Ring, band: Band, hanging: Hanging) -> tuple[_Cut, ...]:
    made: list[_Cut] = []
    axis = band.axis_line
    stretch = hanging.ceiling.stretch(axis.direction)
    shaped = band.in_corner
    for region in () if shaped else _regions(ring, band):
        reached = reach(region, band.near, band.far, axis)
        length = square_length(reached, hanging.ends, stretch) if reached is not None else None
        if reached is None or length is None:
            shaped = True
            break
        made.append(_square(band, reached, length, stretch, hanging))
    return tuple(_shaped(ring, covered, band, hanging)) if shaped else tuple(made)


def _square(band: Band, reached: Reach, length: Length, stretch: float, hanging: Hanging) -> _Cut:
    axis = band.axis_line
    middle = (reached.inner[0] + reached.inner[1]) / 2.0
    low, high = middle - length.designed / stretch / 2.0, middle + length.designed / stretch / 2.0
    cuts = [Line(axis.at(x), axis.left) for x in (low, high)]
    ends = [(cut.crossing(band.near), cut.crossing(band.far)) for cut in cuts]
    outline = (ends[0][1], ends[1][1], ends[1][0], ends[0][0])
    centres = [((a[0] + b[0]) / 2.0, (a[1] + b[1]) / 2.0) for a, b in ends]
    return _Cut(
        outline=outline,
        axis=(centres[0], centres[1]),
        length=length.designed,
        interval=(length.shortest, length.longest),
        reach=reached,
    )


def _shaped(ring: Ring, covered: Ring, band: Band, hanging: Hanging) -> list[_Cut]:
    """Ends cut along the sides, an end gap away from them; nothing that trim hides whole."""
    shown = Polygon(inset(ring, hanging.trim_width))
    made: list[_Cut] = []
    for outline in _regions(covered, band):
        if Polygon(outline).intersection(shown).area <= POLYGON_AREA:
            continue
        axis = band.axis_line
        low, high = extent(outline, axis)
        across = (max(axis.offset(p) for p in outline) + min(axis.offset(p) for p in outline)) / 2.0
        made.append(
            _Cut(
                outline=outline,
                axis=(axis.at(low, across), axis.at(high, across)),
                length=(high - low) * hanging.ceiling.stretch(axis.direction),
                interval=None,
                reach=None,
            )
        )
    return made


def _name(
    cell: Cell, number: int, band: Band, cuts: Sequence[_Cut], hanging: Hanging, holes: Sequence[CutOut]
) -> list[Slat]:
    fragments = [(cut, fragment) for cut in cuts for fragment in _fragments(cut, hanging, holes)]
    letters = "abcdefghijklmnopqrstuvwxyz" if len(fragments) > 1 else " "
    return [
        _slat(f"{cell.id}-S{number:02d}{letters[i].strip()}", cell, number, band, cut, fragment, hanging)
        for i, (cut, fragment) in enumerate(fragments)
    ]


def _oriented(cut: _Cut, corner: Point) -> Line:
    a, b = cut.axis
    da = (a[0] - corner[0]) ** 2 + (a[1] - corner[1]) ** 2
    db = (b[0] - corner[0]) ** 2 + (b[1] - corner[1]) ** 2
    return Line.through(a, b) if da <= db else Line.through(b, a)


def _fragments(cut: _Cut, hanging: Hanging, holes: Sequence[CutOut]) -> tuple[Fragment, ...]:
    return notch(cut.outline, _oriented(cut, hanging.corner), holes)


def _slat(id: str, cell: Cell, number: int, band: Band, cut: _Cut, fragment: Fragment, hanging: Hanging) -> Slat:
    axis = _oriented(cut, hanging.corner)
    low, high = extent(fragment.outline, axis)
    stretch = hanging.ceiling.stretch(axis.direction)
    whole = fragment.kept == (True, True)
    length = cut.length if whole else (high - low) * stretch
    flipped = axis.direction[0] * band.near.direction[0] + axis.direction[1] * band.near.direction[1] < 0.0
    lean = cut.reach.lean if cut.reach else (0.0, 0.0)
    first, second = (_width_at(band, axis, at) for at in extent(cut.outline, axis))
    widest = max(axis.offset(p) for p in cut.outline) - min(axis.offset(p) for p in cut.outline)
    return Slat(
        id=id,
        coffer=cell.id,
        number=number,
        outline=fragment.outline,
        holes=fragment.holes,
        axis=(axis.at(low), axis.at(high)),
        width=first if band.tapered else min(band.width, widest),
        width_end=second if band.tapered else None,
        length=length,
        interval=_interval(cut, fragment, length, stretch),
        grow=_grow(fragment),
        tight=cut.reach.tight * stretch if cut.reach else length,
        lean=(lean[1], lean[0]) if flipped else lean,
        mitres=(0.0, 0.0) if cut.interval else end_mitres(cut.outline, axis),
        ripped=band.ripped or widest < hanging.rule.width - ARITHMETIC,
        edges=band.sawn,
        notches=fragment.notches,
    )


def _width_at(band: Band, axis: Line, at: float) -> float:
    """Width across the factory edge at a place along the slat."""
    cut = Line(axis.at(at), band.axis_line.left)
    return abs(cut.along(cut.crossing(band.near)) - cut.along(cut.crossing(band.far)))


def _grow(fragment: Fragment) -> tuple[float, float]:
    shares = {(True, True): (0.5, 0.5), (True, False): (1.0, 0.0), (False, True): (0.0, 1.0)}
    return shares.get(fragment.kept, (0.0, 0.0))


def _interval(cut: _Cut, fragment: Fragment, length: float, stretch: float) -> tuple[float, float] | None:
    """A stump has one end that may move: half of what the whole slat's length may change.

    Cut-outs stay where they are, so an end that moves never passes one, and an end that has one in it does not move.
    """
    if cut.interval is None or not any(fragment.kept):
        return None
    shortest, longest = cut.interval
    if not all(fragment.kept):
        shortest, longest = (length + (end - cut.length) / 2.0 for end in (shortest, longest))
    low, high = 0.0, length / stretch
    for notched in fragment.notches:
        for share, room in zip(_grow(fragment), (notched.along[0] - low, high - notched.along[1]), strict=True):
            if share and room <= LEAST_TONGUE:
                return (length, length)
            if share:
                shortest = max(shortest, length - (room - LEAST_TONGUE) * stretch / share)
    return (shortest, longest)
