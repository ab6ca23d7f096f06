"""What the car has to carry."""

import math
from collections.abc import Mapping, Sequence

from lacunar.config import Config, Shop
from lacunar.cost.practice import CAR_KG
from lacunar.cost.types import Item, Load, SheetLoad
from lacunar.materials import find_lumber, find_species
from lacunar.plan import Buy, Plan
from lacunar.tolerances import ARITHMETIC

Section = tuple[float, float]


def make_load(shop: Shop, sections: Mapping[str, Section], plan: Plan, items: Sequence[Item]) -> Load:
    """Length and weight of the bought boards (section x length x density of the wood at 12 % moisture) and sheets.

    Args:
        shop: what the car takes.
        sections: both sides of every stock, mm.
        plan: boards.
        items: sheets among them.
    """
    mass, boards, unknown, too_long = 0.0, 0, 0, 0
    for line in plan.buy:
        count = line.count + line.spare
        kg_per_mm = _kg_per_mm(sections, line)
        boards += count
        mass += count * line.length * (kg_per_mm or 0.0)
        unknown += 0 if kg_per_mm is not None else count
        too_long += count if _is_too_long(shop, line.length) else 0
    sheets = [(item.sheet, item) for item in items if item.sheet is not None and item.count]
    for size, item in sheets:
        mass += item.count * (size.mass_kg or 0.0)
        unknown += 0 if size.mass_kg is not None else item.count
        too_long += item.count if _is_too_long(shop, max(size.length, size.width)) else 0
    limit = shop.heaviest or CAR_KG
    return Load(
        boards=boards,
        longest=max((line.length for line in plan.buy), default=0.0),
        sheets=tuple(
            SheetLoad(name=item.name, count=item.count, length=size.length, width=size.width) for size, item in sheets
        ),
        too_long=too_long,
        mass_kg=mass,
        limit_kg=limit,
        loads=math.ceil(mass / limit),
        unknown=unknown,
    )


def _is_too_long(shop: Shop, length: float) -> bool:
    """For the car."""
    return shop.longest is not None and length > shop.longest + ARITHMETIC


def _kg_per_mm(sections: Mapping[str, Section], line: Buy) -> float | None:
    """Of one board."""
    section, wood = sections.get(line.stock), find_species(line.species)
    return None if section is None or wood is None else section[0] * section[1] * 1e-9 * wood.density


def sections_of(config: Config) -> Mapping[str, Section]:
    """Of every stock that the config uses, by name: both sides, mm."""
    cross, trim, slats = config.cross_beams, config.trim, config.slats
    found = {beam.stock: (beam.width, beam.depth) for beam in config.beam if beam.stock}
    if cross is not None and cross.stock:
        found[cross.stock] = (cross.width, cross.depth)
    found |= {trim.stock: (trim.width, trim.height), slats.stock: (slats.width, slats.thickness)}
    found[config.furring.stock] = (config.furring.width, config.furring.thickness)
    dressed = {name: find_lumber(name) for name in found}
    return {name: (size.thickness, size.width) if (size := dressed[name]) else found[name] for name in found}
