"""A piece whose two faces differ otherwise than drawn: both fit, at angles worked out by hand.

The room of 3-square.toml: pieces 3 1/2 in wide in openings 40 1/2 in square, less 1/32 in of clearance.
"""

import math
from collections.abc import Mapping
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from field.by_hand import copied, sheet
from field.ceilings import config, designed
from lacunar.config import read_config, read_config_text
from lacunar.errors import LayoutError
from lacunar.field import apply_measures
from lacunar.geometry import Line, end_mitres
from lacunar.job import Job, run_job
from lacunar.parts import Part, apply_field, shaped, undrilled
from lacunar.reports import cut_list_rows, setting_rows
from lacunar.solids import build_solids
from lacunar.units import INCH

WIDTH = 3.5
AB, OTHER = 40.625, 40.375
"""Openings, inches: 1/4 in apart."""


@pytest.fixture
def square(configs: Path, tmp_path: Path) -> Path:
    return copied(configs / "3-square.toml", tmp_path)


def opened(path: Path, piece: str, ab: float = AB, other: float = OTHER) -> tuple[str, ...]:
    faces = {"AB": ab, piece.replace("X1", "X2"): other}
    values = {f"{piece} {name} face {level}": f"{mm}" for name, mm in faces.items() for level in ("top", "bottom")}
    return apply_measures(path, sheet(path, "openings", values)).notes


def faces_of(part: Part) -> dict[str, float]:
    """How long the wood is a hair inside either face, by what the face looks at; cut by another library."""
    axis, body = Line.through(*part.axis), Polygon(part.outline)
    half = part.width / 2.0 - 1e-6
    lines = (LineString((axis.at(-5000.0, left), axis.at(5000.0, left))) for left in (half, -half))
    return dict(zip(part.beside, (body.intersection(line).length for line in lines), strict=True))


def part_of(job: Job, name: str) -> Part:
    return next(part for part in job.parts if part.id == name)


@pytest.mark.parametrize(
    ("piece", "runs"),
    [
        ("X1-1", (0.25, 0.0)),  # wall DA takes all, beam E1 nothing
        ("X1-2", (0.125, 0.125)),  # between two beams half each
        ("X1-3", (0.0, 0.25)),
    ],
)
def test_both_faces_fit_and_the_ends_turn(square: Path, piece: str, runs: tuple[float, float]) -> None:
    before = read_config(square)
    (note,) = opened(square, piece)
    config = read_config(square)
    row = config.field[piece]
    assert row.length is None
    other = piece.replace("X1", "X2")
    wished = {"AB": AB - 1 / 32, other: OTHER - 1 / 32}
    assert row.faces == pytest.approx({name: inches * INCH for name, inches in wished.items()})
    job = run_job(config)
    part = part_of(job, piece)
    # The room is surveyed: its openings are 40.5008 and not quite square.
    assert faces_of(part) == pytest.approx({name: inches * INCH for name, inches in wished.items()}, abs=0.03)
    drawn = part_of(run_job(before), piece)
    turned = [math.degrees(math.atan(run / WIDTH)) for run in runs]
    found = [abs(new.mitre_deg - old.mitre_deg) for new, old in zip(part.ends, drawn.ends, strict=True)]
    assert found == pytest.approx(turned, abs=0.03)
    assert [math.degrees(a) for a in end_mitres(part.outline, Line.through(*part.axis))] == pytest.approx(
        [end.mitre_deg for end in part.ends]
    )
    # long point to long point: the long face, as far as both ends lean the same way
    assert part.length == pytest.approx((AB - 1 / 32) * INCH, abs=0.05)
    degrees = [f"{abs(end.mitre_deg):.2f}".rstrip("0").rstrip(".") for end in part.ends]
    told = ["square" if angle == "0" else f"{angle} deg" for angle in degrees]
    assert note == (
        f"{piece}: its ends stand at another angle than drawn: it is cut {told[0]} at {part.meets[0]} and "
        f"{told[1]} at {part.meets[1]}, its {other} face shorter by 1/4 in"
    )


def test_lists_are_cut_by_the_new_angle(square: Path) -> None:
    opened(square, "X1-2")
    job = run_job(read_config(square))
    (cut,) = (row for row in cut_list_rows(job.parts, job.plan, job.config) if row.id == "X1-2")
    assert cut.ends == "2 deg at E1 and E2, AB face longer by 1/8 in at each"
    assert cut.waits_for == ""
    rows = [row for row in setting_rows(job.parts, job.plan, job.config) if row.kind == "mitre"]
    mitres = {(row.value, row.parts, row.notes) for row in rows if row.parts == "X1-2"}
    assert mitres == {("2 deg", "X1-2", f"X1-2 at {end}: AB face longer") for end in ("E1", "E2")}


