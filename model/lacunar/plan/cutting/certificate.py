"""A proof that no plan is cheaper, and a checker that trusts neither linear programs nor floating point.

The proof. Let v be a value for a piece of each length, and z_s the most value that fits on a board of stock s. A plan
that buys n_s boards yields sum z_s n_s >= sum v_i d_i, so with prices c_s its cost is

    sum c_s n_s >= sum v_i d_i + sum (c_s - z_s) n_s,

and within a box lo <= n <= hi the last term is at least lo_s (c_s - z_s) where that is positive, hi_s (c_s - z_s)
where not. The root box holds the counts of every plan that is cheaper than the bound; a tree of splits at whole counts
tiles it, and at each leaf some v shows that no cost that prices can add up to is left below the bound.
Source: Gilmore and Gomory 1961 for the weak duality; the tree over counts was derived here.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lacunar.errors import PlanError, Problem
from lacunar.plan.cutting.exhaustion import is_exhausted
from lacunar.plan.cutting.knapsack import subset_sums, whole_values
from lacunar.plan.cutting.problem import BoardProblem

LEAF = -1
"""Stands for the stock in a node that is not split."""

TRIED = -2
"""Stands for the stock in the root where all ways to waste next to nothing are tried through."""

TOO_MANY_SUMS = 1 << 26
"""Costs that are listed one by one, at most; beyond, only the greatest common divisor of the prices counts."""

Box = tuple[tuple[int, ...], tuple[int, ...]]


@dataclass(frozen=True, slots=True, kw_only=True)
class Certificate:
    """No plan costs less than `bound`.

    Attributes:
        bound: in the prices' unit.
        scale: units of a value per unit of price.
        values: vectors (one number for each demand, not negative).
        nodes: the tree in preorder; (stock, count): at most so many boards of it in the first branch, more in the
            second; (LEAF, i): closed by the i-th vector; (TRIED, i) alone: `is_exhausted` with the i-th vector.
    """

    bound: int
    scale: int
    values: tuple[tuple[int, ...], ...]
    nodes: tuple[tuple[int, int], ...]


def check_certificate(problem: BoardProblem, certificate: Certificate) -> int:
    """The bound, when the proof holds.

    Raises:
        PlanError: it does not; says where.
    """
    _expect(certificate.scale > 0, "scale", "is not positive")
    if certificate.nodes and certificate.nodes[0][0] == TRIED:
        return _check_tried(problem, certificate)
    loads = [_load_values(problem, certificate, i) for i in range(len(certificate.values))]
    nodes = list(reversed(certificate.nodes))
    boxes = [root_box(problem, certificate.bound)]
    while boxes:
        lo, hi = boxes.pop()
        _expect(bool(nodes), "tree", "ends too early")
        stock, number = nodes.pop()
        if stock == LEAF:
            _expect(0 <= number < len(loads), "leaf", f"names vector {number}, which is not there")
            _check_leaf(problem, certificate, loads[number], number, (lo, hi))
            continue
        _expect(0 <= stock < len(problem.stocks), "tree", f"splits stock {stock}, which is not there")
        boxes.append((_with(lo, stock, max(lo[stock], number + 1)), hi))
        boxes.append((lo, _with(hi, stock, min(hi[stock], number))))
    _expect(not nodes, "tree", f"has {len(nodes)} nodes too many")
    return certificate.bound


def _check_tried(problem: BoardProblem, certificate: Certificate) -> int:
    number = certificate.nodes[0][1]
    _expect(len(certificate.nodes) == 1 and number in range(len(certificate.values)), "tree", "is not one tried node")
    values = certificate.values[number]
    _expect(len(values) == len(problem.demands) and min(values) >= 0, f"vector {number}", "is not one value a demand")
    holds = is_exhausted(problem, values, certificate.scale, certificate.bound) is True
    _expect(holds, "trying through", f"does not rule out costs below {certificate.bound}")
    return certificate.bound


def root_box(problem: BoardProblem, bound: int) -> Box:
    """Counts of every plan that costs less than the bound: from, to."""
    most = [problem.supply(s) for s in range(len(problem.stocks))]
    for s, price in enumerate(problem.prices):
        most[s] = min(most[s], max(bound - 1, -1) // price) if price else most[s]
    return (0,) * len(most), tuple(most)


def is_cost_left(prices: tuple[int, ...], box: Box, least: int, bound: int) -> bool:
    """Some counts in the box may cost at least `least` and less than `bound`."""
    lo, hi = box
    if any(low > high for low, high in zip(lo, hi, strict=True)):
        return False
    fixed = sum(price * low for price, low in zip(prices, lo, strict=True))
    room = bound - 1 - fixed
    if room < 0 or least >= bound:
        return False
    steps = [(p, high - low) for p, low, high in zip(prices, lo, hi, strict=True) if p and high > low]
    unit = math.gcd(*(p for p, _ in steps)) if steps else 1
    need = max(-((fixed - least) // unit), 0)
    if not steps:
        return need == 0
    if room // unit >= TOO_MANY_SUMS:
        return need * unit <= room
    return subset_sums(((p // unit, n) for p, n in steps), room // unit) >> need != 0


def _load_values(problem: BoardProblem, certificate: Certificate, number: int) -> tuple[int, ...]:
    """z: most value on one board of each stock, by a plain table."""
    values = certificate.values[number]
    _expect(len(values) == len(problem.demands), f"vector {number}", "has the wrong length")
    _expect(all(v >= 0 for v in values), f"vector {number}", "has a negative value")
    _expect(problem.total(values) < 1 << 62, f"vector {number}", "has values too large to add up in 64 bits")
    return board_values(problem, values)


def board_values(problem: BoardProblem, values: Sequence[int]) -> tuple[int, ...]:
    """The most value on one board of each stock, by a plain table; all values together must fit 62 bits."""
    capacities = [max(problem.capacity(s), 0) for s in range(len(problem.stocks))]
    weights = np.array([problem.weight(i) for i in range(len(values))], dtype=np.int64)
    counts = np.array([demand.count for demand in problem.demands], dtype=np.int64)
    best = whole_values(weights, np.array(values, dtype=np.int64), counts, max(capacities, default=0))
    return tuple(int(best[c]) for c in capacities)


def _check_leaf(problem: BoardProblem, certificate: Certificate, loads: tuple[int, ...], number: int, box: Box) -> None:
    lo, hi = box
    if any(low > high for low, high in zip(lo, hi, strict=True)):
        return
    least = problem.total(certificate.values[number])
    for s, price in enumerate(problem.prices):
        margin = price * certificate.scale - loads[s]
        least += (lo[s] if margin >= 0 else hi[s]) * margin
    least = -(-least // certificate.scale)
    left = is_cost_left(problem.prices, box, least, certificate.bound)
    _expect(not left, f"leaf with vector {number}", f"leaves costs from {least} to below {certificate.bound} open")


def _with(box: tuple[int, ...], at: int, number: int) -> tuple[int, ...]:
    return (*box[:at], number, *box[at + 1 :])


def _expect(holds: bool, where: str, what: str) -> None:
    if not holds:
        raise PlanError([Problem(where=f"certificate, {where}", what=what)])
