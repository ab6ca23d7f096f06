"""Slats at an angle: each measured along its own middle line, against shapes that another library cuts."""

import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon

from field.by_hand import as_designed, copied, rows_of, sheet
from lacunar.config import read_config, trust
from lacunar.field import apply_measures
from lacunar.field.angled import Chord, chords, fit_angled
from lacunar.field.coffer_frame import frames
from lacunar.geometry import Line
from lacunar.layout import Slat, arrange_layout
from lacunar.parts import apply_field, field_sheets, make_parts
from lacunar.survey import solve_survey
from lacunar.units import INCH, finest_mark
from strategies import Quad, Wish, config_of, quads, text_of

LONG = 20000.0
FINEST = finest_mark("in")
"""mm. What is written in the file is rounded to it."""


@pytest.fixture
def angled(configs: Path, tmp_path: Path) -> Path:
    """Fifteen coffers, slats at 30 degrees, a light in one of them."""
    path = copied(configs / "4-inch.toml", tmp_path)
    text = path.read_text(encoding="utf-8")
    assert 'run      = "across"' in text
    path.write_text(text.replace('run      = "across"', 'run      = "30 deg"'), encoding="utf-8")
    return path


def test_a_slat_is_as_much_longer_as_its_line(angled: Path) -> None:
    rows = rows_of(angled, "coffers")
    config = read_config(angled)
    designed = {part.id: part for part in make_parts(arrange_layout(solve_survey(config), config))}
    values = {
        "C1-S05 middle line": f"{rows['C1-S05 middle line'].design + 3.0!r} mm",
        "C1-S09 middle line": f"{rows['C1-S09 middle line'].design - 2.0!r} mm",
    }
    filled = sheet(angled, "coffers", values)
    assert apply_measures(angled, filled).notes == ()
    once = angled.read_bytes()
    field = read_config(angled).field
    assert set(field) == {"C1-S05", "C1-S09"}
    assert field["C1-S05"].length == pytest.approx(designed["C1-S05"].length + 3.0, abs=FINEST)
    assert field["C1-S09"].length == pytest.approx(designed["C1-S09"].length - 2.0, abs=FINEST)
    assert not apply_measures(angled, filled).changed
    assert angled.read_bytes() == once


def test_both_halves_of_a_severed_slat_share_what_its_line_has_more(angled: Path) -> None:
    text = angled.read_text(encoding="utf-8")
    assert 'size   = "4 in"\ncanopy = "5 1/2 in"' in text
    text = text.replace('size   = "4 in"\ncanopy = "5 1/2 in"', 'size   = "7 in"\ncanopy = "9 in"')
    angled.write_text(text, encoding="utf-8")
    config = read_config(angled)
    designed = {part.id: part for part in make_parts(arrange_layout(solve_survey(config), config))}
    halves = [part for part in designed.values() if part.kind == "slat" and part.id[-1].isalpha()]
    assert halves
    name = f"{halves[0].id[:-1]} middle line"
    row = rows_of(angled, "coffers")[name]
    apply_measures(angled, sheet(angled, "coffers", {name: f"{row.design + 4.0!r} mm"}))
    field = read_config(angled).field
    mine = [part for part in halves if part.id[:-1] == halves[0].id[:-1]]
    assert set(field) == {part.id for part in mine}
    for part in mine:
        assert field[part.id].length == pytest.approx(part.length + 2.0, abs=FINEST)


def test_all_sheets_of_such_a_room_make_it_good_for_cutting(angled: Path) -> None:
    config = read_config(angled)
    parts = make_parts(arrange_layout(solve_survey(config), config))
    assert trust(config, field_sheets(parts)).good_for != "cut"
    apply_measures(angled, as_designed(angled, ("openings", "trim")))
    read = read_config(angled)
    locked = [one.sheet for one in trust(read, field_sheets(apply_field(parts, read))).sheets if not one.unlocked]
    assert locked == ["slats"]
    apply_measures(angled, as_designed(angled, ("coffers",)))
    read = read_config(angled)
    assert trust(read, field_sheets(apply_field(parts, read))).good_for == "cut"


@pytest.mark.parametrize(
    ("name", "value", "told"),
    [
        ("C1-S05 midle line", "4 ft", "did you mean C1-S05 middle line?"),
        ("C1-S99 middle line", "4 ft", "no row of this sheet has that name"),
        ("C16-S01 middle line", "4 ft", "there is no coffer C16 to measure, there are C1 to C15"),
        ("C1-S09 middle line", "5 ft", "must be within 1/2 in"),
        ("C1 length at start", "4 ft", "no row of this sheet has that name"),
    ],
)
def test_a_mistake_has_its_message(angled: Path, name: str, value: str, told: str) -> None:
    before = angled.read_bytes()
    with pytest.raises(Exception, match=r"filled-coffers\.csv:2") as stop:
        apply_measures(angled, sheet(angled, "coffers", {name: value}))
    assert told in str(stop.value)
    assert angled.read_bytes() == before


def cut(room: Polygon, slat: Slat, board: float, end_gap: float) -> Polygon | None:
    """The board on its line in a room of another size, an end gap away from every side; None where it is two."""
    axis = Line.through(*slat.axis)
    strip = LineString((axis.at(-LONG), axis.at(LONG))).buffer(board / 2.0, cap_style="flat")
    shape = strip.intersection(room.buffer(-end_gap, join_style="mitre"))
    return shape if isinstance(shape, Polygon) and not shape.is_empty else None


