"""Boards that run under or over, with the spacer known: rules 5 and 6 in closed form."""

import math
from itertools import pairwise

import pytest
from shapely import Polygon

from lacunar.layout import Layout, arrange_layout, running_dimensions
from lacunar.survey import solve_survey
from strategies import INCH, Wish, config_of, quad, text_of

ROOM = quad(148 * INCH, 140.5 * INCH)
"""Nine coffers of 47 by 44 1/2 in; slats run across, so they fill 44 1/2 in."""

SPACER, CLEAR = 0.25, 44.5


def laid(ten: float | None, gap: float | None = SPACER) -> Layout:
    """Inches; boards are 3 1/2 in as sold."""
    bench = [f"gap = {gap * INCH}"] if gap is not None else []
    bench += [f"ten = {ten * INCH}"] if ten is not None else []
    text = text_of(ROOM, Wish(run="across", gap=SPACER))
    assert text.count(f"\ngap = {SPACER * INCH}\n") == 1
    config = config_of(text.replace(f"\ngap = {SPACER * INCH}\n", "\n" + "\n".join(bench) + "\n"))
    return arrange_layout(solve_survey(config), config)


def widths(layout: Layout, coffer: str = "C1") -> list[float]:
    """In inches, slat 1 first: area over length, so that nothing is read off the field of that name."""
    slats = [slat for slat in layout.slats if slat.coffer == coffer]
    return [Polygon(slat.outline).area / math.dist(*slat.axis) / INCH for slat in slats]


def starts(layout: Layout) -> list[float]:
    return [mark.start / INCH for mark in running_dimensions(layout)[0].marks]


@pytest.mark.parametrize("board", [3.5 - 1 / 64, 3.5 - 1 / 16, 3.5 + 1 / 64, 3.5])
def test_full_slats_are_as_wide_as_the_bench_says_and_lie_at_its_pitch(board: float) -> None:
    ten = 10 * (board + SPACER)
    layout = laid(ten)
    full, pitch = [slat for slat in layout.slats if slat.coffer == "C1" and not slat.ripped], ten / 10
    assert len(full) >= 10
    assert [slat.width / INCH for slat in full] == pytest.approx([board] * len(full), abs=1e-6)
    assert layout.slat.width / INCH == pytest.approx(board)
    begin = starts(layout)
    steps = [b - a for a, b in pairwise(begin)]
    assert steps == pytest.approx([pitch] * len(steps), abs=1e-6)
    coffer = next(coffer for coffer in layout.coffers if coffer.id == "C1")
    assert coffer.gap / INCH == pytest.approx(SPACER)
    total = sum(widths(layout)) + (len(begin) - 1) * SPACER + sum(coffer.edge_gaps) / INCH
    assert total == pytest.approx(CLEAR, abs=1e-6)


def test_the_last_slat_is_ripped_for_the_boards_as_they_are() -> None:
    """44 in are left between edge gaps of 1/4 in.

    w = 3 1/2: n = floor(44 1/4 / 3 3/4) = 11, last = 44 - 41 1/4 = 2 3/4.
    w = 3 7/16: n = floor(44 1/4 / 3 11/16) = 12, last = 44 - 44 1/4 < 0: twelve full ones, edge gaps 1/4.
    """
    assert widths(laid(37.5)) == pytest.approx([3.5] * 11 + [2.75], abs=1e-6)
    under = laid(36.875)
    assert widths(under) == pytest.approx([3.4375] * 12, abs=1e-6)
    coffer = next(coffer for coffer in under.coffers if coffer.id == "C1")
    assert [gap / INCH for gap in coffer.edge_gaps] == pytest.approx([0.25, 0.25], abs=1e-6)


def test_ten_without_the_spacer_takes_the_board_as_sold() -> None:
    """The pitch is the same, and what is not board is gap: 3 11/16 - 3 1/2 = 3/16 in.

    n = floor(44 3/16 / 3 11/16) = 11, last = 44 - 11 * 3 11/16 = 3 7/16: a full one, 1/32 in out of both edge gaps.
    """
    layout = laid(36.875, None)
    coffer = next(coffer for coffer in layout.coffers if coffer.id == "C1")
    assert coffer.gap / INCH == pytest.approx(0.1875)
    assert starts(layout) == pytest.approx([0.25 - 1 / 32 + 3.6875 * i for i in range(12)], abs=1e-6)
    assert widths(layout) == pytest.approx([3.5] * 12, abs=1e-6)


def test_a_bench_of_boards_as_sold_changes_nothing() -> None:
    assert laid(37.5) == laid(None)
