"""What holds the ceiling, counted from its parts, and what fills the holes."""

import math
from collections.abc import Iterator, Sequence

from lacunar.config import Config
from lacunar.cost.packs import packed
from lacunar.cost.practice import TRIM_FROM_END
from lacunar.cost.types import Item
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH, format_length


def fastener_items(config: Config, layout: Layout, parts: Sequence[Part]) -> tuple[Item, ...]:
    """Nails, screws, plugs, adhesive and putty; only what this ceiling takes."""
    return tuple(item for item in _items(config, layout, parts) if item.need > 0.0)


def _items(config: Config, layout: Layout, parts: Sequence[Part]) -> Iterator[Item]:
    pockets = [pocket for part in parts for pocket in part.pockets]
    strips = [part.length for part in parts if part.kind == "trim"]
    slat, trim = config.fasteners.slat, config.fasteners.trim
    slat_nails = sum(len(part.nails) for part in parts if part.kind == "slat")
    furring = sum(len(part.nails) for part in parts if part.kind == "furring")
    trim_nails = sum(nails_in(length, trim.spacing) for length in strips)
    low = sum(pocket.level == "low" for pocket in pockets)
    slat_what = f"{slat.gauge} gauge {slat.kind}, {_words(config, layout.nailing.length)}"
    screw = 0.0 if layout.furring is None else layout.furring.screw
    furring_what = f"for furring, {_words(config, screw)}"
    trim_what = f"{trim.gauge} gauge {trim.kind}, {_words(config, trim.length)}"
    screws = sorted({pocket.screw for pocket in pockets})
    yield packed(config, "fasteners", "slat nail", slat_what, slat_nails, "piece")
    yield packed(config, "fasteners", "furring screw", furring_what, furring, "piece")
    screw_what = "for pockets, " + " and ".join(_words(config, screw) for screw in screws)
    yield packed(config, "fasteners", "pocket screw", screw_what, len(pockets), "piece")
    yield packed(config, "fasteners", "plug", "for low pockets", low, "piece")
    yield packed(config, "fasteners", "trim nail", trim_what, trim_nails, "piece")
    bead = math.fsum(strips) if trim.adhesive else 0.0
    yield packed(config, "fasteners", "adhesive", "a bead behind every strip of trim", bead, "mm")
    yield packed(config, "fasteners", "putty", "for nail holes", slat_nails + trim_nails, "piece")


def nails_in(length: float, spacing: float) -> int:
    """Nails in a strip of trim: one near each end, between them none farther apart than the spacing, mm."""
    between = length - 2.0 * TRIM_FROM_END
    if between <= 0.0:
        return 1
    return math.ceil((between - ARITHMETIC) / spacing) + 1


def _words(config: Config, length: float) -> str:
    mark = INCH / 16.0 if config.units == "in" else 1.0
    return format_length(length, config.units, mark, "words")
