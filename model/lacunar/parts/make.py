"""Parts out of a layout: every bar, slat and strip with its planes, cuts, pockets and nails."""

import math
from dataclasses import dataclass

from lacunar.geometry import Line, Plane, end_mitres, extent
from lacunar.layout import Bar, Coffer, Furring, Layout, Material, Notch, Slat, Trim
from lacunar.parts.bore import bore_pockets
from lacunar.parts.facing import WALL, bar_beside, slat_facing, trim_facing
from lacunar.parts.part import Cutaway, End, Part


def make_parts(layout: Layout) -> tuple[Part, ...]:
    """Every piece of the ceiling at its designed length: beams, pieces, mouldings, then coffer by coffer."""
    bars = (*layout.beams, *layout.half_beams, *layout.pieces, *layout.mouldings)
    by_coffer: dict[str, list[Part]] = {coffer.id: [] for coffer in layout.coffers}
    planes = {coffer.id: _planes(layout, coffer) for coffer in layout.coffers}
    if layout.furring is not None:
        for one in layout.furring.strips:
            by_coffer[one.coffer].append(_furring(layout, one, layout.furring.strip, planes[one.coffer]))
    for slat in layout.slats:
        by_coffer[slat.coffer].append(_slat(layout, slat, planes[slat.coffer]))
    for strip in layout.trim:
        by_coffer[strip.coffer].append(_strip(layout, strip, planes[strip.coffer]))
    return (*(_bar(layout, bar) for bar in bars), *(part for parts in by_coffer.values() for part in parts))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Planes:
    """The planes between the layers of one coffer, all parallel: underside of trim, slats and furring, and its top."""

    trim: Plane
    slat: Plane
    furring: Plane
    top: Plane


def _planes(layout: Layout, coffer: Coffer) -> _Planes:
    plumb, backing = coffer.ceiling.plumb, layout.backing(coffer)
    slat = backing.lifted(-layout.slat.thickness * plumb)
    trim = slat.lifted(-layout.trim_strip.thickness * plumb)
    return _Planes(trim=trim, slat=slat, furring=backing, top=coffer.ceiling)


def _bar(layout: Layout, bar: Bar) -> Part:
    bought = bar.kind in ("main beam", "cross beam", "half beam")
    axis, beside = Line.through(*bar.axis), bar_beside(layout, bar)
    low, high = extent(bar.outline, axis)
    pockets = ()
    if bar.kind == "cross beam" and layout.pocketing is not None:
        pockets = bore_pockets(bar, layout.pocketing)
    return Part(
        id=bar.id,
        kind=bar.kind,
        face=layout.face,
        coffer=None,
        stock=bar.stock,
        species=bar.species,
        outline=bar.outline,
        holes=(),
        bottom=bar.bottom,
        top=bar.top,
        axis=bar.axis,
        length=(high - low) * bar.bottom.stretch(axis.direction),
        width=bar.width,
        width_end=None,
        thickness=max(bar.top.at(p) - bar.bottom.at(p) for p in bar.outline),
        ends=_ends(end_mitres(bar.outline, axis)),
        ripped=bar.kind == "half beam",
        # A half beam hides its sawn edge at the wall.
        sawn_edges=(bar.kind == "half beam" and beside[0] == WALL, bar.kind == "half beam" and beside[1] == WALL),
        interval=None,
        grow=(0.5, 0.5),
        nails=(),
        joists=(),
        furring=(),
        notches=(),
        pockets=pockets,
        meets=bar.meets,
        beside=beside,
        bought=bought,
    )


def _slat(layout: Layout, slat: Slat, planes: _Planes) -> Part:
    facing = slat_facing(layout, slat)
    return Part(
        id=slat.id,
        kind="slat",
        face=layout.face,
        coffer=slat.coffer,
        stock=layout.slat.stock,
        species=layout.slat.species,
        outline=slat.outline,
        holes=slat.holes,
        bottom=planes.slat,
        top=planes.furring,
        axis=slat.axis,
        length=slat.length,
        width=slat.width,
        width_end=slat.width_end,
        thickness=layout.slat.thickness,
        ends=_ends(slat.mitres),
        ripped=slat.ripped,
        sawn_edges=_left_right(slat, layout),
        interval=slat.interval,
        grow=slat.grow,
        nails=slat.nails,
        joists=slat.joists,
        furring=slat.furring,
        notches=tuple(_cutaway(notch) for notch in slat.notches),
        pockets=(),
        meets=facing.ends,
        beside=facing.sides,
        bought=True,
    )


def _furring(layout: Layout, one: Furring, strip: Material, planes: _Planes) -> Part:
    facing = slat_facing(layout, one)
    return Part(
        id=one.id,
        kind="furring",
        face=layout.face,
        coffer=one.coffer,
        stock=strip.stock,
        species=strip.species,
        outline=one.outline,
        holes=(),
        bottom=planes.furring,
        top=planes.top,
        axis=one.axis,
        length=one.length,
        width=strip.width,
        width_end=None,
        thickness=strip.thickness,
        ends=_ends((0.0, 0.0)),
        ripped=False,
        sawn_edges=(False, False),
        interval=one.interval,
        grow=one.grow,
        nails=one.screws,
        joists=one.joists,
        furring=(),
        notches=(),
        pockets=(),
        meets=facing.ends,
        beside=facing.sides,
        bought=True,
    )


def _strip(layout: Layout, strip: Trim, planes: _Planes) -> Part:
    facing = trim_facing(layout, strip)
    return Part(
        id=strip.id,
        kind="trim",
        face=layout.face,
        coffer=strip.coffer,
        stock=layout.trim_strip.stock,
        species=layout.trim_strip.species,
        outline=strip.outline,
        holes=(),
        bottom=planes.trim,
        top=planes.slat,
        axis=strip.axis,
        length=strip.length,
        width=layout.trim_strip.width,
        width_end=None,
        thickness=layout.trim_strip.thickness,
        ends=_ends(strip.mitres),
        ripped=False,
        sawn_edges=(False, False),
        interval=None,
        grow=(0.5, 0.5),
        nails=(),
        joists=(),
        furring=(),
        notches=(),
        pockets=(),
        meets=facing.ends,
        beside=facing.sides,
        bought=True,
    )


def _ends(mitres: tuple[float, float]) -> tuple[End, End]:
    first, second = (End(mitre_deg=math.degrees(angle) + 0.0) for angle in mitres)
    return first, second


def _left_right(slat: Slat, layout: Layout) -> tuple[bool, bool]:
    """Sawn edges as left and right of the slat's own axis; the layout tells them from the start side on."""
    coffer = layout.coffer(slat.coffer)
    dx, dy = Line.through(*slat.axis).direction
    same = dx * coffer.direction[0] + dy * coffer.direction[1] >= 0.0
    # The coffer lies to the right of its start side, so the first edge is on the left of that direction.
    return slat.edges if same else (slat.edges[1], slat.edges[0])


def _cutaway(notch: Notch) -> Cutaway:
    return Cutaway(fixture=notch.fixture, outline=notch.outline, along=notch.along, inside=notch.inside)
