"""The plan: every part at its designed length, on boards, with its saw settings."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan.boards import Load, Piece, load_boards, spares
from lacunar.plan.bound import lower_bound
from lacunar.plan.settings import make_settings
from lacunar.plan.stock import Saw, bought_as, offers, why_unserved
from lacunar.plan.types import Board, Buy, Cut, Plan, Unserved

PROVEN = 1e-9
"""Relative. A gap below it is rounding of prices."""


@dataclass(frozen=True, slots=True)
class _Group:
    """Parts of one stock and species, on their boards."""

    stock: str
    loads: tuple[Load, ...]
    unserved: tuple[Unserved, ...]
    bound: float | None


def make_plan(parts: Sequence[Part], config: Config) -> Plan:
    """Cut every bought part at its designed length from boards of the shop table, or of the default lengths.

    Boards on hand are used first and cost nothing. `cost` is that of the boards with the spares for the cull, before
    tax, delivery and contingency. A rip takes a whole board's width. Parts that no board gives are listed, not raised.
    """
    wanted = [part for part in parts if part.bought]
    saw = Saw(kerf=config.shop.kerf, end_waste=config.shop.end_waste)
    groups = _groups(wanted, config, saw)
    boards = _boards(groups, saw)
    buy = _buy(groups, config.shop.cull)
    cost = None if any(line.total is None for line in buy) else math.fsum(line.total or 0.0 for line in buy)
    bounds = [group.bound for group in groups if group.loads]
    bound = None if cost is None or None in bounds else math.fsum(b or 0.0 for b in bounds)
    gap = _gap(cost, bound)
    board_length = math.fsum(board.length for board in boards)
    used_length = math.fsum(cut.end - cut.start for board in boards for cut in board.cuts)
    return Plan(
        lengths={part.id: part.length for part in wanted},
        settings=make_settings(wanted, config),
        boards=boards,
        buy=buy,
        unserved=tuple(item for group in groups for item in group.unserved),
        cost=cost,
        lower_bound=bound,
        gap=gap,
        proven=gap is not None and gap <= PROVEN,
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


def _groups(parts: Sequence[Part], config: Config, saw: Saw) -> list[_Group]:
    """By stock and species: two kinds of wood share no board, nor the boards on hand."""
    sorts: dict[tuple[str, str], list[Part]] = {}
    for part in parts:
        sorts.setdefault((bought_as(part, config), part.species), []).append(part)
    used: dict[tuple[str, float], int] = {}
    return [_group(stock, sorts[stock, species], config, saw, used) for stock, species in sorted(sorts)]


def _group(stock: str, parts: Sequence[Part], config: Config, saw: Saw, used: dict[tuple[str, float], int]) -> _Group:
    rows = offers(config, stock)
    left = tuple(row.less(used.get((stock, row.length), 0)) for row in rows)
    pieces = [Piece(part=part.id, length=part.length) for part in parts]
    loads, over = load_boards(pieces, left, saw, config.shop.cull)
    for load in loads:
        if load.owned:
            key = (stock, load.offer.length)
            used[key] = used.get(key, 0) + 1
    missing = {piece.part for piece in over}
    served = [piece for piece in pieces if piece.part not in missing]
    return _Group(
        stock=stock,
        loads=loads,
        unserved=tuple(
            Unserved(
                part=piece.part,
                stock=stock,
                length=piece.length,
                reason=why_unserved(piece.length, stock, rows, config, saw),
            )
            for piece in over
        ),
        bound=lower_bound(served, left, saw, config.shop.cull),
    )


def _boards(groups: Sequence[_Group], saw: Saw) -> tuple[Board, ...]:
    loads = [(group.stock, load) for group in groups for load in group.loads]
    return tuple(_board(f"B{i}", stock, load, saw) for i, (stock, load) in enumerate(loads, 1))


def _board(name: str, stock: str, load: Load, saw: Saw) -> Board:
    """Cuts from one end to the other, a kerf between each two; what is left beyond the last kerf is the offcut."""
    at = saw.end_waste
    cuts: list[Cut] = []
    for piece in load.pieces:
        cuts.append(Cut(part=piece.part, start=at, end=at + piece.length))
        at += piece.length + saw.kerf
    return Board(
        id=name,
        stock=stock,
        length=load.offer.length,
        price=0.0 if load.owned else load.offer.price,
        cuts=tuple(cuts),
        offcut=max(load.offer.length - saw.end_waste - at, 0.0),
    )


def _buy(groups: Sequence[_Group], cull: float) -> tuple[Buy, ...]:
    lines: list[Buy] = []
    for group in groups:
        counts: Mapping[float, list[Load]] = {}
        for load in group.loads:
            if not load.owned:
                counts.setdefault(load.offer.length, []).append(load)
        lines += [_line(group.stock, counts[length], cull) for length in sorted(counts)]
    return tuple(lines)


def _line(stock: str, loads: Sequence[Load], cull: float) -> Buy:
    offer, count = loads[0].offer, len(loads)
    spare = spares(count, cull)
    return Buy(
        stock=stock,
        length=offer.length,
        count=count,
        spare=spare,
        price=offer.price,
        total=None if offer.price is None else (count + spare) * offer.price,
    )
