"""What a section measures, against the numbers that went in."""

import numpy as np
import pytest
import shapely

from lacunar.scene import CutView
from scene.sample_room import TEXT, box_room, box_scene, sample


def sizes(cut: CutView) -> dict[str, float]:
    return {m.name: m.size for m in cut.measures}


def test_the_section_shows_what_was_asked_for() -> None:
    """Slats of 90 at gaps of 8; beams of 140."""
    whole = sizes(box_scene().cuts[0])
    assert whole["slat"] == pytest.approx(90.0, abs=0.05)
    assert whole["gap"] == pytest.approx(8.0, abs=0.05)
    assert whole["depth"] == pytest.approx(140.0, abs=0.5)


def test_trim_hides_what_the_gap_leaves() -> None:
    """Trim width = gap + overlap, by definition, in both details."""
    _, edge, end = (sizes(cut) for cut in box_scene().cuts)
    assert edge["edge gap"] + edge["overlap"] == pytest.approx(20.0, abs=0.01)
    assert end["end gap"] + end["overlap"] == pytest.approx(20.0, abs=0.01)
    for detail in (edge, end):
        assert detail["trim"] == pytest.approx(20.0, abs=0.05)
        assert detail["trim height"] == pytest.approx(20.0, abs=0.01)
        assert detail["slat"] == pytest.approx(18.0, abs=0.01)


def test_cut_faces_overlap_nowhere() -> None:
    for cut in box_scene().cuts:
        solid = [shapely.Polygon(f.ring) for f in cut.faces if f.kind in ("beam", "slat", "trim", "old ceiling")]
        for i, face in enumerate(solid):
            for other in solid[i + 1 :]:
                assert face.intersection(other).area < 0.5, cut.title


def test_end_grain_shows_where_the_saw_goes_across() -> None:
    whole, _, end = box_scene().cuts
    assert all(f.end_grain for f in whole.faces if f.kind == "slat")
    assert not any(f.end_grain for f in end.faces if f.kind == "slat")


def test_parts_keep_their_names() -> None:
    ids = {part.id for part in box_room().parts}
    for cut in box_scene().cuts:
        assert {f.name for f in cut.faces if f.kind in ("beam", "slat", "trim")} <= ids


HEIGHTS = {"2x8": 7.25 * 25.4, "2x10": 9.25 * 25.4}


@pytest.mark.parametrize(("thickness", "stock"), [(13.0, "2x8"), (31.0, "2x10")])
def test_what_is_above_is_as_thick_as_the_config_says(thickness: float, stock: str) -> None:
    """In the section, and where the ceiling is taken apart."""
    joists = f'joists = {{ along = "AB", first = 300, spacing = 500, stock = "{stock}" }}'
    text = TEXT + f'[framing]\n{joists}\nold_ceiling = {{ kind = "plasterboard", thickness = {thickness} }}\n'
    scene = sample(text).scene(light=False)
    faces = [face for cut in scene.cuts for face in cut.faces]

    def tall(kind: str) -> list[float]:
        return [face.ring[3][1] - face.ring[0][1] for face in faces if face.kind == kind]

    assert tall("old ceiling") == pytest.approx([thickness] * len(scene.cuts))
    joists_cut = [face.ring[3][1] - face.ring[0][1] for face in faces if face.name.startswith("joist")]
    assert joists_cut
    assert joists_cut == pytest.approx([HEIGHTS[stock]] * len(joists_cut))
    above = {b.name.split()[0]: np.ptp(b.points[:, 2]) * 1000.0 for b in scene.bodies if b.layer == "above"}
    assert above == pytest.approx({"old": thickness, "joist": HEIGHTS[stock]}, rel=1e-4)


def test_where_nobody_has_looked_the_picture_shows_what_numbers_take() -> None:
    """Nails are reckoned through plasterboard of 1/2 in: so it is drawn."""
    faces = [face for cut in box_scene().cuts for face in cut.faces if face.kind == "old ceiling"]
    assert [face.ring[3][1] - face.ring[0][1] for face in faces] == pytest.approx([12.7] * len(faces))
