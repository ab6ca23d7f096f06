"""A pattern of slats is one entry in a table: a new one goes all the way to the saw and back from the tape."""

import json
from pathlib import Path

import pytest
from shapely import Polygon

from field.by_hand import rows_of, sheet
from lacunar.checks import CHECKS
from lacunar.config import ceiling_tables, read_config
from lacunar.exports import model_of, write_glb
from lacunar.field import apply_measures, write_sheets
from lacunar.geometry import Line, Ring, extent
from lacunar.job import Job, run_job, write_job
from lacunar.layout import Coffer, Slat
from lacunar.layout.bands import SlatBand
from lacunar.layout.ground import Ground
from lacunar.layout.patterns import PATTERNS
from lacunar.layout.polygons import inset
from lacunar.layout.slats import hang_band
from lacunar.parts import Part
from lacunar.scene import make_scene
from lacunar.units import INCH

FRAMES = "frames"


def lay_frames(ground: Ground) -> tuple[Coffer, tuple[Slat, ...]]:
    """Mitred frames, one inside the other, as long as a whole board has room on every side."""
    rule, ring = ground.rule, inset(ground.cell.outline, ground.ends.end_gap)
    slats: list[Slat] = []
    number = 0
    while Polygon(ring).buffer(-rule.width).area > 0.0:
        for side in _sides(ring, inset(ring, rule.width)):
            number += 1
            near = Line.through(side[1], side[0])
            band = SlatBand(near=near, far=near.shifted(-rule.width), axis_line=near, width=rule.width, to_shape=True)
            slats += hang_band(ground, number, band, side)
        ring = inset(ring, rule.width + rule.gap)
    coffer = ground.coffer(
        run=FRAMES,
        cut_to_shape=True,
        direction=Line.through(*slats[0].axis).direction,
        start_side=0,
        gap=rule.gap,
        gap_end=rule.gap,
        n_full=len(slats),
        rips=(),
        edge_gaps=(ground.ends.end_gap, ground.ends.end_gap),
    )
    return coffer, tuple(slats)


def _sides(outer: Ring, inner: Ring) -> list[Ring]:
    n = len(outer)
    return [(outer[i], outer[(i + 1) % n], inner[(i + 1) % n], inner[i]) for i in range(n)]


@pytest.fixture
def framed(tmp_path: Path, configs: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A config of a room with frames, the pattern registered."""
    monkeypatch.setitem(PATTERNS, FRAMES, lay_frames)
    monkeypatch.setattr(ceiling_tables, "RUNS", (*ceiling_tables.RUNS, FRAMES))
    text = (configs / "3-square.toml").read_text(encoding="utf-8")
    path = tmp_path / "room.toml"
    path.write_text(text.replace('run   = "across"', f'run = "{FRAMES}"'), encoding="utf-8")
    return path


def test_a_new_pattern_is_cut_checked_and_drawn(framed: Path, tmp_path: Path) -> None:
    """40 1/2 in less two end gaps of 1/4 in: frames of 40, 32 1/2, 25, 17 1/2 and 10 in, each 7 1/2 in smaller."""
    job = run_job(read_config(framed))
    for coffer in job.layout.coffers:
        lengths = [round(part.length / INCH, 2) for part in slats_of(job, coffer.id)]
        assert lengths == pytest.approx([long for long in (40.0, 32.5, 25.0, 17.5, 10.0) for _ in range(4)], abs=0.02)
    slats = [part for part in job.parts if part.kind == "slat"]
    assert [abs(end.mitre_deg) for part in slats for end in part.ends] == pytest.approx([45.0] * 360, abs=0.1)
    cuts = [cut.part for board in job.plan.boards for cut in board.cuts]
    assert sorted(cuts) == sorted(part.id for part in job.parts if part.bought)
    assert {finding.check for finding in job.findings} == set(CHECKS)
    assert not [
        one
        for one in job.findings
        if one.check in ("clash", "plan-served", "overlap-end") and one.level in ("warn", "fail")
    ]
    write_job(job, tmp_path / "out", only=("plan", "drawings"))
    report = json.loads((tmp_path / "out" / "report.json").read_text(encoding="utf-8"))
    assert {coffer["run"] for coffer in report["coffers"]} == {FRAMES}
    scene = make_scene(job.parts, job.room, job.config, job.layout, quality="draft", light=False, evening=False)
    write_glb(model_of(scene, job.parts), tmp_path / "ceiling.glb")
    assert (tmp_path / "ceiling.glb").stat().st_size > 0


def slats_of(job: Job, coffer: str) -> list[Part]:
    return [part for part in job.parts if part.kind == "slat" and part.coffer == coffer]


def test_a_new_pattern_is_measured_again_by_the_sheet_that_it_takes(framed: Path, tmp_path: Path) -> None:
    """Each slat by its own middle line; no hole of a rip. A coffer 3 mm longer makes its frame 3 mm longer."""
    write_sheets(read_config(framed), tmp_path / "sheets")
    lines = rows_of(framed, "coffers")
    wanted = [f"{slat.id} middle line" for slat in run_job(read_config(framed)).layout.slats]
    assert [name for name in lines if "middle line" in name] == wanted
    assert not rows_of(framed, "last")
    name = "C1-S01 middle line"
    before = slats_of(run_job(read_config(framed)), "C1")[0]
    apply_measures(framed, sheet(framed, "coffers", {name: f"{lines[name].design + 3.0!r} mm"}))
    job = run_job(read_config(framed))
    after = slats_of(job, "C1")[0]
    assert after.length - before.length == pytest.approx(3.0, abs=job.config.read_to)
    axis = Line.through(*after.axis)
    low, high = extent(after.outline, axis)
    assert high - low == pytest.approx(after.length, abs=1e-6)
