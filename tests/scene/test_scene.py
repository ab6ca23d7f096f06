"""The scene as a whole."""

import numpy as np
import pytest

from lacunar.scene import Scene, by_lamplight, lighting, set_alike
from lacunar.scene.grain import SLATS
from lacunar.scene.materials import wood
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


def test_walls_and_ceiling_come_to_lie_about_one_tone_whatever_the_wood() -> None:
    """Wood by itself has thirty times less light than walls where it is stained, as much where it is pale."""
    luma = np.array([0.2126, 0.7152, 0.0722])
    for scene in (box_scene(), sample(TEXT.replace("coats = [", "# coats = [")).scene()):
        gain = np.array(scene.exposure) @ luma
        walls = np.concatenate([b.light for b in scene.bodies if b.name.startswith("wall") and b.light is not None])
        wall = float((walls * np.array(scene.materials["wall"].mean)).mean() * gain)
        slats = np.array(scene.materials["slat eastern white pine boards"].mean) @ luma
        ceiling = lit_below(scene, "slats") * float(slats) * gain
        assert 0.45 < wall < 1.1
        assert 0.08 < ceiling < 0.8
        assert wall**0.75 * ceiling**0.25 == pytest.approx(0.6, rel=0.15)


def test_windows_lie_one_or_two_stops_over_what_is_white_in_the_room() -> None:
    scene = box_scene()
    walls = np.concatenate([b.light for b in scene.bodies if b.name.startswith("wall") and b.light is not None])
    white = 0.9 * float((walls * np.array(scene.exposure)).mean())
    view = 0.6  # mean of what is seen outdoors, of a sky of 1
    assert 1.0 <= np.log2(view * scene.lights.outdoors[1] / white) <= 2.3


def test_variants_are_seen_with_one_camera_set_once() -> None:
    pale = sample(TEXT.replace("coats = [", "# coats = [")).scene(light=False)
    alike = set_alike(pale, box_scene())
    assert alike.exposure == box_scene().exposure
    first, second = alike.evening, box_scene().evening
    assert first is not None
    assert second is not None
    assert first.exposure == second.exposure
    assert alike.cameras == box_scene().cameras
    assert alike.materials is pale.materials


def test_lamps_are_off_by_day_and_the_evening_is_a_sum_of_what_is_there() -> None:
    day = box_scene()
    assert day.lights.lamps == ()
    assert day.materials["globe"].glow == (0.0, 0.0, 0.0)
    evening = by_lamplight(day)
    assert len(evening.lights.lamps) == 1
    assert min(evening.materials["globe"].glow) > 0
    assert evening.lights.sun.power == (0.0, 0.0, 0.0)
    for before, after in zip(day.bodies, evening.bodies, strict=True):
        if before.light is not None:
            assert before.lamplight is not None
            assert after.light is not None
            dusk = after.light - before.lamplight
            assert np.all(dusk >= -1e-6)
            assert np.all(dusk <= 0.05 * before.light + 1e-6)
    walls = [b.light for b in evening.bodies if b.name == "wall AB" and b.light is not None]
    red, _, blue = walls[0].mean(axis=0)
    assert red > 1.3 * blue, "lamplight is warm"


def test_today_the_old_beams_hang_under_the_old_ceiling_and_nothing_new() -> None:
    scene = box_scene()
    today = scene.today
    assert today is not None
    assert {b.kind for b in today.bodies if b.kind} == {"existing beam"}
    assert {b.layer for b in today.bodies} == {"beams", "room", "old ceiling", "fixture"}
    assert {b.material for b in today.bodies if b.layer == "old ceiling"} == {"plaster"}
    assert (today.exposure, today.cameras) == (scene.exposure, scene.cameras)
    lamps = [max(b.points[:, 2].max() for b in s.bodies if b.layer == "fixture") for s in (scene, today)]
    assert lamps[1] - lamps[0] == pytest.approx(0.018, abs=1e-4), "a lamp hangs higher by a slat"


def test_where_no_lamp_hangs_some_stand_in_the_evening() -> None:
    scene = sample(BARE).scene(light=False)
    assert not any(b.name.startswith("standing lamp") for b in scene.bodies)
    evening = by_lamplight(scene)
    lamps = [b for b in evening.bodies if b.name.startswith("standing lamp")]
    assert len(lamps) == 2 * len(evening.lights.lamps) > 0
    assert any("no lamp was given" in note for note in scene.notes)
    assert not any("lamp" in note for note in box_scene().notes)


def test_an_evening_that_nobody_looks_at_is_not_worked_out() -> None:
    day = sample(BARE).scene(light=False, evening=False)
    assert day.evening is None
    assert not any("lamp" in note for note in day.notes)
    assert set_alike(day, box_scene()).evening is None


def test_what_hangs_there_has_one_picture_today_and_later() -> None:
    """In a draft too: a second one would take memory, and time to draw."""
    scene = box_scene()
    assert scene.today is not None
    assert scene.today.materials["old beam"].albedo is scene.materials["old beam"].albedo


def test_a_draft_s_boards_are_the_means_of_the_fine_ones() -> None:
    boards = {q: wood("pine", "pine", SLATS, (), None, q).albedo for q in ("draft", "fine")}
    four = boards["fine"].reshape(SLATS.rows // 2, 2, -1, 2, 3).mean(axis=(1, 3))
    assert boards["draft"].shape == four.shape
    assert np.abs(boards["draft"] - four).mean() < 1.0, "but for the colours' ramp, which is not quite straight"
