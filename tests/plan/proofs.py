"""What follows from the proofs that a plan carries, by plain counting."""

import itertools
from collections.abc import Sequence

from lacunar.plan.cutting import BoardProblem, check_certificate
from lacunar.plan.refute import Refuted
from lacunar.plan.spares import Proof


def bought(prices: Sequence[int], counts: Sequence[int], percent: int) -> int:
    """Boards and their spares, the cull being a whole per cent."""
    return sum(price * (n + -(-n * percent // 100)) for price, n in zip(prices, counts, strict=True))


def proved_bound(whole: Proof, refuted: Sequence[Refuted], cost: int, percent: int) -> int:
    """What no boards with their spares cost less than, given that some cost `cost`; every proof is checked."""
    assert check_certificate(whole.problem, whole.certificate) == whole.certificate.bound
    if not refuted:
        return least(whole.problem, whole.certificate.bound, percent)
    for one in refuted:
        check_refuted(one, whole.problem)
    sold = [s for s in range(len(whole.problem.stocks)) if whole.problem.price(s)]
    prices = [whole.problem.price(s) for s in sold]
    most = [min(whole.problem.supply(s), cost // price) for s, price in zip(sold, prices, strict=True)]
    tops = [[one.problem.stocks[s].supply or 0 for s in sold] for one in refuted]
    for counts in itertools.product(*(range(n + 1) for n in most)):
        if bought(prices, counts, percent) >= cost:
            continue
        if sum(map(int.__mul__, prices, counts)) < whole.certificate.bound:
            continue
        assert any(all(map(int.__le__, counts, top)) for top in tops), f"{counts} boards are not ruled out"
    return cost


def check_refuted(one: Refuted, whole: BoardProblem) -> None:
    """The pieces do not come out of so many boards."""
    problem = one.problem
    assert problem.demands == whole.demands
    assert (problem.kerf, problem.end_waste) == (whole.kerf, whole.end_waste)
    assert [(s.length, s.price) for s in problem.stocks] == [(s.length, s.price) for s in whole.stocks]
    there = [(problem.capacity(s), stock.supply or 0) for s, stock in enumerate(problem.stocks)]
    if one.certificate is None:
        over = [demand for i, demand in enumerate(problem.demands) if all(problem.weight(i) > c for c, n in there if n)]
        room = sum(c * n for c, n in there)
        weight = sum(problem.weight(i) * demand.count for i, demand in enumerate(problem.demands))
        assert over or weight > room, "neither is a piece too long, nor is there too little wood"
        return
    together = sum(problem.price(s) * n for s, (_, n) in enumerate(there))
    assert check_certificate(problem, one.certificate) > together


def least(problem: BoardProblem, bound: int, percent: int) -> int:
    """The least total of counts whose boards to be cut cost the bound or more: a table by what they cost."""
    totals = {0: 0}
    for s in range(len(problem.stocks)):
        price = problem.price(s)
        if not price:
            continue
        after = dict(totals)
        for n in range(1, min(problem.supply(s), -(-bound // price)) + 1):
            add = bought([price], [n], percent)
            for paid, total in totals.items():
                now = min(paid + n * price, bound)
                after[now] = min(after.get(now, total + add), total + add)
        totals = after
    return totals[bound]
