"""The plan: what every part is cut to, from which board, in which order, and what is to be bought."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from lacunar.config import Config, Done
from lacunar.parts import Part
from lacunar.plan.by_plan import left_by_plan
from lacunar.plan.fewer_stops import stops_of
from lacunar.plan.groups import Group, Ways, buy_lines, make_groups
from lacunar.plan.laid_boards import Laid
from lacunar.plan.margin import safe_margins
from lacunar.plan.saw import Saw, make_saw
from lacunar.plan.section_row import gap_of, largest_gap, make_section
from lacunar.plan.settings import Stops, make_settings
from lacunar.plan.sticks import Stick, make_sticks, mark_of, with_given
from lacunar.plan.turns import make_steps
from lacunar.plan.types import Board, Plan, Setting, StopChoice, Turn
from lacunar.plan.unserved import unserved
from lacunar.tolerances import CONTACT
from lacunar.units import nearest_mark

UPWARDS = ("main beam", "half beam", "cross beam", "ledger", "furring", "moulding", "slat", "trim", "plug")
"""Kinds of parts in the order in which they go up."""


PROVED = ("bound", "proofs", "witness")
"""What a section's plan says of all plans that there could be."""

MANY = 4
"""Stops beyond the fewest from which it is weighed what fewer would cost. Common practice, no source."""


def make_plan(parts: Sequence[Part], config: Config, *, weighed: bool = False) -> Plan:
    """The cheapest boards that lengths within the parts' intervals allow, then few stops, then lengths as designed.

    Boards on hand cost nothing, so they are used first; what is cut already keeps its length and lies on no board any
    more. `cost` is that of the boards still to buy with the spares for the cull, before tax, delivery and contingency.
    Without prices the length of the boards counts. Parts that no board gives are listed, not raised.

    Args:
        parts: as designed, or as measured again.
        config: saw, shop, trim, what is done.
        weighed: where it takes many more stops than the fewest, plans by fewer are looked for: `by_stops`.
    """
    saw, done = make_saw(config), config.done
    cut = done.cut
    wanted = sorted((part for part in parts if part.bought), key=_upwards)
    every = make_sticks(with_given(wanted, config.field), saw, safe_margins(parts, config))
    sticks = tuple(stick for stick in every if stick.id not in cut)
    ways: Ways = {}
    whole = None if done == Done() else make_groups(every, saw, {}, Done())
    left = left_by_plan(whole, done, saw) if whole is not None else None
    groups = left or make_groups(sticks, saw, ways, done)
    if whole is not None and left is None:
        groups = _held(groups, whole, sticks, saw, done)
    plan = _plan(groups, sticks, saw, _plan(whole, every, saw) if whole is not None and left is not None else None)
    if weighed and left is None:
        plan = replace(plan, by_stops=_by_stops(groups, plan, sticks, saw, ways, done))
    lengths = {part.id: _cut_length(part, cut[part.id].length, saw) for part in parts if part.id in cut}
    return replace(plan, lengths={**plan.lengths, **lengths})


def _held(
    free: tuple[Group, ...], whole: Sequence[Group], sticks: Sequence[Stick], saw: Saw, done: Done
) -> tuple[Group, ...]:
    """The same at the lengths of the plan of everything, where what is cut has these too and no board more is bought.

    Something was done otherwise, a piece spoilt or cut from another board: no reason to cut all others to new lengths.
    What is proved of boards and stops stays what holds for free lengths.
    """
    lengths = {name: saw.mm(ticks) for group in whole for name, ticks in group.plan.lengths.items()}
    free_ids = {stick.id for group in whole for stick in group.sticks if stick.is_free}
    cut = done.cut
    if any(abs(cut[name].length - lengths[name]) > CONTACT for name in free_ids & lengths.keys() & cut.keys()):
        return free
    held = [
        replace(stick.part, length=lengths[stick.id], interval=(lengths[stick.id],) * 2)
        if stick.is_free and stick.id in lengths
        else stick.part
        for stick in sticks
    ]
    fixed = make_groups(make_sticks(held, saw), saw, {}, done)
    if _paid(fixed) > _paid(free) or any(one.plan.left_out for one in fixed):
        return free
    return tuple(
        replace(
            one, plan=replace(one.plan, bound=other.plan.bound, proofs=other.plan.proofs, witness=other.plan.witness)
        )
        for one, other in zip(fixed, free, strict=True)
    )


def _by_stops(
    groups: Sequence[Group], plan: Plan, sticks: Sequence[Stick], saw: Saw, ways: Ways, done: Done
) -> tuple[StopChoice, ...]:
    """The same made anew by fewer stops, as long as each costs less than the one before; then the plan itself."""
    most = max((stops_of(group.plan, saw) for group in groups), default=0)
    fewest = max((min(len(group.plan.witness), stops_of(group.plan, saw)) for group in groups), default=0)
    if most - fewest < MANY:
        return ()
    numbers = {stops_of(one, saw) for way in ways.values() for one in way.dearer}
    rows, least, dearest = list[StopChoice](), _paid(groups), math.inf
    for number in sorted(n for n in numbers if fewest <= n < most):
        other = make_groups(sticks, replace(saw, most_stops=number), ways, done)
        is_whole = all(a.plan.left_out == b.plan.left_out for a, b in zip(groups, other, strict=True))
        if is_whole and least < _paid(other) < dearest:
            dearest = _paid(other)
            rows.append(_choice(number, _plan(other, sticks, saw)))
    return (*rows, _choice(most, plan)) if rows else ()


