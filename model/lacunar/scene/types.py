"""A scene: everything that a picture or a model file needs, in metres, z up, and no renderer anywhere."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
import numpy.typing as npt

from lacunar.analysis import Fate
from lacunar.geometry import Point, Ring
from lacunar.scene.noise import Floats
from lacunar.tape import Tape

Indices = npt.NDArray[np.int32]
Picture = npt.NDArray[np.uint8]
Vector = tuple[float, float, float]


def vector(values: npt.ArrayLike, scale: float = 1.0) -> Vector:
    """Three numbers as plain ones, each a `scale`th."""
    x, y, z = np.asarray(values, dtype=float) / scale
    return float(x), float(y), float(z)


Layer = Literal[
    "beams", "furring", "slats", "trim", "old ceiling", "above", "room", "furniture", "fixture", "pockets", "mouths"
]
FaceKind = Literal["beam", "moulding", "slat", "trim", "furring", "wall", "old ceiling", "joist", "beyond"]
Quality = Literal["draft", "fine", "large", "traced"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Appearance:
    """What a surface looks like.

    Attributes:
        name: id.
        albedo: sRGB image, shape (rows, columns, 3); one pixel where the colour is even. v counts rows down.
        mean: mean of the albedo, linear.
        rough: 0 mirror, 1 matt: how far a reflected window is smeared.
        shine: strength of the reflection, 1 for a clear coat.
        glow: light that it gives off by itself, linear, as radiance over pi.
        pane: glass that shows the outdoors.
        boards: how many lie side by side in the image, the last one end grain.
        size: mm that the image covers across and along; zero where it has no scale.
    """

    name: str
    albedo: Picture
    mean: Vector
    rough: float = 0.6
    shine: float = 0.0
    glow: Vector = (0.0, 0.0, 0.0)
    pane: bool = False
    boards: int = 1
    size: tuple[float, float] = (0.0, 0.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """One thing, as triangles whose vertices are not shared between faces.

    Attributes:
        name: a part's id, or what it is ("floor", "wall AB").
        kind: the part's kind, or "".
        layer: which group it is shown and exploded with.
        material: name.
        coffer: id, or None.
        points: shape (n, 3), metres.
        faces: shape (m, 3), counter-clockwise seen from outside.
        normals: shape (n, 3), flat.
        uv: shape (n, 2), into the material's image.
        light: shape (n, 3), irradiance over pi, linear; None before the light is worked out.
        lamplight: shape (n, 3), the lamps' alone, which are off by day; None like `light`.
        sees: shape (n, 5): share of the windows of each group that a vertex sees, and of the sun where it comes in.
        shade: shape (n,): how much of the open a vertex sees, 0 to 1, with nothing but what hangs in its way; None like
            `light`.
        explode: where it goes in the exploded view, metres.
        edges: shape (k, 2, 3): its edges as lines, metres; empty for what is not a part.
    """

    name: str
    kind: str
    layer: Layer
    material: str
    coffer: str | None
    points: Floats
    faces: Indices
    normals: Floats
    uv: Floats
    light: Floats | None = None
    lamplight: Floats | None = None
    sees: Floats | None = None
    shade: Floats | None = None
    explode: Vector = (0.0, 0.0, 0.0)
    edges: Floats | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Viewpoint:
    """A place to look from.

    Attributes:
        name: of the view.
        eye: metres.
        towards: point looked at.
        up: what is up in the picture.
        half_width: tangent of half the horizontal angle of view.
        shift: how far the frame is moved up and right, in half heights and half widths, as a view camera does it
            to keep upright lines upright.
        letters: the corner letters are written into the picture.
        parallel: half the picture's height in metres, where nothing grows smaller with distance; 0 for an eye.
    """

    name: str
    eye: Vector
    towards: Vector
    up: Vector = (0.0, 0.0, 1.0)
    half_width: float = 1.0
    shift: tuple[float, float] = (0.0, 0.0)
    letters: bool = False
    parallel: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WindowLight:
    """Daylight: an upright rectangle of glass.

    Attributes:
        centre: middle of the glass.
        right: along the wall, unit, to the right seen from inside.
        inward: unit normal into the room.
        half: half width and half height of the glass.
        sky: radiance over pi seen upwards through it.
        ground: the same, downwards.
        bars: glazing bars as (x, y, half width, half height) in the glass's own middle-based metres.
        depth: from the glass to the outer face of the wall.
    """

    centre: Vector
    right: Vector
    inward: Vector
    half: tuple[float, float]
    sky: Vector
    ground: Vector
    bars: tuple[tuple[float, float, float, float], ...] = ()
    depth: float = 0.1


def clear_share(window: WindowLight) -> float:
    """Share of the glass that no bar covers."""
    return 1.0 - sum(w * h for _, _, w, h in window.bars) / (window.half[0] * window.half[1])


def window_groups(n: int) -> tuple[int, ...]:
    """Of n windows the group of each, 0 to 3: what is hidden of them is kept for four; neighbours share one."""
    return tuple(i if n <= 4 else i * 4 // n for i in range(n))


@dataclass(frozen=True, slots=True, kw_only=True)
class Lamp:
    """A glowing ball: the light of a fixture. `power`: irradiance over pi at one metre."""

    centre: Vector
    radius: float
    power: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Sun:
    """Sunlight. `towards`: unit vector to the sun; `power`: irradiance over pi square to it, zero for no sun."""

    towards: Vector
    power: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class Lights:
    """All light of a room at one hour.

    Attributes:
        windows: with the sky's and the ground's light.
        lamps: that are lit.
        sun: that shines in.
        outdoors: gain of the view out of the windows, after exposure.
    """

    windows: tuple[WindowLight, ...]
    lamps: tuple[Lamp, ...]
    sun: Sun
    outdoors: Vector = (1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class Evening:
    """What is another by lamplight: see `by_lamplight`.

    Attributes:
        lights: dusk in the windows, lamps lit.
        exposure: as `Scene.exposure`.
        bodies: that stand in the room in the evening only.
    """

    lights: Lights
    exposure: Vector
    bodies: tuple[Body, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """A corner's letter and where it is written, metres."""

    text: str
    at: Vector