def long_point_to_long_point(shape: Polygon, slat: Slat) -> float:
    axis = Line.through(*slat.axis)
    along = [axis.along((x, y)) for x, y in shape.exterior.coords]
    return max(along) - min(along)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    room=quads(60.0),
    angle=st.floats(15.0, 75.0) | st.floats(-75.0, -15.0),
    tenths=st.integers(-50, 50),
)
def test_a_room_whose_sides_stand_elsewhere_is_fitted_exactly(room: Quad, angle: float, tenths: int) -> None:
    """All sides moved out or in by as much: the slat that is cut to the angles as drawn fits exactly."""
    config = config_of(text_of(room, Wish(beams=0, cross=False, run=f"{angle!r} deg")))
    layout = arrange_layout(solve_survey(config), config)
    parts = {part.id: part for part in make_parts(layout)}
    (frame,) = frames(layout)
    real = Polygon(frame.coffer.outline).buffer(tenths / 10.0, join_style="mitre")
    slats = {slat.id: slat for slat in frame.slats}
    checked = 0
    for chord in chords(frame):
        slat = slats[chord.ids[0]]
        if len(slat.outline) != 4 or slat.ripped:
            continue  # a corner of the room inside the board's width: its ends are no single cuts
        wanted = cut(real, slat, config.slats.width, config.slats.end_gap)
        if wanted is None or len(wanted.exterior.coords) != 5:
            continue
        measured = real.intersection(LineString(_longer(chord))).length
        (row,) = fit_angled(
            config.slats, config.read_to, frame, parts, {f"{chord.name} middle line": measured}
        ).rows.values()
        assert row["length"] == pytest.approx(long_point_to_long_point(wanted, slat), abs=1e-4)
        checked += 1
    assert checked >= 5


def _longer(chord: Chord) -> tuple[tuple[float, float], tuple[float, float]]:
    line = Line.through(*chord.ends)
    return line.at(-LONG), line.at(LONG)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(room=quads(60.0), angle=st.floats(20.0, 70.0), turned=st.floats(-0.5, 0.5))
def test_a_side_at_another_angle_leaves_the_end_gap_in_the_middle(room: Quad, angle: float, turned: float) -> None:
    """A side half a degree off: on its middle line a slat keeps both end gaps; at its edges trim hides the rest."""
    config = config_of(text_of(room, Wish(beams=0, cross=False, run=f"{angle!r} deg")))
    layout = arrange_layout(solve_survey(config), config)
    parts = {part.id: part for part in make_parts(layout)}
    (frame,) = frames(layout)
    a, b, c, d = (side.start for side in frame.coffer.sides)
    swing = math.tan(math.radians(turned)) * math.dist(b, c)
    real = Polygon((a, b, (c[0] + swing, c[1]), d))
    slats = {slat.id: slat for slat in frame.slats}
    checked = 0
    for chord in chords(frame):
        slat = slats[chord.ids[0]]
        if len(slat.outline) != 4 or slat.ripped:
            continue
        measured = real.intersection(LineString(_longer(chord))).length
        (row,) = fit_angled(
            config.slats, config.read_to, frame, parts, {f"{chord.name} middle line": measured}
        ).rows.values()
        middle = Polygon(slat.outline).intersection(LineString(_longer(chord))).length
        length = row["length"]
        assert isinstance(length, float)
        more = length - parts[slat.id].length
        assert measured - (middle + more) == pytest.approx(chord.length - middle, abs=1e-4)
        checked += 1
    assert checked >= 5


def test_an_l_shaped_coffer_has_a_line_in_each_arm(configs: Path) -> None:
    """A slat that the corner which points in cuts in two is measured twice."""
    config = read_config(configs / "8-l-shaped.toml", [("slats.run", "30 deg")])
    layout = arrange_layout(solve_survey(config), config)
    every = [(frame, chord) for frame in frames(layout) for chord in chords(frame)]
    ids = [id for _, chord in every for id in chord.ids]
    assert sorted(ids) == sorted(slat.id for slat in layout.slats)
    assert any(chord.name[-1] == "b" for _, chord in every)
    for frame, chord in every:
        coffer = Polygon(frame.coffer.outline)
        slat = next(slat for slat in frame.slats if slat.id == chord.ids[0])
        whole = coffer.intersection(LineString(_longer(chord)))
        pieces = getattr(whole, "geoms", (whole,))
        mine = max(pieces, key=lambda piece: piece.buffer(0.5).intersection(Polygon(slat.outline)).area)
        assert mine.length == pytest.approx(chord.length, abs=1e-6)


def test_slats_that_are_cut_square_keep_their_interval(configs: Path, tmp_path: Path) -> None:
    """Two degrees off the sides a square end hides: the interval moves with the line."""
    path = copied(configs / "3-square.toml", tmp_path)
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('run   = "across"', 'run   = "2 deg"'), encoding="utf-8")
    config = read_config(path)
    designed = {part.id: part for part in make_parts(arrange_layout(solve_survey(config), config))}
    before = designed["C1-S04"]
    assert before.interval is not None
    name = "C1-S04 middle line"
    more = INCH / 8.0
    apply_measures(path, sheet(path, "coffers", {name: f"{rows_of(path, 'coffers')[name].design + more!r} mm"}))
    row = read_config(path).field["C1-S04"]
    assert (row.shortest, row.longest) == pytest.approx([mm + more for mm in before.interval], abs=FINEST)
    assert row.length == pytest.approx(before.length + more, abs=INCH / 32.0)