def _paid(groups: Sequence[Group]) -> int:
    """In whole numbers: sums of money that differ in the last digit alone are the same."""
    return sum(group.plan.cost for group in groups)


def _choice(most: int, plan: Plan) -> StopChoice:
    return StopChoice(
        most=most,
        stops=plan.distinct_lengths,
        placements=sum(section.placements for section in plan.sections),
        cost=plan.cost,
        board_length=plan.board_length,
        proven=plan.proven,
    )


def _plan(groups: Sequence[Group], sticks: Sequence[Stick], saw: Saw, whole: Plan | None = None) -> Plan:
    """Of groups; where they are what is left of a whole plan, its settings and places keep their names."""
    stops = _stops(groups, saw)
    settings = make_settings(sticks, stops, saw) if whole is None else _still(whole.settings, sticks)
    boards, turns = _boards_and_turns(groups, settings, saw)
    sections = tuple(
        make_section(group, settings, turns, boards, saw) for group in groups if group.laid or group.to_buy
    )
    buy = tuple(line for group in groups for line in buy_lines(group, saw.shop.cull))
    cost = None if any(line.total is None for line in buy) else math.fsum(line.total or 0.0 for line in buy)
    bounds = [section.lower_bound for section in sections]
    bound = None if cost is None or None in bounds else math.fsum(b or 0.0 for b in bounds)
    board_length = math.fsum(board.length for board in boards)
    used_length = math.fsum(saw.mm(ticks) for group in groups for ticks in _used(group))
    return Plan(
        lengths={stick.id: _length(stick, stops) for group in groups for stick in group.sticks},
        settings=settings,
        boards=boards,
        turns=turns,
        sections=sections,
        buy=buy,
        unserved=tuple(item for group in groups for item in unserved(group, saw)),
        slots=_slots(sticks, stops) if whole is None else whole.slots,
        cost=cost,
        lower_bound=bound,
        gap=gap_of(cost, bound) if cost is not None else largest_gap([section.gap for section in sections]),
        proven=all(section.proven for section in sections),
        board_length=board_length,
        used_length=used_length,
        waste=1.0 - used_length / board_length if board_length else 0.0,
    )


def _still(settings: Sequence[Setting], sticks: Sequence[Stick]) -> tuple[Setting, ...]:
    """Those at which something is still to be cut."""
    left = {stick.id for stick in sticks}
    still = (replace(one, parts=tuple(part for part in one.parts if part in left)) for one in settings)
    return tuple(one for one in still if one.parts)


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
        rests = _rests(group.laid)
        used = [tuple(dict.fromkeys(stop_ids[cut.part] for cut in laid.cuts)) for laid in group.laid]
        for step in make_steps([laid.step for laid in group.laid], used, saw.shop.flip_stops):
            number, first = len(turns) + 1, len(boards) + 1
            mine = [
                _board(f"B{laid.number or first + n}", group, laid, next(rests), number, shortest)
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


def _cut_length(part: Part, cut: float, saw: Saw) -> float:
    """As recorded; what was cut to the mark nearest to its place keeps its exact length, as it does in a plan."""
    near = part.interval is None and abs(cut - part.length) <= mark_of(part, saw.tape) / 2.0 + CONTACT
    return part.length if near else cut


def _rests(laid: Sequence[Laid]) -> Iterator[int | None]:
    """Of each board the number of the one that it is left of; those that are alike are dealt out in order."""
    waiting = {one.offer: iter(one.offer.rests) for one in laid if one.offer.rests}
    return (next(waiting[one.offer]) if one.offer.rests else one.rest for one in laid)


def _used(group: Group) -> list[int]:
    """What the parts take of the boards, kerfs aside: two rips beside each other once, strips by their middle."""
    left = {stick.id for stick in group.sticks}
    pieces = [
        (n, piece) for n, piece in enumerate(group.plan.pieces) if any(stick.id in left for stick in piece.sticks)
    ]
    if group.plan.nest is not None:
        return [group.plan.ticks[n] for n, _ in pieces]
    return [max(group.plan.lengths[stick.id] for stick in piece.sticks) for _, piece in pieces]


def _slots(sticks: Sequence[Stick], stops: Stops) -> Mapping[str, int]:
    """A place in the rack for each coffer's (or row's) parts of one length, in the order in which they go up."""
    numbers: dict[tuple[str, str, float], int] = {}
    out: dict[str, int] = {}
    for stick in sticks:
        key = (stick.part.coffer or stick.id.partition("-")[0], stick.part.kind, stops.where[stick.id])
        out[stick.id] = numbers.setdefault(key, len(numbers) + 1)
    return out
