"""The viewer library is the one that is known, or the page does without it."""

from hashlib import sha256
from pathlib import Path

import pytest

from lacunar.errors import ExportError
from lacunar.job import Job
from lacunar.job.share import write_page
from lacunar.share import figure_parts, three
from share.conftest import pictures
from share.figure_page import shown


def test_the_library_is_whole_and_keeps_its_licence() -> None:
    script = three.three_script()
    head = script[:120].splitlines()
    assert head[1:4] == [" * @license", " * Copyright 2010-2022 Three.js Authors", " * SPDX-License-Identifier: MIT"]
    assert sha256(script.encode()).hexdigest() == three.SHA256
    assert "</script" not in script
    assert "autoFit" not in script


@pytest.mark.parametrize(
    ("page", "what"),
    [
        ("<script>other</script>", "not in trimesh's template"),
        (f'{three.START}const e="141";{three.END}', "revision 141, must be 140"),
        (f'{three.START}const e="140";{three.END}', "has the sha256"),
    ],
)
def test_another_library_is_refused_and_the_list_is_still_there(
    page: str, what: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(three, "_page", lambda: page)
    with pytest.raises(ExportError, match=what):
        three.three_script()
    figure = figure_parts((shown("4-inch", light=False),))
    assert figure.scripts == ()
    assert what in figure.notes[0]
    assert "There is no 3D figure" in figure.markup
    assert "C1-S01" in figure.markup


def test_a_template_that_is_not_there_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(three, "TEMPLATE", ("nowhere.zip",))
    with pytest.raises(ExportError, match="cannot be read"):
        three.three_script()


def test_the_page_is_written_without_it_and_says_why(job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(three, "_page", lambda: "<script>other</script>")
    pictures(tmp_path / "pictures")
    (note,) = write_page(job, tmp_path / "share.html", "draft", lambda _text, _share: None)
    assert note.startswith("3D figure: the viewer library is not in trimesh's template")
    page = (tmp_path / "share.html").read_text(encoding="utf-8")
    assert "There is no 3D figure" in page
    assert "C1-S01" in page
    assert "Questions and answers" in page
