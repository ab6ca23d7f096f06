"""Equal clear lengths on both outer lines: rules 2 and 3."""

import math

import pytest

from lacunar.errors import LayoutError
from lacunar.geometry import Line, Point, Segment
from lacunar.layout.spread import across_on, moved_to, spread


def say(mm: float) -> str:
    return f"{mm:.0f} mm"


def clear_lengths(stretch: Segment, centres: tuple[Line, ...], width: float) -> list[float]:
    """Where the bars' two faces cross a stretch, measured on the drawing instead of by the solver's own formula."""
    marks = [0.0]
    for centre in centres:
        faces = [centre.shifted(by).crossing(stretch.line) for by in (width / 2.0, -width / 2.0)]
        marks += sorted(stretch.line.along(p) for p in faces)
    marks.append(stretch.length)
    return [b - a for a, b in zip(marks[::2], marks[1::2], strict=True)]


def test_square_walls() -> None:
    # (3700 - 2 x 100) / 3
    centres = spread(Segment((0, 0), (3700, 0)), Segment((0, 3000), (3700, 3000)), 2, 100.0, "rows", say)
    assert [c.point[0] for c in centres] == pytest.approx([3500 / 3 + 50, 2 * 3500 / 3 + 150])


@pytest.mark.parametrize("count", [1, 2, 5])
def test_leaning_walls_keep_equal_clear_lengths_on_both(count: int) -> None:
    first, second = Segment((0, 0), (3700, 150)), Segment((60, 3000), (3500, 2900))
    centres = spread(first, second, count, 120.0, "rows", say)
    for stretch in (first, second):
        clear = clear_lengths(stretch, centres, 120.0)
        assert len(clear) == count + 1
        assert max(clear) - min(clear) < 1e-6


def test_too_many_bars_are_refused_with_both_numbers() -> None:
    with pytest.raises(LayoutError, match="8 of them take 800 mm of a wall that is 700 mm long"):
        spread(Segment((0, 0), (700, 0)), Segment((0, 500), (700, 500)), 8, 100.0, "rows", say)


def test_a_slanting_bar_covers_more_of_a_wall() -> None:
    wall = Segment((0, 0), (1000, 0))
    assert across_on(wall, Line.through((0, 0), (100, 100)), 50.0) == pytest.approx(50.0 * math.sqrt(2.0))


def test_rows_move_until_a_cell_is_centred_on_a_point() -> None:
    first, second = Segment((0, 0), (3700, 100)), Segment((0, 3000), (3600, 3050))
    centres = spread(first, second, 2, 100.0, "rows", say)
    target = (1700.0, 1400.0)
    moved = moved_to(centres, 100.0, first, second, target)
    steps = [math.dist(a.point, b.point) for a, b in zip(centres, moved, strict=True)]
    assert steps[0] == pytest.approx(steps[1])
    assert steps[0] > 1.0
    middles: list[Point] = []
    for stretch in (first, second):
        faces = [moved[0].shifted(-50.0), moved[1].shifted(50.0)]
        along = [stretch.line.along(face.crossing(stretch.line)) for face in faces]
        middles.append(stretch.line.at(sum(along) / 2.0))
    assert Line.through(*middles).offset(target) == pytest.approx(0.0, abs=1e-6)
