"""What the car has to carry."""

import math
from collections.abc import Mapping, Sequence

from lacunar.config import Config, Shop
from lacunar.cost.practice import CAR_KG
from lacunar.cost.types import Item, Load, SheetItem, SheetLoad
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
    boards = [(line.count + line.spare, line.length, _kg_per_mm(sections, line)) for line in plan.buy]
    sheets = [item for item in items if isinstance(item, SheetItem) and item.count]
    # how many, how long, and what all of them weigh
    loaded = [(count, length, None if kg is None else count * length * kg) for count, length, kg in boards]
    for item in sheets:
        kg = None if item.mass_kg is None else item.count * item.mass_kg
        loaded.append((item.count, max(item.length, item.width), kg))
    mass = sum(kg or 0.0 for _, _, kg in loaded)
    limit, longest = shop.heaviest or CAR_KG, math.inf if shop.longest is None else shop.longest + ARITHMETIC
    return Load(
        boards=sum(count for count, _, _ in boards),
        longest=max((line.length for line in plan.buy), default=0.0),
        sheets=tuple(SheetLoad(name=one.name, count=one.count, length=one.length, width=one.width) for one in sheets),
        too_long=sum(count for count, length, _ in loaded if length > longest),
        mass_kg=mass,
        limit_kg=limit,
        loads=math.ceil(mass / limit),
        unknown=sum(count for count, _, kg in loaded if kg is None),
    )


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
