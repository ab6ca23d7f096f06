"""Rooms by their true corners, and configs with the distances that a perfect tape would read."""

import math
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from hypothesis import strategies as st

from lacunar.config import Config, read_config_text

Corner = tuple[float, float]
Corners = Mapping[str, Corner]

L_ROOM: Corners = {
    "A": (0.0, 5000.0),
    "B": (6000.0, 5010.0),
    "C": (6020.0, 2000.0),
    "D": (3500.0, 2010.0),
    "E": (3490.0, 0.0),
    "F": (-15.0, 5.0),
}
"""Reflex at D."""

BAY_ROOM: Corners = {
    "A": (0.0, 4000.0),
    "B": (5000.0, 4020.0),
    "C": (5010.0, 1000.0),
    "D": (4000.0, 0.0),
    "E": (0.0, 0.0),
}

U_ROOM: Corners = {
    "A": (0.0, 6000.0),
    "B": (8000.0, 6010.0),
    "C": (8010.0, 0.0),
    "D": (5500.0, 5.0),
    "E": (5490.0, 3500.0),
    "F": (2500.0, 3510.0),
    "G": (2510.0, 0.0),
    "H": (10.0, 0.0),
}


def walls(corners: Iterable[str]) -> list[str]:
    names = list(corners)
    return [a + b for a, b in zip(names, names[1:] + names[:1], strict=True)]


def place(corners: Corners, name: str, marks: Mapping[str, tuple[str, float]]) -> Corner:
    """A corner, or a mark so far along its wall."""
    if name in corners:
        return corners[name]
    wall, at = marks[name]
    (xa, ya), (xb, yb) = corners[wall[0]], corners[wall[1]]
    share = at / math.dist(corners[wall[0]], corners[wall[1]])
    return (xa + share * (xb - xa), ya + share * (yb - ya))


def distances(
    corners: Corners, names: Iterable[str], marks: Mapping[str, tuple[str, float]] | None = None
) -> dict[str, float]:
    """True distances between corners ("AC") or marks ("m1-C")."""
    found: dict[str, float] = {}
    for name in names:
        start, _, end = name.partition("-")
        start, end = (start, end) if end else (name[0], name[1])
        found[name] = math.dist(place(corners, start, marks or {}), place(corners, end, marks or {}))
    return found


def config_from(
    measured: Mapping[str, float],
    corners: str = "ABCD",
    marks: Mapping[str, tuple[str, float]] | None = None,
    room: str = "height = 2700",
    more: str = "",
    units: str = "mm",
) -> Config:
    """A config with these readings in mm; `room` is the rest of its table, `more` other tables."""
    lines = [f'units = "{units}"', "[room]", room, f'corners = "{corners}"', "[room.measured]"]
    lines += [f'"{name}" = "{value!r} mm"' for name, value in measured.items()]
    if marks:
        lines += ["[room.marks]"]
        lines += [
            f'{name} = {{ wall = "{wall}", from = "{wall[0]}", at = "{at!r} mm" }}'
            for name, (wall, at) in marks.items()
        ]
    return read_config_text("\n".join([*lines, more]), Path("room.toml"))


def framed(corners: Corners) -> list[Corner]:
    """The corners in the frame of the plan, by plain trigonometry: AB level, smallest x and y 0."""
    points = list(corners.values())
    (xa, ya), (xb, yb) = points[0], points[1]
    angle = -math.atan2(yb - ya, xb - xa)
    turned = [(x * math.cos(angle) - y * math.sin(angle), x * math.sin(angle) + y * math.cos(angle)) for x, y in points]
    left, low = min(x for x, _ in turned), min(y for _, y in turned)
    return [(x - left, y - low) for x, y in turned]


def assert_points(got: Sequence[Corner], expected: Sequence[Corner], within: float = 1e-6) -> None:
    """The same points in the same order, no one further off than `within` mm."""
    assert len(got) == len(expected)
    off = [math.dist(p, q) for p, q in zip(got, expected, strict=True)]
    assert max(off) <= within, f"off by {off}: got {got}, expected {expected}"


@st.composite
def quads(draw: st.DrawFn) -> Corners:
    """Four-sided rooms of 1.2 to 9 m, far from square: each corner up to 15 % of the short side off."""
    width, depth = draw(st.floats(1200.0, 9000.0)), draw(st.floats(1200.0, 9000.0))
    off = st.floats(-0.15, 0.15).map(lambda share: share * min(width, depth))
    square = {"A": (0.0, depth), "B": (width, depth), "C": (width, 0.0), "D": (0.0, 0.0)}
    return {name: (x + draw(off), y + draw(off)) for name, (x, y) in square.items()}


@st.composite
def l_rooms(draw: st.DrawFn) -> Corners:
    """L-shaped rooms with one reflex corner anywhere, corners off by up to 60 mm."""
    x, y = draw(st.floats(3000.0, 8000.0)), draw(st.floats(3000.0, 8000.0))
    cut_x, cut_y = draw(st.floats(0.3, 0.7)) * x, draw(st.floats(0.3, 0.7)) * y
    ring = [(0.0, y), (x, y), (x, cut_y), (cut_x, cut_y), (cut_x, 0.0), (0.0, 0.0)]
    start = draw(st.integers(0, 5))
    off = st.floats(-60.0, 60.0)
    turned = ring[start:] + ring[:start]
    return {name: (px + draw(off), py + draw(off)) for name, (px, py) in zip("ABCDEF", turned, strict=True)}
