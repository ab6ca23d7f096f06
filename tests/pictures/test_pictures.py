"""Pictures by statistics that would notice if something went missing."""

import itertools
from collections import Counter
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from lacunar.geometry import Line
from lacunar.pictures import can_render, pictures_of, view_names, write_pictures
from lacunar.pictures.captions import strip_height, text_size
from lacunar.pictures.marks import FATES
from lacunar.pictures.projection import project
from lacunar.pictures.steps import stages
from lacunar.pictures.write import SIZES
from lacunar.scene import Viewpoint
from lacunar.scene.framing import ASPECT
from scene.sample_room import box_room, box_scene

SIZE = (640, 400)
INNER = (SIZE[0], SIZE[1] - strip_height(SIZE[0]))


@pytest.fixture(scope="module", autouse=True)
def graphics() -> None:
    can_render.cache_clear()
    advice = can_render()
    if advice:
        pytest.skip(advice)


@lru_cache(maxsize=1)
def all_pictures() -> dict[str, np.ndarray]:
    scene = box_scene()
    return dict(pictures_of(scene, view_names(scene), "draft", SIZE))


def picture(view: str) -> np.ndarray:
    """Without its strip, as numbers."""
    return all_pictures()[view][: INNER[1]].astype(float)


def grey(image: np.ndarray) -> np.ndarray:
    return image @ np.array([0.2126, 0.7152, 0.0722])


def seen(view: str, points: np.ndarray, reach: int = 0) -> np.ndarray:
    """Tones where points of the scene, in mm, lie in a view."""
    at = project(box_scene().cameras[view], points / 1000.0, INNER)
    columns, rows = np.floor(at[:, 0]).astype(int), np.floor(at[:, 1]).astype(int)
    inside = (columns > reach) & (columns < INNER[0] - reach - 1) & (rows > reach) & (rows < INNER[1] - reach - 1)
    return grey(picture(view))[rows[inside], columns[inside]]


def test_every_view_is_made_and_is_of_the_size_asked_for() -> None:
    standing = {"door", "seat", "up", "corner", "exploded", "section", "hidden", "overlap", "today", "evening"}
    assert set(all_pictures()) == {*standing, "shelf"}
    assert {image.shape for image in all_pictures().values()} == {(SIZE[1], SIZE[0], 3)}


@pytest.mark.parametrize("view", ["door", "seat", "up", "corner", "shelf", "today", "evening"])
def test_photographs_are_neither_blank_nor_black_nor_burnt(view: str) -> None:
    tones = grey(picture(view))
    assert 60 < tones.mean() < (220 if view == "today" else 210)  # the old ceiling is as white as the walls
    assert tones.std() > 20
    assert (tones < 6).mean() < 0.05
    assert (tones > 250).mean() < 0.15
    assert len(np.unique(tones.round())) > 120


@pytest.mark.parametrize("view", ["door", "seat"])
def test_dark_wood_is_not_blocked_up(view: str) -> None:
    """The room is stained as dark as any; blacks are the gaps and little else."""
    assert (grey(picture(view)) < 40).mean() < 0.01


def test_windows_are_bright_and_not_blank() -> None:
    window = box_scene().lights.windows[0]
    across, up = np.meshgrid([-0.75, -0.3, 0.3, 0.75], [-0.7, -0.3, 0.3, 0.7])
    places = np.array(window.centre) + across.reshape(-1, 1) * window.half[0] * np.array(window.right)
    places[:, 2] += up.ravel() * window.half[1]
    panes = seen("door", 1000.0 * places, 3)
    assert len(panes) > 8
    assert np.median(panes) > np.median(grey(picture("door"))) + 25
    assert np.ptp(panes) > 5
    assert 225 < np.median(panes) < 253


@pytest.mark.parametrize("view", ["exploded", "hidden", "section", "overlap"])
def test_working_views_show_something_on_paper(view: str) -> None:
    tones = grey(picture(view))
    assert 0.04 < (tones < 200).mean() < 0.95
    assert np.median(tones[[0, 1, -2], :]) > 150


def along_the_slats(gap: bool) -> np.ndarray:
    """Points on the slats of C4, or in the gaps beside them, seen straight from below."""
    out: list[tuple[float, float, float]] = []
    slats = [p for p in box_room().parts if p.kind == "slat" and p.coffer == "C4"]
    for part, other in itertools.pairwise(slats):
        (ax, ay), (bx, by) = part.axis
        (cx, cy), (dx, dy) = other.axis
        for f in np.linspace(0.2, 0.8, 25):
            mx, my = ax + f * (bx - ax), ay + f * (by - ay)
            nx, ny = cx + f * (dx - cx), cy + f * (dy - cy)
            x, y = ((mx + nx) / 2, (my + ny) / 2) if gap else (mx, my)
            out.append((x, y, part.bottom.at((x, y))))
    return np.array(out)


