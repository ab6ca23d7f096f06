"""Beams, rows and coffers where a misread distance puts them: refused in words, with what it may be."""

from pathlib import Path

import pytest

from lacunar.config import Config, read_config, read_config_text
from lacunar.errors import LacunarError, LayoutError
from lacunar.job import run_job
from lacunar.layout import Layout, arrange_layout
from lacunar.survey import solve_survey

ROOM = """
units = "mm"
[room]
height = 2500
[room.measured]
AB = 4000
BC = 3000
CD = 4000
DA = 3000
AC = 5000
BD = 5000
"""
TWO = ((1200.0, 1210.0), (2600.0, 2590.0))
"""Of both beams: near face from A on AB, from D on CD."""


def _beams(*places: tuple[float, float]) -> str:
    return "".join(
        f'[[beam]]\nname = "E{n}"\nwidth = 100\ndepth = 140\n'
        f'ends = [{{ wall = "AB", from = "A", at = {ab} }}, {{ wall = "CD", from = "D", at = {cd} }}]\n'
        for n, (ab, cd) in enumerate(places, start=1)
    )


def _layout(config: Config) -> Layout:
    return arrange_layout(solve_survey(config), config)


def _told(text: str) -> str:
    with pytest.raises(LayoutError) as caught:
        _layout(read_config_text(ROOM + text, "room.toml"))
    return str(caught.value)


def test_beams_as_measured_are_left_alone() -> None:
    assert len(_layout(read_config_text(ROOM + _beams(*TWO), "room.toml")).beams) == 2


def test_beams_that_run_through_each_other_name_the_end_that_a_slip_moved() -> None:
    assert _told(_beams(TWO[0], (600.0, 2590.0))) == (
        "beam E1: it runs through beam E2: E1 on AB 1200 mm from A, E1 on CD 1210 mm from D, E2 on AB 600 mm from A, "
        "E2 on CD 2590 mm from D; measure its ends again, first E2 on AB, which may be 2600 mm from A, "
        "read 2000 mm less; or E2 on CD, which may be 590 mm from D, read 2000 mm more"
    )


def test_where_no_slip_is_usual_the_place_beside_the_other_beams_is_told() -> None:
    told = _told(_beams(TWO[0], (1.0, 2590.0)))
    assert told.endswith("measure its ends again, first E2 on AB, which may be 2590 mm from A")


def test_a_beam_askew_to_everything_is_refused() -> None:
    assert _told(_beams((1200.0, 2200.0))) == (
        "beam E1: it leans 18 degrees to every wall and beam beside it: E1 on AB 1200 mm from A, E1 on CD 2200 mm "
        "from D; measure its ends again, first E1 on AB, which may be 2200 mm from A, read 1000 mm less; "
        "or E1 on CD, which may be 1200 mm from D, read 1000 mm more"
    )


def test_a_beam_that_follows_a_slanting_wall_is_not_askew() -> None:
    slanting = ROOM.replace("CD = 4000", "CD = 3200").replace("DA = 3000", "DA = 3104.835").replace("AC = 5000\n", "")
    config = read_config_text(slanting + _beams((2000.0, 1200.0)), "room.toml")
    assert len(_layout(config).beams) == 1


def test_a_row_that_would_stand_in_a_wall_is_refused() -> None:
    rows = '[cross_beams]\nat = [40]\nstock = "4x6"\n'
    assert _told(_beams(*TWO) + rows).startswith("cross_beams.at: one of the rows would stand in a wall")


def test_a_row_half_in_a_wall_is_refused(configs: Path) -> None:
    # The row's middle lies 10 mm past wall CD, which is the inner side of the L.
    config = read_config(configs / "8-l-shaped.toml")
    room = solve_survey(config)
    depth = room.points[1][1] - room.points[2][1]
    text = (configs / "8-l-shaped.toml").read_text(encoding="utf-8")
    told = read_config_text(text.replace("rows     = 2", f'at = ["{depth + 10.0} mm"]'), "room.toml")
    with pytest.raises(LayoutError, match="row X1: it runs along a wall or a beam, or round a corner"):
        _layout(told)


def test_a_coffer_with_a_side_too_short_for_trim_is_refused(configs: Path) -> None:
    # E1 ends beside D, the corner that points into the room, a quarter of an inch from wall DE.
    ends = [("beam.1.ends.1.at", "8 ft 8 1/2 in"), ("beam.1.ends.2.at", "8 ft 9 in"), ("cross_beams.rows", "0")]
    with pytest.raises(LayoutError, match=r"coffer C2: its side along EF is only .* too short for trim 3/4\" wide"):
        _layout(read_config(configs / "8-l-shaped.toml", ends))


def test_distances_that_disagree_come_before_what_follows_from_them(configs: Path) -> None:
    config = read_config(configs / "8-l-shaped.toml", [("room.measured.AD", "14 ft")])
    with pytest.raises(LacunarError) as caught:
        run_job(config)
    first, *rest = (str(problem) for problem in caught.value.problems)
    assert first == (
        "8-l-shaped.toml room.measured: the distances disagree, by 7 1/2 in in AD in the nearest room; "
        "measure AD again: AD 12 ft 1 3/16 in would fit the others"
    )
    assert rest
