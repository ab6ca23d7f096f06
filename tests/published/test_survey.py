"""Trilateration and critical values from print.

@book{ghilani, author = {Charles D. Ghilani}, title = {Adjustment Computations: Spatial Data Analysis},
      note = {Example 14.2: station U from three control stations, in feet; read in a published page}}
Critical values: standard table, and Baarda 1968; from memory.
"""

import importlib
import math
from collections.abc import Sequence
from typing import Any

import pytest

from lacunar.survey.adjust import Adjusted, adjust
from lacunar.survey.chance import ALONE, W_CRITICAL, chi_square_limit, normal_limit
from lacunar.survey.network import Network, Reading
from lacunar.survey.start import crossings
from lacunar.survey.unfold import unfolded

CONTROL = {"A": (865.40, 4527.15), "B": (2432.55, 2047.25), "C": (2865.22, 27.15)}
OBSERVED = {"AU": 6049.00, "BU": 4736.83, "CU": 5446.49}

NETWORK = Network(
    stations=("A", "B", "C", "U"),
    readings=tuple(Reading(name=n, ends=(n[0], "U"), value=length, sd=1.0) for n, length in OBSERVED.items()),
    fixed=dict.fromkeys("ABC", (True, True)),
)

FALSE_MINIMUM = (-2237.91, -367.62)
"""Where the iteration ends from the wrong side of the line through the control stations; not in the book."""


def _from(start: Sequence[float]) -> Adjusted:
    return adjust(NETWORK, [*CONTROL.values(), (start[0], start[1])], {})


def _best() -> Adjusted:
    starts = crossings(CONTROL["A"], OBSERVED["AU"], CONTROL["C"], OBSERVED["CU"])
    return min((_from(start) for start in starts), key=lambda adjusted: adjusted.chi2)


def test_station_u() -> None:
    adjusted = _best()
    # Printed: x = 6861.317, y = 3727.819; the book's last iteration is given to 0.001 ft.
    assert adjusted.points[3] == pytest.approx((6861.317, 3727.819), abs=0.005)
    assert adjusted.points[:3] == tuple(CONTROL.values())


def test_residuals_and_reference_deviation() -> None:
    adjusted = _best()
    residuals = [length - OBSERVED[r.name] for r, length in zip(NETWORK.readings, adjusted.lengths, strict=True)]
    assert residuals == pytest.approx([-0.037, 0.077, -0.047], abs=0.005)
    assert adjusted.dof == 1
    s0 = math.sqrt(adjusted.chi2 / adjusted.dof)
    assert s0 == pytest.approx(0.098, abs=0.005)
    assert s0 * adjusted.sds[3][0] == pytest.approx(0.078, abs=0.005)
    assert s0 * adjusted.sds[3][1] == pytest.approx(0.154, abs=0.005)


def test_redundancy_adds_up_to_the_degrees_of_freedom() -> None:
    adjusted = _best()
    assert math.fsum(adjusted.redundancy) == pytest.approx(1.0, abs=1e-9)
    # One redundancy: every |w| is the same, the misfit in units of its own deviation.
    assert [abs(w or 0.0) for w in adjusted.w] == pytest.approx([math.sqrt(adjusted.chi2)] * 3, rel=1e-4)


def test_the_wrong_side_is_a_false_minimum_that_good_starts_avoid() -> None:
    wrong = _from(FALSE_MINIMUM)
    assert wrong.points[3] == pytest.approx(FALSE_MINIMUM, abs=0.01)
    assert wrong.chi2 > 1000.0 * _best().chi2


@pytest.mark.parametrize(
    "start", [FALSE_MINIMUM, (-9000.0, -9000.0), (0.0, 12000.0), (1500.0, 2500.0), (-20000.0, 0.0)]
)
def test_station_u_from_a_poor_start(start: tuple[float, float]) -> None:
    adjusted = unfolded(NETWORK, _from(start))
    assert adjusted.points[3] == pytest.approx((6861.317, 3727.819), abs=0.005)
    s0 = math.sqrt(adjusted.chi2 / adjusted.dof)
    assert s0 == pytest.approx(0.098, abs=0.005)


def test_poor_starts_need_unfolding() -> None:
    wrong = [start for start in (FALSE_MINIMUM, (-9000.0, -9000.0)) if _from(start).chi2 > 1000.0 * _best().chi2]
    assert len(wrong) == 2


@pytest.mark.parametrize(
    ("dof", "printed"),
    [(1, 3.8415), (2, 5.9915), (3, 7.8147), (4, 9.4877), (5, 11.0705), (6, 12.5916), (10, 18.307)],
)
def test_chi_square_critical_values(dof: int, printed: float) -> None:
    # Standard table, one-sided 95 %.
    assert chi_square_limit(dof, 0.95) == pytest.approx(printed, abs=1e-4)


@pytest.mark.parametrize(("alpha", "printed"), [(0.05, 1.96), (0.01, 2.576), (0.001, 3.291)])
def test_w_critical_values(alpha: float, printed: float) -> None:
    # Baarda 1968: |w| = |v| / (sigma sqrt(r)), two-sided.
    assert normal_limit(1.0 - alpha) == pytest.approx(printed, abs=0.001)
    # With one degree of freedom the global test and the w test are the same.
    assert chi_square_limit(1, 1.0 - alpha) == pytest.approx(normal_limit(1.0 - alpha) ** 2, rel=1e-9)


def test_critical_values_that_are_used() -> None:
    assert pytest.approx(3.291, abs=0.001) == W_CRITICAL
    assert pytest.approx(3.8415, abs=0.002) == ALONE


@pytest.mark.parametrize("dof", [1, 2, 7, 30, 100])
@pytest.mark.parametrize("share", [0.05, 0.5, 0.95, 0.999])
def test_any_degree_of_freedom_against_another_library(dof: int, share: float) -> None:
    stats: Any = importlib.import_module("scipy.stats")  # has no type stubs
    assert chi_square_limit(dof, share) == pytest.approx(float(stats.chi2.ppf(share, dof)), rel=1e-9)
