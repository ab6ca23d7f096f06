"""Pictures of jobs, each drawn in a process of its own. Scenes and the renderer are loaded only there."""

import os
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
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

TRACED: Final = ("door", "seat", "up", "corner")
"""Views that a build traces, where it is asked to; a single picture may be any that is lit."""


def draw_views(job: Job, folder: Path, quality: Quality, step: OnStep, *, budget: float | None = None) -> list[str]:
    """Write every view into a folder; sentences: why there are none, or what they assume."""
    from lacunar.pictures import can_render, unfit, view_names, write_pictures

    is_traced = quality == "traced"
    # The question in this process is the quicker one, but may end it, and traced stills need no graphics library.
    advice = can_render() if is_traced else unfit()
    if advice and not is_traced:
        return [f"pictures: {advice}"]
    step("light", 0.0)
    scene = _scene(job, quality)
    wanted = {view: folder / f"{view}.png" for view in TRACED if is_traced}
    notes = _trace(scene, wanted, trust_of(job).words, budget, lambda text, share: step(text, 0.8 * share))
    if advice:
        return [*notes, *scene.notes, f"pictures: {advice}"]
    names = [name for name in view_names(scene) if name not in wanted or not wanted[name].exists()]
    done: list[str] = []

    def on_picture(name: str) -> None:
        done.append(name)
        share, start = len(done) / len(names), 0.8 if is_traced else 0.3
        step(f"picture {min(len(done) + 1, len(names))} of {len(names)}", start + (1.0 - start) * share)

    write_pictures(scene, folder, names, quality, remark=trust_of(job).words, on_step=on_picture)
    return [*notes, *scene.notes]


def _trace(scene: "Scene", files: Mapping[str, Path], remark: str, budget: float | None, step: OnStep) -> list[str]:
    """Write traced stills in a process of their own; sentences: why some or all are not there, how well they are."""
    from lacunar.pictures import SIZES, UNTRACED, can_trace, write_traced

    if not files:
        return []
    step("the tracer", 0.0)
    tracing = can_trace()
    if tracing.variant is None:
        return [tracing.advice]
    try:
        errand = partial(write_traced, scene, files, tracing.variant, SIZES["traced"], budget, remark)
        said = run_apart({"traced": errand}, step)
    except RuntimeError as error:
        return [f"{UNTRACED}: {error}"]
    ended = [f"{UNTRACED}: the tracer ended its process"]
    return [*filter(None, [tracing.advice]), *(ended if said["traced"] is None else said["traced"])]


def _traced(
    scene: "Scene", view: str, path: Path, remark: str, budget: float | None, step: OnStep
) -> tuple[list[Any], list[str]]:
    """One traced still, if there can be one, by way of a file that is gone again; and sentences about it."""
    from lacunar.pictures import read

    notes = _trace(scene, {view: path}, remark, budget, step)
    images = [read(path)] if path.exists() else []
    path.unlink(missing_ok=True)
    return images, notes


def _within(step: OnStep, number: int, count: int, text: str, share: float) -> None:
    step(text, (number + 0.2 + 0.8 * share) / count)


def draw(
    jobs: Sequence[Job],
    captions: Sequence[str],
    view: str,
    path: Path,
    quality: Quality,
    budget: float | None,
    step: OnStep,
) -> list[str]:
    """Write one picture of jobs, side by side with captions, seen by the first one's camera.

    Returns:
        Sentences: what it assumes, or why there is none.
    """
    from lacunar.pictures import can_render, pictures_of, save, side_by_side, unfit

    is_traced = quality == "traced" and view not in UNLIT
    advice = can_render() if is_traced else unfit()
    if advice and not is_traced:
        return [f"{NONE}: {advice}"]
    remarks = [trust_of(job).words for job in jobs]
    images: list[Any] = []
    notes: dict[str, None] = {}
    first: Scene | None = None
    for number, (job, remark) in enumerate(zip(jobs, remarks, strict=True)):
        step(f"picture {number + 1} of {len(jobs)}", (number + 0.2) / len(jobs))
        scene = _scene(job, quality, light=view not in UNLIT)
        first = first or scene  # one camera and one exposure for all: pale wood stays paler than dark wood
        notes |= dict.fromkeys(scene.notes)
        alike = replace(scene, cameras=first.cameras, exposure=first.exposure)
        below = "" if captions else remark
        part = partial(_within, step, number, len(jobs))
        traced, told = _traced(alike, view, path, below, budget, part) if is_traced else ([], [])
        notes |= dict.fromkeys(told)
        if advice and not traced:
            return [f"{NONE}: {advice}", *told]
        images += traced or [image for _, image in pictures_of(alike, (view,), quality, remark=below)]
    if captions:
        side_by_side(images, captions, path, remarks)
    else:
        save(images[0], path)
    return list(notes)


def _scene(job: Job, quality: Quality, *, light: bool = True) -> "Scene":
    from lacunar.scene import make_scene

    return make_scene(job.parts, job.room, job.config, job.layout, quality=quality, light=light)


def write_picture(
    job: Job,
    view: str,
    path: Path,
    quality: Quality = "fine",
    on_step: OnStep | None = None,
    budget: float | None = None,
) -> tuple[str, ...]:
    """Write one picture as PNG.

    Args:
        job: of `run_job`.
        view: its name.
        path: of the file.
        quality: of the picture.
        on_step: told before each step.
        budget: seconds for a traced one; None for its usual samples.

    Returns:
        Sentences: what the picture assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: there is no graphics library, or the file cannot be written.
    """
    is_drawn, notes = write_comparison([job], (), view, path, quality, on_step, budget)
    if not is_drawn:
        raise ExportError([Problem(where="--view", what=NONE, fix=notes[0].removeprefix(f"{NONE}: "))])
    return notes


def check_view(view: str, cameras: Sequence[CameraTable]) -> None:
    """Refuse a view that a job with these cameras does not have.

    Raises:
        ConfigError: the view is neither standing nor one of the cameras.
    """
    from lacunar.pictures import VIEWS

    views = (*VIEWS, *(camera.name for camera in cameras))
    if view not in views:
        raise ConfigError([Problem(where="--view", what=f'got "{view}", must be of {", ".join(views)}')])


def write_comparison(
    jobs: Sequence[Job],
    captions: Sequence[str],
    view: str,
    path: Path,
    quality: Quality = "draft",
    on_step: OnStep | None = None,
    budget: float | None = None,
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
        errand = partial(draw, tuple(jobs), captions, view, stage, quality, budget)
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
