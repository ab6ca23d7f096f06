"""Pictures of jobs, each drawn in a process of its own. Scenes and the renderer are loaded only there."""

import os
import sys
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final

from lacunar.config import CameraTable
from lacunar.errors import ConfigError, ExportError, Problem
from lacunar.folder import replaced_file
from lacunar.job.apart import run_apart
from lacunar.job.run import Job, OnStep, Quality, silent, trust_of

if TYPE_CHECKING:
    from lacunar.scene import Scene

NONE: Final = "no picture was made"

UNLIT: Final = ("exploded", "section", "hidden")
"""Views that need no light worked out."""


def draw_views(job: Job, folder: Path, quality: Quality, step: OnStep) -> list[str]:
    """Write every view into a folder; sentences: why there are none, or what they assume."""
    from lacunar.pictures import unfit, view_names, write_pictures

    advice = unfit()
    if advice:
        return [f"pictures: {advice}"]
    step("light", 0.1)
    scene = _scene(job, quality, today=True)
    names = view_names(scene)
    done: list[str] = []

    def on_picture(name: str) -> None:
        done.append(name)
        step(f"picture {min(len(done) + 1, len(names))} of {len(names)}", 0.3 + 0.7 * len(done) / len(names))

    write_pictures(scene, folder, names, quality, remark=trust_of(job).words, on_step=on_picture)
    return list(scene.notes)


def draw(
    jobs: Sequence[Job], captions: Sequence[str], view: str, path: Path, quality: Quality, step: OnStep
) -> list[str]:
    """Write one picture of jobs, side by side with captions, seen by the first one's camera.

    Returns:
        Sentences: what it assumes, or why there is none.
    """
    from lacunar.pictures import pictures_of, save, side_by_side, unfit
    from lacunar.scene import set_alike

    advice = unfit()
    if advice:
        return [f"{NONE}: {advice}"]
    remarks = [trust_of(job).words for job in jobs]
    images: list[Any] = []
    notes: dict[str, None] = {}
    first: Scene | None = None
    for number, (job, remark) in enumerate(zip(jobs, remarks, strict=True)):
        step(f"picture {number + 1} of {len(jobs)}", (number + 0.2) / len(jobs))
        scene = _scene(job, quality, light=view not in UNLIT, today=view.startswith("today"))
        first = first or scene  # one camera and one exposure for all: pale wood stays paler than dark wood
        notes |= dict.fromkeys(scene.notes)
        alike = set_alike(scene, first)
        images += [image for _, image in pictures_of(alike, (view,), quality, remark="" if captions else remark)]
    if captions:
        side_by_side(images, captions, path, remarks)
    else:
        save(images[0], path)
    return list(notes)


def _scene(job: Job, quality: Quality, *, light: bool = True, today: bool = False) -> "Scene":
    from lacunar.scene import make_scene

    return make_scene(job.parts, job.room, job.config, job.layout, quality=quality, light=light, today=today)


def write_picture(
    job: Job, view: str, path: Path, quality: Quality = "fine", on_step: OnStep | None = None
) -> tuple[str, ...]:
    """Write one picture as PNG.

    Returns:
        Sentences: what the picture assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: there is no graphics library, or the file cannot be written.
    """
    is_drawn, notes = write_comparison([job], (), view, path, quality, on_step)
    if not is_drawn:
        raise ExportError([Problem(where="--view", what=NONE, fix=notes[0].removeprefix(f"{NONE}: "))])
    return notes


def check_view(view: str, cameras: Sequence[CameraTable]) -> None:
    """Refuse a view that a job with these cameras does not have.

    Raises:
        ConfigError: the view is neither standing nor one of the cameras.
    """
    from lacunar.pictures import STATES, UNSTATED, VIEWS, parted

    views = (*VIEWS, *(camera.name for camera in cameras))
    state, camera = parted(view)
    if (camera in UNSTATED or camera not in views) if state else view not in views:
        stated = " or ".join(f"{word}-seat" for word in STATES)
        what = f'got "{view}", must be of {", ".join(views)}, or a camera with its state, like {stated}'
        raise ConfigError([Problem(where="--view", what=what)])


def write_comparison(
    jobs: Sequence[Job],
    captions: Sequence[str],
    view: str,
    path: Path,
    quality: Quality = "draft",
    on_step: OnStep | None = None,
) -> tuple[bool, tuple[str, ...]]:
    """One picture of several jobs of one room, side by side, seen by the first one's camera; of one without captions.

    Returns:
        Whether there is one; sentences: why there is none, or what it assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: the file cannot be written.
    """
    from lacunar.pictures import NO_OPENGL

    check_view(view, jobs[0].config.camera)
    with replaced_file(path, ".png") as stage:
        errand = partial(draw, tuple(jobs), captions, view, stage, quality)
        notes = run_apart({"picture": errand}, on_step or silent)["picture"]
        return stage.exists(), (f"{NONE}: {NO_OPENGL}",) if notes is None else notes


def open_window(job: Job, poll: Callable[[], Job | None] | None = None) -> None:
    """Show a job in a window and return when it is closed.

    Args:
        job: what to show.
        poll: asked now and then; another job takes the first one's place.

    Raises:
        ExportError: there is no screen or no graphics library here.
    """
    from lacunar.pictures import can_render, show

    no_screen = sys.platform == "linux" and not os.environ.get("DISPLAY")
    advice = (
        "there is no screen here (DISPLAY is not set); lacunar render makes a picture" if no_screen else can_render()
    )
    if advice:
        raise ExportError([Problem(where="the window", what="cannot be opened", fix=advice)])

    def newer() -> "Scene | None":
        changed = poll() if poll else None
        return _scene(changed, "draft") if changed else None

    show(_scene(job, "draft"), newer if poll else None)
