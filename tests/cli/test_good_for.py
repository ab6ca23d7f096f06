"""What a result is good for is said alike by everything that says it."""

import json
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from checks.sample import edited
from commands import Lacunar
from lacunar.config import read_config
from lacunar.job import run_job, trust_of, write_comparison, write_picture
from lacunar.pictures import Variant
from lacunar.scene import Scene, make_scene

WORDS = "good for: look; not for buying yet: nails or screws without enough wood: 180, first at C1-S01"
MISSING = ["nails or screws without enough wood: 180, first at C1-S01"]


@pytest.fixture
def loose(tmp_path: Path, configs: Path) -> Path:
    """A room that is good for buying, but that slats along its joists, without furring, have nothing to hang on."""
    path = tmp_path / "loose.toml"
    text = (configs / "4-inch.toml").read_text(encoding="utf-8")
    path.write_text(
        edited(text, ('run      = "across"', 'run      = "with"')) + "\n[furring]\nuse = false\n", encoding="utf-8"
    )
    return path


@pytest.fixture
def remarks(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What stands beside the names of pictures that are made meanwhile."""
    found: list[str] = []

    def drawn(
        _scene: object, views: tuple[str, ...], *_: object, remark: str = "", titled: bool = True
    ) -> Iterator[tuple[str, Any]]:
        assert titled == bool(remark)
        found.extend([remark] if remark else [])
        for view in views:
            yield view, np.zeros((30, 40, 3), dtype=np.uint8)

    def compared(_title: object, _views: object, variants: list[Variant]) -> tuple[Any, Any]:
        found.extend(f"{one.trust}; {one.against[0]}" for one in variants)
        return np.zeros((30, 40, 3), dtype=np.uint8), np.zeros((40, 30, 3), dtype=np.uint8)

    def unlit(*made: Any, light: bool, **how: Any) -> Scene:
        assert isinstance(light, bool)
        return make_scene(*made, light=False, **how)  # nobody looks at it

    def here(errands: Mapping[str, tuple[str, Callable[..., list[str]]]], step: object) -> dict[str, tuple[str, ...]]:
        return {name: tuple(errand(step)) for name, (_, errand) in errands.items()}

    monkeypatch.setattr("lacunar.job.pictures.run_apart", here)
    monkeypatch.setattr("lacunar.scene.make_scene", unlit)
    monkeypatch.setattr("lacunar.pictures.unfit", lambda: None)
    monkeypatch.setattr("lacunar.pictures.pictures_of", drawn)
    monkeypatch.setattr("lacunar.pictures.comparison", compared)
    return found


def test_terminal_and_report(lacunar: Lacunar, loose: Path) -> None:
    assert WORDS in " ".join(lacunar("check", loose).out.split())
    report = json.loads(lacunar("check", loose, "--json").out)
    assert (report["good_for"], report["missing"]) == ("look", MISSING)


@pytest.mark.usefixtures("remarks")
def test_compare(lacunar: Lacunar, loose: Path) -> None:
    found = ("compare", loose, "--set", "slats.run=with,across")
    assert f"a {WORDS} b good for: buy" in " ".join(lacunar(*found).out.split())
    across, bare = json.loads(lacunar(*found, "--json").out)["variants"][::-1]
    assert (bare["good_for"], bare["missing"]) == ("look", MISSING)
    assert across["good_for"] == "buy"


def test_field(lacunar: Lacunar, loose: Path) -> None:
    report = json.loads(lacunar("compare", loose, "--field", "--json").out)
    assert (report["good_for"], report["missing"]) == ("look", MISSING)
    assert {sheet["sheet"]: bool(sheet["wrong"]) for sheet in report["sheets"]} == {
        "beam pieces": False,
        "slats": True,
        "rips": True,
        "trim": False,
    }


def test_pictures(remarks: list[str], loose: Path, configs: Path, tmp_path: Path) -> None:
    jobs = [run_job(read_config(path)) for path in (loose, configs / "4-inch.toml")]
    write_picture(jobs[0], "hidden", tmp_path / "one.png", "draft")
    assert remarks == [WORDS] == [trust_of(jobs[0]).words]
    remarks.clear()
    written, _ = write_comparison(jobs, ["a", "b"], "hidden", tmp_path / "both.png")
    assert [path.name for path in written] == ["both.png", "both-phone.png"]
    assert all(path.exists() for path in written)
    assert remarks == [WORDS.replace("not for buying yet", "not buildable yet"), "good for: buy; nothing fails"]
