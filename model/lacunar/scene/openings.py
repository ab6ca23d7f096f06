"""Windows and doors as joiners make them: casing, sill, sash with glazing bars; casing and a panelled leaf."""

from collections.abc import Mapping

import numpy as np
import numpy.typing as npt

from lacunar.scene.fixtures import ball
from lacunar.scene.look import Opening
from lacunar.scene.shape import Doubles, Shape, box, joined, sheet, splits
from lacunar.scene.shell import wall_frame
from lacunar.scene.types import WindowLight, vector
from lacunar.survey import Room

CASING = (85.0, 18.0)
"""mm, wide and thick. Common practice, no source."""

REVEAL = 110.0
"""mm from the wall's face back to the glass. Common practice, no source."""

SASH = 48.0
"""mm, face width of the frame round the glass. Common practice, no source."""

BAR = 22.0
"""mm, face width of a glazing bar. Common practice, no source."""

SKY = (0.82, 0.95, 1.15)
"""Colour of the light from a bright, hazy sky. Source: tuned by eye."""

GROUND = (0.64, 0.61, 0.54)
"""Colour of the light from sunlit ground outside. Source: tuned by eye."""

DAYLIGHT = 10.0
"""Radiance of the sky over pi; only its ratio to sun and lamps matters. Source: tuned by eye."""


Rect = tuple[float, float, float, float]
"""x0, y0, x1, y1 on a wall seen from inside, mm."""


def _at(corner: Doubles, axes: Doubles, x: float, y: float = 0.0, z: float = 0.0) -> Doubles:
    """A place along a wall, up it and out of it."""
    return corner + x * axes[0] + y * axes[1] + z * axes[2]


def _frame(corner: Doubles, axes: Doubles, rect: Rect, face: float, depth: tuple[float, float]) -> Shape:
    """Four sticks round a rectangle (x0, y0, x1, y1), `face` wide inwards, between two depths (inward positive)."""
    x0, y0, x1, y1 = rect
    near, far = depth

    def stick(a: float, b: float, c: float, d: float) -> Shape:
        return box(_at(corner, axes, a, c, near), axes, (b - a, d - c, far - near), 300.0)

    return joined(
        [
            stick(x0, x0 + face, y0, y1),
            stick(x1 - face, x1, y0, y1),
            stick(x0 + face, x1 - face, y0, y0 + face),
            stick(x0 + face, x1 - face, y1 - face, y1),
        ]
    )


def _bars(o: Opening) -> list[tuple[float, float, float, float]]:
    """Glazing bars (x, y, half width, half height) from the glass's middle: a meeting rail, uprights if wide."""
    half_w, half_h = o.width / 2 - SASH, (o.head - o.sill) / 2 - SASH
    bars = [(0.0, 0.0, half_w, SASH * 0.45)] if half_h > 350.0 else []
    n = max(1, round(2 * half_w / 480.0))
    bars += [(-half_w + 2 * half_w * k / n, 0.0, BAR / 2, half_h) for k in range(1, n)]
    return bars


def window_shapes(room: Room, o: Opening) -> Mapping[str, Shape]:
    """The shapes of one window by what they are made of: "joinery" and "glass"."""
    corner, axes, _ = wall_frame(room, o.wall)
    x0, x1, y0, y1 = o.start, o.start + o.width, o.sill, o.head
    wide, thick = CASING
    joinery = [
        *_reveal(corner, axes, (x0, y0, x1, y1)),
        _frame(corner, axes, (x0, y0, x1, y1), SASH, (-REVEAL - 20.0, -REVEAL + 25.0)),
        *_casing(corner, axes, (x0, y0, x1, y1), 110.0),
    ]
    sill, apron = (x1 - x0 + 2 * wide + 50, 28.0, 0.6 * REVEAL + 55.0), (x1 - x0 + 2 * wide, 75.0, thick)
    joinery.append(box(_at(corner, axes, x0 - wide - 25, y0 - 28, -REVEAL * 0.6), axes, sill, 45.0))
    joinery.append(box(_at(corner, axes, x0 - wide, y0 - 28 - 75), axes, apron, 300.0))
    middle = _at(corner, axes, (x0 + x1) / 2, (y0 + y1) / 2, -REVEAL)
    for bx, by, hw, hh in _bars(o):
        origin = _at(middle, axes, bx - hw, by - hh, -14.0)
        # Where bars cross, one must stand proud, or their faces fight for the pixel.
        joinery.append(box(origin, axes, (2 * hw, 2 * hh, 34.0 if hw > hh else 28.0), 300.0))
    half_w, half_h = o.width / 2 - SASH, (y1 - y0) / 2 - SASH
    glass = sheet(_at(middle, axes, -half_w, -half_h), axes[0], axes[1], [0, 2 * half_w], [0, 2 * half_h])
    return {"joinery": joined(joinery), "glass": glass}


