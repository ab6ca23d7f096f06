"""The marks of a tape, and lengths told and cut by them."""

import pytest

from lacunar.config import read_config_text
from lacunar.tape import Tape
from lacunar.units import INCH, Units

SIXTEENTHS = Tape(units="in", read_to=INCH / 16.0)
METRIC = Tape(units="mm", read_to=1.0)


@pytest.mark.parametrize(
    ("units", "read_to", "told", "fine", "written"),
    [
        ("in", INCH / 16.0, INCH / 32.0, INCH / 32.0, INCH / 64.0),
        ("in", INCH / 64.0, INCH / 64.0, INCH / 64.0, INCH / 64.0),
        ("mm", 2.0, 1.0, 0.5, 0.1),
        ("mm", 0.5, 0.5, 0.5, 0.1),
        ("mm", 0.2, 0.2, 0.2, 0.1),
    ],
)
def test_marks(units: Units, read_to: float, told: float, fine: float, written: float) -> None:
    """One place says them: findings, sheets, tables and the plan's ticks take them from there."""
    tape = Tape(units=units, read_to=read_to)
    assert (tape.told, tape.fine, tape.written) == (told, fine, written)


def test_a_config_has_the_tape_that_it_names() -> None:
    room = 'read_to = "1/32 in"\n[room]\nheight = "8 ft"\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n'
    assert read_config_text(room, "r.toml").tape == Tape(units="in", read_to=INCH / 32.0)


def test_a_length_is_told_to_the_mark_that_is_read_or_to_another() -> None:
    assert SIXTEENTHS.text(12.3 * INCH) == "1' 0 5/16\""
    assert SIXTEENTHS.text(12.3 * INCH, "inches", SIXTEENTHS.fine) == "12 5/16 in"
    assert SIXTEENTHS.text(12.3 * INCH, mark=INCH) == "1' 0\""
    assert METRIC.text(1396.5, mark=METRIC.fine) == "1396.5 mm"


def test_whole_feet_have_no_inches_in_words() -> None:
    assert SIXTEENTHS.words(96.0 * INCH) == "8 ft"
    assert SIXTEENTHS.words(97.5 * INCH) == "8 ft 1 1/2 in"


@pytest.mark.parametrize(
    ("inches", "text"), [(12.0 + 1 / 16, "12 1/16 in"), (12.0 + 1 / 32, "12 1/32 in"), (12.0 + 1 / 64, "12 1/64 in")]
)
def test_a_length_that_is_cut_stands_on_the_coarsest_mark_that_it_can(inches: float, text: str) -> None:
    assert SIXTEENTHS.cut_text(inches * INCH, "inches") == text


@pytest.mark.parametrize(
    ("inches", "text"), [(39.6875, "39 11/16"), (51.1875, "51 3/16 (4 ft 3 3/16)"), (48.0, "48 (4 ft)"), (0.75, "3/4")]
)
def test_stops_are_told_as_their_rule_reads(inches: float, text: str) -> None:
    assert SIXTEENTHS.stop_text(inches * INCH) == text


def test_a_metric_stop_rule_has_no_feet() -> None:
    assert METRIC.stop_text(1396.5) == "1396.5 mm"
    assert METRIC.stop_text(1396.0) == "1396 mm"
