"""Pictures of jobs. Scenes and the renderer are loaded only where one is made."""

import os
import sys
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any, Final, Literal

from lacunar.config import Config
from lacunar.errors import ConfigError, ExportError, Problem
from lacunar.folder import replaced_file
from lacunar.job.run import Job, OnStep, trust_of

if TYPE_CHECKING:
    from lacunar.scene import Scene

Quality = Literal["draft", "fine", "photo"]

UNLIT: Final = ("exploded", "section", "hidden")
"""Views that need no light worked out."""


def write_pictures(job: Job, folder: Path, quality: Quality, step: OnStep) -> list[str]:
    """Write every view into a folder; returns sentences: why there are none, or what they assume."""
    from lacunar.pictures import can_render, view_names
    from lacunar.pictures import write_pictures as draw

    advice = can_render()
    if advice:
        return [f"pictures: {advice}"]
    step("light", 0.4)
    scene = _scene(job, quality)
    names = view_names(scene)
    done: list[str] = []

    def on_picture(name: str) -> None:
        done.append(name)
        step(f"picture {len(done) + 1} of {len(names)}", 0.55 + 0.4 * len(done) / len(names))

    remark = f"good for: {trust_of(job).good_for}"
    draw(scene, folder, names, quality, remark=remark, on_step=on_picture)
    return list(scene.notes)


def _scene(job: Job, quality: Quality, *, light: bool = True) -> "Scene":
    from lacunar.scene import make_scene

    return make_scene(job.parts, job.room, job.config, job.layout, quality=quality, light=light)


def write_picture(job: Job, view: str, path: Path, quality: Quality = "fine") -> tuple[str, ...]:
    """Write one picture as PNG.

    Returns:
        Sentences: what the picture assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: there is no graphics library, or the file cannot be written.
    """
    from lacunar.pictures import can_render, pictures_of, save

    check_view(job.config, view)
    advice = can_render()
    if advice:
        raise ExportError([Problem(where=str(path), what="no picture was made", fix=advice)])
    remark = f"good for: {trust_of(job).good_for}"
    with replaced_file(path, ".png") as stage:
        scene = _scene(job, quality, light=view not in UNLIT)
        for _, image in pictures_of(scene, (view,), quality, remark=remark):
            save(image, stage)
    return scene.notes


def check_view(config: Config, view: str) -> None:
    """Refuse a view that a job of this config does not have.

    Raises:
        ConfigError: the view is neither standing nor a camera of the config.
    """
    from lacunar.pictures import VIEWS

    known = (*VIEWS, *(camera.name for camera in config.camera))
    if view not in known:
        raise ConfigError([Problem(where="--view", what=f'got "{view}", must be of {", ".join(known)}')])


def write_comparison(
    jobs: Sequence[Job], captions: Sequence[str], view: str, path: Path, quality: Quality = "draft"
) -> tuple[bool, tuple[str, ...]]:
    """One picture of several jobs of one room, side by side, seen by the first one's camera.

    Returns:
        Whether there is one; sentences: why there is none, or what it assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: the file cannot be written.
    """
    from lacunar.pictures import can_render, pictures_of, side_by_side

    check_view(jobs[0].config, view)
    advice = can_render()
    if advice:
        return False, (f"no picture was made: {advice}",)
    images: list[Any] = []
    notes: dict[str, None] = {}
    first: Scene | None = None
    with replaced_file(path, ".png") as stage:
        for job in jobs:
            scene = _scene(job, quality, light=view not in UNLIT)
            first = first or scene  # one camera and one exposure for all: pale wood stays paler than dark wood
            notes |= dict.fromkeys(scene.notes)
            seen = replace(scene, cameras=first.cameras, exposure=first.exposure)
            images += [image for _, image in pictures_of(seen, (view,), quality)]
        side_by_side(images, captions, stage)
    return True, tuple(notes)


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
