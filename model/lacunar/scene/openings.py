"""Windows and doors as joiners make them: casing, sill, sash with glazing bars; casing and a panelled leaf."""

from collections.abc import Mapping

import numpy as np

from lacunar.scene.look import Opening
from lacunar.scene.shape import Doubles, Shape, box, joined, sheet, splits
from lacunar.scene.shell import wall_frame
from lacunar.scene.types import Window
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


def _frame(
    corner: Doubles, axes: Doubles, rect: tuple[float, float, float, float], face: float, depth: tuple[float, float]
) -> Shape:
    """Four sticks round a rectangle (x0, y0, x1, y1), `face` wide inwards, between two depths (inward positive)."""
    x0, y0, x1, y1 = rect
    near, far = depth

    def stick(a: float, b: float, c: float, d: float) -> Shape:
        origin = corner + a * axes[0] + c * axes[1] + near * axes[2]
        return box(origin, axes, (b - a, d - c, far - near), 300.0)

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
        box(corner + (x0 - wide) * axes[0] + y0 * axes[1], axes, (wide, y1 - y0, thick), 110.0),
        box(corner + x1 * axes[0] + y0 * axes[1], axes, (wide, y1 - y0, thick), 110.0),
        box(
            corner + (x0 - wide - 12) * axes[0] + y1 * axes[1],
            axes,
            (x1 - x0 + 2 * wide + 24, wide + 12, thick + 6),
            300.0,
        ),
        box(
            corner + (x0 - wide - 25) * axes[0] + (y0 - 28) * axes[1] - REVEAL * 0.6 * axes[2],
            axes,
            (x1 - x0 + 2 * wide + 50, 28.0, 0.6 * REVEAL + 55.0),
            300.0,
        ),
        box(corner + (x0 - wide) * axes[0] + (y0 - 28 - 75) * axes[1], axes, (x1 - x0 + 2 * wide, 75.0, thick), 300.0),
    ]
    middle = corner + (x0 + x1) / 2 * axes[0] + (y0 + y1) / 2 * axes[1] - REVEAL * axes[2]
    for bx, by, hw, hh in _bars(o):
        origin = middle + (bx - hw) * axes[0] + (by - hh) * axes[1] - 14.0 * axes[2]
        # Where bars cross, one must stand proud, or their faces fight for the pixel.
        joinery.append(box(origin, axes, (2 * hw, 2 * hh, 34.0 if hw > hh else 28.0), 300.0))
    half_w, half_h = o.width / 2 - SASH, (y1 - y0) / 2 - SASH
    glass = sheet(middle - half_w * axes[0] - half_h * axes[1], axes[0], axes[1], [0, 2 * half_w], [0, 2 * half_h])
    return {"joinery": joined(joinery), "glass": glass}


def _reveal(corner: Doubles, axes: Doubles, rect: tuple[float, float, float, float]) -> list[Shape]:
    """The four faces of the hole in the wall, from its face back to the frame."""
    x0, y0, x1, y1 = rect
    back = -REVEAL
    lower = corner + x0 * axes[0] + y0 * axes[1] + back * axes[2]
    depth = splits(0.0, REVEAL, 60.0)
    xs, ys = splits(0.0, x1 - x0, 200.0), splits(0.0, y1 - y0, 200.0)
    return [
        sheet(lower, axes[1], axes[2], ys, depth),  # left jamb faces right
        sheet(lower + (x1 - x0) * axes[0], axes[2], axes[1], depth, ys),
        sheet(lower, axes[2], axes[0], depth, xs),  # sill faces up
        sheet(lower + (y1 - y0) * axes[1], axes[0], axes[2], xs, depth),
    ]


def window_light(room: Room, o: Opening) -> Window:
    """The light that comes through a window; metres."""
    corner, axes, _ = wall_frame(room, o.wall)
    middle = corner + (o.start + o.width / 2) * axes[0] + (o.sill + o.head) / 2 * axes[1] - REVEAL * axes[2]
    half = (o.width / 2 - SASH) / 1000.0, ((o.head - o.sill) / 2 - SASH) / 1000.0
    return Window(
        centre=_vector(middle / 1000.0),
        right=_vector(axes[0]),
        inward=_vector(axes[2]),
        half=half,
        sky=_vector(DAYLIGHT * np.array(SKY)),
        ground=_vector(DAYLIGHT * np.array(GROUND)),
        bars=tuple((x / 1000.0, y / 1000.0, w / 1000.0, h / 1000.0) for x, y, w, h in _bars(o)),
        depth=REVEAL / 1000.0,
    )


