"""Rooms for the tests: measured out-of-square ones for Hypothesis, and configs as text."""

import math
import random
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacunar.config import Config, read_config_text
from lacunar.geometry import Point
from lacunar.layout import arrange_layout
from lacunar.parts import Part, make_parts
from lacunar.survey import solve_survey

INCH = 25.4


def config_of(text: str, name: str = "room.toml") -> Config:
    """A config from text, as if it stood in a file."""
    return read_config_text(text, Path(name))


def parts_of(config: Config) -> tuple[Part, ...]:
    """Every part of the ceiling that a config describes."""
    return make_parts(arrange_layout(solve_survey(config), config))


@dataclass(frozen=True)
class Quad:
    """A four-cornered room by its true corners A, B, C, D (plan, mm, A top left)."""

    a: Point
    b: Point
    c: Point
    d: Point

    def measured(self) -> str:
        """All four walls and both diagonals, to the nanometre: a survey of it has no error."""
        pairs = {
            "AB": (self.a, self.b),
            "BC": (self.b, self.c),
            "CD": (self.c, self.d),
            "DA": (self.d, self.a),
            "AC": (self.a, self.c),
            "BD": (self.b, self.d),
        }
        return "\n".join(f"{name} = {math.dist(p, q):.9f}" for name, (p, q) in pairs.items())


def quad(
    width: float, depth: float, skews: tuple[float, float, float, float, float] = (0.0, 0.0, 0.0, 0.0, 0.0)
) -> Quad:
    """A rectangle with B, C and D moved: B down or up, C right and up, D right and up."""
    b, cx, cy, dx, dy = skews
    return Quad((0.0, depth), (width, depth + b), (width + cx, cy), (dx, dy))


def skewed_quad(r: random.Random, widest: float = 6500.0, deepest: float = 5500.0, skew: float = 80.0) -> Quad:
    """One of the rooms of `quads`, by a generator of numbers."""
    b, cx, cy, dx, dy = (r.uniform(-skew, skew) for _ in range(5))
    return quad(r.uniform(2600.0, widest), r.uniform(2400.0, deepest), (b, cx, cy, dx, dy))


@st.composite
def quads(draw: st.DrawFn, skew: float = 80.0) -> Quad:
    """Rooms of 2.4 to 6.5 m, corners off square by up to `skew` mm."""
    off = st.floats(-skew, skew, allow_nan=False)
    return quad(
        draw(st.floats(2600.0, 6500.0)),
        draw(st.floats(2400.0, 5500.0)),
        (draw(off), draw(off), draw(off), draw(off), draw(off)),
    )


@dataclass(frozen=True)
class Wish:
    """What a ceiling is to be like; lengths in inches."""

    beams: int = 2
    rows: int = 2
    cross: bool = True
    beam_skew: float = 0.0
    run: str = "across"
    start: str = '["AB", "DA"]'
    gap: float = 0.25
    wedge: str = "auto"
    corners: str = "mitre"
    walls: str = "trim"
    board: float = 3.5
    trim: float = 0.75
    between: str = '["AB", "CD"]'
    moulding: bool = False


def text_of(room: Quad, wish: Wish = Wish(), more: str = "") -> str:
    """A config in mm for a room and a wish."""
    parts = [
        'title = "Test room"',
        'units = "mm"',
        f"read_to = {INCH / 16}",
        "[room]",
        "height = 2700",
        "moulding = { out = 40, down = 60, keep = true }" if wish.moulding else "",
        "[room.measured]",
        room.measured(),
    ]
    if wish.beams:
        parts += [
            "[beams]",
            f"count = {wish.beams}",
            f"between = {wish.between}",
            f"width = {3.5 * INCH}",
            f"depth = {5.5 * INCH}",
        ]
    if wish.cross:
        parts += ["[cross_beams]", 'stock = "4x6"', f"rows = {wish.rows}", f'walls = "{wish.walls}"']
    parts += [
        "[slats]",
        f"width = {wish.board * INCH}",
        f"thickness = {0.75 * INCH}",
        f'run = "{wish.run}"',
        f"gap = {wish.gap * INCH}",
        f"edge_gap = {0.25 * INCH}",
        f"end_gap = {0.25 * INCH}",
        f"least_end_gap = {INCH / 16}",
        f"from = {wish.start}",
        f'wedge = "{wish.wedge}"',
        "[trim]",
        f"width = {wish.trim * INCH}",
        f"height = {0.75 * INCH}",
        f"least_overlap = {0.25 * INCH}",
        f'corners = "{wish.corners}"',
        more,
    ]
    return "\n".join(parts)


@st.composite
def wishes(draw: st.DrawFn) -> Wish:
    """Ceilings of every kind that a quadrilateral room can have."""
    beams = draw(st.integers(0, 3))
    return Wish(
        beams=beams,
        rows=draw(st.integers(0, 3)),
        cross=draw(st.sampled_from([True, True, True, False])),
        run=draw(st.sampled_from(["with", "across", "alternate", "AB", "BC", "joists"])),
        start=draw(st.sampled_from(['["AB", "DA"]', '["CD", "BC"]', '["BC", "AB"]', '"centre"'])),
        gap=draw(st.sampled_from([0.0, 0.125, 0.25, 0.5])),
        wedge=draw(st.sampled_from(["auto", "auto", "auto", "taper", "fan"])),
        corners=draw(st.sampled_from(["mitre", "butt"])),
        walls=draw(st.sampled_from(["trim", "trim", "half beam"])),
        board=draw(st.sampled_from([2.5, 3.5, 5.5])),
        trim=draw(st.sampled_from([0.75, 1.0, 1.5])),
        between=draw(st.sampled_from(['["AB", "CD"]', '["BC", "DA"]'])),
        moulding=draw(st.booleans()) and draw(st.booleans()),
    )


def sampled(few: int, many: int, **strategies: st.SearchStrategy[Any]) -> Callable[[Callable[..., None]], Any]:
    """A test of so few examples in every run, and of so many by name (`pytest -m long`)."""

    def decorated(test: Callable[..., None]) -> Any:
        @pytest.mark.parametrize("examples", [few, pytest.param(many, marks=pytest.mark.long)])
        def run(examples: int) -> None:
            slow = [HealthCheck.too_slow, HealthCheck.filter_too_much]
            tried = settings(max_examples=examples, deadline=None, suppress_health_check=slow)
            tried(given(**strategies)(test))()

        run.__doc__ = test.__doc__
        return run

    return decorated
