"""Where beams meet the walls, as marks that distances are taken to."""

import math
import random
from dataclasses import replace
from pathlib import Path

import pytest

from lacunar.config import Config, read_config
from lacunar.survey import Room, find_misread, recommend, solve_survey, wall_point
from lacunar.survey.adjust import adjust
from lacunar.survey.missing import with_squares
from lacunar.survey.network import Reading, in_order, read_network
from lacunar.survey.notebook import notebook_of
from survey.measuring import Corners, config_from, distances, walls

ROOM: Corners = {"A": (0.0, 3000.0), "B": (4000.0, 3010.0), "C": (4050.0, 0.0), "D": (-20.0, 15.0)}
NAMES = ["AB", "BC", "CD", "DA", "AC", "BD"]
AT = {"E1.AB": ("AB", 1500.0), "E1.CD": ("DC", 1480.0)}
"""Where the beam's near face truly meets the walls, from A and from D."""


def beam(at: float = 1500.0, other: float = 1480.0, name: str = "E1", more: str = "") -> str:
    return f"""
[[beam]]
name = "{name}"
width = 100
depth = 150
{more}
ends = [{{ wall = "AB", from = "A", at = "{at!r} mm" }}, {{ wall = "CD", from = "D", at = "{other!r} mm" }}]
"""


def true(*to_beams: str) -> dict[str, float]:
    """What a perfect tape reads."""
    return distances(ROOM, [*NAMES, *to_beams], AT)


def along(room: Room, name: str = "E1.AB", corner: str = "A") -> float:
    return math.dist(room.corner(corner), room.marks[name])


def sd(length: float) -> float:
    return 1.5 + 0.0002 * length


@pytest.mark.parametrize("key", ["E1.AB-B", "B-E1.AB", "E1.BA-B", "B-E1.BA"])
def test_three_readings_on_one_wall_share_what_they_miss(key: str) -> None:
    # No other redundancy: at + rest and AB close by w = 6 mm, and each takes its part by the square of its error.
    at, rest, wall = 1500.0, 2506.0, 4000.0
    measured = {"AB": wall, "BC": 3000.0, "CD": 4000.0, "DA": 3000.0, "AC": 5000.0, key: rest}
    room = solve_survey(config_from(measured, more=beam(at)))
    squares = [sd(length) ** 2 for length in (at, rest, wall)]
    assert along(room) == pytest.approx(at - 6.0 * squares[0] / sum(squares), abs=1e-6)
    assert math.dist(room.corner("A"), room.corner("B")) == pytest.approx(
        wall + 6.0 * squares[2] / sum(squares), abs=1e-6
    )
    assert (room.dof, room.chi2) == (1, pytest.approx(36.0 / sum(squares)))
    rows = {one.between: one for one in room.measured}
    assert list(rows) == [*measured, "A-E1.AB"]  # the other end is named nowhere
    # Standard deviation after adjusting: before, times the root of what the redundancy leaves.
    assert rows["A-E1.AB"].redundancy == pytest.approx(squares[0] / sum(squares))
    assert rows["A-E1.AB"].sd == pytest.approx(sd(at))


def test_a_beams_place_gets_surer_by_what_its_redundancy_says() -> None:
    dice, left = random.Random(7), math.nan
    places: list[float] = []
    for _ in range(300):
        perfect = true("E1.AB-B", "E1.AB-C", "E1.AB-D")
        read = {key: length + dice.gauss(0.0, sd(length)) for key, length in perfect.items()}
        room = solve_survey(config_from(read, more=beam(1500.0 + dice.gauss(0.0, sd(1500.0)))))
        own = next(one for one in room.measured if one.between == "A-E1.AB")
        left = math.sqrt(1.0 - own.redundancy)
        places.append(along(room))
    mean = math.fsum(places) / len(places)
    spread = math.sqrt(math.fsum((place - mean) ** 2 for place in places) / (len(places) - 1))
    assert left < 0.85
    assert mean == pytest.approx(1500.0, abs=4.0 * spread / math.sqrt(300))
    # The spread of 300 draws is good to 4 % (one standard deviation): three of these.
    assert spread == pytest.approx(sd(1500.0) * left, rel=0.12)


@pytest.mark.parametrize("off", [20.0, -20.0])
def test_a_misread_beam_is_named_by_two_far_corners(off: float) -> None:
    config = config_from(true("E1.AB-C", "E1.AB-D"), more=beam(1500.0 + off))
    room = solve_survey(config)
    assert [one.between for one in room.measured if one.suspect] == ["A-E1.AB"]
    found = find_misread(config, room)
    assert found is not None
    assert found.between == ("A-E1.AB",)
    assert found.off[0] == pytest.approx(off, abs=0.05)
    assert found.fits


