"""Fasteners, pocket practice and old ceilings against print."""

import math

import pytest

from lacunar.materials import (
    DEFAULT_OLD_CEILING,
    NAIL_DIAMETERS_IN,
    OLD_CEILINGS,
    POCKET_PRACTICE,
    find_old_ceiling,
    nail_diameter,
    nearest_old_ceiling,
    screw_diameter,
)


@pytest.mark.parametrize(("gauge", "inches", "mm"), [(18, 0.0475, 1.21), (16, 0.0625, 1.59), (15, 0.072, 1.83)])
def test_nail_gauges(gauge: int, inches: float, mm: float) -> None:
    """Steel wire gauge, ASTM F1667 (read in a published page)."""
    assert NAIL_DIAMETERS_IN[gauge] == inches
    assert nail_diameter(gauge) == pytest.approx(mm, abs=0.005)


def test_18_gauge_is_not_the_electrical_gauge() -> None:
    """Copies of the table have 0.040 in, which is the electrical gauge's 0.0403 in."""
    assert nail_diameter(18) / 25.4 > 0.045


@pytest.mark.parametrize(
    ("number", "inches"), [(4, 0.112), (6, 0.138), (8, 0.164), (9, 0.177), (10, 0.190), (12, 0.216), (14, 0.242)]
)
def test_screw_diameters(number: int, inches: float) -> None:
    """ASME B18.6.1 (4 to 8 read in a published page, the others from memory)."""
    assert screw_diameter(number) / 25.4 == pytest.approx(inches, abs=0.0005)


def test_pocket_practice_puts_the_pocket_where_the_trade_has_it() -> None:
    """Centre 2.799 in from the end, 1.449 in long: offset / tan 15 and bore / sin 15 (common practice, no source)."""
    offset, bore, angle = POCKET_PRACTICE.offset / 25.4, POCKET_PRACTICE.bore / 25.4, POCKET_PRACTICE.angle
    assert math.degrees(angle) == pytest.approx(15.0)
    assert offset / math.tan(angle) == pytest.approx(2.799, abs=0.0005)
    assert bore / math.sin(angle) == pytest.approx(1.449, abs=0.0005)


@pytest.mark.parametrize(
    ("kind", "psf"),
    [("plaster on wood lath", 8.0), ("plaster on metal lath", 10.0), ("fibreboard", 1.0), ("plasterboard", 2.2)],
)
def test_old_ceiling_loads(kind: str, psf: float) -> None:
    """ASCE 7, Table C3-1 (read in a published page): gypsum board 0.55 psf for each 1/8 in."""
    assert OLD_CEILINGS[kind].load_psf == pytest.approx(psf)


def test_old_ceilings_by_other_names() -> None:
    assert find_old_ceiling("Drywall") is OLD_CEILINGS["plasterboard"]
    assert find_old_ceiling("plaster on wood lath") is OLD_CEILINGS["plaster on wood lath"]
    assert find_old_ceiling("cheese") is None
    assert nearest_old_ceiling("plaster on lath") in {"plaster on wood lath", "plaster on metal lath"}
    assert DEFAULT_OLD_CEILING.thickness == 12.7
