"""Parts by what they are cut from: one stock and species after the other."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.grid import Grid
from lacunar.plan.lay import Laid, lay_boards
from lacunar.plan.section import SectionPlan, plan_section
from lacunar.plan.stock import Offer, bought_as, offers


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Parts of one stock and species, and how they are cut."""

    stock: str
    species: str
    parts: tuple[Part, ...]
    rows: tuple[Offer, ...]
    plan: SectionPlan
    laid: tuple[Laid, ...]


def make_groups(parts: Sequence[Part], config: Config, grid: Grid) -> tuple[Group, ...]:
    """By stock and species, the first to go up first: two kinds of wood share no board, nor the boards on hand."""
    sorts: dict[tuple[str, str], list[Part]] = {}
    for part in parts:
        sorts.setdefault((bought_as(part, config), part.species), []).append(part)
    used: Counter[tuple[str, float, bool]] = Counter()
    groups: list[Group] = []
    for (stock, species), mine in sorts.items():
        rows = offers(config, stock)
        left = tuple(row.less(used[stock, row.length, True], used[stock, row.length, False]) for row in rows)
        plan = plan_section(mine, left, config, grid)
        laid = lay_boards(plan, config, grid)
        used.update((stock, one.offer.length, one.on_hand) for one in laid)
        groups.append(Group(stock=stock, species=species, parts=tuple(mine), rows=rows, plan=plan, laid=laid))
    return tuple(groups)
