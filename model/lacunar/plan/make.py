"""The plan: what every part is cut to, from which board, in which order, and what is to be bought."""

import math
from collections.abc import Iterator, Mapping, Sequence

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.groups import Group, buy_lines, make_groups
from lacunar.plan.laid_boards import Laid
from lacunar.plan.margin import safe_margins
from lacunar.plan.saw import Saw, make_saw
from lacunar.plan.section_row import gap_of, largest_gap, make_section
from lacunar.plan.settings import Stops, make_settings
from lacunar.plan.sticks import Stick, make_sticks, with_given
from lacunar.plan.turns import make_steps
from lacunar.plan.types import Board, Plan, Setting, Turn
from lacunar.plan.unserved import unserved
from lacunar.tolerances import CONTACT
from lacunar.units import nearest_mark

UPWARDS = ("main beam", "half beam", "cross beam", "ledger", "furring", "moulding", "slat", "trim", "plug")
"""Kinds of parts in the order in which they go up."""


def make_plan(parts: Sequence[Part], config: Config) -> Plan:
    """The cheapest boards that lengths within the parts' intervals allow, then few stops, then lengths as designed.

    Boards on hand cost nothing, so they are used first; what is cut already keeps its length and lies on no board any
    more. `cost` is that of the boards still to buy with the spares for the cull, before tax, delivery and contingency.
    Without prices the length of the boards counts. Parts that no board gives are listed, not raised.

    Args:
        parts: as designed, or as measured again.
        config: saw, shop, trim, what is done.
    """
    saw, cut = make_saw(config), config.done.cut
    wanted = sorted((part for part in parts if part.bought and part.id not in cut), key=_upwards)
    sticks = make_sticks(with_given(wanted, config.field), saw, safe_margins(parts, config))
    groups = make_groups(sticks, saw, config.done)
    stops = _stops(groups, saw)
    settings = make_settings(sticks, stops, saw)
    boards, turns = _boards_and_turns(groups, settings, saw)
    sections = tuple(make_section(group, settings, turns, boards, saw) for group in groups if group.laid)
    buy = tuple(line for group in groups for line in buy_lines(group, saw.shop.cull))
    cost = None if any(line.total is None for line in buy) else math.fsum(line.total or 0.0 for line in buy)
    bounds = [section.lower_bound for section in sections]
    bound = None if cost is None or None in bounds else math.fsum(b or 0.0 for b in bounds)
    board_length = math.fsum(board.length for board in boards)
    used_length = math.fsum(saw.mm(ticks) for group in groups for ticks in _used(group))
    return Plan(
        lengths={
            **{stick.id: _length(stick, stops) for group in groups for stick in group.sticks},
            **{part.id: cut[part.id].length for part in parts if part.id in cut},
        },
        settings=settings,
        boards=boards,
        turns=turns,
        sections=sections,
        buy=buy,
        unserved=tuple(item for group in groups for item in unserved(group, saw)),
        slots=_slots(sticks, stops),
        cost=cost,
        lower_bound=bound,
        gap=gap_of(cost, bound) if cost is not None else largest_gap([section.gap for section in sections]),
        proven=all(section.proven for section in sections),
        board_length=board_length,
        used_length=used_length,
        waste=1.0 - used_length / board_length if board_length else 0.0,
    )


def _upwards(part: Part) -> int:
    return UPWARDS.index(part.kind)


def _length(stick: Stick, stops: Stops) -> float:
    """As long as the stop is set for; what is fitted to its place keeps the exact length."""
    return stops.where[stick.id] if stick.is_free or stick.part.kind == "slat" else stick.part.length


def _stops(groups: Sequence[Group], saw: Saw) -> Stops:
    """Where the stop stands for each part, in the order in which they are cut."""
    where: dict[str, float] = {}
    apart: set[str] = set()
    for group in groups:
        ids, lengths = {stick.id: stick for stick in group.sticks}, group.plan.lengths
        cut = [cut.part for laid in group.laid for cut in laid.cuts]
        for name in dict.fromkeys((*cut, *ids)):
            stick = ids[name]
            where[name] = stop = saw.mm(lengths[name]) if stick.is_free and name in lengths else stick.stop
            # Also a length that was given or kept: between two marks of the tape nobody sets a stop.
            if name in group.plan.apart or abs(stop - nearest_mark(stop, stick.mark)) > CONTACT:
                apart.add(name)
    return Stops(where=where, apart=frozenset(apart))


def _boards_and_turns(
    groups: Sequence[Group], settings: Sequence[Setting], saw: Saw
) -> tuple[tuple[Board, ...], tuple[Turn, ...]]:
    stop_ids = {part: setting.id for setting in settings if setting.stop is not None for part in setting.parts}
    boards: list[Board] = []
    turns: list[Turn] = []
    for group in groups:
        shortest = saw.mm(min(group.plan.lengths.values(), default=0))
        numbers = iter(_rests(group.laid))
        used = [tuple(dict.fromkeys(stop_ids[cut.part] for cut in laid.cuts)) for laid in group.laid]
        for step in make_steps([laid.step for laid in group.laid], used, saw.shop.flip_stops):
            number, first = len(turns) + 1, len(boards) + 1
            mine = [
                _board(f"B{first + n}", group, laid, next(numbers), number, shortest)
                for n, laid in enumerate(group.laid[slice(*step.boards)])
            ]
            boards += mine
            names = tuple(board.id for board in mine)
            turns.append(Turn(number=number, boards=names, stops=step.stops, placed=step.placed))
    return tuple(boards), tuple(turns)


def _board(name: str, group: Group, laid: Laid, rest: int | None, turn: int, shortest: float) -> Board:
    return Board(
        id=name,
        stock=group.stock,
        species=group.species,
        length=laid.offer.length,
        price=0.0 if laid.on_hand else laid.offer.price,
        on_hand=laid.on_hand,
        cuts=laid.cuts,
        offcut=laid.offcut,
        keep=laid.offcut > 0.0 and laid.offcut >= shortest,
        turn=turn,
        rest=rest,
    )


def _rests(laid: Sequence[Laid]) -> Iterator[int | None]:
    """Of each board the number of the one that it is left of; those that are alike are dealt out in order."""
    waiting = {one.offer: iter(one.offer.rests) for one in laid if one.offer.rests}
    return (next(waiting[one.offer]) if one.offer.rests else None for one in laid)


def _used(group: Group) -> list[int]:
    """What the parts take of the boards, kerfs aside: two rips beside each other once, strips by their middle."""
    if group.plan.nest is not None:
        return list(group.plan.ticks)
    return [max(group.plan.lengths[stick.id] for stick in piece.sticks) for piece in group.plan.pieces]


def _slots(sticks: Sequence[Stick], stops: Stops) -> Mapping[str, int]:
    """A place in the rack for each coffer's (or row's) parts of one length, in the order in which they go up."""
    numbers: dict[tuple[str, str, float], int] = {}
    out: dict[str, int] = {}
    for stick in sticks:
        key = (stick.part.coffer or stick.id.partition("-")[0], stick.part.kind, stops.where[stick.id])
        out[stick.id] = numbers.setdefault(key, len(numbers) + 1)
    return out