def test_a_misread_distance_to_a_beam_is_told_of() -> None:
    read = true("E1.AB-C", "E1.AB-D", "E1.CD-A", "E1.CD-B")
    config = config_from({**read, "E1.AB-C": read["E1.AB-C"] + 30.0}, more=beam())
    found = find_misread(config, solve_survey(config))
    assert found is not None
    assert found.between == ("E1.AB-C",)


def test_what_else_to_measure_may_lead_to_a_beam_again() -> None:
    # One distance to the beam's end and its own reading: no telling which, but for one more.
    read = true("E1.AB-C")
    config = config_from(read, more=beam(1540.0))
    found = find_misread(config, solve_survey(config))
    assert found is not None
    assert "A-E1.AB" in found.between
    assert "E1.AB-C" in found.between
    assert found.would_tell


def test_distances_between_beams_and_to_marks() -> None:
    marks = {"m1": ("CD", 1000.0)}
    names = distances(ROOM, [*NAMES, "m1-E1.AB", "E1.AB-E1.CD"], {**AT, **marks})
    room = solve_survey(config_from(names, marks=marks, more=beam()))
    assert room.dof == 3
    assert room.chi2 == pytest.approx(0.0, abs=1e-9)
    assert [one.between for one in room.measured][-3:] == ["C-m1", "A-E1.AB", "D-E1.CD"]
    assert along(room, "E1.CD", "D") == pytest.approx(1480.0, abs=1e-6)


def test_a_dash_in_a_beams_name() -> None:
    plain = solve_survey(config_from(true("E1.AB-C", "D-E1.AB"), more=beam(1503.0)))
    names = [*walls("ABCD"), "AC", "BD", "old-beam_1.AB-C", "D-old-beam_1.AB"]
    read = dict(zip(names, true("E1.AB-C", "D-E1.AB").values(), strict=True))
    dashed = solve_survey(config_from(read, more=beam(1503.0, name="old-beam_1")))
    assert along(dashed, "old-beam_1.AB") == pytest.approx(along(plain), abs=1e-9)
    assert dashed.measured[-1].between == "A-old-beam_1.AB"


def test_a_beam_that_no_distance_names_is_no_mark() -> None:
    config = config_from(true(), more=beam(1777.0))
    room = solve_survey(config)
    assert room.marks == {}
    assert [one.between for one in room.measured] == NAMES
    assert solve_survey(config_from(true())).measured == room.measured


def test_the_order_of_measuring_does_not_matter() -> None:
    read = {key: round(length) for key, length in true("E1.AB-C", "E1.CD-A", "E1.AB-D").items()}
    plain = solve_survey(config_from(read, more=beam(1504.0)))
    turned = solve_survey(config_from(dict(reversed(read.items())), more=beam(1504.0)))
    assert plain.points == turned.points
    assert plain.marks == turned.marks


def test_advice_starts_anew_beside_distances_to_beams() -> None:
    plain, named = config_from(true()), config_from(true("E1.AB-C"), more=beam())
    assert [one.between for one in recommend(named)] == [one.between for one in recommend(plain)]


CONFIGS = sorted((Path(__file__).resolve().parents[2] / "configs").glob("*.toml"))


def _ends(config: Config) -> list[tuple[str, str, str, float]]:
    """Beams' ends as measured; where there are none, a place a third along each wall."""
    found = [(f"{beam.name}.{end.wall}", end.wall, end.from_, end.at) for beam in config.beam for end in beam.ends]
    lengths = config.room.measured
    return found or [(f"E.{wall}", wall, wall[0], lengths[wall] / 3.0) for wall in lengths if len(wall) == 2]


@pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)
def test_a_mark_that_nothing_tells_of_moves_nothing(path: Path) -> None:
    config = read_config(path)
    room, network = solve_survey(config), in_order(read_network(notebook_of(config)))
    network = (with_squares(network) or network) if room.square_assumed else network
    ends = [end for end in _ends(config) if end[0] not in network.marks]
    network = replace(
        network,
        readings=(
            *network.readings,
            *(Reading(name=f"{corner}-{n}", ends=(corner, n), value=at, sd=sd(at)) for n, _, corner, at in ends),
        ),
        marks={**network.marks, **{n: (corner, wall.replace(corner, "")) for n, wall, corner, _ in ends}},
    )
    start = {
        mark: math.dist(room.corner(line[0]), room.marks[mark])
        for mark, line in network.marks.items()
        if mark in room.marks
    }
    found = adjust(network, room.points, {**start, **{n: at for n, _, _, at in ends}})
    before = dict(zip(room.corners, room.points, strict=True))
    for point, corner in zip(found.points, network.stations, strict=True):
        assert point == pytest.approx(before[corner], abs=1e-6)
    assert found.dof == room.dof
    for name, wall, corner, at in ends:
        assert found.marks[name] == pytest.approx(at, abs=1e-6)
        assert math.dist(wall_point(room, wall, corner, at), room.corner(corner)) == pytest.approx(at, abs=1e-6)
