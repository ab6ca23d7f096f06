"""Every shipped room through the whole job."""

import csv
import io
import json
import re
from collections import Counter
from pathlib import Path

import pytest

from lacunar.config import read_config
from lacunar.job import PRODUCTS, Job, read_groups, report_of, run_job, write_job

FOLDER = Path(__file__).resolve().parents[1] / "configs"
CONFIGS = sorted(FOLDER.glob("*.toml"))
PICTURED = (pytest.param("1-first-look", marks=pytest.mark.long), "6-sagging")
VIEWS = {"door", "seat", "up", "corner", "exploded", "section", "hidden", "overlap", "today", "evening"}

every = pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)

_jobs: dict[Path, Job] = {}


def job_of(path: Path) -> Job:
    """A room's job, worked out once."""
    if path not in _jobs:
        _jobs[path] = run_job(read_config(path))
    return _jobs[path]


def test_they_are_numbered_by_difficulty() -> None:
    assert [path.name.split("-")[0] for path in CONFIGS] == [str(n) for n in range(1, len(CONFIGS) + 1)]
    assert len(CONFIGS) >= 7


@every
def test_it_begins_with_what_it_is_for(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# ")
    assert all(len(line) <= 400 for line in text.splitlines())


@every
def test_nothing_fails(path: Path) -> None:
    assert [f for f in job_of(path).findings if f.level == "fail"] == []


def test_where_the_ceiling_sags_pockets_of_the_usual_drop_are_hidden() -> None:
    """Slats against the plaster, without the furring that would hide more: trim hangs as low as its own coffer sags."""
    job = run_job(read_config(FOLDER / "6-sagging.toml", [("furring.use", "false")]))
    (finding,) = (f for f in job.findings if f.check == "pocket-hidden")
    assert (finding.level, finding.value) == ("pass", 1.0)


def test_a_sag_is_told_by_coffer_in_the_report() -> None:
    job = job_of(FOLDER / "6-sagging.toml")
    rows = report_of(job).coffers
    assert max(row.above.largest for row in rows) == pytest.approx(7.5, abs=0.1)
    assert all(0.0 <= row.above.mean <= row.above.largest for row in rows)
    lower = {(row.id, step.coffer): step.lower for row in rows for step in row.steps}
    assert all(size == -lower[other, one] for (one, other), size in lower.items())
    assert max(lower.values()) == pytest.approx(8.0, abs=0.1)


@every
def test_every_part_is_named_once_and_cut_once(path: Path) -> None:
    job = job_of(path)
    names = Counter(part.id for part in job.parts)
    cuts = Counter(cut.part for board in job.plan.boards for cut in board.cuts)
    assert set(names.values()) == {1}
    assert cuts == Counter(part.id for part in job.parts if part.bought)
    assert job.plan.unserved == ()


@every
def test_it_builds_without_pictures(path: Path, tmp_path: Path) -> None:
    job = job_of(path)
    rows = [row for row in PRODUCTS if row.needs != "model"]  # models for viewers have tests of their own
    written = write_job(job, tmp_path / "out", read_groups("plan,model"), rows=rows)
    report = json.loads((tmp_path / "out" / "report.json").read_text(encoding="utf-8"))
    ids = {part.id for part in job.parts}
    assert {part["id"] for part in report["parts"]} == ids
    assert {row["path"] for row in report["files"]} | {"report.json"} == set(written.files)
    assert {f"stl/{part}.stl" for part in ids} <= set(written.files)
    step = (tmp_path / "out" / "ceiling.step").read_text(encoding="utf-8", errors="replace")
    assert ids <= set(re.findall(r"'([^']*)'", step))
    rows = csv.DictReader(io.StringIO((tmp_path / "out" / "cut-list.csv").read_text(encoding="utf-8-sig")))
    assert {row["id"] for row in rows} == {part.id for part in job.parts if part.bought}


@pytest.mark.parametrize("name", PICTURED)
def test_it_is_pictured(name: str, tmp_path: Path) -> None:
    from PIL import Image

    from lacunar.pictures import can_render

    advice = can_render()
    if advice:
        pytest.skip(advice)
    written = write_job(job_of(FOLDER / f"{name}.toml"), tmp_path / "out", read_groups("pictures,share"), "draft")
    assert {f"pictures/{view}.png" for view in VIEWS} <= set(written.files)
    for view in VIEWS:
        with Image.open(tmp_path / "out" / "pictures" / f"{view}.png") as image:
            assert min(image.size) >= 400
            tones = image.convert("L").histogram()
        # The map of gaps is drawn in few colours; all others have wood.
        assert sum(count > 50 for count in tones) > (40 if view == "overlap" else 100), f"{view} shows next to nothing"
    page = (tmp_path / "out" / "share.html").read_text(encoding="utf-8")
    assert page.count('src="data:image/jpeg') == 5
    assert len(page) < 8e6


def test_the_first_look_is_short() -> None:
    lines = (FOLDER / "1-first-look.toml").read_text(encoding="utf-8").splitlines()
    assert len([line for line in lines if line.strip() and not line.startswith("#")]) <= 16


def test_the_square_room_has_ninety_nine_slats() -> None:
    """Nine coffers of 40 1/2 in: ten slats of 3 1/2 in at 3 3/4 in, and a rip of 2 1/2 in in what is left of 40 in."""
    job = job_of(FOLDER / "3-square.toml")
    slats = [part for part in job.parts if part.kind == "slat"]
    assert len(job.layout.coffers) == 9
    assert len(slats) == 99
    ripped = [part for part in slats if part.ripped]
    assert len(ripped) == 9
    for part in ripped:
        # the diagonals are read to 1/16 in, so the square may come out by half of that
        assert part.width == pytest.approx(2.5 * 25.4, abs=25.4 / 32.0)


def test_the_inch_room_is_good_for_buying() -> None:
    from lacunar.job import trust_of

    job = job_of(FOLDER / "4-inch.toml")
    assert trust_of(job).good_for == "buy"
    beams = [bar for bar in job.layout.beams if bar.kind == "existing beam"]
    leans = [a.axis[1][0] - a.axis[0][0] for a in beams]
    assert len(beams) == 4
    assert max(leans) - min(leans) > 10.0, "beams that are not parallel, mm at their far ends"
    assert job.plan.cost is not None


def test_the_hall_has_about_a_thousand_pieces() -> None:
    assert 900 <= len(job_of(FOLDER / "7-hall.toml").parts) <= 1_200
