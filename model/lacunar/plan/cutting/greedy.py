"""Plans at once: decreasing lengths onto the boards at hand and one base stock, and every board as cheap as will do."""

import bisect
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.plan.cutting.instance import Instance
from lacunar.plan.cutting.knapsack import Ints, best_loads


@dataclass(frozen=True, slots=True)
class Boards:
    """Boards of one stock that are cut alike; `pattern` is (demands,)."""

    stock: int
    pattern: Ints
    times: int


def fill(instance: Instance, demand: Ints, supply: Ints, base: int, best_fit: bool) -> tuple[list[Boards], Ints]:
    """Longest pieces first, each onto the first board that holds it, or the one that it fills best.

    Free boards are there from the start; a new one is of the base stock, or where that is too short or used up the
    cheapest that holds the piece.

    Returns:
        Boards, not yet downsized, and the pieces that none gives; (demands,).
    """
    left = supply.copy()
    loads, rooms = _free_boards(instance, left)
    missing = np.zeros_like(demand)
    order = np.lexsort((np.arange(len(demand)), -instance.weights))
    for item in order.tolist():
        weight = int(instance.weights[item])
        for _ in range(int(demand[item])):
            at = _place(rooms, weight, best_fit)
            if at is None:
                stock = _new_stock(instance, left, base, weight)
                if stock is None:
                    missing[item] += 1
                    continue
                left[stock] -= 1
                loads.append((stock, {}))
                room, number = int(instance.capacities[stock]), len(loads) - 1
            else:
                room, number = rooms.pop(at)
            loads[number][1][item] = loads[number][1].get(item, 0) + 1
            bisect.insort(rooms, (room - weight, number))
    return _grouped(instance, loads), missing


def fill_boards(instance: Instance, demand: Ints, supply: Ints, power: float) -> tuple[list[Boards], Ints]:
    """Board after board with the load that is worth most for the money; as `fill` otherwise.

    Args:
        instance: what is cut.
        demand: pieces that are still wanted.
        supply: boards that are left of each stock.
        power: of its weight is what a piece is worth; above 1, for long pieces are harder to place later.
    """
    left, wanted = supply.copy(), demand.copy()
    values = (instance.weights / instance.largest) ** power
    boards: list[Boards] = []
    while wanted.any():
        loads = best_loads(instance.weights, values, wanted, instance.largest)
        rating = loads.best[instance.capacities] / np.maximum(instance.costs, 1e-9)
        rating[(left <= 0) | (loads.best[instance.capacities] <= 0.0)] = -1.0
        stock = int(np.argmax(rating))
        if rating[stock] < 0.0:
            break
        pattern = loads.load(int(instance.capacities[stock]), len(wanted))
        used = pattern > 0
        times = min(int((wanted[used] // pattern[used]).min()), int(left[stock]))
        boards.append(Boards(stock, pattern, times))
        wanted -= pattern * times
        left[stock] -= times
    return boards, wanted


def left_over(supply: Ints, boards: Sequence[Boards]) -> Ints:
    """Boards of each stock that these leave."""
    left = supply.copy()
    for board in boards:
        left[board.stock] -= board.times
    return left


def _free_boards(instance: Instance, left: Ints) -> tuple[list[tuple[int, dict[int, int]]], list[tuple[int, int]]]:
    loads: list[tuple[int, dict[int, int]]] = []
    for stock in np.flatnonzero(instance.prices == 0).tolist():
        loads += [(stock, {}) for _ in range(int(left[stock]))]
        left[stock] = 0
    return loads, sorted((int(instance.capacities[stock]), i) for i, (stock, _) in enumerate(loads))


def _place(rooms: list[tuple[int, int]], weight: int, best_fit: bool) -> int | None:
    at = bisect.bisect_left(rooms, (weight, -1))
    if at == len(rooms):
        return None
    return at if best_fit else min(range(at, len(rooms)), key=lambda i: rooms[i][1])


def _new_stock(instance: Instance, left: Ints, base: int, weight: int) -> int | None:
    if left[base] > 0 and instance.capacities[base] >= weight:
        return base
    fitting = np.flatnonzero((left > 0) & (instance.capacities >= weight))
    return min(fitting.tolist(), key=lambda s: (instance.prices[s], instance.lengths[s]), default=None)


def _grouped(instance: Instance, loads: Sequence[tuple[int, dict[int, int]]]) -> list[Boards]:
    groups = Counter((stock, tuple(sorted(load.items()))) for stock, load in loads if load)
    boards: list[Boards] = []
    for (stock, load), times in groups.items():
        pattern = np.zeros(len(instance.weights), dtype=np.int64)
        for item, count in load:
            pattern[item] = count
        boards.append(Boards(stock, pattern, times))
    return boards


def trimmed(boards: Sequence[Boards], demand: Ints) -> list[Boards]:
    """The same boards without the pieces nobody wants, nor boards that then give nothing."""
    left = demand.copy()
    kept: list[Boards] = []
    for board in boards:
        times = board.times
        while times > 0:
            pattern = np.minimum(board.pattern, left)
            used = pattern > 0
            if not used.any():
                break
            run = min(times, int((left[used] // pattern[used]).min()))
            kept.append(Boards(board.stock, pattern, run))
            left -= pattern * run
            times -= run
    return kept


def downsized(instance: Instance, boards: Sequence[Boards]) -> list[Boards]:
    """Every board swapped for the cheapest stock that still holds it, the fullest first; shorter where as cheap."""
    left = left_over(instance.supply, boards)
    by_cost = sorted(range(len(left)), key=lambda s: (instance.prices[s], instance.lengths[s]))
    rank = {s: i for i, s in enumerate(by_cost)}
    out: list[Boards] = []
    for board in sorted(boards, key=lambda b: (-int(b.pattern @ instance.weights), b.stock, b.pattern.tolist())):
        weight, times = int(board.pattern @ instance.weights), board.times
        for stock in by_cost[: rank[board.stock]]:
            moved = min(times, int(left[stock])) if instance.capacities[stock] >= weight else 0
            if moved:
                left[stock] -= moved
                left[board.stock] += moved
                out.append(Boards(stock, board.pattern, moved))
                times -= moved
        if times:
            out.append(Boards(board.stock, board.pattern, times))
    return out


def cost(instance: Instance, boards: Sequence[Boards]) -> int:
    """Of all boards."""
    return sum(int(instance.prices[board.stock]) * board.times for board in boards)


def length(instance: Instance, boards: Sequence[Boards]) -> int:
    """Of all boards, ticks."""
    return sum(int(instance.lengths[board.stock]) * board.times for board in boards)


def is_plan(instance: Instance, boards: Sequence[Boards]) -> bool:
    """Recounted in whole numbers: no board is overrun, every piece is given once, and there are so many boards."""
    given = sum((board.pattern * board.times for board in boards), np.zeros_like(instance.counts))
    return (
        all(int(board.pattern @ instance.weights) <= instance.capacities[board.stock] for board in boards)
        and bool((given == instance.counts).all())
        and bool((left_over(instance.supply, boards) >= 0).all())
    )
