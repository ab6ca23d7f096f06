"""What is said of measurements that agree, disagree, or cannot tell."""

from dataclasses import replace

import pytest

from checks.sample import SQUARE, ceiling, edited, found, levels, one, rebuilt
from lacunar.analysis import Subject
from lacunar.survey import Measured


def with_room(**fields: object) -> Subject:
    subject = ceiling(SQUARE)
    return rebuilt(subject, room=replace(subject.room, **fields))  # type: ignore[arg-type]


def reading(name: str, read: float, residual: float, w: float | None, suspect: bool = False) -> Measured:
    return Measured(between=name, read=read, adjusted=read + residual, residual=residual, sd=2.0, w=w, suspect=suspect)


def test_agreeing_distances_pass_with_the_largest_correction() -> None:
    readings = (reading("AB", 4000.0, 0.4, 0.5), reading("AC", 5000.0, -3.0, 1.1))
    finding = one("survey-fit", with_room(measured=readings, dof=2, chi2=2.3))
    assert (finding.level, finding.where, finding.value) == ("pass", "AC", 2.3)
    assert finding.limit == pytest.approx(5.991, abs=1e-3)
    assert "3 mm" in finding.message


@pytest.mark.parametrize(
    ("dof", "chi2", "level"),
    [(1, 3.8, "pass"), (1, 3.9, "warn"), (1, 10.8, "warn"), (1, 10.9, "fail"), (9, 16.9, "pass"), (9, 28.0, "fail")],
)
def test_limits(dof: int, chi2: float, level: str) -> None:
    assert levels("survey-fit", with_room(dof=dof, chi2=chi2)) == [level]


def test_a_disagreement_is_told_with_the_largest_correction() -> None:
    readings = (reading("AB", 4000.0, 1.0, 5.0), reading("BC", 3000.0, -4.0, 5.0))
    finding = one("survey-fit", with_room(measured=readings, dof=1, chi2=25.0))
    assert (finding.level, finding.where, finding.value) == ("fail", "room.measured", 25.0)
    assert "4 mm (BC)" in finding.message


def test_a_suspect_is_to_be_measured_again() -> None:
    readings = (reading("AB", 4000.0, 1.0, 0.7), reading("AC", 5040.0, -20.0, -14.0, suspect=True))
    finding = one("survey-fit", with_room(measured=readings, dof=3, chi2=196.0))
    assert finding.level == "fail"
    assert "measure AC again" in finding.fix


def test_nothing_to_spare_and_a_square_corner_are_questions() -> None:
    assert levels("survey-fit", with_room(dof=0, chi2=0.0)) == ["ask"]
    plain = edited(SQUARE, ("AC = 5000\nBD = 5000\n", ""))
    (finding,) = found("survey-fit", ceiling(plain))
    assert (finding.level, finding.where) == ("ask", "room.measured")
    assert "corner A is taken as square" in finding.message
    assert "diagonals" in finding.fix
