"""What ends and faces look at, against the shapes themselves."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from shapely import LineString, Point, Polygon

from lacunar.config import read_config, read_config_text
from lacunar.geometry import Line
from lacunar.job import Job, run_job
from lacunar.parts import Part, beside, end_name, face_name, longer_face, make_parts, natural, sawn_to
from samples import slat

ROOMS = ("4-inch", "6-sagging", "8-l-shaped")


@cache
def job_of(path: Path) -> Job:
    return run_job(read_config(path))


def parts_of(job: Job, *kinds: str) -> list[Part]:
    return [part for part in job.parts if part.kind in kinds]


def distance(job: Job, name: str, part: Part, point: tuple[float, float]) -> float:
    """From a plan point to what a part's end or face is said to look at."""
    for other in job.parts:
        if other.id == name:
            return Polygon(other.outline).distance(Point(point))
    for hole in job.layout.cut_outs:
        if hole.name == name:
            return Polygon(hole.outline).distance(Point(point))
    return LineString(job.room.wall(name)).distance(Point(point))


@pytest.mark.parametrize("room", ROOMS)
def test_an_end_stands_at_what_it_is_named_by(room: str, configs: Path) -> None:
    job = job_of(configs / f"{room}.toml")
    moulding = max((bar.width for bar in job.layout.mouldings), default=0.0)
    for part in parts_of(job, "slat", "trim", "cross beam"):
        for end, point in enumerate(part.axis):
            assert distance(job, part.meets[end], part, point) < 40.0 + moulding, (part.id, end_name(part, end))


@pytest.mark.parametrize("room", ROOMS)
def test_trim_looks_at_what_it_stands_against(room: str, configs: Path) -> None:
    job = job_of(configs / f"{room}.toml")
    against = {f"{c.id}-T{i}": side.against for c in job.layout.coffers for i, side in enumerate(c.sides, 1)}
    for part in parts_of(job, "trim"):
        assert against[part.id] in part.beside
        assert part.beside[0] != part.beside[1]


@pytest.mark.parametrize("room", ROOMS)
def test_a_sawn_edge_looks_at_the_side_that_lies_next_to_it(room: str, configs: Path) -> None:
    job = job_of(configs / f"{room}.toml")
    rips = [part for part in parts_of(job, "slat") if any(part.sawn_edges)]
    moulding = max((bar.width for bar in job.layout.mouldings), default=0.0)
    assert rips
    for part in rips:
        (name,) = sawn_to(part)
        middle = Line.through(*part.axis).at(part.length / 2.0)
        assert distance(job, name, part, middle) < part.width + moulding, part.id


@pytest.mark.parametrize("room", ROOMS)
def test_the_longer_face_reaches_further(room: str, configs: Path) -> None:
    job = job_of(configs / f"{room}.toml")
    checked = 0
    for part in parts_of(job, "cross beam", "trim"):
        axis = Line.through(*part.axis)
        middle = sum(axis.offset(point) for point in part.outline) / len(part.outline)
        for end, sign in ((0, -1.0), (1, 1.0)):
            if abs(part.ends[end].mitre_deg) < 0.1:
                continue
            corner = max(part.outline, key=lambda point: sign * axis.along(point))
            hand = longer_face(part, end)
            assert (axis.offset(corner) > middle) == (hand == "left"), (part.id, end)
            checked += 1
    assert checked > 20


def test_faces_of_pieces_look_past_the_coffers_beside_them(configs: Path) -> None:
    job = job_of(configs / "8-l-shaped.toml")
    faces = {part.id: {face_name(part, hand) for hand in ("left", "right")} for part in parts_of(job, "cross beam")}
    assert faces == {
        "X1-1": {"AB face", "X2-1 face"},
        "X1-2": {"AB face", "CD face"},
        "X2-1": {"X1-1 face", "EF face"},
        "X2-2": {"X1-2 face", "EF face"},
    }


def test_an_end_at_a_cut_out_is_named_by_its_fixture(configs: Path) -> None:
    job = job_of(configs / "6-sagging.toml")
    ends = {part.id: part.meets for part in job.parts if part.id.startswith("C5-S07")}
    assert ends == {"C5-S07a": ("E1", "lamp"), "C5-S07b": ("lamp", "E2")}


def test_two_sides_of_one_name_are_numbered_clockwise(configs: Path) -> None:
    layout = job_of(configs / "4-inch.toml").layout
    first = layout.coffers[0]
    sides = tuple(replace(side, against="E1") if side.against in ("DA", "E1") else side for side in first.sides)
    alike = replace(layout, coffers=(replace(first, sides=sides), *layout.coffers[1:]))
    part = next(part for part in make_parts(alike) if part.id == "C1-S02")
    # Clockwise from AB: the side away from A comes first.
    assert part.meets == ("E1 (2)", "E1 (1)")
    assert (end_name(part, 0), beside(part, "left")) == ("end at E1 (2)", "AB")


def test_ids_count_up_as_people_count() -> None:
    assert sorted(["C10-S01", "C2-S10", "C2-S9"], key=natural) == ["C2-S9", "C2-S10", "C10-S01"]


def test_a_half_beam_hides_its_sawn_edge_at_the_wall(configs: Path) -> None:
    path = configs / "3-square.toml"
    text = path.read_text(encoding="utf-8").replace("[cross_beams]", '[cross_beams]\nwalls = "half beam"')
    job = run_job(read_config_text(text, path))
    halves = parts_of(job, "half beam")
    assert len(halves) == 8
    assert {sawn_to(part) for part in halves} == {("the wall",)}
    room = Polygon(job.room.points).exterior
    for part in halves:
        axis = Line.through(*part.axis)
        hand = 1.0 if part.sawn_edges[0] else -1.0
        assert room.distance(Point(axis.at(part.length / 2.0, hand * part.width / 2.0))) < 0.1, part.id


def test_a_plain_slat_has_no_sawn_edge() -> None:
    assert sawn_to(slat()) == ()
