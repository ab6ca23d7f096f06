"""Lengths printed to the nearest mark, and read back."""

import re
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import lacunar.units as units_module
from lacunar.units import (
    Style,
    Units,
    format_length,
    nearest_mark,
    read_length,
)

SIXTEENTH = 25.4 / 16.0

PRINTED = [
    (148.5, "in", 1 / 16, "12' 4 1/2\""),
    (4.5, "in", 1 / 16, '4 1/2"'),
    (1 / 16, "in", 1 / 16, '1/16"'),
    (0.0, "in", 1 / 16, '0"'),
    (-0.001, "in", 1 / 16, '0"'),
    (-0.25, "in", 1 / 16, '-1/4"'),
    (-148.5, "in", 1 / 16, "-12' 4 1/2\""),
    (12.0, "in", 1 / 16, "1' 0\""),
    (11.97, "in", 1 / 16, "1' 0\""),  # 11 15.5/16 goes up to the foot, never 11 16/16
    (11.9375, "in", 1 / 16, '11 15/16"'),
    (12.5, "in", 1 / 16, "1' 0 1/2\""),  # not 1' 1/2", which could be read as a foot and a half
    (3.03125, "in", 1 / 16, '3 1/16"'),  # half a mark goes away from zero
    (-3.03125, "in", 1 / 16, '-3 1/16"'),
    (3.03125, "in", 1 / 32, '3 1/32"'),
    (3.99, "in", 1 / 8, '4"'),
    (3.6, "in", 1.0, '4"'),
    (3.6, "in", 1 / 10, '3.6"'),
]


@pytest.mark.parametrize(("inches", "units", "mark", "text"), PRINTED)
def test_inches(inches: float, units: Units, mark: float, text: str) -> None:
    assert format_length(inches * 25.4, units, mark * 25.4) == text


@pytest.mark.parametrize(
    ("mm", "mark", "text"),
    [
        (3760.0, 1.0, "3760 mm"),
        (3760.4, 1.0, "3760 mm"),
        (3760.26, 0.5, "3760.5 mm"),
        (-0.2, 1.0, "0 mm"),
        (3.0, 5.0, "5 mm"),
    ],
)
def test_millimetres(mm: float, mark: float, text: str) -> None:
    assert format_length(mm, "mm", mark) == text


def test_words() -> None:
    assert format_length(148.5 * 25.4, "in", SIXTEENTH, "words") == "12 ft 4 1/2 in"
    assert format_length(25.4 / 4, "in", SIXTEENTH, "words") == "1/4 in"
    assert format_length(148.5 * 25.4, "in", SIXTEENTH, "inches") == "148 1/2 in"
    assert format_length(12.0 * 25.4, "in", SIXTEENTH, "inches") == "12 in"


MARKS_IN = (Fraction(1), Fraction(1, 4), Fraction(1, 8), Fraction(1, 16), Fraction(1, 32), Fraction(1, 64))


@given(
    steps=st.integers(-300_000, 300_000),
    mark=st.sampled_from(MARKS_IN),
    style=st.sampled_from(("marks", "words", "inches")),
)
def test_round_trip_is_exact_on_every_inch_mark(steps: int, mark: Fraction, style: Style) -> None:
    """A length on a mark prints as itself and reads back as the same double: mark x 127/5 mm, rounded once."""
    exact = float(steps * mark * Fraction(127, 5))
    text = format_length(exact, "in", float(mark * Fraction(127, 5)), style)
    assert read_length(text, "in") == exact
    assert nearest_mark(exact, float(mark * Fraction(127, 5))) == exact


@given(steps=st.integers(-300_000, 300_000), mark=st.sampled_from((Fraction(1), Fraction(1, 2), Fraction(1, 10))))
def test_round_trip_is_exact_on_every_millimetre_mark(steps: int, mark: Fraction) -> None:
    exact = float(steps * mark)
    assert read_length(format_length(exact, "mm", float(mark)), "mm") == exact
    assert nearest_mark(exact, float(mark)) == exact


@given(mm=st.floats(-30_000.0, 30_000.0), mark=st.sampled_from(MARKS_IN))
def test_every_length_prints_to_a_nearest_mark_in_lowest_terms(mm: float, mark: Fraction) -> None:
    text = format_length(mm, "in", float(mark * Fraction(127, 5)))
    match = re.fullmatch(r"-?(?:([0-9]+)' )?(?:([0-9]+)(?: |(?=\")))?(?:([0-9]+)/([0-9]+))?\"", text)
    assert match is not None, text
    feet, inches, top, bottom = (int(part) if part else 0 for part in match.groups())
    assert inches < 12
    if bottom:
        assert Fraction(top, bottom).denominator == bottom  # lowest terms
        assert top < bottom <= mark.denominator
    size = feet * 12 + inches + (Fraction(top, bottom) if bottom else 0)
    assert (size / mark).denominator == 1
    assert abs(size - abs(Fraction(mm) * 5 / 127)) <= mark / 2 * (1 + Fraction(1, 10**9))
    assert not re.match(r'-0"$', text)
    assert text.startswith("-") == (size != 0 and mm < 0)


def test_nearest_mark_reads_as_its_print() -> None:
    assert nearest_mark(100.0, SIXTEENTH) == read_length('3 15/16"')
    assert nearest_mark(-100.0, SIXTEENTH) == read_length('-3 15/16"')
    assert nearest_mark(100.4, 1.0) == 100.0


def test_no_other_module_has_a_table_of_marks_by_unit() -> None:
    model = Path(units_module.__file__).parent
    table = re.compile(r'"in": INCH / (?:32|64)\.0|INCH / (?:32|64)\.0 if [\w.]+ == "in" else')
    said = {path.name for path in model.rglob("*.py") if table.search(path.read_text(encoding="utf-8"))}
    assert said == {"units.py", "bundle.py"}  # the latter's is a board's width, not a mark
