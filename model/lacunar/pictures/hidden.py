"""Where pockets are and whether anyone can see one: a joint seen through the wood, and every joint in the plan."""

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely

from lacunar.config import first_of
from lacunar.pictures.captions import RGB, Canvas, Pixels
from lacunar.pictures.marks import FATES, stamp
from lacunar.pictures.pockets_plan import pockets_plan
from lacunar.pictures.projection import project
from lacunar.pictures.shader import neutral
from lacunar.pictures.stage import Code, Stage
from lacunar.scene import Appearance, Body, Flat, PocketMark, Scene, Viewpoint

PILOT: RGB = (60, 56, 52)
ROOM: RGB = (214, 210, 202)
TINTS: dict[str, tuple[RGB, float, str]] = {
    "beams": ((150, 112, 82), 0.30, "beam"),
    "furring": ((150, 130, 170), 0.34, "furring"),
    "slats": ((196, 176, 150), 0.16, "slat"),
    "trim": ((120, 150, 140), 0.40, "trim"),
}
"""Of each layer its colour, how solid it is, and what it is called."""

PANEL: Final = 0.40
"""Share of the picture's width for the plan."""

BACK, UNDER = 0.95, 0.50
"""m from the joint to the eye, in the plan and in height. Source: tuned by eye."""

ASIDE: Final = 0.50
"""Radians between the eye's way and the beam that the pieces end at."""

MOST_NAMES: Final = 3


def verdict(flat: Flat) -> str:
    """In one line whether anyone can see a pocket; counts as the checks have them."""
    counts = Counter(mark.fate for mark in flat.pockets)
    if not flat.pockets:
        return "No pockets: this ceiling has no cross beams that are screwed."
    rest = [f"{counts['hidden']} lie behind slat and trim"] if counts["hidden"] else []
    if counts["plugged"]:
        rest.append(f"{counts['plugged']} low ones are plugged, and the plugs show below the trim")
    if not counts["seen"]:
        return f"None of {len(flat.pockets)} pockets is open to view: {'; '.join(rest)}."
    parts = tuple(dict.fromkeys(mark.part for mark in flat.pockets if mark.fate == "seen"))
    named = first_of(parts, MOST_NAMES)
    return "; ".join([f"{counts['seen']} of {len(flat.pockets)} pockets can be seen ({named})", *rest]) + "."


@dataclass(frozen=True, slots=True)
class _Joint:
    """Where pieces end: its pockets' middle in metres, and the way to look past it."""

    name: str
    marks: tuple[PocketMark, ...]
    at: tuple[float, float, float]
    way: float
    wall: float

    @property
    def worth(self) -> tuple[bool, int, bool, float]:
        """What shows comes first; then as many pieces as meet, before a wall that is near and not beside the joint."""
        seen = any(mark.fate == "seen" for mark in self.marks)
        return seen, len({mark.part for mark in self.marks}), self.wall > 0.6, -self.wall


def _joints(scene: Scene) -> list[_Joint]:
    room = shapely.Polygon(scene.outline)
    by_name: dict[str, list[PocketMark]] = {}
    for mark in scene.flat.pockets:
        by_name.setdefault(mark.joint, []).append(mark)
    out: list[_Joint] = []
    for name, marks in by_name.items():
        x, y, z = (float(v) for v in np.mean([mark.mouth for mark in marks], axis=0))
        along = math.atan2(marks[0].inward[1], marks[0].inward[0])
        ways = [along + math.pi / 2, along - math.pi / 2]
        wall, way = min((_reach(room, (x, y), way), way) for way in ways)
        out.append(_Joint(name, tuple(marks), (x, y, z), way, wall))
    return out


def _reach(room: shapely.Polygon, at: tuple[float, float], way: float) -> float:
    """M to the wall in a direction."""
    ray = shapely.LineString([at, (at[0] + 100.0 * math.cos(way), at[1] + 100.0 * math.sin(way))])
    return float(shapely.Point(at).distance(room.exterior.intersection(ray)))


def _camera(joint: _Joint) -> Viewpoint:
    """Close under the joint, past it to the nearest wall; the joint stands left of the plan."""
    x, y, z = joint.at
    turn = joint.way - ASIDE
    eye = (x - BACK * math.cos(turn), y - BACK * math.sin(turn), z - UNDER)
    return Viewpoint(name="hidden", eye=eye, towards=joint.at, half_width=0.88, shift=(PANEL, -0.06))


