"""Measurements that make no room: the message has the numbers and says what to measure."""

import itertools

import pytest

from lacunar.config import read_config_text
from lacunar.errors import SurveyError
from lacunar.survey import solve_survey


def _message(measured: str, corners: str = "ABCD", marks: str = "", units: str = "in") -> str:
    text = f'units = "{units}"\n[room]\nheight = "9 ft"\ncorners = "{corners}"\n[room.measured]\n{measured}\n{marks}'
    with pytest.raises(SurveyError) as caught:
        solve_survey(read_config_text(text, "study.toml"))
    return str(caught.value)


def test_triangle_with_a_side_too_long() -> None:
    message = _message('AB = "12 ft"\nBC = "3 ft"\nCD = "12 ft"\nDA = "4 ft 1/2 in"\nAC = "16 ft"')
    assert message == (
        "study.toml room.measured: AB 12 ft + BC 3 ft is shorter than AC 16 ft; "
        "measure AC again: AC may be 13 ft, read 3 ft more"
    )


def test_every_impossible_triangle_is_told_at_once() -> None:
    message = _message('AB = "12 ft"\nBC = "3 ft"\nCD = "12 ft"\nDA = "3 ft"\nAC = "16 ft"')
    assert [line.partition(": ")[2] for line in message.splitlines()] == [
        "AB 12 ft + BC 3 ft is shorter than AC 16 ft; measure AC again: it is in each of these",
        "CD 12 ft + DA 3 ft is shorter than AC 16 ft; measure AC again: it is in each of these",
    ]


def test_metric_numbers_in_a_metric_room() -> None:
    message = _message("AB = 3600\nBC = 900\nCD = 3600\nDA = 2000\nAC = 5000", units="mm")
    assert "AB 3600 mm + BC 900 mm is shorter than AC 5000 mm" in message


def test_triangle_with_a_mark() -> None:
    message = _message(
        'AB = "12 ft"\nBC = "10 ft"\nCD = "12 ft"\nDA = "10 ft"\n"m1-C" = "18 ft"',
        marks='[room.marks]\nm1 = { wall = "AB", from = "A", at = "6 ft" }',
    )
    assert message.partition(": ")[2] == ("B-m1 6 ft + BC 10 ft is shorter than m1-C 18 ft; measure these three again")


def test_a_hair_too_long_is_reading_error_and_no_impossible_triangle() -> None:
    # m1 lies on AB: the three distances A-m1, m1-B and AB can only be flat, give or take a reading's error.
    text = """
        [room]
        height = "9 ft"
        [room.measured]
        AB = "12 ft"
        BC = "10 ft"
        CD = "12 ft"
        DA = "10 ft"
        AC = "15 ft 7 7/16 in"
        "m1-B" = "5 ft 11 7/8 in"
        [room.marks]
        m1 = { wall = "AB", from = "A", at = "6 ft" }
    """
    room = solve_survey(read_config_text(text, "study.toml"))
    assert room.dof == 1
    assert room.chi2 < 3.0


def test_a_wall_longer_than_the_others_together() -> None:
    message = _message('AB = "30 ft"\nBC = "8 ft"\nCD = "9 ft"\nDA = "8 ft 6 in"')
    assert message.partition(": ")[2] == (
        "BC 8 ft + CD 9 ft + DA 8 ft 6 in is shorter than AB 30 ft; one of these may be misread: "
        "AB may be 9 ft 1 3/4 in, feet read as metres; CD may be 29 ft 6 5/16 in, metres read as feet; "
        "measure them again"
    )


def test_walls_that_cannot_close_on_a_square_corner() -> None:
    message = _message('AB = "12 ft"\nBC = "3 ft"\nCD = "10 ft"\nDA = "11 ft"')
    assert message.partition(": ")[2] == (
        "with a square corner at A, which was assumed, AB 12 ft, BC 3 ft, CD 10 ft, DA 11 ft do not close; "
        "measure BC again: BC may be 13 ft, read 10 ft less"
    )


@pytest.mark.parametrize(
    ("measured", "fix"),
    [
        ('AC = "15 ft"', "measure CD, and DA or BD too"),
        ('CD = "12 ft"\nAC = "15 ft"', "measure DA or BD too"),
        ('AC = "15 ft"\nBD = "15 ft"', "measure CD or DA too"),
    ],
)
def test_missing_distances_are_named(measured: str, fix: str) -> None:
    message = _message(f'AB = "12 ft"\nBC = "10 ft"\n{measured}')
    assert message.endswith(f"do not fix the corners; {fix}")


def test_an_l_room_by_its_walls_alone_needs_tapes_that_stay_inside() -> None:
    message = _message("AB = 6000\nBC = 3000\nCD = 2500\nDE = 2000\nEF = 3500\nFA = 5000", "ABCDEF", units="mm")
    wanted = message.rpartition("measure ")[2]
    assert wanted == "AC, AD, and AE or BF or DF too"
    # C and E do not see each other, nor do C and F, round the reflex corner D.
    assert not any(pair in wanted for pair in ("CE", "CF", "BE"))


def test_orders_of_one_figure_give_one_message() -> None:
    rows = ['CD = "12 ft"', 'AC = "15 ft"', 'AB = "12 ft"', 'BC = "10 ft"']
    fixes = {_message("\n".join(order)).rpartition("; ")[2] for order in itertools.permutations(rows)}
    assert fixes == {"measure DA or BD too"}


def test_a_bow_tie_is_no_room() -> None:
    # Perfect distances of a ring whose walls BC and DA cross.
    message = _message("AB = 3000\nBC = 5000\nCD = 3000\nDA = 5000\nAC = 4000\nBD = 4000", units="mm")
    assert message.endswith("fit no room: walls cross each other; measure these again, and one more diagonal")
