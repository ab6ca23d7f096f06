"""Pictures by the command line, and a machine that cannot make any."""

from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from commands import Lacunar, tree
from field.pdf_look import page_texts

ADVICE = "Pictures need an OpenGL library, and none was found."

WITHOUT = "import sys, types; sys.path[:0] = [{path!r}]\nimport lacunar.pictures.trial as trial\n{how}\n"


@pytest.fixture(params=["trial.is_drawn = lambda: False", "import os; trial.is_drawn = os.abort"], ids=["no", "death"])
def without_opengl(request: pytest.FixtureRequest, children: Callable[[str], None]) -> None:
    """What draws finds no library, or is ended by it, as VTK is."""
    import lacunar

    path = str(Path(lacunar.__file__).parents[1])
    children(WITHOUT.format(path=path, how=request.param))


@pytest.mark.usefixtures("without_opengl")
def test_without_opengl_everything_else_is_built(lacunar: Lacunar, room: Path, tmp_path: Path) -> None:
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "plan,pictures,book")
    assert done.status == 0
    assert ADVICE in " ".join(done.out.split())
    assert {"report.json", "cut-list.csv", "crew-book.pdf"} <= set(tree(tmp_path / "out"))
    cover = page_texts((tmp_path / "out" / "crew-book.pdf").read_bytes())[0]
    assert "The plan" in cover, "the plan stands where the picture would"
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


FALLEN = """
class Falling:
    @staticmethod
    def find_spec(name, *_):
        if name == "cadquery":
            os.abort()

sys.meta_path.insert(0, Falling)
"""
ABSENT = "sys.modules['cadquery'] = None"


@pytest.mark.parametrize(("how", "said"), [(ABSENT, "does not load"), (FALLEN, "ended its process")])
def test_without_the_kernel_everything_but_step_is_built(
    lacunar: Lacunar, room: Path, tmp_path: Path, children: Callable[[str], None], how: str, said: str
) -> None:
    """A None in the list of modules makes the import fail, as a missing libGL.so.1 does."""
    children(f"import sys, os\n{how}")
    done = lacunar("build", room, "-o", tmp_path / "out", "--only", "model")
    assert done.status == 0
    assert f"ceiling.step: the CAD kernel {said}" in " ".join(done.out.split())
    assert "libgl1" in done.out
    assert "ceiling.glb" in tree(tmp_path / "out")
    assert "ceiling.step" not in tree(tmp_path / "out")


def test_what_cannot_be_renewed_stays_and_is_said(
    lacunar: Lacunar, room: Path, tmp_path: Path, children: Callable[[str], None]
) -> None:
    out = tmp_path / "out"
    assert lacunar("build", room, "-o", out, "--only", "model").status == 0
    before = tree(out)["ceiling.step"]
    children("import os\nos.abort()")
    done = lacunar("build", room, "-o", out, "--only", "model,pictures")
    assert done.status == 0
    assert tree(out)["ceiling.step"] == before
    assert f"ceiling.step in {out}: still that of an earlier build" in " ".join(done.out.split())


@pytest.mark.parametrize(
    "arguments",
    [("--view", "cellar"), ("--view", "today-section"), ("-o", "picture.jpeg"), ("-o", "absent/picture.png")],
)
def test_what_cannot_be_rendered_is_two(
    lacunar: Lacunar, room: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, str]
) -> None:
    monkeypatch.chdir(tmp_path)
    done = lacunar("render", room, "--quality", "draft", *arguments)
    assert done.status == 2
    assert list(tmp_path.iterdir()) == [room]


SMALL = """
import os, sys
sys.path[:0] = [{path!r}]
import lacunar.job.apart as apart
import lacunar.pictures.probe as probe
from lacunar.pictures.write import SIZES
from lacunar.scene.lighting import RAYS
SIZES["traced"], RAYS["traced"] = (320, 200), 32
"""
DEADLY = """
probe._failed = lambda script, *arguments: None
apart.command = lambda: [sys.executable, "-c", "import os; os.abort()"]
"""
"""The trial goes well, and then the tracer ends the process that it is in."""


@pytest.mark.parametrize("lives", [False, True], ids=["dies", "lives"])
def test_a_still_is_traced_or_quick(lacunar: Lacunar, room: Path, children: Callable[[str], None], lives: bool) -> None:
    import lacunar as package
    from lacunar.pictures import can_trace

    if lives and (tracing := can_trace()).variant is None:
        pytest.skip(tracing.advice)
    children((SMALL if lives else SMALL + DEADLY).format(path=str(Path(package.__file__).parents[1])))
    done = lacunar("render", room, "--quality", "traced", "--budget", "1s")
    assert done.status == 0
    said = " ".join(done.out.split())
    assert ("Not traced, quick stills are there instead: the tracer ended its process" in said) == (not lives)
    assert ("door: 2 + 1 samples in" in said) == lives
    with Image.open(room.with_name(f"{room.stem}-door.png")) as image:
        assert image.size == (320, 200)


@pytest.mark.parametrize("command", ["build", "render"])
@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--budget", "60s"), "got 60s with --quality fine, must be with traced"),
        (("--quality", "traced", "--budget", "soon"), 'got "soon", must be a time from 1s to 1440m, like 60s'),
        (("--quality", "traced", "--budget", "0s"), 'got "0s", must be a time'),
    ],
)
def test_a_budget_that_is_none_is_two(
    lacunar: Lacunar, room: Path, command: str, arguments: tuple[str, ...], said: str
) -> None:
    done = lacunar(command, room, *arguments)
    assert done.status == 2
    assert f"--budget: {said}" in " ".join(done.err.split())
    assert list(room.parent.iterdir()) == [room]


@pytest.mark.parametrize("view", ["today", "evening", "today-up", "evening-seat"])
def test_every_camera_sees_the_room_today_and_in_the_evening(view: str) -> None:
    from lacunar.job import check_view

    check_view(view, ())
