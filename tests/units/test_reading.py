"""Lengths, angles and temperatures as people write them. Expected numbers: one inch is 25.4 mm, by definition."""

import math

import pytest

from lacunar.units import (
    FOOT,
    INCH,
    UnitError,
    Units,
    read_angle,
    read_length,
    read_temperature,
)

INCHES = [
    # feet, inches and a fraction
    ("12' 4-1/2\"", 148.5),
    ("12' 4 1/2\"", 148.5),
    ("12'4 1/2\"", 148.5),
    ("12'-4 1/2\"", 148.5),
    ("12' - 4-1/2\"", 148.5),
    ("12ft 4 1/2in", 148.5),
    ("12 ft 4 1/2 in", 148.5),
    ("12 ft. 4 1/2 in.", 148.5),
    ("12 FT 4 1/2 IN", 148.5),
    ("12 feet 4 1/2 inches", 148.5),
    ("1 foot 1 inch", 13.0),
    ("12 ft, 4 in", 148.0),
    ("12', 4\"", 148.0),
    ("12' 4''", 148.0),
    ("12' 4", 148.0),
    ("12 ft 4 1/2", 148.5),
    ("12' 1/2\"", 144.5),
    ("12 ft 4.5 in", 148.5),
    # one unit
    ('4 1/2"', 4.5),
    ("4-1/2 in", 4.5),
    ("148.5 in", 148.5),
    ("148.5in", 148.5),
    (".5 in", 0.5),
    ("5/4 in", 1.25),
    ("5 ft", 60.0),
    ("5'", 60.0),
    ("5.5 ft", 66.0),
    ("5 1/2 ft", 66.0),
    ("0 in", 0.0),
    ("3 1/3 in", 10.0 / 3.0),
    # signs that look alike
    ("12′ 4½″", 148.5),
    ("12’ 4 ½”", 148.5),
    ("12‘ 4⅜“", 148.375),
    ("4⅞″", 4.875),
    ("¾″", 0.75),
    ("4 1⁄2 in", 4.5),
    ("4\u00a01/2\u2009in", 4.5),
    ("12 ft 4–1/2 in", 148.5),
    ("  7   in  ", 7.0),
    # signs
    ("-1/4 in", -0.25),
    ("- 1/4 in", -0.25),
    ("−1 ft 2 in", -14.0),
    ("+3 in", 3.0),
    ("-0 in", 0.0),
    # bare, in inches
    ("3/4", 0.75),
    ("12", 12.0),
    ("12.25", 12.25),
    ("2 3/8", 2.375),
    (12, 12.0),
    (0.75, 0.75),
]

MILLIMETRES = [
    ("3.76 m", 3760.0),
    ("3760 mm", 3760.0),
    ("3760mm", 3760.0),
    ("376 cm", 3760.0),
    ("37.6 cm", 376.0),
    ("3 m 76 cm", 3760.0),
    ("3 m 76 cm 5 mm", 3765.0),
    ("3 m 5 mm", 3005.0),
    ("2 metres", 2000.0),
    ("2 meters", 2000.0),
    ("1e3 mm", 1000.0),
    ("4 1/2 in", 114.3),
    ("1/2 cm", 5.0),
    ("3760", 3760.0),
    (3760, 3760.0),
    (0.1, 0.1),
]


@pytest.mark.parametrize(("text", "inches"), INCHES)
def test_a_length_in_an_inch_config(text: object, inches: float) -> None:
    assert read_length(text, "in") == pytest.approx(inches * 25.4, rel=1e-15, abs=0.0)


@pytest.mark.parametrize(("text", "mm"), MILLIMETRES)
def test_a_length_in_a_metric_config(text: object, mm: float) -> None:
    assert read_length(text, "mm") == pytest.approx(mm, rel=1e-15, abs=0.0)


@pytest.mark.parametrize(("text", "inches"), [pair for pair in INCHES if isinstance(pair[0], str)])
def test_a_text_with_its_unit_means_the_same_in_both(text: str, inches: float) -> None:
    if any(sign in text.translate(str.maketrans("′’‘″”“", "'''\"\"\"")).lower() for sign in ("in", "f", "'", '"')):
        assert read_length(text, "mm") == read_length(text, "in")
    assert math.copysign(1.0, read_length(text, "in")) == (-1.0 if inches < 0 else 1.0)


