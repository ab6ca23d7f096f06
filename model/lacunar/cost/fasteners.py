"""What holds the ceiling, counted from its parts, and what fills the holes."""

import math
from collections.abc import Iterator, Sequence

from lacunar.config import Fasteners
from lacunar.cost.packs import Supplies, packed
from lacunar.cost.practice import TRIM_FROM_END
from lacunar.cost.types import Item
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH


def fastener_items(supplies: Supplies, fasteners: Fasteners, layout: Layout, parts: Sequence[Part]) -> tuple[Item, ...]:
    """Nails, screws, plugs, adhesive and putty; only what this ceiling takes."""
    return tuple(item for item in _items(supplies, fasteners, layout, parts) if item.need > 0.0)


def _items(supplies: Supplies, fasteners: Fasteners, layout: Layout, parts: Sequence[Part]) -> Iterator[Item]:
    def words(length: float) -> str:
        return supplies.tape.text(length, "words", INCH / 16.0 if supplies.tape.units == "in" else 1.0)

    pockets = [pocket for part in parts for pocket in part.pockets]
    strips = [part.length for part in parts if part.kind == "trim"]
    slat, trim = fasteners.slat, fasteners.trim
    slat_nails = sum(len(part.nails) for part in parts if part.kind == "slat")
    furring = sum(len(part.nails) for part in parts if part.kind == "furring")
    trim_nails = sum(nails_in(length, trim.spacing) for length in strips)
    low = sum(pocket.level == "low" for pocket in pockets)
    screw = 0.0 if layout.furring is None else layout.furring.screw
    screws = sorted({pocket.screw for pocket in pockets})
    bead = math.fsum(strips) if trim.adhesive else 0.0
    slat_what = f"{slat.gauge} gauge {slat.kind}, {words(layout.nailing.length)}"
    trim_what = f"{trim.gauge} gauge {trim.kind}, {words(trim.length)}"
    yield packed(supplies, "fasteners", "slat nail", slat_what, slat_nails)
    yield packed(supplies, "fasteners", "furring screw", f"for furring, {words(screw)}", furring)
    yield packed(
        supplies, "fasteners", "pocket screw", "for pockets, " + " and ".join(map(words, screws)), len(pockets)
    )
    yield packed(supplies, "fasteners", "plug", "for low pockets", low)
    yield packed(supplies, "fasteners", "trim nail", trim_what, trim_nails)
    yield packed(supplies, "fasteners", "adhesive", "a bead behind every strip of trim", bead, "mm")
    yield packed(supplies, "fasteners", "putty", "for nail holes", slat_nails + trim_nails)


def nails_in(length: float, spacing: float) -> int:
    """Nails in a strip of trim: one near each end, between them none farther apart than the spacing, mm."""
    between = length - 2.0 * TRIM_FROM_END
    if between <= 0.0:
        return 1
    return math.ceil((between - ARITHMETIC) / spacing) + 1
