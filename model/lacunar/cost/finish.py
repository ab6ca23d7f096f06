"""Paint behind the gaps, the coats on the wood, and what it takes to put them on in place."""

from collections.abc import Iterator, Sequence

from lacunar.config import CoatTable, Config, PackName
from lacunar.cost.packs import find_pack, packed, painted
from lacunar.cost.practice import WALL_COATS
from lacunar.cost.surfaces import behind_surface, masked_length, surface_after, surface_before, wall_surface
from lacunar.cost.types import Item
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.survey import Room


def finish_items(config: Config, room: Room, layout: Layout, parts: Sequence[Part]) -> tuple[Item, ...]:
    """Everything that is painted on; nothing where there is no [finish]."""
    return tuple(_items(config, room, layout, parts))


def _items(config: Config, room: Room, layout: Layout, parts: Sequence[Part]) -> Iterator[Item]:
    finish = config.finish
    if finish is None:
        return
    if finish.behind:
        area = behind_surface(room, layout, parts) * finish.behind_coats
        yield _paint(config, "behind paint", f"{finish.behind}, {_coats(finish.behind_coats)}", area)
    if not finish.coats:
        return
    before = finish.when == "before"
    surface = surface_before(layout, parts) if before else surface_after(layout, parts)
    for coats in _by_can(finish.coats):
        yield _coat(config, coats, surface, "all sides" if before else "what shows")
    if not before:
        yield packed(config, "finish", "masking tape", "walls, beams, fixtures", masked_length(layout), "mm")
        walls = wall_surface(config, room) * WALL_COATS
        yield _paint(config, "wall paint", f"walls, {_coats(WALL_COATS)}", walls)


def _by_can(coats: Sequence[CoatTable]) -> list[list[CoatTable]]:
    """Coats that come out of one can."""
    cans: dict[tuple[str | None, ...], list[CoatTable]] = {}
    for coat in coats:
        cans.setdefault((coat.kind, coat.colour, coat.sheen), []).append(coat)
    return list(cans.values())


def _coat(config: Config, coats: Sequence[CoatTable], surface: float, where: str) -> Item:
    """All coats out of one can; what one of them says of the can holds for all."""
    first = coats[0]
    name = ", ".join(word for word in (first.kind, first.colour, first.sheen) if word)
    return painted(
        config,
        name,
        f"{where}, {_coats(len(coats))}",
        surface * len(coats),
        holds=next((coat.holds for coat in coats if coat.holds is not None), None),
        coverage=next((coat.coverage for coat in coats if coat.coverage is not None), None),
        price=next((coat.price for coat in coats if coat.price is not None), None),
    )


def _paint(config: Config, name: PackName, what: str, area_m2: float) -> Item:
    pack = find_pack(config, name)
    return painted(
        config,
        name,
        what,
        area_m2,
        holds=pack.holds if pack else None,
        coverage=pack.coverage if pack else None,
        price=pack.price if pack else None,
        on_hand=pack.on_hand if pack else 0,
        paint=True,
    )


def _coats(count: int) -> str:
    return "1 coat" if count == 1 else f"{count} coats"
