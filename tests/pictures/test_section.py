"""The section: drawn without a graphics library, of a size, with what is cut in its own colours."""

import itertools
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from lacunar.config import read_config
from lacunar.job import run_job
from lacunar.pictures import pictures_of
from lacunar.pictures.captions import Box, Canvas, apart, inside, strip_height
from lacunar.pictures.section import panels_of
from lacunar.scene import Scene, encode
from lacunar.scene.look import look_of
from lacunar.scene.section import sections_of
from scene.sample_room import box_room

SIZE = (960, 600)
TEXT_OF = Canvas.text


@pytest.fixture(scope="module")
def scene() -> Scene:
    return box_room().scene(light=False)


def section(scene: Scene) -> np.ndarray:
    ((name, image),) = pictures_of(scene, ["section"], "draft", SIZE)
    assert name == "section"
    return image.astype(int)


def dark(image: np.ndarray) -> float:
    """Share of ink and outlines."""
    return float((image.sum(axis=2) < 200).mean())


def test_it_is_of_the_size_asked_for_and_alike_each_time(scene: Scene) -> None:
    first = section(scene)
    assert first.shape == (SIZE[1], SIZE[0], 3)
    assert np.array_equal(first, section(scene))


def test_measures_are_written_and_have_lines(scene: Scene) -> None:
    bare = replace(scene, cuts=tuple(replace(cut, measures=()) for cut in scene.cuts))
    assert dark(section(scene)) > dark(section(bare)) + 0.002


def test_without_a_coffer_it_says_so_on_bare_paper(scene: Scene) -> None:
    image = section(replace(scene, cuts=()))
    middle = image[SIZE[1] // 2 - 60 : SIZE[1] // 2 + 60]
    assert 0.0 < dark(middle) < 0.02
    assert dark(image[:200]) == 0.0


def test_plaster_is_where_the_cut_has_it(scene: Scene) -> None:
    """The old ceiling runs through all three panels in a colour of its own."""
    cuts = [replace(cut, faces=tuple(f for f in cut.faces if f.kind != "old ceiling")) for cut in scene.cuts]
    colour = encode(scene.materials["plaster"].mean).astype(int)
    plaster, none = (
        (np.abs(section(one) - colour).sum(axis=2) < 6).mean() for one in (scene, replace(scene, cuts=tuple(cuts)))
    )
    assert plaster > 5 * none


CONFIGS = Path(__file__).resolve().parents[2] / "configs"
"""Of each of these a number once stood on wood or on another's line."""


@pytest.mark.parametrize("room", ["5-metric", "6-sagging", "8-l-shaped"])
def test_no_label_lies_on_another_or_on_an_edge(room: str, scene: Scene, monkeypatch: pytest.MonkeyPatch) -> None:
    """In no panel: words are apart, and each lies whole in one cut face or on none."""
    job = run_job(read_config(CONFIGS / f"{room}.toml"), weighed=False)
    cuts = sections_of(job.parts, job.room, job.layout, look_of(job.config, job.room))
    plain = {face.material: scene.materials["wall"] for cut in cuts for face in cut.faces}
    written: list[Box] = []

    def write(self: Canvas, at: tuple[float, float], text: str, **how: Any) -> Box:
        wide, _ = self.extent(text, scale=how.get("scale", 1.0))
        # As high as capitals.
        written.append((at[0] - wide / 2, at[1] - 0.4 * self.size, at[0] + wide / 2, at[1] + 0.4 * self.size))
        return TEXT_OF(self, at, text, **how)

    monkeypatch.setattr(Canvas, "text", write)
    drawn = replace(scene, cuts=cuts, materials={**plain, **scene.materials}, tape=job.config.tape)
    image = section(drawn)
    assert len(written) >= sum(len(cut.measures) for cut in cuts), "every dimension has its number"
    assert all(apart(a, b) for a, b in itertools.combinations(written, 2))
    size = (image.shape[1], image.shape[0] - strip_height(image.shape[1]))
    for panel in panels_of(drawn, size):
        solid = [panel.bounds(face) for face in panel.cut.faces if face.kind != "beyond"]
        for box in (box for box in written if panel.holds(box)):
            for left, top, right, low in solid:
                if left < right and top < low:
                    own = (left - 1, top - 1, right + 1, low + 1)
                    assert apart(box, (left + 1, top + 1, right - 1, low - 1)) or inside(box, own), (box, own)
