"""Boards as the plan cuts them, in closed form."""

import math
from dataclasses import replace

import pytest

from checks.sample import ceiling, rebuilt
from lacunar.analysis.boards import BoardFit, board_fits
from lacunar.plan import Cut

SLATS = ("C1-S02", "C1-S03", "C1-S04")


def board(*cuts: Cut, length: float = 3000.0, **width: float) -> BoardFit:
    """One board of the square room with these cuts; its slats C1-S02 to C1-S04 of another width, if that is given."""
    subject = ceiling()
    parts = tuple(replace(part, **width) if part.id in SLATS else part for part in subject.parts)
    one = replace(subject.plan.boards[0], stock="20x90", length=length, cuts=cuts)
    (fit,) = board_fits(rebuilt(subject, parts=parts, plan=replace(subject.plan, boards=(one,))))
    return fit


def test_a_plan_gives_every_part_its_length_and_leaves_a_saw_cut() -> None:
    subject = ceiling()
    shop, lengths = subject.config.shop, {part.id: part.length for part in subject.parts}
    fits = board_fits(subject)
    assert {cut.part: cut.length for fit in fits for cut in fit.cuts} == pytest.approx(
        {part.id: lengths[part.id] for part in subject.parts if part.bought}, abs=0.5
    )
    assert max(cut.outside for fit in fits for cut in fit.cuts) <= 0.0
    # The only board that is full to its end has nothing before its first cut but the waste.
    assert min(gap.between for fit in fits for gap in fit.gaps) == pytest.approx(shop.kerf)
    assert all(len(fit.gaps) == len(fit.cuts) - 1 for fit in fits if all(cut.rip is None for cut in fit.cuts))


def test_what_lies_outside_a_board() -> None:
    """End waste is 6 mm in 3000 mm: from 6 to 2994 mm."""
    fit = board(Cut(part="C1-S02", start=4.0, end=1000.0), Cut(part="C1-S03", start=2000.0, end=2995.5))
    assert [cut.outside for cut in fit.cuts] == pytest.approx([6.0 - 4.0, 2995.5 - 2994.0])
    assert [(gap.parts, gap.between) for gap in fit.gaps] == [(("C1-S02", "C1-S03"), 1000.0)]


def test_mitred_cuts_are_measured_square_to_the_cut() -> None:
    """Parallel faces at 45 degrees, long points 90 mm over each other and then 4 mm apart along the board."""
    one = Cut(part="C1-S02", start=6.0, end=1000.0, slants=(0.0, 45.0))
    other = Cut(part="C1-S03", start=1000.0 + 4.0 - 90.0, end=2000.0, slants=(45.0, 0.0))
    (gap,) = board(one, other).gaps
    assert gap.between == pytest.approx(4.0 * math.sqrt(0.5))


def test_rips_side_by_side_and_what_comes_after_both() -> None:
    """40 mm, 3 mm apart from one that tapers to 44, and a whole one behind the longer."""
    cuts = (
        Cut(part="C1-S02", start=6.0, end=1006.0, across=(0.0, 40.0)),
        Cut(part="C1-S03", start=6.0, end=806.0, across=(43.0, 89.0), across_end=(45.0, 92.0)),
        Cut(part="C1-S04", start=1009.0, end=2009.0),
    )
    fit = board(*cuts, width=40.0, width_end=44.0)
    first, second, whole = (cut.rip for cut in fit.cuts)
    assert whole is None
    assert first is not None
    assert second is not None
    assert (first.width, first.own, first.outside, first.section) == (40.0, 44.0, 0.0, 90.0)
    assert (second.width, second.own, second.outside) == (46.0, 40.0, 2.0)
    between = {gap.parts: gap.between for gap in fit.gaps}
    assert between == pytest.approx({("C1-S03", "C1-S02"): 3.0, ("C1-S03", "C1-S04"): 203.0, ("C1-S02", "C1-S04"): 3.0})
