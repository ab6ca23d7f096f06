"""The plan: what every part is cut to, from which board, in which order, and what is to be bought."""

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.grid import Grid, make_grid
from lacunar.plan.keep import keep_lengths
from lacunar.plan.lay import Laid, lay_boards
from lacunar.plan.pieces import is_free, mark_of, stop_of
from lacunar.plan.section import CENTS, SectionPlan, plan_section
from lacunar.plan.settings import Stops, make_settings
from lacunar.plan.spares import spares
from lacunar.plan.stock import Offer, Saw, bought_as, offers, why_unserved
from lacunar.plan.turns import least_placements, make_steps
from lacunar.plan.types import Board, Buy, Plan, Section, Setting, Turn, Unserved
from lacunar.tolerances import CONTACT
from lacunar.units import nearest_mark

NOTHING: Mapping[str, float] = MappingProxyType({})

UPWARDS = ("main beam", "half beam", "cross beam", "ledger", "furring", "moulding", "slat", "trim", "plug")
"""Kinds of parts in the order in which they go up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Group:
    """Parts of one stock and species, and how they are cut."""

    stock: str
    species: str
    parts: tuple[Part, ...]
    rows: tuple[Offer, ...]
    plan: SectionPlan
    laid: tuple[Laid, ...]


def make_plan(parts: Sequence[Part], config: Config, keep: Mapping[str, float] = NOTHING) -> Plan:
    """The cheapest boards that lengths within the parts' intervals allow, then few stops, then lengths as designed.

    Boards on hand cost nothing, so they are used first. `cost` is that of the boards with the spares for the cull,
    before tax, delivery and contingency. Without prices the length of the boards counts. Parts that no board gives are
    listed, not raised.

    Args:
        parts: as designed, or as measured again.
        config: saw, shop, trim.
        keep: part id to the length that the plan before the measuring chose, mm; none where it is to be chosen now.
    """
    bought = sorted((part for part in parts if part.bought), key=lambda part: UPWARDS.index(part.kind))
    grid = make_grid(config)
    wanted = keep_lengths(bought, keep, config, grid) if keep else bought
    groups = _groups(wanted, config, grid)
    lengths = {part.id: _length(part, group, grid) for group in groups for part in group.parts}
    stops = _stops(groups, config, grid)
    settings = make_settings(wanted, config, stops)
    boards, turns = _boards_and_turns(groups, settings, config.shop.flip_stops)
    sections = tuple(_section(group, settings, turns, boards, grid, config) for group in groups if group.laid)
    buy = tuple(line for group in groups for line in _buy(group, config.shop.cull))
    cost = None if any(line.total is None for line in buy) else math.fsum(line.total or 0.0 for line in buy)
    bounds = [section.lower_bound for section in sections]
    bound = None if cost is None or None in bounds else math.fsum(b or 0.0 for b in bounds)
    board_length = math.fsum(board.length for board in boards)
    used_length = math.fsum(grid.mm(ticks) for group in groups for ticks in _used(group))
    return Plan(
        lengths=lengths,
        settings=settings,
        boards=boards,
        turns=turns,
        sections=sections,
        buy=buy,
        unserved=tuple(item for group in groups for item in _unserved(group, config)),
        slots=_slots(wanted, stops),
        cost=cost,
        lower_bound=bound,
        gap=_gap(cost, bound) if cost is not None else _largest([section.gap for section in sections]),
        proven=all(section.proven for section in sections),
        board_length=board_length,
        used_length=used_length,
        waste=1.0 - used_length / board_length if board_length else 0.0,
    )


def _gap(cost: float | None, bound: float | None) -> float | None:
    if cost is None or bound is None:
        return None
    if bound == 0.0:
        return 0.0 if cost == 0.0 else None
    return (cost - bound) / bound


def _largest(gaps: Sequence[float | None]) -> float | None:
    return None if None in gaps else max((gap or 0.0 for gap in gaps), default=0.0)


def _groups(parts: Sequence[Part], config: Config, grid: Grid) -> list[_Group]:
    """By stock and species, the first to go up first: two kinds of wood share no board, nor the boards on hand."""
    sorts: dict[tuple[str, str], list[Part]] = {}
    for part in parts:
        sorts.setdefault((bought_as(part, config), part.species), []).append(part)
    used: Counter[tuple[str, float, bool]] = Counter()
    groups: list[_Group] = []
    for (stock, species), mine in sorts.items():
        rows = offers(config, stock)
        left = tuple(row.less(used[stock, row.length, True], used[stock, row.length, False]) for row in rows)
        plan = plan_section(mine, left, config, grid)
        laid = lay_boards(plan, config, grid)
        used.update((stock, one.offer.length, one.on_hand) for one in laid)
        groups.append(_Group(stock=stock, species=species, parts=tuple(mine), rows=rows, plan=plan, laid=laid))
    return groups


def _length(part: Part, group: _Group, grid: Grid) -> float:
    """As chosen; where nothing was to be chosen, the exact length, which no mark spoils."""
    return grid.mm(group.plan.lengths[part.id]) if is_free(part) and part.id in group.plan.lengths else part.length


def _stops(groups: Sequence[_Group], config: Config, grid: Grid) -> Stops:
    """Where the stop stands for each part, in the order in which they are cut."""
    where: dict[str, float] = {}
    apart: set[str] = set()
    for group in groups:
        ids = {part.id: part for part in group.parts}
        cut = [cut.part for laid in group.laid for cut in laid.cuts]
        for name in dict.fromkeys((*cut, *ids)):
            part = ids[name]
            free = is_free(part) and name in group.plan.lengths
            where[name] = grid.mm(group.plan.lengths[name]) if free else stop_of(part, config)
            # Also a length that was given or kept: between two marks of the tape nobody sets a stop.
            if (
                name in group.plan.apart
                or abs(where[name] - nearest_mark(where[name], mark_of(part, config))) > CONTACT
            ):
                apart.add(name)
    return Stops(where=where, apart=frozenset(apart))


def _boards_and_turns(
    groups: Sequence[_Group], settings: Sequence[Setting], flip_stops: int
) -> tuple[tuple[Board, ...], tuple[Turn, ...]]:
    stop_ids = {part: setting.id for setting in settings if setting.stop is not None for part in setting.parts}
    boards: list[Board] = []
    turns: list[Turn] = []
    for group in groups:
        shortest = min(group.plan.lengths.values(), default=0)
        used = [tuple(dict.fromkeys(stop_ids[cut.part] for cut in laid.cuts)) for laid in group.laid]
        for step in make_steps([laid.step for laid in group.laid], used, flip_stops):
            number, first = len(turns) + 1, len(boards) + 1
            mine = [
                _board(f"B{first + n}", group, laid, number, shortest)
                for n, laid in enumerate(group.laid[slice(*step.boards)])
            ]
            boards += mine
            names = tuple(board.id for board in mine)
            turns.append(Turn(number=number, boards=names, stops=step.stops, placed=step.placed))
    return tuple(boards), tuple(turns)


def _board(name: str, group: _Group, laid: Laid, turn: int, shortest: int) -> Board:
    return Board(
        id=name,
        stock=group.stock,
        species=group.species,
        length=laid.offer.length,
        price=0.0 if laid.on_hand else laid.offer.price,
        on_hand=laid.on_hand,
        cuts=laid.cuts,
        offcut=laid.offcut,
        keep=laid.offcut > 0.0 and laid.offcut >= laid.tick * shortest,
        turn=turn,
    )


def _section(
    group: _Group,
    settings: Sequence[Setting],
    turns: Sequence[Turn],
    boards: Sequence[Board],
    grid: Grid,
    config: Config,
) -> Section:
    plan = group.plan
    unit = 1.0 / CENTS if plan.lumber.priced else grid.tick
    cost, bound = plan.cost * unit, plan.bound * unit
    numbers = {board.turn for board in boards if (board.stock, board.species) == (group.stock, group.species)}
    mine = [turn for turn in turns if turn.number in numbers]
    stops = [s for s in settings if s.stop is not None and (s.stock, s.species) == (group.stock, group.species)]
    pairs = [piece for piece in plan.pieces if len(piece.parts) == 2]
    return Section(
        stock=group.stock,
        species=group.species,
        cost=cost if plan.lumber.priced else None,
        lower_bound=bound if plan.lumber.priced else None,
        gap=_gap(cost, bound),
        proven=plan.cost == plan.bound,
        stops=sum(not stop.apart for stop in stops),
        apart=sum(len(stop.parts) for stop in stops if stop.apart),
        fewest=plan.fewest,
        witness=plan.witness,
        placements=sum(len(turn.placed) for turn in mine),
        least_placements=least_placements([turn.stops for turn in mine], config.shop.flip_stops),
        saved=math.fsum(grid.mm(min(plan.lengths[part.id] for part in piece.parts)) for piece in pairs),
        proofs=plan.proofs,
        refuted=plan.refuted,
        by_clock=plan.solution is not None and plan.solution.by_clock,
    )


def _used(group: _Group) -> list[int]:
    """What the parts take of the boards, kerfs aside: two rips beside each other once, strips by their middle."""
    if group.plan.nest is not None:
        return list(group.plan.ticks)
    return [max(group.plan.lengths[part.id] for part in piece.parts) for piece in group.plan.pieces]


def _buy(group: _Group, cull: float) -> list[Buy]:
    counts = Counter(laid.offer for laid in group.laid if not laid.on_hand)
    lines: list[Buy] = []
    for offer in sorted(counts, key=lambda offer: offer.length):
        spare = spares(counts[offer], cull)
        lines.append(
            Buy(
                stock=group.stock,
                species=group.species,
                length=offer.length,
                count=counts[offer],
                spare=spare,
                price=offer.price,
                total=None if offer.price is None else (counts[offer] + spare) * offer.price,
            )
        )
    return lines


def _unserved(group: _Group, config: Config) -> list[Unserved]:
    saw = Saw(kerf=config.shop.kerf, end_waste=config.shop.end_waste)
    return [
        Unserved(
            part=part.id,
            stock=group.stock,
            length=part.length,
            reason=why_unserved(part.length, group.stock, group.rows, config, saw),
        )
        for part in group.plan.left_out
    ]


def _slots(parts: Sequence[Part], stops: Stops) -> Mapping[str, int]:
    """A place in the rack for each coffer's (or row's) parts of one length, in the order in which they go up."""
    numbers: dict[tuple[str, str, float], int] = {}
    out: dict[str, int] = {}
    for part in parts:
        key = (part.coffer or part.id.partition("-")[0], part.kind, stops.where[part.id])
        out[part.id] = numbers.setdefault(key, len(numbers) + 1)
    return out
