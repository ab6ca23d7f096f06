"""A page of nothing but the figure, under the strictest policy that it can do with; and its rooms."""

import base64
import hashlib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt

from lacunar.config import read_config
from lacunar.job import report_of, run_job
from lacunar.scene import Body, Scene, make_scene
from lacunar.share import Figure, Shown, figure_parts

CONFIGS = Path(__file__).resolve().parents[2] / "configs"


@cache
def shown(room: str, change: tuple[str, str] | None = None, *, light: bool = True) -> Shown:
    """A shipped room as it is planned, or with one key changed."""
    config = read_config(CONFIGS / f"{room}.toml", () if change is None else (change,))
    job = run_job(config, weighed=False, advised=False)
    scene = make_scene(job.parts, job.room, job.config, job.layout, quality="draft", light=light)
    name = "as planned" if change is None else f"{change[0]} = <b>{change[1]}</b>"
    return Shown(name=name, scene=scene, report=report_of(job))


def _hashed(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def page_text(figure: Figure) -> str:
    """A whole page."""
    scripts = " ".join(map(_hashed, figure.scripts)) or "'none'"
    policy = f"default-src 'none'; img-src data:; style-src {_hashed(figure.styles)}; script-src {scripts}"
    head = (
        f'<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{policy}">'
        '<meta name="viewport" content="width=device-width"><meta name="color-scheme" content="light dark">'
        f"<title>figure</title><style>{figure.styles}</style>"
    )
    scripted = "".join(f"<script>{text}</script>" for text in figure.scripts)
    body = f"<body><main>{figure.markup}</main>{scripted}</body>"
    return f'<!doctype html><html lang="en"><head>{head}</head>{body}</html>'


def write_page(designs: Sequence[Shown], path: Path) -> Path:
    """The page of these designs."""
    path.write_text(page_text(figure_parts(designs)), encoding="utf-8")
    return path


@dataclass(frozen=True, slots=True)
class Seen:
    """What the page says of how it looks: where the eye is, the matrix to the picture, and its size."""

    eye: npt.NDArray[np.float64]
    matrix: npt.NDArray[np.float64]
    size: tuple[float, float]

    @classmethod
    def of(cls, told: Mapping[str, Any]) -> "Seen":
        """From the canvas's data."""
        matrix = np.array(told["matrix"], dtype=float).reshape(4, 4).T
        return cls(np.array(told["eye"], dtype=float), matrix, (told["width"], told["height"]))

    def places(self, points: npt.ArrayLike) -> npt.NDArray[np.float64]:
        """Pixels right and down, and how far ahead, of points in metres, shape (n, 3)."""
        rows = np.asarray(points, dtype=float).reshape(-1, 3)
        x, y, _, w = self.matrix @ np.column_stack([rows, np.ones(len(rows))]).T
        width, height = self.size
        return np.column_stack([(x / w + 1) / 2 * width, (1 - y / w) / 2 * height, w])

    def way(self, x: float, y: float) -> npt.NDArray[np.float64]:
        """Where a pixel looks to."""
        width, height = self.size
        point = np.linalg.solve(self.matrix, [2 * x / width - 1, 1 - 2 * y / height, 0.5, 1.0])
        return point[:3] / point[3] - self.eye


class Mask:
    """Which body each pixel shows, by rays against the scene's own triangles, as exact as they are."""

    def __init__(self, scene: Scene, seen: Seen) -> None:
        self.seen = seen
        self.bodies = [body for body in scene.bodies if body.layer != "pockets" and not _hides(body, scene, seen)]
        corners = np.concatenate([body.points[body.faces].astype(float) for body in self.bodies])
        self.body = np.repeat(np.arange(len(self.bodies)), [len(body.faces) for body in self.bodies])
        normal = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
        front = np.flatnonzero(((seen.eye - corners[:, 0]) * normal).sum(axis=1) > 0)
        self.corners, self.body = corners[front], self.body[front]
        flat = seen.places(self.corners.reshape(-1, 3)).reshape(-1, 3, 3)
        behind = np.flatnonzero(flat[:, :, 2].min(axis=1) < 0.03)
        self.low, self.high = flat[:, :, :2].min(axis=1), flat[:, :, :2].max(axis=1)
        self.low[behind], self.high[behind] = -np.inf, np.inf

    def at(self, x: float, y: float) -> str | None:
        """The name of what is seen there."""
        near = np.flatnonzero(((self.low <= (x, y)) & (self.high >= (x, y))).all(axis=1))
        a, b, c = np.swapaxes(self.corners[near], 0, 1)
        way = self.seen.way(x, y)
        across = np.cross(way, c - a)
        scale = ((b - a) * across).sum(axis=1)
        with np.errstate(divide="ignore", invalid="ignore"):
            u = ((self.seen.eye - a) * across).sum(axis=1) / scale
            q = np.cross(self.seen.eye - a, b - a)
            v = (q @ way) / scale
            far = ((c - a) * q).sum(axis=1) / scale
        hit = (u >= 0) & (v >= 0) & (u + v <= 1) & (far > 1e-6)
        if not hit.any():
            return None
        return self.bodies[self.body[near[hit][np.argmin(far[hit])]]].name

    def sure(self, x: float, y: float) -> str | None:
        """The name where everything within two pixels is the same; else None."""
        names = {self.at(x + dx, y + dy) for dx, dy in ((0, 0), (2, 0), (-2, 0), (0, 2), (0, -2))}
        return names.pop() if len(names) == 1 else None


def _hides(body: Body, scene: Scene, seen: Seen) -> bool:
    """Whether the page leaves a body out because its wall stands between the eye and the room."""
    if body.layer != "room" or body.name == "floor":
        return False
    ring, at = np.array(scene.outline), body.points[:, :2].mean(axis=0)
    ends = np.roll(ring, -1, axis=0)
    share = np.clip(((at - ring) * (ends - ring)).sum(axis=1) / ((ends - ring) ** 2).sum(axis=1), 0, 1)
    wall = np.argmin(np.linalg.norm(ring + share[:, None] * (ends - ring) - at, axis=1))
    (ax, ay), (bx, by) = ring[wall], ends[wall]
    return bool((bx - ax) * (seen.eye[1] - ay) - (by - ay) * (seen.eye[0] - ax) < 0)
