"""How ends, widths and notches are said: from ends and edges that a person can find."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from drawings.sawing import config
from lacunar.config import read_config
from lacunar.drawings import ends_text, notch_texts
from lacunar.drawings.boards_words import ids_text
from lacunar.drawings.lettering import unbroken
from lacunar.geometry import Ring
from lacunar.job import Job, run_job
from lacunar.parts import Cutaway, End, Part
from lacunar.plan import Setting
from lacunar.units import INCH
from samples import slat


@cache
def job_of(path: Path) -> Job:
    return run_job(read_config(path))


def rectangle(low: float, high: float, near: float, far: float) -> Ring:
    return ((low, near), (high, near), (high, far), (low, far))


def with_hole(ring: Ring, *, inside: bool = False, grow: tuple[float, float] = (0.5, 0.5)) -> Part:
    """A slat 1000 by 80 mm from E1 to E2, AB on its left; what is said of it does not hang on `along`."""
    cut = Cutaway(fixture="light", outline=ring, along=(0.0, 0.0), inside=inside)
    return replace(slat(), notches=(cut,), grow=grow)


E1, E2 = "10 to 15 in from the end at E1", "10 to 15 in from the end at E2"
DEEP = "notch for light 1 9/16 in deep"


@pytest.mark.parametrize(
    ("part", "text"),
    [
        (with_hole(rectangle(254.0, 381.0, 0.0, 60.0)), f"{DEEP}, {E1}, to the AB side"),
        (with_hole(rectangle(254.0, 381.0, -60.0, 0.0)), f"{DEEP}, {E1}, to the X1-1 side"),
        # Told from the nearer end.
        (with_hole(rectangle(619.0, 746.0, 0.0, 60.0)), f"{DEEP}, {E2}, to the AB side"),
        (
            with_hole(rectangle(254.0, 381.0, -10.0, 20.0), inside=True),
            f"hole for light, {E1}, 13/16 to 1 15/16 in from the AB edge",
        ),
        # From an end that no cut-out made, however far.
        (
            replace(with_hole(rectangle(254.0, 381.0, 0.0, 60.0), grow=(0.0, 1.0)), meets=("light", "E2")),
            f"{DEEP}, 24 3/8 to 29 3/8 in from the end at E2, to the AB side",
        ),
        (
            replace(with_hole(rectangle(-50.0, 25.4, -50.0, 50.0), grow=(0.0, 1.0)), meets=("light", "E2")),
            "end at light cut out round it, 1 in deep",
        ),
    ],
)
def test_a_notch_is_told_from_ends_and_sides(part: Part, text: str) -> None:
    assert notch_texts(part, config().tape) == [text]


def test_an_end_that_a_straight_cut_out_made_is_square() -> None:
    assert notch_texts(with_hole(rectangle(-50.0, 0.0, -50.0, 50.0), grow=(0.0, 1.0)), config().tape) == []


def test_a_notch_keeps_its_place_when_the_plan_moves_the_end(configs: Path) -> None:
    job = job_of(configs / "6-sagging.toml")
    (lamp,) = (hole for hole in job.layout.cut_outs if hole.coffer == "C5")
    part = next(part for part in job.parts if part.id == "C5-S06")
    (text,) = notch_texts(part, job.config.tape)
    along = [abs(point[0] - part.axis[1][0]) for point in lamp.outline]
    assert text.startswith("notch for lamp ")
    # The slat runs along x: no place told lies outside the fixture's hole.
    low, high = (float_inches(word) for word in text.split(" deep, ")[1].partition(" in from")[0].split(" to "))
    assert min(along) - 1.6 <= low * INCH <= high * INCH <= max(along) + 1.6


def float_inches(text: str) -> float:
    whole, _, fraction = text.partition(" ")
    top, _, bottom = fraction.partition("/")
    return float(whole) + (float(top) / float(bottom) if fraction else 0.0)


def mitre(angle: float) -> Setting:
    return Setting(id=f"mitre-{angle}", stock="", species="", stop=None, fence=None, mitre_deg=angle, parts=("C1-S01",))


@pytest.mark.parametrize(
    ("ends", "angles", "text"),
    [
        ((0.0, 0.0), (), "square at E1 and E2"),
        ((0.2, 0.0), (), "square at E1 and E2"),
        # A parallelogram: each face reaches further at one end.
        ((2.0, 2.0), (2.0,), "2 deg at E1, X1-1 face longer by 1/8 in; 2 deg at E2, AB face longer by 1/8 in"),
        ((-2.0, 2.0), (2.0, -2.0), "2 deg at E1 and E2, AB face longer by 1/8 in at each"),
        ((0.0, -2.0), (-2.0,), "square at E1; 2 deg at E2, X1-1 face longer by 1/8 in"),
    ],
)
def test_ends_name_what_they_stand_at(ends: tuple[float, float], angles: tuple[float, ...], text: str) -> None:
    part = replace(slat(), ends=(End(mitre_deg=ends[0]), End(mitre_deg=ends[1])))
    assert ends_text(part, [mitre(angle) for angle in angles], config().tape) == text


def test_numbers_stay_with_their_fractions_and_units() -> None:
    assert unbroken("set stop-4 to 51 3/16 (4 ft 3 3/16), 0.66 deg at E1 by 1/32 in") == [
        "set", "stop-4", "to", "51 3/16", "(4 ft", "3 3/16),", "0.66 deg", "at", "E1", "by", "1/32 in"
    ]  # fmt: skip


def test_parts_in_a_row_are_told_by_the_first_and_the_last() -> None:
    assert ids_text(["C1-S02", "C1-S03", "C1-S04", "C1-S09", "C1-S10", "C2-S11"]) == (
        "C1-S02 to C1-S04, C1-S09, C1-S10, C2-S11"
    )
    assert ids_text(["C5-S07a", "C5-S07b"]) == "C5-S07a, C5-S07b"
