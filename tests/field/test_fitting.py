"""From measures to parts, against arithmetic done by hand.

The room of 3-square.toml: openings and coffers 40 1/2 in square, no clearance given (1/32 in), boards 3 1/2 in, gaps,
end gaps and edge gaps 1/4 in, least end gap 1/16 in, trim 3/4 in with 1/4 in of overlap at least.
"""

from collections.abc import Mapping
from pathlib import Path

import pytest

from field.by_hand import copied, rows_of, sheet
from lacunar.config import FieldRow, read_config
from lacunar.errors import LacunarError
from lacunar.field import Applied, Stage, apply_measures
from lacunar.layout import arrange_layout
from lacunar.survey import solve_survey
from lacunar.units import INCH, read_length


@pytest.fixture
def square(configs: Path, tmp_path: Path) -> Path:
    return copied(configs / "3-square.toml", tmp_path)


def applied(path: Path, stage: Stage, values: Mapping[str, str]) -> tuple[Applied, Mapping[str, FieldRow]]:
    done = apply_measures(path, sheet(path, stage, values))
    return done, read_config(path).field


def inches(mm: float | None) -> float:
    assert mm is not None
    return mm / INCH


def test_the_room_is_what_the_arithmetic_below_takes_it_to_be(square: Path) -> None:
    config = read_config(square)
    assert config.cross_beams is not None
    assert config.cross_beams.joint.clearance == INCH / 32.0
    slats = config.slats
    assert (slats.width, slats.gap, slats.end_gap) == pytest.approx((3.5 * INCH, INCH / 4.0, INCH / 4.0))
    assert (config.slats.least_end_gap, config.trim.width, config.trim.least_overlap) == pytest.approx(
        (INCH / 16.0, 0.75 * INCH, 0.25 * INCH)
    )
    assert [row.design for row in rows_of(square, "openings").values()] == pytest.approx([40.5 * INCH] * 24, abs=0.1)


def test_a_piece_is_as_long_as_its_tightest_opening_less_the_clearance(square: Path) -> None:
    values = {
        "X1-2 AB face top": "40 5/8",
        "X1-2 AB face bottom": "40 9/16 in",
        "X1-2 X2-2 face top": "3' 4 19/32\"",
        "X1-2 X2-2 face bottom": "1033.5 mm",
    }
    done, field = applied(square, "openings", values)
    assert set(field) == {"X1-2"}
    assert inches(field["X1-2"].length) == pytest.approx(40 + 9 / 16 - 1 / 32, abs=1e-6)
    assert any("out of plumb" in note and "top of its AB face" in note for note in done.notes)


def test_sheets_that_were_printed_with_hands_for_faces_are_still_read(square: Path) -> None:
    """The face left of a piece, from its end nearer A, is the one that looks at AB."""
    old = {"left top": "40 7/16", "left bottom": "40 7/16", "right top": "40 7/16", "right bottom": "40 1/2"}
    done, field = applied(square, "openings", {f"X1-2 {name}": value for name, value in old.items()})
    assert inches(field["X1-2"].length) == pytest.approx(40 + 7 / 16 - 1 / 32, abs=1e-6)
    assert any("top of its X2-2 face" in note or "bottom of its X2-2 face" in note for note in done.notes)


def test_a_piece_that_is_half_measured_waits(square: Path) -> None:
    done, field = applied(
        square, "openings", {"X1-1 AB face top": "40 1/2", "X1-1 AB face bottom": "", "X1-2 AB face top": ""}
    )
    assert not field
    assert done.changed
    assert read_config(square).readings == {"X1-1 AB face top": "40 1/2"}
    assert done.notes == ("X1-1 waits for: X1-1 AB face bottom, X1-1 X2-1 face top, X1-1 X2-1 face bottom",)
    assert done.blank == 2


def test_slats_follow_a_coffer_that_widens(square: Path) -> None:
    """Start 40 1/2, end 40 3/4: 1/4 in more between the middles of the first and the last slat."""
    done, field = applied(square, "coffers", {"C5 length at S01": "40 1/2", "C5 length at end": "40 3/4"})
    slats = {name: place for name, place in _across_c5(square).items() if name[-1].isdigit()}
    assert len(slats) >= 8
    assert done.notes == ()
    first, last = min(middle for middle, _ in slats.values()), max(middle for middle, _ in slats.values())
    for name, (middle, width) in slats.items():
        tight = 40.5 + (middle - width / 2.0 - first) / (last - first) / 4.0
        lean = width / (last - first) / 4.0 / 2.0
        row = field[name]
        # written to 0.001 in: the longest no longer, the shortest no shorter
        assert -1e-4 <= tight - 2 / 16 - inches(row.longest) <= 1.1e-3
        assert -1e-4 <= inches(row.shortest) - (tight + 2 * lean - 2 * 0.5) <= 1.1e-3
        assert abs(inches(row.length) - (tight - 2 / 4)) <= 1 / 32 + 1e-4
        assert inches(row.length) * 16 == pytest.approx(round(inches(row.length) * 16), abs=1e-6)


def _across_c5(path: Path) -> Mapping[str, tuple[float, float]]:
    """How far across C5 each of its slats has its middle, and its width, in inches."""
    config = read_config(path)
    layout = arrange_layout(solve_survey(config), config)
    coffer = next(coffer for coffer in layout.coffers if coffer.id == "C5")
    base = coffer.sides[coffer.start_side].line
    return {
        slat.id: (-sum(base.offset(p) for p in slat.axis) / 2.0 / INCH, slat.width / INCH)
        for slat in layout.slats
        if slat.coffer == "C5"
    }


