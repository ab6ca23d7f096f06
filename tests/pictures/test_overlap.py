"""The map of gaps: every one that the checks look at, marked by what they found."""

from dataclasses import replace

import numpy as np
import pytest

from lacunar.pictures.overlap import FILLS, overlap, verdict
from scene.sample_room import TEXT, Sample, box_room, box_scene, sample


@pytest.fixture(scope="module")
def narrow() -> Sample:
    """Trim that leaves edge gaps open."""
    slats = "gap = 8\nedge_gap = 22\n"
    text = TEXT.replace("width = 20\n", "width = 16\n").replace("gap = 8\n", slats)
    return sample(text.replace("canopy = 130\n", ""))


def failing(room: Sample) -> int:
    return sum(f.alike for f in room.job.findings if f.check.startswith("overlap") and f.level == "fail")


def test_counts_are_those_of_the_checks() -> None:
    good, analysis = box_room().flat, box_room().job.analysis
    assert failing(box_room()) == 0
    assert {gap.hiding for gap in good.gaps} == {"trim", "canopy"}
    text = verdict(good, box_room().config.tape)
    assert text.startswith(f"All {len(analysis.ends)} end gaps and {len(analysis.edges)} edge gaps lie behind trim")


def test_what_is_not_hidden_is_what_fails(narrow: Sample) -> None:
    flat, least = narrow.flat, narrow.config.trim.least_overlap
    assert failing(narrow) > 0
    bad = [gap for gap in flat.gaps if gap.kind != "hole" and gap.hiding != "trim"]
    fits = (*narrow.job.analysis.ends, *narrow.job.analysis.edges)
    assert len(bad) == sum(fit.overlap < least - 1e-3 for fit in fits) > 0
    named = {f.where for f in narrow.job.findings if f.check.startswith("overlap") and f.level == "fail"}
    coffers = {part.id: part.coffer for part in narrow.parts}
    assert named & {name for gap in bad for name in (gap.part, coffers[gap.part])}
    assert {gap.hiding for gap in flat.gaps} == {"trim", "nothing", "unknown"}
    told = verdict(flat, narrow.config.tape)
    assert {gap.kind for gap in bad} == {"edge"}
    assert f"{len(bad)} edge gaps: {bad[0].part} at {bad[0].against}" in told
    assert "the hole of light" in told


def test_every_kind_of_mark_is_on_the_map_and_differs_in_grey(narrow: Sample) -> None:
    scene = box_scene()
    gaps = tuple(replace(gap, hiding="short trim") if gap.kind == "end" else gap for gap in narrow.flat.gaps)
    image = overlap(replace(scene, flat=replace(narrow.flat, gaps=gaps)), (960, 560)).astype(int)
    plan = image[:, : round(0.7 * image.shape[1])]
    for hiding in ("short trim", "nothing"):
        assert (np.abs(plan - FILLS[hiding]).sum(axis=2) < 20).sum() > 60
    tones = {hiding: float(np.dot(FILLS[hiding], (0.21, 0.72, 0.07))) for hiding in FILLS}
    assert tones["nothing"] < 70.0 < 140.0 < min(tone for hiding, tone in tones.items() if hiding != "nothing")


def test_marks_point_from_their_slat_to_the_side(narrow: Sample) -> None:
    parts = {part.id: part for part in narrow.parts}
    for gap in narrow.flat.gaps:
        if gap.kind != "hole":
            (ax, ay), (bx, by) = gap.line
            inside = np.mean(parts[gap.part].outline, axis=0)
            way = np.array([(ax + bx) / 2, (ay + by) / 2]) - inside
            assert way @ np.array(gap.out) > 0.0
            assert np.hypot(*gap.out) == pytest.approx(1.0)