def _vector(values: Doubles) -> tuple[float, float, float]:
    return (float(values[0]), float(values[1]), float(values[2]))


def door_shapes(room: Room, o: Opening) -> Mapping[str, Shape]:
    """The shapes of one door, shut: "joinery" and "metal"."""
    corner, axes, _ = wall_frame(room, o.wall)
    x0, x1, y1 = o.start, o.start + o.width, o.head
    wide, thick = CASING
    lower = corner + x0 * axes[0] - 30.0 * axes[2]
    width, height = o.width, o.head
    joinery = [
        box(corner + (x0 - wide) * axes[0], axes, (wide, y1, thick), 200.0),
        box(corner + x1 * axes[0], axes, (wide, y1, thick), 200.0),
        box(
            corner + (x0 - wide - 12) * axes[0] + y1 * axes[1],
            axes,
            (width + 2 * wide + 24, wide + 12, thick + 6),
            300.0,
        ),
        sheet(lower, axes[1], axes[2], splits(0, height, 200.0), [0.0, 30.0]),
        sheet(lower + width * axes[0], axes[2], axes[1], [0.0, 30.0], splits(0, height, 200.0)),
        sheet(lower + height * axes[1], axes[0], axes[2], splits(0, width, 200.0), [0.0, 30.0]),
        sheet(lower, axes[2], axes[0], [0.0, 30.0], splits(0, width, 200.0)),
        *_leaf(lower, axes, width, height),
    ]
    hinge_left = o.hinge == "left"
    knob = lower + (width - 65.0 if hinge_left else 65.0) * axes[0] + 960.0 * axes[1]
    metal = [
        box(knob + np.array([-22.0, -85.0, 0.0]) @ axes, axes, (44.0, 170.0, 4.0)),
        _knob(knob, axes),
    ]
    return {"joinery": joined(joinery), "metal": joined(metal)}


def _leaf(lower: Doubles, axes: Doubles, width: float, height: float) -> list[Shape]:
    """Stiles and rails with sunk panels between: two wide, three high."""
    stile, deep = 110.0, 12.0
    xs = [0.0, stile, width / 2 - 50.0, width / 2 + 50.0, width - stile, width]
    ys = [
        0.0,
        220.0,
        0.36 * height,
        0.36 * height + 130.0,
        0.80 * height,
        0.80 * height + 100.0,
        height - 115.0,
        height,
    ]
    keep = np.ones((len(ys) - 1, len(xs) - 1), dtype=bool)
    keep[1:6:2, 1] = keep[1:6:2, 3] = False
    shapes = [sheet(lower, axes[0], axes[1], xs, ys, keep)]
    for row in (1, 3, 5):
        for column in (1, 3):
            shapes += _panel(lower, axes, (xs[column], ys[row], xs[column + 1], ys[row + 1]), deep)
    return shapes


def _panel(lower: Doubles, axes: Doubles, rect: tuple[float, float, float, float], deep: float) -> list[Shape]:
    x0, y0, x1, y1 = rect
    w, h = x1 - x0, y1 - y0
    back = lower + x0 * axes[0] + y0 * axes[1] - deep * axes[2]
    raised = back + 40.0 * axes[0] + 40.0 * axes[1]
    return [
        sheet(back, axes[0], axes[1], splits(0, w, 150.0), splits(0, h, 200.0)),
        sheet(back, axes[1], axes[2], [0, h], [0, deep]),
        sheet(back + w * axes[0], axes[2], axes[1], [0, deep], [0, h]),
        sheet(back, axes[2], axes[0], [0, deep], [0, w]),
        sheet(back + h * axes[1], axes[0], axes[2], [0, w], [0, deep]),
        box(raised, axes, (w - 80.0, h - 80.0, 7.0), 300.0, (4,)),
    ]


def _knob(centre: Doubles, axes: Doubles) -> Shape:
    from lacunar.scene.fixtures import ball  # a door's knob and a lamp's globe are the same ball

    return ball(centre + 55.0 * axes[2], 26.0, 12)
