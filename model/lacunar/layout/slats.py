"""Slats of one coffer: bands cut to length, hung, and cut out round fixtures."""

from collections.abc import Sequence
from dataclasses import dataclass

from shapely import Polygon

from lacunar.geometry import Line, Point, Ring, dot, end_mitres, extent, middle
from lacunar.layout.bands import SlatBand
from lacunar.layout.bars import nearer_first
from lacunar.layout.cutouts import Fragment, notch
from lacunar.layout.ground import Ground
from lacunar.layout.member import lettered, mitred, shares
from lacunar.layout.polygons import clip, common, endless, inset, is_convex, pieces_of, ring_of, strip
from lacunar.layout.squaring import reach, square_length
from lacunar.layout.types import Slat
from lacunar.tolerances import ARITHMETIC, POLYGON_AREA
from lacunar.units import INCH

LEAST_TONGUE = INCH / 2.0
"""mm. What an end that may move keeps between itself and a cut-out. Source: common practice, no source."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cut:
    """A slat before fixtures are cut out of it; `tight` as of a slat, None where its ends follow the sides."""

    outline: Ring
    axis: tuple[Point, Point]
    length: float
    interval: tuple[float, float] | None = None
    tight: float | None = None


def hang_slats(ground: Ground, bands: Sequence[SlatBand], covered: Ring) -> tuple[Slat, ...]:
    """Every band cut to length, the first number 1."""
    return tuple(slat for number, band in enumerate(bands, 1) for slat in hang_band(ground, number, band, covered))


def hang_band(ground: Ground, number: int, band: SlatBand, covered: Ring) -> tuple[Slat, ...]:
    """The slats of one band; several where the coffer's shape or a cut-out severs it.

    Args:
        ground: of the coffer.
        number: of the slat.
        band: of the plan.
        covered: what of the coffer slats may cover whose ends are cut along its sides.
    """
    cuts = _cuts(ground, band, covered)
    pieces = [(cut, piece) for cut in cuts for piece in notch(cut.outline, Line.through(*cut.axis), ground.holes)]
    ids = lettered(f"{ground.cell.id}-S{number:02d}", len(pieces))
    return tuple(_slat(id, ground, number, band, *piece) for id, piece in zip(ids, pieces, strict=True))


def _regions(ring: Ring, band: SlatBand) -> tuple[Ring, ...]:
    """What of a coffer lies between a band's two edges."""
    if is_convex(ring):
        left = clip(clip(ring, band.near.reversed()), band.far)
        return (left,) if len(left) >= 3 and Polygon(left).area > POLYGON_AREA else ()
    # Half planes and no quadrilateral: the edges of a tapered band may cross somewhere outside.
    span = endless(ring)
    left = common(Polygon(ring), strip(band.near.reversed(), span[1], 0.0, span))
    return tuple(ring_of(polygon) for polygon in pieces_of(common(left, strip(band.far, span[1], 0.0, span))))


def _cuts(ground: Ground, band: SlatBand, covered: Ring) -> list[_Cut]:
    """Cut square where that hides every end, else along the sides."""
    regions = () if band.to_shape else _regions(ground.cell.outline, band)
    squares = [_square(ground, band, region) for region in regions]
    hidden = [cut for cut in squares if cut is not None]
    return _shaped(ground, band, covered) if band.to_shape or len(hidden) < len(squares) else hidden


def _square(ground: Ground, band: SlatBand, region: Ring) -> _Cut | None:
    axis = band.axis_line
    stretch = ground.ceiling.stretch(axis.direction)
    reached = reach(region, band.near, band.far, axis)
    found = square_length(reached, ground.ends, stretch) if reached is not None else None
    if reached is None or found is None:
        return None
    length, interval = found
    half_way = (reached.inner[0] + reached.inner[1]) / 2.0
    low, high = half_way - length / stretch / 2.0, half_way + length / stretch / 2.0
    cuts = [Line(axis.at(x), axis.left) for x in (low, high)]
    ends = [(cut.crossing(band.near), cut.crossing(band.far)) for cut in cuts]
    return _Cut(
        outline=(ends[0][1], ends[1][1], ends[1][0], ends[0][0]),
        axis=nearer_first((middle(*ends[0]), middle(*ends[1])), ground.corner),
        length=length,
        interval=interval,
        tight=reached.tight * stretch,
    )


def _shaped(ground: Ground, band: SlatBand, covered: Ring) -> list[_Cut]:
    """Ends cut along the sides of what is covered; nothing that trim hides whole."""
    shown = Polygon(inset(ground.cell.outline, ground.trim_width))
    axis, made = band.axis_line, list[_Cut]()
    for outline in _regions(covered, band):
        if Polygon(outline).intersection(shown).area <= POLYGON_AREA:
            continue
        low, high = extent(outline, axis)
        across = (max(axis.offset(p) for p in outline) + min(axis.offset(p) for p in outline)) / 2.0
        made.append(
            _Cut(
                outline=outline,
                axis=nearer_first((axis.at(low, across), axis.at(high, across)), ground.corner),
                length=(high - low) * ground.ceiling.stretch(axis.direction),
            )
        )
    return made


def _slat(id: str, ground: Ground, number: int, band: SlatBand, cut: _Cut, fragment: Fragment) -> Slat:
    axis = Line.through(*cut.axis)
    low, high = extent(fragment.outline, axis)
    stretch = ground.ceiling.stretch(axis.direction)
    length = cut.length if fragment.kept == (True, True) else (high - low) * stretch
    flipped = dot(axis.direction, band.near.direction) < 0.0
    first, second = (_width_at(band, axis, at) for at in extent(cut.outline, axis))
    widest = max(axis.offset(p) for p in cut.outline) - min(axis.offset(p) for p in cut.outline)
    return Slat(
        id=id,
        kind="slat",
        coffer=ground.cell.id,
        number=number,
        outline=fragment.outline,
        holes=fragment.holes,
        axis=(axis.at(low), axis.at(high)),
        width=first if band.tapered else min(band.width, widest),
        width_end=second if band.tapered else None,
        length=length,
        interval=_interval(cut, fragment, length, stretch),
        grow=shares(fragment.kept),
        tight=length if cut.tight is None else cut.tight,
        ends=mitred((0.0, 0.0) if cut.interval else end_mitres(cut.outline, axis)),
        ripped=band.ripped or widest < ground.rule.width - ARITHMETIC,
        # The coffer lies to the right of its start side, so the near edge is on the left of that direction.
        sawn_edges=(band.sawn[flipped], band.sawn[not flipped]),
        notches=fragment.notches,
    )


def _width_at(band: SlatBand, axis: Line, at: float) -> float:
    """Width across the factory edge at a place along the slat."""
    cut = Line(axis.at(at), band.axis_line.left)
    return abs(cut.along(cut.crossing(band.near)) - cut.along(cut.crossing(band.far)))


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
        for share, room in zip(shares(fragment.kept), (notched.along[0] - low, high - notched.along[1]), strict=True):
            if share and room <= LEAST_TONGUE:
                return (length, length)
            if share:
                shortest = max(shortest, length - (room - LEAST_TONGUE) * stretch / share)
    return (shortest, longest)
