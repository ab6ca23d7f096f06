"""A saw that cuts a plan board by board, the sets of cases, and the same numbers by trying everything."""

import itertools
import json
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from lacunar.plan.cutting import BoardProblem, Demand, Pattern, Stock

HERE = Path(__file__).resolve().parent
OPEN = HERE.parents[3] / "shared" / "reference" / "open_instances.json"
"""Benchmark sets that may not be copied into the project; beside its root where they are at hand."""


def cases(kind: str) -> list[dict[str, Any]]:
    """P1, P2 or P3 of the shared cases."""
    return json.loads((HERE / "data" / "cutting_cases.json").read_text(encoding="utf-8"))[kind]


def open_instances() -> list[dict[str, Any]]:
    """Of the open benchmark sets; none where the file is absent."""
    return json.loads(OPEN.read_text(encoding="utf-8"))["instances"] if OPEN.exists() else []


def priced(case: dict[str, Any]) -> BoardProblem:
    """A P1 case."""
    return BoardProblem(
        stocks=tuple(Stock(length=s["length"], price=s["price"]) for s in case["stocks"]),
        demands=tuple(Demand(length=a, count=n) for a, n in zip(case["lengths"], case["demands"], strict=True)),
        kerf=case["kerf"],
        end_waste=case["end_trim"],
    )


def published(case: dict[str, Any]) -> BoardProblem:
    """An open instance: no kerf, no waste; single ones count boards."""
    if case["kind"] == "single":
        stocks = (Stock(length=case["capacity"], price=1),)
    else:
        stocks = tuple(Stock(length=s["capacity"], price=s["cost"], supply=s["supply"]) for s in case["stocks"])
    demands = tuple(Demand(length=a, count=n) for a, n in zip(case["lengths"], case["demands"], strict=True))
    return BoardProblem(stocks=stocks, demands=demands)


def saw_up(problem: BoardProblem, patterns: Sequence[Pattern]) -> tuple[int, list[int]]:
    """Cut every board piece by piece; its cost, and the offcuts.

    Raises AssertionError where a board is overrun, a piece is missing or too many, or boards run out.
    """
    wanted = [demand.count for demand in problem.demands]
    there = [stock.supply for stock in problem.stocks]
    cost, offcuts = 0, list[int]()
    for pattern in patterns:
        for _ in range(pattern.times):
            left = there[pattern.stock]
            assert left is None or left > 0, f"no board of stock {pattern.stock} is left"
            there[pattern.stock] = None if left is None else left - 1
            offcuts.append(_saw_board(problem, pattern, wanted))
            cost += problem.price(pattern.stock)
    assert not any(wanted), f"pieces not cut, or cut too often: {wanted}"
    return cost, offcuts


def _saw_board(problem: BoardProblem, pattern: Pattern, wanted: list[int]) -> int:
    board = problem.stocks[pattern.stock].length
    at, end = problem.end_waste, board - problem.end_waste
    cut = 0
    for item, count in pattern.pieces:
        for _ in range(count):
            at += problem.kerf if cut else 0
            at += problem.demands[item].length
            cut += problem.demands[item].length
            wanted[item] -= 1
    assert at <= end, f"board of {board} is cut up to {at}, it is good to {end}"
    kerfs = problem.kerf * (sum(n for _, n in pattern.pieces) - 1)
    assert cut + kerfs + (end - at) + 2 * problem.end_waste == board
    return end - at


def cheapest(problem: BoardProblem) -> int | None:
    """The least cost, by giving the longest piece left every possible board; None where the boards do not do."""
    stocks = range(len(problem.stocks))
    lengths = [demand.length for demand in problem.demands]

    @cache
    def best(left: tuple[int, ...], there: tuple[int, ...]) -> float:
        if not any(left):
            return 0.0
        first = next(i for i, n in enumerate(left) if n)
        found = float("inf")
        for s in stocks:
            if not there[s]:
                continue
            rest = (*there[:s], there[s] - 1, *there[s + 1 :])
            room = problem.stocks[s].length - 2 * problem.end_waste
            for load in loads(left, lengths, room, problem.kerf):
                if load[first]:
                    after = tuple(a - b for a, b in zip(left, load, strict=True))
                    found = min(found, problem.price(s) + best(after, rest))
        return found

    supply = tuple(problem.pieces if stock.supply is None else stock.supply for stock in problem.stocks)
    cost = best(tuple(demand.count for demand in problem.demands), supply)
    return None if cost == float("inf") else int(cost)


def loads(left: Sequence[int], lengths: Sequence[int], room: int, kerf: int) -> Iterator[tuple[int, ...]]:
    """All sets of pieces that one board gives."""
    for load in itertools.product(*(range(n + 1) for n in left)):
        pieces = sum(load)
        if pieces and sum(a * n for a, n in zip(lengths, load, strict=True)) + kerf * (pieces - 1) <= room:
            yield load
