"""What the car has to carry."""

import math
from collections.abc import Mapping, Sequence

from lacunar.config import Config
from lacunar.cost.practice import CAR_KG
from lacunar.cost.types import Item, Load, SheetItem, SheetLoad
from lacunar.materials import find_lumber, find_species
from lacunar.plan import Buy, Plan
from lacunar.tolerances import ARITHMETIC

Section = tuple[float, float]


def make_load(config: Config, plan: Plan, items: Sequence[Item]) -> Load:
    """Length and weight of the bought boards (section x length x density of the wood at 12 % moisture) and sheets."""
    sections = _sections(config)
    mass, boards, unknown, too_long = 0.0, 0, 0, 0
    for line in plan.buy:
        count = line.count + line.spare
        kg_per_mm = _kg_per_mm(sections, line)
        boards += count
        mass += count * line.length * (kg_per_mm or 0.0)
        unknown += 0 if kg_per_mm is not None else count
        too_long += count if _is_too_long(config, line.length) else 0
    sheets = [item for item in items if isinstance(item, SheetItem) and item.count]
    for item in sheets:
        mass += item.count * (item.mass_kg or 0.0)
        unknown += 0 if item.mass_kg is not None else item.count
        too_long += item.count if _is_too_long(config, max(item.length, item.width)) else 0
    limit = config.shop.heaviest or CAR_KG
    return Load(
        boards=boards,
        longest=max((line.length for line in plan.buy), default=0.0),
        sheets=tuple(SheetLoad(name=one.name, count=one.count, length=one.length, width=one.width) for one in sheets),
        too_long=too_long,
        mass_kg=mass,
        limit_kg=limit,
        loads=math.ceil(mass / limit),
        unknown=unknown,
    )


def _is_too_long(config: Config, length: float) -> bool:
    """For the car."""
    return config.shop.longest is not None and length > config.shop.longest + ARITHMETIC


def _kg_per_mm(sections: Mapping[str, Section], line: Buy) -> float | None:
    """Of one board."""
    section, wood = sections.get(line.stock), find_species(line.species)
    return None if section is None or wood is None else section[0] * section[1] * 1e-9 * wood.density


def _sections(config: Config) -> Mapping[str, Section]:
    """Of every stock that the config uses, by name: both sides, mm."""
    cross, trim, slats = config.cross_beams, config.trim, config.slats
    found = {beam.stock: (beam.width, beam.depth) for beam in config.beam if beam.stock}
    if cross is not None and cross.stock:
        found[cross.stock] = (cross.width, cross.depth)
    found |= {trim.stock: (trim.width, trim.height), slats.stock: (slats.width, slats.thickness)}
    found[config.furring.stock] = (config.furring.width, config.furring.thickness)
    dressed = {name: find_lumber(name) for name in found}
    return {name: (size.thickness, size.width) if (size := dressed[name]) else found[name] for name in found}