def test_solids_and_pockets_follow(square: Path) -> None:
    """The screw leaves the turned end as deep in the wood as drawn."""
    opened(square, "X1-1")
    part = part_of(run_job(read_config(square)), "X1-1")
    assert len(part.pockets) == 6
    assert undrilled(part) == ()
    ends = [Line.through(a, b) for a, b in zip(part.outline, part.outline[1:] + part.outline[:1], strict=True)]
    for pocket in part.pockets:
        deep = pocket.bore_length + pocket.pilot_length
        x, y = (at + deep * by for at, by in zip(pocket.mouth[:2], pocket.direction[:2], strict=True))
        assert min(abs(end.offset((x, y))) for end in ends) < 1e-6
    assert {*build_solids([part]).placed} == {"X1-1"}  # proved there against the closed form


def test_less_than_a_mark_turns_nothing(square: Path) -> None:
    assert opened(square, "X1-2", 40.5, 40.5 + 1 / 32) == ()
    row = read_config(square).field["X1-2"]
    assert (row.faces, row.length) == (None, pytest.approx((40.5 - 1 / 32) * INCH, abs=0.03))


def test_a_piece_measured_again_has_one_length_again(square: Path) -> None:
    opened(square, "X1-2")
    assert "faces" in square.read_text(encoding="utf-8")
    assert opened(square, "X1-2", 40.5, 40.5) == ()
    assert "faces" not in square.read_text(encoding="utf-8")
    opened(square, "X1-2")
    row = read_config(square).field["X1-2"]
    assert (row.length, len(row.faces or ())) == (None, 2)


PARTS = {part.id: part for part in designed()}
PIECES = [part for part in PARTS.values() if part.kind == "cross beam"]


def measured(part: Part, faces: Mapping[str, float]) -> Part:
    rows = ", ".join(f'"{name}" = {mm!r}' for name, mm in faces.items())
    plain = config()
    with_row = config(None, more=f"\n[field]\n{part.id} = {{ faces = {{ {rows} }} }}\n")
    assert plain.units == "mm"
    made = apply_field(tuple(PARTS.values()), with_row)
    return next(one for one in shaped(made) if one.id == part.id)


@settings(deadline=None, max_examples=60)
@given(st.sampled_from(PIECES), st.floats(-20.0, 20.0), st.floats(-20.0, 20.0))
def test_any_two_faces_in_any_opening(part: Part, first: float, second: float) -> None:
    stretch = part.bottom.stretch(Line.through(*part.axis).direction)
    faces = {name: mm + by for (name, mm), by in zip(faces_of(part).items(), (first, second), strict=True)}
    new = measured(part, {name: mm * stretch for name, mm in faces.items()})
    assert faces_of(new) == pytest.approx(faces, abs=0.011)  # what is like the design to 0.01 mm is the design
    axis = Line.through(*new.axis)
    along = [axis.along(point) for point in new.outline]
    assert (max(along) - min(along)) * stretch == pytest.approx(new.length, abs=1e-6)
    assert Line.through(*part.axis).offset(new.axis[1]) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(
    ("row", "what"),
    [
        ('X1-1 = { faces = { CD = "1 m", DA = "1 m" } }', "field.X1-1.faces: got CD, DA, must be both of "),
        ('X1-1 = { faces = { AB = "1 m" } }', "field.X1-1.faces: got AB, must be both of "),
        ("X1-1 = { faces = {} }", "field.X1-1.faces: got none, must be both of "),
        ('C1-S01 = { faces = { AB = "1 m", CD = "1 m" } }', "field.C1-S01.faces: a slat takes a length, widths and an"),
        ('C1-T1 = { faces = { AB = "1 m", CD = "1 m" } }', "field.C1-T1.faces: a trim takes a length only"),
    ],
)
def test_faces_that_no_part_has(square: Path, row: str, what: str) -> None:
    read = read_config_text(square.read_text(encoding="utf-8") + f"\n[field]\n{row}\n", square)
    with pytest.raises(LayoutError) as error:
        run_job(read)
    (problem,) = error.value.problems
    assert what in str(problem)