def _casing(corner: Doubles, axes: Doubles, rect: Rect, step: float) -> list[Shape]:
    """Boards up both sides of an opening, and a longer one over it."""
    x0, y0, x1, y1 = rect
    wide, thick = CASING
    sides = [box(_at(corner, axes, x, y0), axes, (wide, y1 - y0, thick), step) for x in (x0 - wide, x1)]
    head = (x1 - x0 + 2 * wide + 24, wide + 12, thick + 6)
    return [*sides, box(_at(corner, axes, x0 - wide - 12, y1), axes, head, 300.0)]


def _reveal(corner: Doubles, axes: Doubles, rect: Rect) -> list[Shape]:
    """The four faces of the hole in the wall, from its face back to the frame."""
    x0, y0, x1, y1 = rect
    xs, ys = splits(0.0, x1 - x0, 200.0), splits(0.0, y1 - y0, 200.0)
    return _jambs(_at(corner, axes, x0, y0, -REVEAL), axes, xs, ys, splits(0.0, REVEAL, 60.0))


def _jambs(lower: Doubles, axes: Doubles, xs: npt.ArrayLike, ys: npt.ArrayLike, depth: npt.ArrayLike) -> list[Shape]:
    """The four sides of a recess, in cells: left, right, foot and head, each facing inwards."""
    right, head = (lower + float(np.asarray(along)[-1]) * axis for along, axis in ((xs, axes[0]), (ys, axes[1])))
    return [
        sheet(lower, axes[1], axes[2], ys, depth),
        sheet(right, axes[2], axes[1], depth, ys),
        sheet(lower, axes[2], axes[0], depth, xs),
        sheet(head, axes[0], axes[2], xs, depth),
    ]


def window_light(room: Room, o: Opening) -> WindowLight:
    """The light that comes through a window; metres."""
    corner, axes, _ = wall_frame(room, o.wall)
    middle = _at(corner, axes, o.start + o.width / 2, (o.sill + o.head) / 2, -REVEAL)
    half = (o.width / 2 - SASH) / 1000.0, ((o.head - o.sill) / 2 - SASH) / 1000.0
    return WindowLight(
        centre=vector(middle, 1000.0),
        right=vector(axes[0]),
        inward=vector(axes[2]),
        half=half,
        sky=vector(DAYLIGHT * np.array(SKY)),
        ground=vector(DAYLIGHT * np.array(GROUND)),
        bars=tuple((x / 1000.0, y / 1000.0, w / 1000.0, h / 1000.0) for x, y, w, h in _bars(o)),
        depth=REVEAL / 1000.0,
    )


def door_shapes(room: Room, o: Opening) -> Mapping[str, Shape]:
    """The shapes of one door, shut: "joinery" and "metal"."""
    corner, axes, _ = wall_frame(room, o.wall)
    width, height = o.width, o.head
    lower = _at(corner, axes, o.start, 0.0, -30.0)
    joinery = [
        *_casing(corner, axes, (o.start, 0.0, o.start + width, height), 200.0),
        *_jambs(lower, axes, splits(0, width, 200.0), splits(0, height, 200.0), [0.0, 30.0]),
        *_leaf(lower, axes, width, height),
    ]
    knob = _at(lower, axes, width - 65.0 if o.hinge == "left" else 65.0, 960.0)
    plate = box(knob + np.array([-22.0, -85.0, 0.0]) @ axes, axes, (44.0, 170.0, 4.0))
    # A door's knob and a lamp's globe are the same ball.
    return {"joinery": joined(joinery), "metal": joined([plate, ball(knob + 55.0 * axes[2], 26.0, 12)])}


def _leaf(lower: Doubles, axes: Doubles, width: float, height: float) -> list[Shape]:
    """Stiles and rails with sunk panels between: two wide, three high."""
    stile, deep = 110.0, 12.0
    xs = [0.0, stile, width / 2 - 50.0, width / 2 + 50.0, width - stile, width]
    rails = (0.36 * height, 0.36 * height + 130.0, 0.80 * height, 0.80 * height + 100.0)
    ys = [0.0, 220.0, *rails, height - 115.0, height]
    keep = np.ones((len(ys) - 1, len(xs) - 1), dtype=bool)
    keep[1:6:2, 1] = keep[1:6:2, 3] = False
    shapes = [sheet(lower, axes[0], axes[1], xs, ys, keep)]
    for row in (1, 3, 5):
        for column in (1, 3):
            shapes += _panel(lower, axes, (xs[column], ys[row], xs[column + 1], ys[row + 1]), deep)
    return shapes


def _panel(lower: Doubles, axes: Doubles, rect: Rect, deep: float) -> list[Shape]:
    x0, y0, x1, y1 = rect
    w, h = x1 - x0, y1 - y0
    back = _at(lower, axes, x0, y0, -deep)
    return [
        sheet(back, axes[0], axes[1], splits(0, w, 150.0), splits(0, h, 200.0)),
        *_jambs(back, axes, [0.0, w], [0.0, h], [0.0, deep]),
        box(_at(back, axes, 40.0, 40.0), axes, (w - 80.0, h - 80.0, 7.0), 300.0, (4,)),
    ]
