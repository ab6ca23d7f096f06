"""Beams hang where the survey puts their ends, and as read where nothing else tells of them."""

import re
from dataclasses import asdict
from pathlib import Path
from typing import Any, cast

import pytest

from lacunar.config import Config, read_config_text
from lacunar.layout import Layout, arrange_layout
from lacunar.survey import solve_survey

CONFIGS = sorted((Path(__file__).resolve().parents[2] / "configs").glob("*.toml"))

SQUARE = """
units = "mm"
[room]
height = 2500
[room.measured]
AB = 4000
BC = 3000
CD = 4000
DA = 3000
AC = 5000
{more}
[[beam]]
name = "E1"
width = 100
depth = 140
ends = [{{ wall = "AB", from = "A", at = 1900 }}, {{ wall = "CD", from = "D", at = 1900 }}]
"""


def layout_of(config: Config) -> Layout:
    return arrange_layout(solve_survey(config), config)


def leaves(value: Any, place: str = "") -> dict[str, Any]:
    """Every number and word of nested values, by its place."""
    if isinstance(value, dict):
        inside = [(f"{place}.{name}", item) for name, item in cast(dict[str, Any], value).items()]
    elif isinstance(value, list | tuple):
        inside = [(f"{place}[{n}]", item) for n, item in enumerate(cast(tuple[Any, ...], value))]
    else:
        return {place: value}
    return {there: leaf for at, item in inside for there, leaf in leaves(item, at).items()}


def near_face(layout: Layout, y: float) -> float:
    """x of E1's face nearer A where it meets a wall that lies at y."""
    return min(x for x, at in layout.beams[0].outline if abs(at - y) < 1.0)


def test_the_near_face_goes_through_the_adjusted_ends() -> None:
    # 1900 and 2094 from both corners miss 4000 by 6 mm: each of the three takes its part, at wall AB alone.
    config = read_config_text(SQUARE.format(more='"E1.AB-B" = 2094'), "room.toml")
    room, layout = solve_survey(config), layout_of(config)
    sds = [1.5 + 0.0002 * length for length in (1900.0, 2094.0, 4000.0)]
    at = 1900.0 + 6.0 * sds[0] ** 2 / sum(sd**2 for sd in sds)
    a, d = room.corner("A"), room.corner("D")
    assert near_face(layout, a[1]) - a[0] == pytest.approx(at, abs=1e-3)
    assert near_face(layout, d[1]) - d[0] == pytest.approx(1900.0, abs=0.1)
    # Its far face stays parallel, a width away.
    assert layout.beams[0].width == 100.0


def test_as_read_where_nothing_else_tells() -> None:
    layout = layout_of(read_config_text(SQUARE.format(more=""), "room.toml"))
    assert near_face(layout, 3000.0) == pytest.approx(1900.0, abs=1e-6)
    assert near_face(layout, 0.0) == pytest.approx(1900.0, abs=1e-6)


@pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)
def test_shipped_rooms_stay_as_they_are_with_every_beams_end_as_a_mark(path: Path) -> None:
    """A distance that repeats an end's own reading makes it a mark and says nothing new."""
    text = path.read_text(encoding="utf-8")
    plain = read_config_text(text, path)
    own = "".join(
        f'"{end.from_}-{beam.name}.{end.wall}" = "{end.at!r} mm"\n' for beam in plain.beam for end in beam.ends
    )
    marked = read_config_text(re.sub(r"(?m)^(\[room\.measured\].*)$", rf"\1\n{own}", text), path)
    room = solve_survey(marked)
    assert {f"{beam.name}.{end.wall}" for beam in plain.beam for end in beam.ends} <= set(room.marks)
    before, after = leaves(asdict(layout_of(plain))), leaves(asdict(layout_of(marked)))
    assert before.keys() == after.keys()
    words = {place for place, value in before.items() if not isinstance(value, float)}
    assert {place: before[place] for place in words} == {place: after[place] for place in words}
    off = max(abs(before[place] - after[place]) for place in before.keys() - words)
    assert off <= 1e-6
