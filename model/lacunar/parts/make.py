"""Parts out of a layout: every bar, slat and strip with its planes, cuts, pockets and nails."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from lacunar.geometry import Plane
from lacunar.layout import Bar, Coffer, CofferStrip, DressedStock, Layout, Member, of_base
from lacunar.parts.bore import bore_pockets
from lacunar.parts.facing import WALL, bar_beside, slat_facing, trim_facing
from lacunar.parts.part import BEAM_PIECES, Part


def make_parts(layout: Layout) -> tuple[Part, ...]:
    """Every piece of the ceiling at its designed length: beams, pieces, mouldings, then coffer by coffer."""
    bars = (*layout.beams, *layout.half_beams, *layout.pieces, *layout.mouldings)
    by_coffer: dict[str, list[Part]] = {coffer.id: [] for coffer in layout.coffers}
    layers = {coffer.id: _layers(layout, coffer) for coffer in layout.coffers}
    for one in (*layout.furring_strips, *layout.slats, *layout.trim):
        by_coffer[one.coffer].append(_strip(layout, one, layers[one.coffer][one.kind]))
    return (*(_bar(layout, bar) for bar in bars), *(part for parts in by_coffer.values() for part in parts))


@dataclass(frozen=True, slots=True)
class _Layer:
    """All that lies in a coffer between two planes."""

    material: DressedStock
    bottom: Plane
    top: Plane


def _layers(layout: Layout, coffer: Coffer) -> Mapping[str, _Layer]:
    """From the old ceiling down, all parallel."""
    plumb, backing = coffer.ceiling.plumb, layout.backing(coffer)
    slat = backing.lifted(-layout.slat.thickness * plumb)
    trim = slat.lifted(-layout.trim_strip.thickness * plumb)
    layers = {"slat": _Layer(layout.slat, slat, backing), "trim": _Layer(layout.trim_strip, trim, slat)}
    if layout.furring is not None:
        layers["furring"] = _Layer(layout.furring.strip, backing, coffer.ceiling)
    return layers


def _bar(layout: Layout, bar: Bar) -> Part:
    bores = layout.pocketing if bar.kind == "cross beam" else None
    beside = bar_beside(layout, bar)
    # A half beam hides its sawn edge at the wall.
    sawn = (bar.ripped and beside[0] == WALL, bar.ripped and beside[1] == WALL)
    return Part(
        **of_base(replace(bar, sawn_edges=sawn), Member),
        face=layout.face,
        coffer=None,
        stock=bar.stock,
        species=bar.species,
        bottom=bar.bottom,
        top=bar.top,
        thickness=max(bar.top.at(p) - bar.bottom.at(p) for p in bar.outline),
        pockets=() if bores is None else bore_pockets(bar, bores),
        meets=bar.meets,
        beside=beside,
        bought=bar.kind in BEAM_PIECES,
    )


def _strip(layout: Layout, one: CofferStrip, layer: _Layer) -> Part:
    facing = trim_facing(layout, one) if one.kind == "trim" else slat_facing(layout, one)
    return Part(
        **of_base(one, Member),
        face=layout.face,
        coffer=one.coffer,
        stock=layer.material.stock,
        species=layer.material.species,
        bottom=layer.bottom,
        top=layer.top,
        thickness=layer.material.thickness,
        meets=facing.ends,
        beside=facing.sides,
        bought=True,
    )
