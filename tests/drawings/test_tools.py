"""The drawing's own things and tools: what they expand to, where they stand, and on which layer."""

import math
from pathlib import Path

import pytest

from drawings import sawing
from lacunar.config import read_config
from lacunar.drawings import (
    BADGE,
    Dimension,
    Disc,
    Hatch,
    Numbered,
    Outline,
    Page,
    Stroke,
    Text,
    WriteIn,
    arrowed,
    board_pages,
    box_below,
    box_beside,
    fitted,
    moved,
    pdf_bytes,
    place_badges,
    simple,
    svg_text,
    two_columns,
)
from lacunar.field import STAGES, design, sheet_pages

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 5.0))


def test_a_hatch_is_lines_inside_its_outline_and_the_outline() -> None:
    *lines, frame = simple([Hatch(points=SQUARE, pitch=2.0, width=0.2)])
    assert isinstance(frame, Outline)
    assert frame.points == SQUARE
    # From 5 mm left of its left side to its right one, 2 mm apart: those that start at -3 to 9.
    assert len(lines) == 7
    for line in lines:
        assert isinstance(line, Stroke)
        (ax, ay), (bx, by) = line.points
        assert 0.0 <= ax < bx <= 10.0
        assert bx - ax == pytest.approx(ay - by)
        assert 0.0 <= by < ay <= 5.0


def test_a_dimension_has_a_tick_square_across_each_end() -> None:
    line, first, second = simple([Dimension(points=((0.0, 0.0), (30.0, 40.0)), tick=1.5)])
    assert isinstance(line, Stroke)
    for tick, end in ((first, (0.0, 0.0)), (second, (30.0, 40.0))):
        assert isinstance(tick, Stroke)
        (ax, ay), (bx, by) = tick.points
        assert math.dist(*tick.points) == pytest.approx(3.0)
        assert ((ax + bx) / 2.0, (ay + by) / 2.0) == pytest.approx(end)
        assert (bx - ax) * 30.0 + (by - ay) * 40.0 == pytest.approx(0.0)
    assert list(simple([Dimension(points=((1.0, 1.0), (1.0, 1.0)))])) == []


def test_svg_and_pdf_replay_the_lines_that_a_thing_is_made_of() -> None:
    whole = [Hatch(points=SQUARE, pitch=2.0), Dimension(points=((0.0, 8.0), (10.0, 8.0)))]
    page, plain = Page(size=(20.0, 20.0), things=(*whole,)), Page(size=(20.0, 20.0), things=(*simple(whole),))
    assert svg_text(page, "t") == svg_text(plain, "t")
    assert pdf_bytes([page], "t") == pdf_bytes([plain], "t")


def test_moved_things_stand_elsewhere_and_are_the_same() -> None:
    things = [Outline(points=SQUARE, layer="wood"), Disc(at=(1.0, 1.0), radius=1.0), Text(at=(2.0, 2.0), text="E1")]
    there = list(moved(things, (3.0, -1.0)))
    assert list(moved(there, (-3.0, 1.0))) == things
    assert isinstance(there[0], Outline)
    assert there[0].points[2] == (13.0, 4.0)


def test_a_plan_fills_its_rectangle_with_the_page_up_turned_down() -> None:
    view = fitted(((0.0, 0.0), (4000.0, 3000.0)), (10.0, 20.0), (60.0, 200.0), margin=10.0)
    assert view.scale == pytest.approx(0.01)
    assert view.spots(((0.0, 0.0), (4000.0, 3000.0))) == (pytest.approx((20.0, 135.0)), pytest.approx((60.0, 105.0)))


def test_badges_stand_apart_even_on_lines_that_cross_in_one_place() -> None:
    lines = [Numbered(number=n, start=(0.0, 3.0 * n), end=(40.0, 3.0 * (8 - n))) for n in range(9)]
    discs = [thing for thing in place_badges(lines) if isinstance(thing, Disc)]
    assert len(discs) == len(lines)
    apart = [math.dist(a.at, b.at) for i, a in enumerate(discs) for b in discs[i + 1 :]]
    assert min(apart) >= 2.0 * BADGE


@pytest.mark.parametrize(("length", "lines"), [(60.0, 3), (10.0, 4)])
def test_arrows_point_outwards_where_there_is_no_room_between(length: float, lines: int) -> None:
    things = arrowed(((0.0, 0.0), (length, 0.0)), ((0.0, 5.0), (length, 5.0)), 10.0, (1.0, "#000000"), None)
    strokes = [t for t in things if isinstance(t, Stroke) and not isinstance(t, Outline)]
    heads = [t for t in things if isinstance(t, Outline)]
    assert len(strokes) == lines
    assert [head.points[0] for head in heads] == [(0.0, 5.0), (length, 5.0)]
    inside = [all(0.0 <= x <= length for x, _ in head.points) for head in heads]
    assert inside == [lines == 3] * 2


def test_a_table_runs_down_the_first_column_and_then_down_the_second() -> None:
    rows = [WriteIn(number=n, name=f"row {n}", expected="1 in", note="to the mark") for n in range(1, 6)]
    things = two_columns(rows, (10.0, 20.0), 185.0, 12.0, box_beside)
    boxes = [t.points[0] for t in things if isinstance(t, Outline)]
    assert [y for _, y in boxes] == [20.0, 32.0, 44.0, 20.0, 32.0]
    assert len({x for x, _ in boxes[:3]}) == len({x for x, _ in boxes[3:]}) == 1
    assert {t.text for t in things if isinstance(t, Text)} >= {"row 1", "to the mark", "5"}


def test_what_is_optional_is_not_bold_and_what_is_expected_stands_beside_the_box() -> None:
    for box_width in (27.0, 0.0):
        things = box_below((0.0, 0.0), box_width, 47.0, WriteIn(number=3, name="T2", expected="4 ft", optional=True))
        (box,) = (t for t in things if isinstance(t, Outline))
        name, value = (next(t for t in things if isinstance(t, Text) and t.text == text) for text in ("T2", "4 ft"))
        assert not name.bold
        (left, top), (right, _) = box.points[:2]
        assert value.at[0] > right if box_width else (value.at[0] == right and value.at[1] < top)
        assert left == 0.0


def test_everything_stands_on_the_layer_of_its_kind(configs: Path) -> None:
    """A reader of another format can leave out what is written by hand, or show the wood alone."""
    drawn = design(read_config(configs / "4-inch.toml"))
    for stage in STAGES:
        things = [thing for page in sheet_pages(drawn, stage) for thing in page.things]
        boxes = [t for t in things if isinstance(t, Outline) and t.layer == "boxes"]
        assert len(boxes) == len(drawn.rows[stage])
        assert {t.layer for t in things if isinstance(t, Disc)} <= {"measures", "room"}
        assert all(t.layer == "measures" for t in things if isinstance(t, Dimension))
    boards = [thing for page in board_pages(sawing.plan(), sawing.parts(), sawing.config()) for thing in page.things]
    assert {thing.layer for thing in boards} == {"sheet", "wood", "waste", "measures"}
    assert all(thing.layer == "waste" for thing in boards if isinstance(thing, Hatch))
