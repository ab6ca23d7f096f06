"""The section: drawn without a graphics library, of a size, with what is cut in its own colours."""

from dataclasses import replace

import numpy as np
import pytest

from lacunar.pictures import pictures_of
from lacunar.scene import Scene
from scene.sample_room import box_room

SIZE = (960, 600)


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
    plaster, none = (
        (np.abs(section(one) - (222, 218, 208)).sum(axis=2) < 6).mean()
        for one in (scene, replace(scene, cuts=tuple(cuts)))
    )
    assert plaster > 5 * none
