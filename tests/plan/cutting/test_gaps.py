"""One common gap against proved counts and against slats laid out one by one."""

import random
from typing import Any

import pytest

from lacunar.plan.cutting import Spacing, common_gap
from plan.cutting.sawbench import cases

P5 = cases("P5")


def spacing_of(case: dict[str, Any]) -> Spacing:
    gap, edge = (case["gap_min"], case["gap_max"]), (case["end_gap_min"], case["end_gap_max"])
    return Spacing(slat=case["slat_width"], gap=gap, edge=edge)


@pytest.mark.parametrize("case", P5, ids=lambda case: case["name"])
def test_most_coffers_without_a_rip(case: dict[str, Any]) -> None:
    found = common_gap(case["spans"], spacing_of(case), case["grid"])
    assert found.coffers == case["max_rip_free"]
    assert list(found.gaps) == case["gaps_attaining"]


def test_slats_laid_one_by_one_agree() -> None:
    """300 random sets of coffers."""
    for seed in range(300):
        r = random.Random(seed)
        spacing = Spacing(slat=r.randint(5, 9), gap=(1, r.randint(2, 5)), edge=(r.randint(0, 1), r.randint(2, 5)))
        coffers = [(w := r.randint(20, 60), w + r.randint(-2, 2)) for _ in range(r.randint(1, 5))]
        low, high = 2 * spacing.edge[0], 2 * spacing.edge[1]
        counts: dict[int, int] = {}
        for gap in range(spacing.gap[0], spacing.gap[1] + 1):
            for widths in coffers:
                fits = any(
                    all(low <= w - n * spacing.slat - (n - 1) * gap <= high for w in widths) for n in range(1, 20)
                )
                counts[gap] = counts.get(gap, 0) + fits
        most = max(counts.values())
        found = common_gap(coffers, spacing)
        assert found.coffers == most
        if most:
            assert list(found.gaps) == [gap for gap, n in counts.items() if n == most]