def test_gaps_are_darker_than_slats() -> None:
    slats, gaps = seen("up", along_the_slats(False)), seen("up", along_the_slats(True))
    assert len(slats) > 200
    assert gaps.mean() < 0.75 * slats.mean()
    assert np.percentile(gaps, 25) < np.percentile(slats, 2)


@lru_cache(maxsize=1)
def even_wood() -> np.ndarray:
    """The up view with every wood in one tone: what is left is the light."""
    scene = box_scene()
    flat = {
        name: replace(m, albedo=np.tile(m.albedo.reshape(-1, 3).mean(axis=0), (2, 2, 1)).astype(np.uint8))
        for name, m in scene.materials.items()
    }
    ((_, image),) = pictures_of(replace(scene, materials={**scene.materials, **flat}), ["up"], "draft", SIZE)
    return image[: INNER[1]].astype(float)


def test_gaps_run_whole_and_equally_dark() -> None:
    """Across each gap the light that it lacks is about the same all along it: no dashes."""
    tones = grey(even_wood())
    points = along_the_slats(True).reshape(-1, 25, 3) / 1000.0
    uneven: list[float] = []
    for gap in points:
        at = np.floor(project(box_scene().cameras["up"], gap, INNER)).astype(int)
        strip = np.stack([tones[at[:, 1] + k, at[:, 0]] for k in range(-3, 4)])
        edge = np.maximum(strip[0], strip[-1])
        lacking = (edge - strip).sum(axis=0) / edge
        uneven.append(float(lacking.std() / lacking.mean()))
    assert len(uneven) > 8
    assert np.mean(uneven) < 0.12


def test_two_slats_differ_in_their_grain() -> None:
    """Tones along the middles of slats, over those in even wood."""
    slats = [p for p in box_room().parts if p.kind == "slat" and p.coffer == "C4"][2:6]
    grain = grey(picture("up")) / grey(even_wood())
    rows: list[np.ndarray] = []
    for part in slats:
        line = Line.through(*part.axis)
        along = [line.at(a) for a in np.linspace(100.0, part.length - 100.0, 120)]
        points = np.array([(*p, part.bottom.at(p)) for p in along]) / 1000.0
        at = project(box_scene().cameras["up"], points, INNER).astype(int)
        rows.append(grain[at[:, 1], at[:, 0]])
    likeness = np.corrcoef(np.array(rows))
    assert min(r.std() for r in rows) > 0.004, "wood is not one tone"
    assert np.abs(likeness - np.eye(len(rows))).max() < 0.75
    assert np.ptp([r.mean() for r in rows]) > 0.005, "boards differ as a whole"


def near(image: np.ndarray, colour: tuple[int, int, int], reach: float) -> int:
    return int((np.abs(image - np.array(colour)).sum(axis=2) < reach).sum())


def test_pockets_show_in_the_x_ray_and_nowhere_else() -> None:
    for fate in ("hidden", "plugged"):
        assert near(picture("hidden"), FATES[fate], 40) > 150
        assert near(picture("door"), FATES[fate], 40) == 0
        assert near(picture("up"), FATES[fate], 40) == 0


def test_projection_is_the_camera_s() -> None:
    """In the evening the lamp's globe is the brightest thing where its middle is worked out to be."""
    scene = box_scene()
    globe = next(b for b in scene.bodies if b.name.endswith("globe"))
    middle = globe.points.mean(axis=0) * 1000.0
    views = dict(pictures_of(scene, ["evening-up", "evening-seat"], "draft", SIZE))
    for view, image in (*views.items(), ("evening", all_pictures()["evening"])):
        x, y, ahead = project(
            scene.cameras[view.removeprefix("evening-").replace("evening", "door")], middle / 1000.0, INNER
        )[0]
        if 5 < x < INNER[0] - 5 and 5 < y < INNER[1] - 5 and ahead > 0:
            assert grey(image.astype(float))[int(y), int(x)] > 240, view


def test_today_there_is_a_plain_ceiling_where_slats_will_be() -> None:
    """Dark slats with darker gaps make way for plaster; what stays is where it was, set as it was."""
    scene = box_scene()
    slats = along_the_slats(False)
    at = project(scene.cameras["door"], slats / 1000.0, INNER)
    inside = (at[:, 2] > 0) & (at[:, :2] > 3).all(axis=1) & (at[:, 0] < INNER[0] - 3) & (at[:, 1] < INNER[1] - 3)
    columns, rows = at[inside, :2].astype(int).T
    assert len(rows) > 20
    now, then = (grey(picture(view))[rows, columns] for view in ("today", "door"))
    assert np.median(now) > np.median(then) + 40