def hidden(stage: Stage, scene: Scene) -> Pixels:
    """The picture."""
    joint = max(_joints(scene), key=lambda one: one.worth, default=None)
    camera = replace(scene.cameras["corner"], name="hidden") if joint is None else _camera(joint)
    _dress(stage, scene)
    sheet = Canvas(stage.picture(camera))
    s, (width, height) = sheet.size, stage.size
    head = sheet.headline(verdict(scene.flat))
    layers = {body.layer for body in scene.bodies}
    woods = [(tint, word) for layer, (tint, _, word) in TINTS.items() if layer in layers]
    if joint is not None:
        _signs(sheet, scene, camera, joint)
        pockets_plan(sheet, scene, joint.name, woods, (round((1 - PANEL) * width), head, width, height))
        _names(sheet, scene, camera, joint, (s, head, (1 - PANEL) * width, height))
    return sheet.pixels


def _dress(stage: Stage, scene: Scene) -> None:
    """Walls solid, wood see-through, pockets in the colour of what becomes of them."""
    fates = {mark.body: mark.fate for mark in scene.flat.pockets}
    stage.clear("#f7f6f2")
    stage.dress((b for b in scene.bodies if b.name.startswith(("wall ", "skirting"))), _tinted(ROOM))
    for fate, colour in FATES.items():
        stage.dress((b for b in scene.bodies if fates.get(b.name) == fate), _tinted(colour))
    stage.dress((b for b in scene.bodies if b.kind == "pilot"), _tinted(PILOT))
    # One colour a layer and no depth between see-through things: their order then hardly matters, and none is sorted.
    for layer, (tint, alpha, _) in TINTS.items():
        stage.dress((b for b in scene.bodies if b.layer == layer), _tinted(tint, 0.35, alpha), clear=True)
    parts = [(b.layer, b.edges) for b in scene.bodies if b.edges is not None]
    stage.lines([edges for layer, edges in parts if layer == "beams"], (0.22, 0.14, 0.08), 1.2, 0.9)
    stage.lines(
        [edges for layer, edges in parts if layer in ("furring", "slats", "trim")], (0.42, 0.36, 0.30), 0.8, 0.35
    )


def _tinted(rgb: RGB, textured: float = 0.0, alpha: float = 1.0) -> Code:
    share = (rgb[0] / 255, rgb[1] / 255, rgb[2] / 255)

    def code(_body: Body, _material: Appearance) -> tuple[str, str]:
        return neutral(share, textured=textured, alpha=alpha)

    return code


def _signs(sheet: Canvas, scene: Scene, camera: Viewpoint, joint: _Joint) -> None:
    """At the mouths of the joint that is seen large."""
    size = (sheet.image.width, sheet.image.height)
    for mark in joint.marks:
        x, y, _ = project(camera, [mark.mouth], size)[0]
        stamp(sheet, (x, y), 0.75 * sheet.size, mark.fate)
        sheet.taken.append((x - sheet.size, y - sheet.size, x + sheet.size, y + sheet.size))


def _names(
    sheet: Canvas, scene: Scene, camera: Viewpoint, joint: _Joint, box: tuple[float, float, float, float]
) -> None:
    """Of the pieces that end there, of what they end at, and of the walls, where each is in view."""
    size = (sheet.image.width, sheet.image.height)
    wanted = [*dict.fromkeys(mark.part for mark in joint.marks), joint.name.rpartition(" ")[2]]
    for body in scene.bodies:
        is_wall = body.name.startswith("wall ") and joint.wall < 6.0
        if body.name not in wanted and not is_wall:
            continue
        spots = project(camera, _near_first(body, joint), size)
        shown = [(x, y) for x, y, ahead in spots if ahead > 0.2 and _inside(box, (x, y), sheet)]
        sheet.place(body.name, shown, bold=not is_wall, scale=1.1)


def _near_first(body: Body, joint: _Joint) -> np.ndarray:
    """Places on a body, those about half a metre from the joint first; on a wall under its upper edge."""
    points = body.points.astype(float)
    if body.name.startswith("wall "):
        # Below whatever hangs before it.
        below = points[:, 2].max() - points[:, 2]
        points = points[(below > 0.4) & (below < 1.2)]
    away = np.hypot(points[:, 0] - joint.at[0], points[:, 1] - joint.at[1])
    order = np.argsort(np.abs(away - 0.45))
    return points[order][:400]


def _inside(box: tuple[float, float, float, float], at: tuple[float, float], sheet: Canvas) -> bool:
    x0, y0, x1, y1 = box
    s = 2.5 * sheet.size
    return x0 + s < at[0] < x1 - s and y0 + s < at[1] < y1 - s