@dataclass(frozen=True, slots=True, kw_only=True)
class CutFace:
    """One cut face.

    Attributes:
        name: part's id, "joist 3", "old ceiling".
        kind: of it.
        ring: (along the cut, height), mm.
        material: name, or "".
        end_grain: the cut goes across its grain.
        word: what it is called in the picture, where its kind does not say so.
    """

    name: str
    kind: FaceKind
    ring: tuple[Point, ...]
    material: str = ""
    end_grain: bool = False
    word: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measure:
    """A dimension between two places of the cut, mm. `side`: where its line is drawn, level or plumb."""

    name: str
    start: Point
    end: Point
    side: Literal["above", "below", "left", "right"]

    @property
    def size(self) -> float:
        """Length in mm, along its line."""
        way = 0 if self.side in ("above", "below") else 1
        return abs(self.end[way] - self.start[way])


@dataclass(frozen=True, slots=True, kw_only=True)
class CutView:
    """One section or detail.

    Attributes:
        title: what it shows.
        faces: far ones first.
        measures: what is measured.
        window: u from, u to, z from, z to.
    """

    title: str
    faces: tuple[CutFace, ...]
    measures: tuple[Measure, ...]
    window: tuple[float, float, float, float]


Hiding = Literal["trim", "short trim", "nothing", "canopy", "unknown"]
"""What hides a gap: trim by the least overlap or by less, nothing, a fixture's canopy; of which nobody knows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FlatShape:
    """A part, coffer or hole in the plan, mm. `kind`: "beam", "slat", "trim", "coffer" or "hole"."""

    name: str
    kind: Literal["beam", "slat", "trim", "coffer", "hole"]
    ring: Ring


@dataclass(frozen=True, slots=True, kw_only=True)
class PocketMark:
    """A pocket.

    Attributes:
        body: name of its bore.
        part: id.
        joint: where its end is, "X1 at E2": several pieces may end there.
        fate: what becomes of it.
        mouth: metres.
        end: middle of the end that its screw leaves, in the plan, mm.
        inward: unit, from that end along the piece.
        out: unit, out of the face that it opens in.
    """

    body: str
    part: str
    joint: str
    fate: Fate
    mouth: Vector
    end: Point
    inward: Point
    out: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class GapMark:
    """An end gap or edge gap, or the hole for a fixture.

    Attributes:
        part: id of the slat, name of the fixture.
        against: what it looks at.
        kind: which of them.
        line: the slat's edge, the hole's ring, mm.
        out: unit, from the slat towards what it looks at.
        overlap: how far it is hidden, mm; negative by how much shows.
        hiding: what hides it.
    """

    part: str
    against: str
    kind: Literal["end", "edge", "hole"]
    line: tuple[Point, ...]
    out: Point
    overlap: float
    hiding: Hiding


@dataclass(frozen=True, slots=True, kw_only=True)
class Flat:
    """The ceiling as a plan, with what is worked out of it.

    Attributes:
        shapes: in the order in which they are drawn.
        pockets: part by part.
        gaps: ends, edges, holes.
        least_overlap: by which trim is to reach past a gap, mm.
    """

    shapes: tuple[FlatShape, ...] = ()
    pockets: tuple[PocketMark, ...] = ()
    gaps: tuple[GapMark, ...] = ()
    least_overlap: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """One ceiling in its room, ready to be looked at.

    Attributes:
        title: of the job.
        tape: that sizes are told by.
        bodies: everything, parts first.
        materials: by name.
        cameras: by view's name.
        lights: of the room by day.
        exposure: gain of each colour, one for all pictures of a job, so that they match.
        evening: lights and exposure of the evening, where that was asked for.
        letters: corners.
        outline: the room's plan, metres, counter-clockwise.
        height: of the ceiling's lowest corner, metres.
        cuts: the section and its details.
        flat: the plan, for pictures that answer what is seen of pockets and gaps.
        today: the room as it is, where that was asked for.
        notes: what was assumed or could not be done, one sentence each.
    """

    title: str
    tape: Tape
    bodies: tuple[Body, ...]
    materials: Mapping[str, Appearance]
    cameras: Mapping[str, Viewpoint]
    lights: Lights
    exposure: Vector
    evening: Evening | None
    letters: tuple[Letter, ...]
    outline: tuple[tuple[float, float], ...]
    height: float
    cuts: tuple[CutView, ...] = ()
    flat: Flat = Flat()
    today: "Scene | None" = None
    notes: tuple[str, ...] = ()