def test_a_belly_in_the_middle_bends_the_sides(square: Path) -> None:
    """Straight sides would give the first slat the same with and without the middle."""
    base = {"C1 length at S01": "40 1/2", "C1 length at end": "40 1/2"}
    _, straight = applied(square, "coffers", base)
    _, bent = applied(square, "coffers", {**base, "C1 length half way": "40 5/8"})
    middle = "C1-S06"
    assert inches(bent[middle].longest) > inches(straight[middle].longest) + 0.05
    assert inches(bent["C1-S01"].longest) < inches(straight["C1-S01"].longest)


def test_diagonals_say_that_a_coffer_leans(square: Path) -> None:
    """Both sides lean alike: tight shrinks by the lean over a slat's width, and each end must hide that lean."""
    rows = rows_of(square, "coffers")
    base = {name: f"{row.design!r} mm" for name, row in rows.items() if name.startswith("C1 length at ")}
    drawn = {name: rows[f"C1 diagonal {name}"].design for name in ("1-3", "2-4")}
    done, field = applied(
        square,
        "coffers",
        {**base, "C1 diagonal 1-3": f"{drawn['1-3'] + 5.0!r} mm", "C1 diagonal 2-4": f"{drawn['2-4'] - 5.0!r} mm"},
    )
    # the far side moved along by x makes a square's diagonals x / sqrt(2) longer and shorter
    shear = 10.0 / 2.0**0.5 / (40.5 * INCH)
    row = field["C1-S03"]
    assert row.longest is not None
    assert row.shortest is not None
    lean = shear * 3.5 * INCH
    assert row.longest == pytest.approx((40.5 - 2 / 16) * INCH - lean, abs=0.1)  # 40 1/2 is 40.5008 as surveyed
    assert row.longest - row.shortest == pytest.approx((2 * 0.5 - 2 / 16) * INCH - 2.0 * lean, abs=2.0 * INCH / 1000.0)
    assert done.notes == ()


@pytest.mark.parametrize(
    ("holes", "width", "width_end"),
    [
        # Half way between the least edge gap, 1/16 in, and the 1/2 in that trim hides: a reading may be 1/16 in off.
        (("3 1/4", "3 1/4"), 3 - 9 / 32, None),
        # 1/32 in stays in the edge gap, half of it at either end.
        (("3 1/4", "3 7/32"), 2.96875 - (9 / 32 - 1 / 64), None),
    ],
)
def test_the_rip_is_the_hole_less_its_gaps(
    square: Path, holes: tuple[str, str], width: float, width_end: float | None
) -> None:
    names = [name for name in rows_of(square, "last") if name.startswith("C1 ")]
    _, field = applied(square, "last", dict(zip(names, holes, strict=True)))
    (row,) = field.values()
    assert inches(row.width) == pytest.approx(width, abs=1e-6)
    assert row.width_end is None if width_end is None else inches(row.width_end) == pytest.approx(width_end)


def test_a_hole_out_of_parallel_is_tapered_and_may_become_parallel_again(square: Path) -> None:
    names = [name for name in rows_of(square, "last") if name.startswith("C1 ")]
    _, field = applied(square, "last", dict(zip(names, ("3 1/4", "2 7/8"), strict=True)))
    (row,) = field.values()
    # 3 in and 2 5/8 less an edge gap of 9/32 in at the coffer's corners, 40 1/2 in apart; the slat ends 1/4 in before
    ends = sorted((inches(row.width), inches(row.width_end)))
    step = 3 / 8 / 40.5 / 4
    assert ends == pytest.approx([2.625 - 9 / 32 + step, 3.0 - 9 / 32 - step], abs=2e-3)
    _, field = applied(square, "last", dict.fromkeys(names, "3 1/4"))
    (row,) = field.values()
    assert (inches(row.width), inches(row.width_end)) == pytest.approx((3 - 9 / 32, 3 - 9 / 32), abs=1e-6)


def test_a_hole_wider_than_a_board_leaves_a_wider_gap(square: Path) -> None:
    names = [name for name in rows_of(square, "last") if name.startswith("C1 ")]
    filled = sheet(square, "last", dict.fromkeys(names, "4 1/4"))
    with pytest.raises(LacunarError, match="measure again"):
        apply_measures(square, filled)
    done = apply_measures(square, filled, limit=2.0 * INCH)
    (row,) = read_config(square).field.values()
    assert inches(row.width) == pytest.approx(3.5)
    assert any("edge gap grows by 7/32 in" in note for note in done.notes)


def test_trim_grows_with_its_side(square: Path) -> None:
    _, field = applied(square, "trim", {"C9-T3": "40 9/16", "C9-T4": "-"})
    assert set(field) == {"C9-T3"}
    assert field["C9-T3"].length == pytest.approx(read_length("40 9/16 in"))


def test_length_and_width_of_one_slat_come_from_two_sheets(square: Path) -> None:
    names = [name for name in rows_of(square, "last") if name.startswith("C1 ")]
    applied(square, "last", dict.fromkeys(names, "3 1/4"))
    lengths = {"C1 length at S01": "40 1/2", "C1 length at end": "40 1/2"}
    _, field = applied(square, "coffers", lengths)
    rip = max(name for name in field if name.startswith("C1-S"))
    assert field[rip].width is not None
    assert field[rip].length is not None
