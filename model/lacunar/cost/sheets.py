"""Sheet goods: so many as the config says, or as many as cover the floor, the coffers or the whole ceiling."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from lacunar.config import ShopSheet
from lacunar.cost.packs import Supplies, priced, whole
from lacunar.cost.practice import CUT_OFF, CUT_OFF_RANGE
from lacunar.cost.sheet_cuts import around, cut_sheets, per_sheet
from lacunar.cost.surfaces import M2, ceiling_surface
from lacunar.cost.types import SheetItem
from lacunar.geometry import area
from lacunar.layout import Coffer, Layout
from lacunar.survey import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class _Need:
    """What sheets are bought for.

    Attributes:
        total_m2: that is covered.
        by_area_m2: of it, what is laid with joints, so that the area tells how many sheets it takes.
        cut: sheets that are cut into pieces without a joint.
        use: where, and which of the two was used.
    """

    total_m2: float
    by_area_m2: float
    cut: int
    use: str


def sheet_items(supplies: Supplies, sheets: Sequence[ShopSheet], room: Room, layout: Layout) -> tuple[SheetItem, ...]:
    """One item for each row of shop.sheet, in their order; those that are on hand are taken off."""
    return tuple(_item(supplies, sheet, room, layout) for sheet in sheets)


def _item(supplies: Supplies, sheet: ShopSheet, room: Room, layout: Layout) -> SheetItem:
    if sheet.count is not None:
        return _line(supplies, sheet, float(sheet.count), (sheet.count, sheet.count, sheet.count))
    need = _need(room, layout, sheet)
    spare, least, most = (CUT_OFF, *CUT_OFF_RANGE) if sheet.spare is None else (sheet.spare, sheet.spare, sheet.spare)
    one = _one(sheet)
    count, fewest, highest = (need.cut + whole(need.by_area_m2 * (1.0 + cut), one) for cut in (spare, least, most))
    is_taken = need.by_area_m2 > 0.0 and sheet.spare is None
    unsure = f"spare is not given: {CUT_OFF:.0%} is taken for what is cut off" if is_taken else ""
    jointed = whole(need.total_m2 * (1.0 + spare), one)
    joints = f" (about {jointed} with joints)" if jointed < count else ""
    return _line(supplies, sheet, need.total_m2, (count, fewest, highest), need.use + joints, unsure)


def _one(sheet: ShopSheet) -> float:
    """Area of one sheet, m2."""
    return sheet.length * sheet.width * M2


def _line(
    supplies: Supplies, sheet: ShopSheet, need: float, counts: tuple[int, int, int], use: str = "", unsure: str = ""
) -> SheetItem:
    """The item of a number of sheets, with the fewest and the most, those on hand not yet taken off."""
    count, least, most = (max(number - sheet.on_hand, 0) for number in counts)
    size = f"{supplies.tape.words(sheet.length)} x {supplies.tape.words(sheet.width)}"
    return priced(
        SheetItem,
        (count, least, most),
        sheet.price,
        group="sheets",
        name=sheet.name,
        what=f"{size}, {use}" if use else size,
        need=need,
        unit="m2" if sheet.covers else "piece",
        holds=_one(sheet) if sheet.covers else 1.0,
        unsure=unsure,
        length=sheet.length,
        width=sheet.width,
        mass_kg=sheet.mass,
        on_hand=min(sheet.on_hand, counts[0]),
        use=use,
    )


def _need(room: Room, layout: Layout, sheet: ShopSheet) -> _Need:
    if sheet.covers == "coffers":
        return _in_coffers(layout, sheet)
    if sheet.covers == "ceiling":
        total, place = ceiling_surface(room, layout), "on the ceiling from wall to wall"
    else:
        total, place = area(layout.outline) * M2, "on the floor"
    return _Need(total_m2=total, by_area_m2=total, cut=0, use=f"{place}, by area")


def _in_coffers(layout: Layout, sheet: ShopSheet) -> _Need:
    """A piece for each coffer that a sheet can be cut to; the others with joints, by area."""
    size = (sheet.length, sheet.width)
    sides = {coffer.id: around(coffer.outline, coffer.ceiling.plumb) for coffer in layout.coffers}
    pieces = [piece for piece in sides.values() if per_sheet(piece, size)]
    larger = [coffer for coffer in layout.coffers if not per_sheet(sides[coffer.id], size)]
    if not larger:
        use = "a piece for each coffer"
    elif not pieces:
        use = "by area: every coffer is larger than a sheet"
    else:
        use = f"a piece for each of {len(pieces)}, by area for {len(larger)} larger than a sheet"
    return _Need(
        total_m2=_sum_m2(layout.coffers),
        by_area_m2=_sum_m2(larger),
        cut=cut_sheets(pieces, size),
        use=f"in the coffers, {use}",
    )


def _sum_m2(coffers: Iterable[Coffer]) -> float:
    return math.fsum(area(coffer.outline) * coffer.ceiling.plumb for coffer in coffers) * M2


def sheet_notes(sheets: Sequence[ShopSheet], layout: Layout) -> Iterator[str]:
    """What else a layer under the old ceiling asks for, and where it is counted as more than can be laid."""
    layers = [sheet.name for sheet in sheets if sheet.covers in ("coffers", "ceiling")]
    if layers:
        names = " and ".join(dict.fromkeys(layers))
        yield (
            f"{names}: framing.old_ceiling.thickness includes this layer, since nails must reach through it, and "
            "heights are taken under it; the screws that hold it are not counted"
        )
    on_all = any(sheet.covers == "ceiling" for sheet in sheets)
    if on_all and any(bar.kind == "existing beam" for bar in layout.beams):
        yield "sheets on the ceiling are counted from wall to wall, as if no beams hung there"
