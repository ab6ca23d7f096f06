"""Running dimensions: rule 6 as arithmetic, and the drawing itself."""

import pytest
from hypothesis import HealthCheck, given, settings
from shapely import LineString, Polygon

from lacunar.errors import LayoutError
from lacunar.layout import Layout, Running, arrange_layout, running_dimensions
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quad, quads, text_of, wishes

INCH = 25.4


def arranged(room: Quad, wish: Wish, more: str = "") -> Layout:
    config = config_of(text_of(room, wish, more))
    return arrange_layout(solve_survey(config), config)


def square_room() -> Quad:
    """Nine coffers of 47 by 44 1/2 in."""
    return quad(148 * INCH, 140.5 * INCH)


def test_a_square_coffer_in_closed_form() -> None:
    """The edge gap, then a board and a gap for every slat: 1/4, 4, 7 3/4, ... in."""
    for running in running_dimensions(arranged(square_room(), Wish(run="across"))):
        starts = [mark.start / INCH for mark in running.marks]
        assert starts == pytest.approx([0.25 + 3.75 * i for i in range(12)], abs=1e-6)
        assert [mark.end for mark in running.marks] == pytest.approx([mark.start for mark in running.marks], abs=1e-6)
        assert running.length == pytest.approx(47 * INCH)


def test_ten_boards_and_ten_spacers_give_the_pitch() -> None:
    """Boards 1/64 in under: ten and their spacers are 37 11/32 in, and slat n begins at 1/4 + (n - 1) of a tenth."""
    wish, ten = Wish(run="across"), 37 + 11 / 32
    text = text_of(square_room(), wish).replace(f"gap = {wish.gap * INCH}\nedge", f"ten = {ten * INCH}\nedge")
    assert "ten" in text
    config = config_of(text)
    for running in running_dimensions(arrange_layout(solve_survey(config), config)):
        starts = [mark.start / INCH for mark in running.marks]
        assert starts == pytest.approx([0.25 + ten / 10 * i for i in range(len(starts))], abs=1e-6)


def test_both_halves_of_a_severed_slat_have_one_mark() -> None:
    light = '[[fixture]]\nname = "light"\nsize = 100\nat = { AB = 720, DA = 660 }\n'
    layout = arranged(quad(4200.0, 3850.0, (20.0, -30.0, 12.0, 15.0, -8.0)), Wish(), light)
    bare = arranged(quad(4200.0, 3850.0, (20.0, -30.0, 12.0, 15.0, -8.0)), Wish())
    assert {slat.id for slat in layout.slats} >= {"C1-S08a", "C1-S08b"}
    for one, other in zip(running_dimensions(layout), running_dimensions(bare), strict=True):
        assert [m.number for m in one.marks] == [m.number for m in other.marks]
        assert [m.start for m in one.marks] == pytest.approx([m.start for m in other.marks], abs=1e-6)
        assert [m.end for m in one.marks] == pytest.approx([m.end for m in other.marks], abs=1e-6)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(room=quads(), wish=wishes())
def test_a_line_drawn_through_both_marks_lies_on_the_slats_edge(room: Quad, wish: Wish) -> None:
    """Whatever the wedge: a chalk line through both marks touches the slat's edge all along, and enters none."""
    try:
        layout = arranged(room, wish)
    except LayoutError:
        return
    for running in running_dimensions(layout):
        slats = {s.number: Polygon(s.outline) for s in layout.slats if s.coffer == running.coffer}
        assert [mark.number for mark in running.marks] == sorted(slats)
        for mark in running.marks:
            line, shape = chalk(running, mark.start, mark.end), slats[mark.number]
            assert shape.intersection(line.buffer(1e-3)).length > shape.length / 3.0
            assert line.intersection(shape.buffer(-1e-3)).is_empty


def chalk(running: Running, start: float, end: float) -> LineString:
    """A line through two places of the base's ends, drawn on past them."""
    base, length = running.base, running.length
    slope = (end - start) / length
    return LineString([base.at(-400.0, -(start - 400.0 * slope)), base.at(length + 400.0, -(end + 400.0 * slope))])


def test_slats_at_an_angle_run_from_the_first_ones_edge() -> None:
    layout = arranged(square_room(), Wish(run="30 deg"))
    for running in running_dimensions(layout):
        first = next(slat for slat in layout.slats if slat.coffer == running.coffer)
        starts = [mark.start / INCH for mark in running.marks]
        # the corner may cut into the first slat, so the second begins less than a slat and a gap beyond its tip
        second = first.width / INCH + 0.25
        assert starts[0] == pytest.approx(0.0, abs=1e-9)
        assert starts[1:-1] == pytest.approx([second + 3.75 * (mark.number - 2) for mark in running.marks[1:-1]])
        assert starts[-1] == pytest.approx(second + 3.75 * (running.marks[-1].number - 2), abs=0.3)
