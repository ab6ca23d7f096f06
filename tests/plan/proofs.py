"""What follows from the proofs that a plan carries, by plain counting."""

import itertools
from collections.abc import Sequence

from lacunar.plan.cutting import BoardProblem, check_certificate
from lacunar.plan.purchase import Proof, Refuted


def bought(prices: Sequence[int], counts: Sequence[int], percent: int) -> int:
    """Boards and their spares, the cull being a whole per cent."""
    return sum(price * (n + -(-n * percent // 100)) for price, n in zip(prices, counts, strict=True))


def proved_bound(proof: Proof, claimed: int, percent: int) -> int:
    """What no boards with their spares cost less than: the claim, where every sum below it is ruled out."""
    problem = proof.problem
    assert check_certificate(problem, proof.certificate) == proof.certificate.bound
    plain = least(problem, proof.certificate.bound, percent)
    if plain >= claimed:
        return plain
    for one in proof.refuted:
        check_refuted(one, problem)
    prices = [problem.price(s) for s in range(len(problem.stocks))]
    most = [min(problem.supply(s), claimed // price) if price else 0 for s, price in enumerate(prices)]
    free = [0 if price else problem.supply(s) for s, price in enumerate(prices)]
    tops = [[stock.supply or 0 for stock in one.problem.stocks] for one in proof.refuted]
    needs = [worth(problem, one.values) for one in proof.worths]
    for some in itertools.product(*(range(n + 1) for n in most)):
        if bought(prices, some, percent) >= claimed or sum(map(int.__mul__, prices, some)) < proof.certificate.bound:
            continue
        counts = [n + more for n, more in zip(some, free, strict=True)]
        short = any(sum(map(int.__mul__, boards, counts)) < pieces for boards, pieces in needs)
        assert short or any(all(map(int.__le__, counts, top)) for top in tops), f"{counts} boards are not ruled out"
    return claimed


def worth(problem: BoardProblem, values: Sequence[int]) -> tuple[list[int], int]:
    """The most value on a board of each stock, by filling it piece by piece, and that of all pieces."""
    assert min(values) >= 0
    best = {0: 0}
    for i, demand in enumerate(problem.demands):
        for _ in range(demand.count):
            for weight, value in sorted(best.items(), reverse=True):
                then = weight + problem.weight(i)
                if then <= max(problem.capacity(s) for s in range(len(problem.stocks))):
                    best[then] = max(best.get(then, 0), value + values[i])
    boards = [
        max((value for weight, value in best.items() if weight <= problem.capacity(s)), default=0)
        for s in range(len(problem.stocks))
    ]
    return boards, sum(v * demand.count for v, demand in zip(values, problem.demands, strict=True))


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
