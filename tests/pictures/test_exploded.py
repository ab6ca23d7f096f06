"""The ceiling taken apart: every layer clear of the next, and counted as the parts are."""

import itertools
from collections import Counter
from pathlib import Path

import numpy as np
import pytest
import shapely

from lacunar.config import read_config
from lacunar.job import run_job
from lacunar.pictures.exploded import COUNTED, LAYERS, LOOK, apart, counted
from lacunar.pictures.projection import framed, project
from lacunar.scene.bodies import all_bodies
from lacunar.scene.look import look_of

CONFIGS = Path(__file__).resolve().parents[2] / "configs"


@pytest.mark.parametrize("room", ["6-sagging", "8-l-shaped"])
def test_layers_are_clear_and_counts_are_those_of_the_parts(room: str) -> None:
    """Mouldings are no beams, and a joist that ends twice is one."""
    job = run_job(read_config(CONFIGS / f"{room}.toml"), weighed=False)
    raws, _ = all_bodies(job.parts, job.room, job.layout, look_of(job.config, job.room))
    bodies = apart([raw.body for raw in raws])
    points = [b.points + np.array(b.explode) for b in bodies]
    camera = framed(np.concatenate(points), LOOK, 1.6, (0.1, 0.1, 0.1, 0.1))
    by_layer: dict[str, list[np.ndarray]] = {}
    for body, p in zip(bodies, points, strict=True):
        by_layer.setdefault(body.layer, []).append(project(camera, p, (1600, 1000))[:, :2])
    hulls = {layer: shapely.MultiPoint(np.concatenate(spots)).convex_hull for layer, spots in by_layer.items()}
    assert set(hulls) <= set(LAYERS)
    assert len(hulls) >= 4
    assert all(a.distance(b) > 4.0 for a, b in itertools.combinations(hulls.values(), 2))
    told = [line for layer in LAYERS for line in counted([b for b in bodies if b.layer == layer])]
    parts = Counter(part.kind for part in job.parts if part.kind in COUNTED)
    for kind, n in parts.items():
        assert (f"{n} {COUNTED[kind]}" if n > 1 else f"1 {kind}") in told
    joists = sum(
        shapely.LineString([line.at(-1e5), line.at(1e5)]).intersects(shapely.Polygon(job.room.points))
        for line in job.layout.joists.lines
    )
    assert any(line.startswith(f"{joists} joists") for line in told)
