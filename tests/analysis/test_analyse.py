"""What is worked out of a ceiling: plain numbers, the same as a job's, and computed from the parts as drawn."""

import json
from collections.abc import Iterator
from dataclasses import asdict, fields, is_dataclass
from pathlib import Path
from typing import Any, cast

import pytest

from checks.sample import SKEWED, SQUARE, analysed, ceiling, edited
from lacunar.analysis import Analysis, analyse, arrange, make_subject, plan_parts, sunk_beams
from lacunar.config import read_config
from lacunar.job import Job, run_job
from lacunar.plan import forget
from strategies import config_of


def job(configs: Path, number: int) -> Job:
    (path,) = configs.glob(f"{number}-*.toml")
    return run_job(read_config(path))


def values(value: Any) -> Iterator[Any]:
    """Every plain value of frozen dataclasses and tuples."""
    if is_dataclass(value):
        assert type(value).__dataclass_params__.frozen  # type: ignore[attr-defined]
        for field in fields(value):
            yield from values(getattr(value, field.name))
    elif isinstance(value, tuple):
        for item in cast("tuple[Any, ...]", value):
            yield from values(item)
    else:
        yield value


@pytest.mark.parametrize("number", [1, 3, 4, 6, 8])
def test_it_is_plain_numbers_that_json_can_hold(configs: Path, number: int) -> None:
    analysis = job(configs, number).analysis
    assert {type(value) for value in values(analysis)} <= {str, float, int, bool, type(None)}
    assert json.loads(json.dumps(asdict(analysis), allow_nan=False))["chance"]["trials"] == 2000


def test_the_same_twice() -> None:
    before = analysed(ceiling(SKEWED))
    forget()
    assert analyse(ceiling(SKEWED)) == before


@pytest.mark.parametrize("text", [SQUARE, SKEWED], ids=["square", "skewed"])
def test_a_job_goes_the_way_that_remedies_go(text: str) -> None:
    done = run_job(config_of(text), advised=False)
    layout, drawn = arrange(done.config, done.room)
    plan, parts = plan_parts(drawn, done.config, weighed=True)
    assert (layout, plan, parts) == (done.layout, done.plan, done.parts)
    slats, cut = plan_parts(drawn, done.config, stock=done.config.slats.stock)
    assert set(slats.lengths) < set(plan.lengths)
    assert [part.length for part in cut if part.kind == "trim"] == [
        part.length for part in drawn if part.kind == "trim"
    ]


def test_measured_parts_are_looked_at_as_drawn() -> None:
    """A slat measured 3 mm longer than its coffer has room for jams nowhere: its coffer was measured as well."""
    done = run_job(config_of(SQUARE + "[field.C1-S03]\nlength = 1941\n"))
    (slat,) = (part for part in done.parts if part.id == "C1-S03")
    assert slat.length == 1941.0
    assert [end.gap for end in done.analysis.ends if end.part == "C1-S03"] == pytest.approx([6.0, 6.0])


def test_findings_speak_of_the_analysis(configs: Path) -> None:
    done = job(configs, 4)
    by_check = {finding.check: finding for finding in done.findings}
    assert by_check["fit-chance"].value == done.analysis.chance.all_slats
    assert by_check["overlap-end"].value == min(end.overlap for end in done.analysis.ends)
    assert by_check["beam-fits"].value == min(beam.tighter.play for beam in done.analysis.beams if beam.sides)


def square_analysis(*changes: tuple[str, str]) -> Analysis:
    return analysed(ceiling(edited(SQUARE, *changes)))


def test_square_ceiling_in_closed_form() -> None:
    analysis = square_analysis()
    # Coffers of 1950 by 1450: 15 slats of 90, ends 6 mm from the side, trim 20 wide.
    assert len(analysis.edges) == 8
    assert [edge.gap for edge in analysis.edges] == pytest.approx([8.0] * 8)
    assert {(depth.fastener, depth.into, depth.depth) for depth in analysis.depths} == {("nail", "joist", 64 - 20 - 13)}
    assert [(fixture.in_body, fixture.in_canopy, fixture.slats) for fixture in analysis.fixtures] == [((), (), 3)]
    assert {pocket.level for pocket in analysis.pockets} == {"high"}
    assert (analysis.overlaps.found, analysis.outside, analysis.risen, analysis.bare) == ((), (), (), ())


def test_what_boards_are_off_adds_up_over_the_coffer_that_has_most() -> None:
    """Ten boards of 90 and ten spacers of 6 are 960: 955 make each board 0.5 under, and 14 full ones of them 7."""
    ten = square_analysis(("gap = 6\nend_gap", "gap = 6\nten = 955\nend_gap")).bundle
    assert (ten.coffer, ten.slats, ten.off, ten.total) == ("C1", 14, pytest.approx(-0.5), pytest.approx(7.0))
    assert (square_analysis().bundle.off, square_analysis().bundle.total) == (0.5, 7.5)


def test_where_the_old_ceiling_is_farthest_from_a_coffers_plane() -> None:
    """Over a middle that sags it is in a corner of each coffer, over a level ceiling nowhere: no side is there."""
    sag = "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480 }"
    subject = ceiling(edited(SQUARE, ("height = 2500", sag)))
    sides = {coffer.id: {side.against for side in coffer.sides} for coffer in subject.layout.coffers}
    places = analysed(subject).gap_places
    assert [place.coffer for place in places] == list(sides)
    assert all(len(place.beside) == 2 and set(place.beside) < sides[place.coffer] for place in places)
    assert [place.beside for place in square_analysis().gap_places] == [()] * 4


def test_lowest_points_and_the_ends_that_nails_stand_nearest_to() -> None:
    subject = ceiling()
    analysis = analysed(subject)
    lowest = dict(zip((part.kind for part in subject.parts), analysis.lowest, strict=True))
    assert lowest == {"existing beam": 2360.0, "cross beam": 2360.0, "slat": 2480.0, "trim": 2460.0}
    parts = {part.id: part for part in subject.parts}
    for slat in analysis.nailed:
        part = parts[slat.part]
        # Slats lie along x.
        reach = [min(abs(nail[0] - end[0]) for nail in part.nails) for end in part.axis]
        assert slat.nearest_end == reach.index(min(reach))
        assert slat.from_end == pytest.approx(min(reach))


def test_deeper_slats_sink_beams() -> None:
    """Beams of 140 under trim of 20 under slats of 20 show 100; slats and trim of 70 each hide them."""
    assert [beam.shows for beam in square_analysis().beams] == pytest.approx([100.0] * 3)
    thick = ceiling(
        edited(
            SQUARE,
            ("thickness = 20", "thickness = 70"),
            ("height = 20", "height = 70"),
            ("length = 64", "length = 120"),
        )
    )
    assert [beam.is_sunk for beam in analysed(thick).beams] == [True] * 3
    assert (sunk_beams(ceiling()), sunk_beams(thick)) == (0, 3)


def test_a_tried_ceiling_keeps_plan_and_cost() -> None:
    subject = ceiling()
    layout, parts = arrange(subject.config, subject.room)
    other = make_subject(subject.config, subject.room, layout, parts, subject.plan, subject.cost)
    assert other.plan is subject.plan
    assert other.openings.keys() == subject.openings.keys()
