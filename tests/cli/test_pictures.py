"""Pictures by the command line, and a machine that cannot make any."""

from pathlib import Path

import pytest

from commands import Lacunar, tree

ADVICE = "Pictures need an OpenGL library: apt-get install one"


@pytest.fixture
def without_opengl(monkeypatch: pytest.MonkeyPatch) -> None:
    """The probe says no, and whoever draws all the same is found out."""

    def drawn(*_: object, **__: object) -> None:
        raise AssertionError("a picture was drawn where none can be")

    monkeypatch.setattr("lacunar.pictures.can_render", lambda: ADVICE)
    monkeypatch.setattr("lacunar.pictures.write_pictures", drawn)
    monkeypatch.setattr("lacunar.pictures.pictures_of", drawn)


@pytest.mark.usefixtures("without_opengl")
def test_without_opengl_everything_else_is_built(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out")
    assert done.status == 0
    assert ADVICE in " ".join(done.out.split())
    assert {"report.json", "cut-list.csv", "ceiling.step", "ceiling.glb"} <= set(tree(tmp_path / "out"))
    assert not (tmp_path / "out" / "pictures").exists()


@pytest.mark.usefixtures("without_opengl")
def test_without_opengl_a_comparison_is_its_table(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("compare", room)
    assert done.status == 0
    assert ADVICE in " ".join(done.out.split())
    assert list(room.parent.iterdir()) == [room]


@pytest.mark.usefixtures("without_opengl")
def test_without_opengl_one_picture_is_two(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("render", room)
    assert done.status == 2
    assert ADVICE in done.err
    assert list(room.parent.iterdir()) == [room]


def test_without_the_kernel_everything_but_step_is_built(
    lacunar: Lacunar, room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A None in the list of modules makes the import fail, as a missing libGL.so.1 does."""
    monkeypatch.setitem(__import__("sys").modules, "cadquery", None)
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "model")
    assert done.status == 0
    assert "ceiling.step: the CAD kernel does not load" in " ".join(done.out.split())
    assert "libgl1" in done.out
    assert "ceiling.glb" in tree(tmp_path / "out")
    assert "ceiling.step" not in tree(tmp_path / "out")


@pytest.mark.parametrize("arguments", [("--view", "cellar"), ("-o", "picture.jpeg"), ("-o", "absent/picture.png")])
def test_what_cannot_be_rendered_is_two(
    lacunar: Lacunar, room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, str]
) -> None:
    monkeypatch.chdir(tmp_path)
    done = lacunar("render", room, "--quality", "draft", *arguments)
    assert done.status == 2
    assert list(tmp_path.iterdir()) == [room]