def test_corner_letters_stand_where_the_corners_are() -> None:
    """Looking up, AB lies at the top with A at the right."""
    scene = box_scene()
    at = project(scene.cameras["up"], [letter.at for letter in scene.letters], INNER)
    places = {letter.text: p for letter, p in zip(scene.letters, at, strict=True)}
    assert places["A"][0] > places["B"][0]
    assert places["A"][1] < places["D"][1]
    tones = grey(picture("up"))
    for text, (x, y, _) in places.items():
        x, y = np.clip(x, 14, INNER[0] - 14), np.clip(y, 14, INNER[1] - 14)
        patch = tones[int(y) - 12 : int(y) + 12, int(x) - 10 : int(x) + 10]
        assert patch.min() < 60 < 220 < patch.max(), text


def test_a_shifted_frame_moves_what_is_in_it() -> None:
    """Half a frame up: what was in the middle sinks to a quarter from the foot."""
    still = Viewpoint(name="", eye=(0.0, 0.0, 1.0), towards=(1.0, 0.0, 1.0), half_width=1.0)
    moved = Viewpoint(name="", eye=(0.0, 0.0, 1.0), towards=(1.0, 0.0, 1.0), half_width=1.0, shift=(0.0, 0.5))
    assert project(still, [(2.0, 0.0, 1.0)], (200, 100))[0, :2] == pytest.approx((100.0, 50.0))
    assert project(moved, [(2.0, 0.0, 1.0)], (200, 100))[0, :2] == pytest.approx((100.0, 75.0))


def test_files_are_what_the_pictures_are(tmp_path: Path) -> None:
    told: list[str] = []
    paths = write_pictures(
        box_scene(), tmp_path / "p", ("section", "hidden"), "draft", size=(400, 250), on_step=told.append
    )
    assert [path.name for path in paths] == ["section.png", "hidden.png"]
    assert sorted(told) == ["hidden", "section"]
    with Image.open(paths[1]) as image:
        assert image.size == (400, 250)


def test_every_step_adds_something_to_the_sheet() -> None:
    """Six pictures beside each other, each unlike the one before it, the last one lit."""
    ((name, image),) = pictures_of(box_scene(), ["steps"], "draft", SIZE, titled=False)
    assert name == "steps"
    gap, words = round(0.8 * text_size(SIZE[0])), round(2.0 * text_size(SIZE[0]))
    wide, high = (image.shape[1] - 4 * gap) // 3, (image.shape[0] - 3 * gap) // 2 - words
    tiles = [
        image[y : y + high, x : x + wide].astype(int)
        for y in (gap, 2 * gap + high + words)
        for x in (gap, 2 * gap + wide, 3 * gap + 2 * wide)
    ]
    for before, after in itertools.pairwise(tiles):
        assert (np.abs(before - after).sum(axis=2) > 30).mean() > 0.004
    assert (tiles[4] - tiles[3] != 0).any(axis=2).mean() < 0.2, "trim is narrow"


def test_steps_hang_what_is_there_by_then() -> None:
    bodies = box_scene().bodies
    kinds = [Counter(b.kind for b in there if b.kind) for _, there in stages(bodies, "C1")]
    of_room = Counter(part.kind for part in box_room().parts)
    first = sum(part.kind == "slat" and part.coffer == "C1" for part in box_room().parts)
    assert kinds[0] == {"existing beam": 1}
    assert kinds[1] == {"existing beam": 1, "cross beam": of_room["cross beam"]}
    assert [one["slat"] for one in kinds[2:]] == [first, of_room["slat"], of_room["slat"]]
    assert [one["trim"] for one in kinds] == [0, 0, 0, 0, of_room["trim"]]


def test_above_its_strip_a_picture_has_the_shape_that_cameras_reckon_with() -> None:
    for width, height in SIZES.values():
        assert width / (height - strip_height(width)) == pytest.approx(ASPECT, abs=0.002)


def test_a_view_that_is_not_there_is_an_error() -> None:
    with pytest.raises(KeyError, match="attic"):
        next(pictures_of(box_scene(), ["attic"], "draft"))


def test_the_window_takes_a_new_scene_when_there_is_one() -> None:
    from lacunar.pictures.window import show

    asked: list[int] = []

    def newer() -> None:
        asked.append(1)

    show(box_scene(), newer, off_screen=True)
    assert asked == [1]
    show(box_scene(), lambda: box_scene(), off_screen=True)
