"""Pairs of rips against proved savings, against a saw on paper, and against every pairing."""

import random
from collections import Counter
from typing import Any

import pytest

from lacunar.plan.cutting import (
    BoardProblem,
    Demand,
    Effort,
    Rip,
    RipSaw,
    Stock,
    check_certificate,
    pair_rips,
    solve_boards,
)
from lacunar.plan.cutting.rips import pair_fits
from plan.cutting.sawbench import cases, saw_up

P2 = cases("P2")
QUICK = ("rip_s2_long", "rip_s3_long", "rip_s6_long", "rip_s9_long")


def rips_of(case: dict[str, Any]) -> list[Rip]:
    return [Rip(length=r["length"], width=r["w0"], width_end=r["w1"], board=case["board_width"]) for r in case["rips"]]


def saw_of(case: dict[str, Any]) -> RipSaw:
    """The cases leave no spare wood and know no least blank."""
    return RipSaw(rip_kerf=case["rip_kerf"], spare=0, kerf=case["kerf"], least_blank=0)


@pytest.mark.parametrize("case", P2, ids=lambda case: case["name"])
def test_most_length_is_saved(case: dict[str, Any]) -> None:
    plan = pair_rips(rips_of(case), saw_of(case))
    assert plan.saved == case["max_saved_length_by_pairing"]
    paired = [i for pair in plan.pairs for i in pair]
    assert len(paired) == len(set(paired))
    assert set(paired) <= set(range(len(case["rips"])))


@pytest.mark.parametrize(
    "case",
    [pytest.param(c, id=c["name"], marks=[] if c["name"] in QUICK else [pytest.mark.long]) for c in P2],
)
def test_blanks_and_full_slats_cost_no_more_than_the_best_known(case: dict[str, Any]) -> None:
    rips = rips_of(case)
    carried = {shorter for _, shorter in pair_rips(rips, saw_of(case)).pairs}
    counts = Counter(dict(zip(case["full_lengths"], case["full_demands"], strict=True)))
    counts.update(rip.length for i, rip in enumerate(rips) if i not in carried)
    problem = BoardProblem(
        stocks=tuple(Stock(length=s["length"], price=s["price"]) for s in case["stocks"]),
        demands=tuple(Demand(length=length, count=n) for length, n in sorted(counts.items(), reverse=True)),
        kerf=case["kerf"],
        end_waste=case["end_trim"],
    )
    solution = solve_boards(problem, Effort(tidy=False))
    assert saw_up(problem, solution.patterns)[0] == solution.cost <= case["best_known"]
    assert check_certificate(problem, solution.certificate) == solution.bound


def lies(long: Rip, short: Rip, saw: RipSaw) -> bool:
    """The two drawn at 200 places along the blank, the short one turned, flush at either end."""
    room = long.board - saw.rip_kerf - saw.spare
    for start in (0, long.length - short.length):
        worst = 0.0
        for k in range(201):
            x = short.length * k / 200.0
            beside = long.width + (long.width_end - long.width) * (start + x) / long.length
            turned = short.width_end + (short.width - short.width_end) * x / short.length
            worst = max(worst, beside + turned)
        if worst <= room + 1e-9:
            return True
    return False


def best_saving(count: int, gain: dict[tuple[int, int], int]) -> int:
    """Over all pairings."""

    def best(left: tuple[int, ...]) -> int:
        if len(left) < 2:
            return 0
        first, *rest = left
        found = best(tuple(rest))
        for other in rest:
            if (first, other) in gain:
                found = max(found, gain[first, other] + best(tuple(i for i in rest if i != other)))
        return found

    return best(tuple(range(count)))


@pytest.mark.parametrize("block", range(10))
def test_brute_force_finds_no_better_pairs(block: int) -> None:
    """30 small cases a block, straight and tapered."""
    for seed in range(30 * block, 30 * block + 30):
        r = random.Random(seed)
        saw = RipSaw(rip_kerf=4, spare=2, kerf=4, least_blank=r.choice((0, 300)))
        rips: list[Rip] = []
        for _ in range(r.randint(2, 7)):
            width = r.randint(20, 90)
            rips.append(
                Rip(length=r.randint(200, 900), width=width, width_end=max(width + r.randint(-15, 15), 1), board=112)
            )
        gain: dict[tuple[int, int], int] = {}
        for i in range(len(rips)):
            for j in range(i + 1, len(rips)):
                long, short = (i, j) if rips[i].length >= rips[j].length else (j, i)
                fits = lies(rips[long], rips[short], saw)
                assert fits == (pair_fits(rips[i], rips[j], saw) is not None), seed
                if fits:
                    gain[i, j] = max(rips[short].length, saw.least_blank) + saw.kerf
        plan = pair_rips(rips, saw)
        assert plan.saved == best_saving(len(rips), gain), seed
        assert plan.saved == sum(gain[min(pair), max(pair)] for pair in plan.pairs)


def test_two_halves_need_the_kerf_and_a_sixteenth() -> None:
    """3 1/2 in at 1/64 in: 1 5/8 + 1 5/8 + 1/8 + 1/16 = 3 7/16 lie in it, 1 11/16 twice do not."""
    saw = RipSaw(rip_kerf=8, spare=4, kerf=8, least_blank=24 * 64)
    half, wide = (Rip(length=3000, width=w, width_end=w, board=224) for w in (104, 108))
    assert pair_fits(half, half, saw) == "start"
    assert pair_fits(wide, wide, saw) is None
