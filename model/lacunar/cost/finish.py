"""Paint behind the gaps, the coats on the wood, and what it takes to put them on in place."""

from collections.abc import Iterator, Sequence

from lacunar.config import CoatTable, Finish, PackName
from lacunar.cost.packs import Supplies, packed, painted
from lacunar.cost.practice import WALL_COATS
from lacunar.cost.surfaces import behind_surface, masked_length, surface_after, surface_before
from lacunar.cost.types import Item
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.survey import Room


def finish_items(
    supplies: Supplies, finish: Finish, room: Room, layout: Layout, parts: Sequence[Part], walls_m2: float
) -> Iterator[Item]:
    """Everything that is painted on.

    Args:
        supplies: cans of paint and tape.
        finish: what is painted.
        room: its old ceiling.
        layout: coffers and beams.
        parts: at the lengths of the plan.
        walls_m2: area of the walls.
    """
    if finish.behind:
        area = behind_surface(room, layout, parts) * finish.behind_coats
        yield _paint(supplies, "behind paint", finish.behind, finish.behind_coats, area)
    if not finish.coats:
        return
    before = finish.when == "before"
    surface = surface_before(layout, parts) if before else surface_after(layout, parts)
    for coats in _by_can(finish.coats):
        yield _coat(supplies, coats, surface, "all sides" if before else "what shows")
    if not before:
        yield packed(supplies, "finish", "masking tape", "walls, beams, fixtures", masked_length(layout), "mm")
        yield _paint(supplies, "wall paint", "walls", WALL_COATS, walls_m2 * WALL_COATS)


def _by_can(coats: Sequence[CoatTable]) -> list[list[CoatTable]]:
    """Coats that come out of one can."""
    cans: dict[tuple[str | None, ...], list[CoatTable]] = {}
    for coat in coats:
        cans.setdefault((coat.kind, coat.colour, coat.sheen), []).append(coat)
    return list(cans.values())


def _coat(supplies: Supplies, coats: Sequence[CoatTable], surface: float, where: str) -> Item:
    """All coats out of one can; what one of them says of the can holds for all."""
    first = coats[0]
    said = [coat.model_dump(include={"holds", "coverage", "price"}, exclude_none=True) for coat in reversed(coats)]
    can = first.changed(**{key: value for one in said for key, value in one.items()})
    name = ", ".join(word for word in (first.kind, first.colour, first.sheen) if word)
    return painted(supplies, name, f"{where}, {_coats(len(coats))}", surface * len(coats), can)


def _paint(supplies: Supplies, name: PackName, what: str, coats: int, area_m2: float) -> Item:
    return painted(supplies, name, f"{what}, {_coats(coats)}", area_m2, supplies.pack(name))


def _coats(count: int) -> str:
    return "1 coat" if count == 1 else f"{count} coats"
