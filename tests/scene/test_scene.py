"""The scene as a whole."""

import numpy as np
import pytest

from lacunar.scene import Scene, lighting
from scene.sample_room import TEXT, box_room, box_scene, sample

BARE = TEXT[: TEXT.index("[[window]]")] + "[slats]\nwidth = 90\nthickness = 18\n[trim]\nwidth = 20\nheight = 20\n"


def no_rays(points: object, faces: object) -> None:
    """As `rays_for` where embree is not installed."""
    del points, faces


def lit_below(scene: Scene, layer: str) -> float:
    lights = [b.light[b.normals[:, 2] < -0.9] for b in scene.bodies if b.layer == layer and b.light is not None]
    return float(np.concatenate(lights).mean())


def test_it_comes_out_the_same_each_time() -> None:
    first, second = box_scene(), box_room().scene()
    assert [b.name for b in first.bodies] == [b.name for b in second.bodies]
    for a, b in zip(first.bodies, second.bodies, strict=True):
        assert np.array_equal(a.points, b.points)
        assert np.array_equal(a.uv, b.uv)
        if a.light is not None and b.light is not None:
            assert np.allclose(a.light, b.light, atol=1e-5), a.name
    for name, material in first.materials.items():
        assert np.array_equal(material.albedo, second.materials[name].albedo)


def test_every_part_has_its_body() -> None:
    bodies = {b.name: b for b in box_scene().bodies}
    for part in box_room().parts:
        body = bodies[part.id]
        assert body.kind == part.kind
        assert body.coffer == part.coffer
        assert len(body.faces) > 4
        low, high = body.points.min(axis=0) * 1000.0, body.points.max(axis=0) * 1000.0
        xs, ys = zip(*part.outline, strict=True)
        assert low[:2] == pytest.approx((min(xs), min(ys)), abs=0.01)
        assert high[:2] == pytest.approx((max(xs), max(ys)), abs=0.01)
        assert low[2] == pytest.approx(min(part.bottom.at(p) for p in part.outline), abs=0.01)


def test_every_pocket_has_its_bore_and_pilot() -> None:
    pockets = sum(len(part.pockets) for part in box_room().parts)
    assert pockets > 0
    assert sum(b.kind == "bore" for b in box_scene().bodies) == pockets
    assert sum(b.kind == "pilot" for b in box_scene().bodies) == pockets


def test_arrays_are_sound() -> None:
    for body in box_scene().bodies:
        n = len(body.points)
        assert body.faces.min() >= 0
        assert body.faces.max() < n
        assert body.normals.shape == (n, 3)
        assert body.uv.shape == (n, 2)
        assert np.linalg.norm(body.normals, axis=1) == pytest.approx(1.0, abs=1e-3)
        assert body.material in box_scene().materials
        if body.light is not None:
            assert np.isfinite(body.light).all()
            assert body.light.min() >= 0


def test_gaps_get_less_light_than_slats() -> None:
    scene = box_scene()
    assert lit_below(scene, "old ceiling") < 0.3 * lit_below(scene, "slats")


def test_the_wall_that_faces_the_window_is_brighter_than_its_own() -> None:
    means = {b.name: float(b.light.mean()) for b in box_scene().bodies if b.light is not None}
    assert means["wall DA"] > 1.15 * means["wall BC"]


def test_finish_and_measured_colours_reach_the_materials() -> None:
    plain = sample(TEXT.replace("coats = [", "# coats = [")).scene(light=False)
    stained = box_scene()
    measured = sample(TEXT + '[colour]\nslats = "#2040c0"\n').scene(light=False)
    name = "slat eastern white pine boards"
    assert sum(stained.materials[name].mean) < 0.5 * sum(plain.materials[name].mean)
    r, g, b = measured.materials[name].mean
    assert b > 2 * g > 2 * r


def test_a_room_without_windows_says_what_it_shows() -> None:
    scene = sample(BARE).scene(light=False)
    assert scene.lights.windows
    assert any("no window was given" in note for note in scene.notes)
    assert not any("window" in note for note in box_scene().notes)


def test_without_embree_there_is_light_and_a_note(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(lighting, "rays_for", no_rays)
    scene = box_room().scene()
    assert any("embree" in note for note in scene.notes)
    assert 0.1 < lit_below(scene, "slats") < 10
    assert lit_below(scene, "old ceiling") < 0.3 * lit_below(scene, "slats")


def test_exposure_puts_the_walls_at_one_tone_or_saves_pale_wood() -> None:
    scene = box_scene()
    walls = np.concatenate([b.light for b in scene.bodies if b.name.startswith("wall") and b.light is not None])
    shown = float((walls * np.array(scene.exposure)).mean())
    assert 0.3 < shown <= 1.2
