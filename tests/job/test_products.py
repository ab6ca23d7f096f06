"""What a build writes follows from one table."""

import os
import re
import sys
from pathlib import Path

import pytest

from job.errands import fall, sign
from lacunar.errors import ConfigError
from lacunar.folder import products
from lacunar.job import GROUPS, PRODUCTS, Job, OnStep, Product, Quality, read_groups, write_job
from reports.reporting import job

ROOT = Path(__file__).resolve().parents[2]


def test_a_product_is_a_row(tmp_path: Path) -> None:
    """A file and a folder that no version writes: both are written, listed, kept and renewed as any other."""
    said: list[str] = []

    def poem(job: Job, path: Path, quality: Quality, _step: OnStep) -> list[str]:
        path.write_text(f"{job.config.title}, {quality}", encoding="utf-8")
        return ["poem: it does not rhyme"]

    def songs(_job: Job, path: Path, *_: object) -> None:
        path.mkdir()
        (path / f"{len(said)}.txt").write_text("la", encoding="utf-8")

    rows = (
        *PRODUCTS,
        Product(path="poem.txt", group="verse", step="poem", write=poem),
        Product(path="songs", group="music", step="songs", write=songs),
    )

    def tell(text: str, _share: float) -> None:
        said.append(text)

    out = tmp_path / "out"
    written = write_job(job(), out, ("verse", "music"), "draft", tell, rows)
    assert set(written.files) == {"report.json", "poem.txt", "songs/2.txt"}
    assert written.notes == ("poem: it does not rhyme",)
    assert said == ["poem", "songs", "report", "done"]
    assert (out / "poem.txt").read_text(encoding="utf-8") == "Bücherei, draft"
    assert set(products(out)) == set(written.files)
    again = write_job(job(), out, ("music",), "fine", tell, rows)
    assert (again.files, again.kept) == (("songs/5.txt", "report.json"), ("poem.txt",))
    assert sorted(path.name for path in out.iterdir()) == ["poem.txt", "report.json", "songs"]


def test_words_of_only_are_the_groups_of_the_table() -> None:
    assert GROUPS == ("report", "plan", "model", "pictures", "drawings", "book", "share")
    assert read_groups("plan, model") == {"plan", "model"}
    assert read_groups("") is None
    with pytest.raises(ConfigError, match=r'--only: got "songs", must be of report, plan, model'):
        read_groups("plan,songs")


def test_no_two_rows_hold_one_path_and_the_report_is_the_first() -> None:
    paths = [row.path for row in PRODUCTS]
    assert paths[0] == "report.json"
    assert [row.path for row in PRODUCTS if any(row.holds(path) for path in paths)] == paths
    assert len(set(paths)) == len(paths)
    assert [row for row in PRODUCTS if row.holds("stl/C1-S01.stl")] == [row for row in PRODUCTS if row.path == "stl"]


def test_the_readme_shows_every_product() -> None:
    shown = (ROOT / "README.md").read_text(encoding="utf-8").partition("## What comes out")[2].partition("\n## ")[0]
    named = set(re.findall(r"^out/([a-z.-]+)", shown, re.MULTILINE))
    assert {row.path for row in PRODUCTS} == named


def test_models_for_viewers_are_written_in_one_process_and_what_it_wrote_before_it_ended_stays(tmp_path: Path) -> None:
    rows = (
        PRODUCTS[0],
        Product(path="a.glb", group="model", step="a", needs="model", write=sign),
        Product(path="b.glb", group="model", step="b", needs="model", write=sign),
    )
    written = write_job(job(), tmp_path / "out", ("model",), rows=rows)
    assert written.notes == ("a.glb is there", "b.glb is there")
    one, other = (int((tmp_path / "out" / name).read_text(encoding="utf-8")) for name in ("a.glb", "b.glb"))
    assert one == other != os.getpid()
    falls = (*rows[:2], Product(path="c.glb", group="model", step="c", needs="model", write=fall))
    written = write_job(job(), tmp_path / "again", ("model",), rows=falls)
    assert written.files == ("a.glb", "report.json")
    assert written.notes == (
        "c.glb: its process ended before the file was there; build again, --only adds what is missing",
    )


def test_where_the_extra_is_missing_one_sentence_says_so(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pxr", None)
    row = next(row for row in PRODUCTS if row.path == "ceiling.usdz")
    assert row.write is not None

    def tell(_text: str, _share: float) -> None: ...

    said = row.write(job(), tmp_path / "ceiling.usdz", "draft", tell)
    assert said == ["ceiling.usdz: not written, that needs the extra, 209 MB: pip install 'lacunar[usdz]'"]
    assert not (tmp_path / "ceiling.usdz").exists()