def test_one_rounding_only() -> None:
    """0.1 in is 2.54 mm and 0.7 in 17.78 mm: the nearest doubles, not products of rounded factors."""
    assert read_length("0.1 in") == 2.54
    assert read_length(0.7, "in") == 17.78
    assert read_length("1/10 in") == read_length(0.1, "in")
    assert pytest.approx(304.8, rel=1e-15) == FOOT
    assert INCH == 25.4


REFUSED = [
    ("", "must be a length", "12 ft 4 1/2 in, 12' 4-1/2\", 148.5 in, 3.76 m, 3760 mm"),
    ("   ", "must be a length", "3760 mm"),
    ("wide", 'got "wide"', "must be a length"),
    ("4 apples", 'got "4 apples"', "must be a length"),
    ("-", 'got "-"', "must be a length"),
    ("--4 in", 'got "--4 in"', "must be a length"),
    ("4 in -", 'got "4 in -"', "must be a length"),
    ("4 in,", 'got "4 in,"', "must be a length"),
    ("in", 'got "in"', "must be a length"),
    ("12 4 in", 'got "12 4 in"', "must be a length"),
    ("1 2 3", 'got "1 2 3"', "must be a length"),
    ("6-0", 'got "6-0"', "must be a length"),
    ("3 in 5 ft", 'got "3 in 5 ft"', "must be a length"),
    ("5 ft 30 cm", 'got "5 ft 30 cm"', "must be a length"),
    ("5 ft 14 in", "after ft there must be fewer than 12 in", "5 ft 14 in"),
    ("3 m 120 cm", "fewer than 100 cm", "3 m 120 cm"),
    ("5.5 ft 3 in", "ft must be a whole number", "5.5 ft 3 in"),
    ("4 5/4 in", "5/4 after a whole number", "write the sum"),
    ("1/0 in", "fraction over 0", "1/0 in"),
    ("3,76 m", "comma", '"3.76 m"'),
    ("1,524 mm", "comma", "point"),
    ("15 deg", "(an angle)", "must be a length"),
    ("68 F", "(a temperature)", "must be a length"),
    (True, "got true", "must be a length"),
    (None, "got None", "must be a length"),
    ([1], "got [1]", "must be a length"),
    (math.nan, "got nan", "must be a length"),
    (math.inf, "got inf", "must be a length"),
    ("1e400 m", "must be a length", "1e400 m"),
    ("9" * 500, "must be a length", "999..."),
    (10**400, "got 1000", "must be a length"),
    (-(10**16), "got -1000", "must be a length"),
    ("١٢ in", "must be a length", "١٢ in"),
]


@pytest.mark.parametrize(("value", "says", "also"), REFUSED)
def test_what_is_refused_and_how(value: object, says: str, also: str) -> None:
    with pytest.raises(UnitError) as error:
        read_length(value, "in")
    assert says in str(error.value)
    assert also in str(error.value)


def test_a_bare_fraction_is_refused_in_a_metric_config() -> None:
    with pytest.raises(UnitError, match='write "3/4 in"'):
        read_length("3/4", "mm")


@pytest.mark.parametrize(
    ("value", "degrees"),
    [("15 deg", 15.0), ("15°", 15.0), ("-7.5 degrees", -7.5), (22.5, 22.5), ("30", 30.0), (f"{math.pi / 6} rad", 30.0)],
)
def test_angles(value: object, degrees: float) -> None:
    assert read_angle(value) == pytest.approx(math.radians(degrees), rel=1e-15)


@pytest.mark.parametrize(("value", "says"), [("15 in", "(a length)"), ("x", "must be an angle"), (True, "got true")])
def test_what_is_no_angle(value: object, says: str) -> None:
    with pytest.raises(UnitError) as error:
        read_angle(value)
    assert says in str(error.value)
    assert "15 deg" in str(error.value)


@pytest.mark.parametrize(
    ("value", "units", "celsius"),
    [
        ("68 F", "mm", 20.0),
        ("68°F", "in", 20.0),
        ("20 C", "in", 20.0),
        ("-40 F", "in", -40.0),
        ("68", "in", 20.0),
        (68, "in", 20.0),
        (20, "mm", 20.0),
        ("32 fahrenheit", "in", 0.0),
    ],
)
def test_temperatures(value: object, units: Units, celsius: float) -> None:
    assert read_temperature(value, units) == pytest.approx(celsius, abs=1e-12)


def test_what_is_no_temperature() -> None:
    with pytest.raises(UnitError, match="must be a temperature, written like 68 F, 20 C"):
        read_temperature("warm")
