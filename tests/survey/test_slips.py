"""A distance misread by a usual slip spoils the room: which one it is, and what it may be."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from lacunar.config import read_config
from lacunar.errors import SurveyError
from lacunar.survey import solve_survey, usual_slips
from lacunar.units import FOOT, INCH
from survey.measuring import Corners, config_from, distances, walls

ROOM: Corners = {"A": (0.0, 4100.0), "B": (5200.0, 4080.0), "C": (5230.0, 10.0), "D": (-25.0, 0.0)}


def _shipped(configs: Path, room: str, name: str, value: str) -> str:
    with pytest.raises(SurveyError) as caught:
        solve_survey(read_config(configs / f"{room}.toml", [(f"room.measured.{name}", value)]))
    (problem,) = caught.value.problems
    assert problem.where == f"{room}.toml room.measured"
    return problem.fix


@pytest.mark.parametrize(
    ("room", "name", "value", "fix"),
    [
        ("8-l-shaped", "FA", "11 ft 1/4 in", "measure FA again: FA may be 13 ft 0 1/4 in, read 2 ft less"),
        ("8-l-shaped", "BD", "11 ft 5 3/8 in", "measure BD again: BD may be 9 ft 5 3/8 in, read 2 ft more"),
        ("8-l-shaped", "BF", "9 ft 6 15/16 in", "measure BF again: BF may be 19 ft 1 7/8 in, read as half of that"),
        ("4-inch", "AB", "29 ft 3 1/2 in", "measure AB again: AB may be 19 ft 3 1/2 in, read 10 ft more"),
        ("3-square", "AC", "1 mm", "measure AC again: AC 15 ft 1 11/16 in would fit the others"),
        ("2-one-coffer", "AC", "3 ft 8 31/32 in", "measure AC again: AC may be 7 ft 5 15/16 in, read as half of that"),
    ],
)
def test_a_shipped_room_misread(configs: Path, room: str, name: str, value: str, fix: str) -> None:
    assert _shipped(configs, room, name, value) == fix


def test_a_room_that_lies_flat() -> None:
    with pytest.raises(SurveyError, match="fit no room: the nearest figure lies flat; measure these again"):
        solve_survey(config_from({"AB": 4000, "BC": 3000, "CD": 4000, "DA": 3000, "AC": 999, "BD": 7000}))


def test_four_walls_that_make_no_corner_square_but_the_assumed_one() -> None:
    measured = distances(ROOM, walls("ABCD"))
    with pytest.raises(
        SurveyError, match=r"with a square corner at A, which was assumed, AB 3200 mm.* must be 70 to"
    ) as e:
        solve_survey(config_from(measured | {"AB": measured["AB"] - 2000.0}))
    assert "AB may be 5200 mm, read 2000 mm less" in str(e.value)


def _values(read: float, units: str) -> Mapping[str, float]:
    return {how: value for value, how in usual_slips(read, "mm" if units == "mm" else "in")}


def test_slips_of_an_inch_tape() -> None:
    values = _values(19 * FOOT + 3.5 * INCH, "in")
    assert values["read 1 in more"] == pytest.approx(19 * FOOT + 2.5 * INCH)
    assert values["read 10 ft less"] == pytest.approx(29 * FOOT + 3.5 * INCH)
    assert values["two figures changed places"] == pytest.approx(91 * FOOT + 3.5 * INCH)
    assert values["feet and inches changed places"] == pytest.approx(3 * FOOT + 19.5 * INCH)
    assert values["read as half of that"] == pytest.approx(38 * FOOT + 7 * INCH)


def test_slips_of_a_metric_tape() -> None:
    values = _values(376.0, "mm")
    assert values["read as a tenth of that: centimetres written for millimetres"] == 3760.0
    assert values["read 100 mm more"] == 276.0
    swapped = [value for value, how in usual_slips(3760.0, "mm") if how == "two figures changed places"]
    assert swapped == [7360.0, 3670.0, 3706.0]
    assert min(value for value, _ in usual_slips(120.0, "mm")) >= 25.0


@pytest.mark.parametrize(
    ("by", "fix"),
    [
        (-1000.0, "measure A-ab again: A-ab may be 2600 mm, read 1000 mm less"),
        (-700.0, "measure A-ab again: A-ab 2600 mm would fit the others"),
    ],
)
def test_a_mark_made_at_the_wrong_place(by: float, fix: str) -> None:
    marks = {"ab": ("AB", 2600.0), "cd": ("CD", 2600.0)}
    measured = distances(ROOM, [*walls("ABCD"), "AC", "BD", "ab-C", "ab-D", "cd-A", "cd-B"], marks)
    with pytest.raises(SurveyError) as caught:
        solve_survey(config_from(measured, marks=marks | {"ab": ("AB", 2600.0 + by)}))
    assert caught.value.problems[0].fix == fix
