"""Furring in the scene: painted as the old ceiling, dark behind the slats, its own layer when taken apart."""

import numpy as np
import pytest

from lacunar.pictures.exploded import apart
from lacunar.scene import Scene
from scene.sample_room import TEXT, sample
from scene.test_scene import lit_below

FURRED = TEXT + '[furring]\nstock = "1x3"\nuse = true\n'
THICK = 0.75 * 25.4


def layer(scene: Scene, name: str) -> list[str]:
    return [body.material for body in scene.bodies if body.layer == name]


def test_furring_is_painted_with_the_old_ceiling() -> None:
    scene = sample(FURRED).scene(light=False)
    assert set(layer(scene, "furring")) == {"old ceiling"}
    bare = sample(FURRED.replace('behind = "flat black"\n', "")).scene(light=False)
    assert set(layer(bare, "furring")) == {"furring european spruce boards"}
    # It is left as it is: no stain as on the slats.
    slats = bare.materials[layer(bare, "slats")[0]]
    assert sum(bare.materials["furring european spruce boards"].mean) > 2.0 * sum(slats.mean)


def test_furring_is_as_dark_as_the_ceiling_in_the_gaps() -> None:
    scene = sample(FURRED).scene()
    assert lit_below(scene, "furring") == pytest.approx(lit_below(scene, "old ceiling"), rel=0.3)
    assert lit_below(scene, "furring") < 0.5 * lit_below(scene, "slats")


def test_taken_apart_it_hangs_between_the_ceiling_and_the_beams() -> None:
    scene = sample(FURRED).scene(light=False)
    rises = {body.layer: body.explode[2] for body in apart(scene.bodies)}
    assert rises["above"] > rises["furring"] > rises["beams"] > rises["slats"] > rises["trim"]


def test_sections_cut_it_where_it_is() -> None:
    whole, edge, end = sample(FURRED).scene(light=False).cuts
    for cut in (whole, edge, end):
        faces = [face for face in cut.faces if face.kind == "furring" or face.word == "furring"]
        heights = np.array([z for face in faces for _, z in face.ring])
        if faces:
            assert {round(float(z), 6) for z in heights} == {round(2600.0 - THICK, 6), 2600.0}
    sizes = [m.size for cut in (edge, end) for m in cut.measures if m.name == "furring"]
    assert sizes == pytest.approx([THICK, THICK])
    assert any(face.word == "furring" or face.kind == "furring" for face in whole.faces)
