"""Pictures of jobs, each drawn in a process of its own. Scenes and the renderer are loaded only there."""

import os
import sys
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from lacunar.config import CameraTable
from lacunar.errors import ConfigError, ExportError, Problem
from lacunar.folder import replaced_file
from lacunar.job.apart import Errand, run_apart
from lacunar.job.run import Alternative, Job, OnStep, Quality, silent, trust_of
from lacunar.job.summary import against, choice_facts

if TYPE_CHECKING:
    from lacunar.scene import Scene

NONE: Final = "no picture was made"

UNLIT: Final = ("exploded", "section", "hidden", "overlap")
"""Views that need no light worked out."""

TRACED: Final = ("door", "seat", "up", "corner")
"""Views that a build traces, where it is asked to; a single picture may be any that is lit."""


CHOSEN_BY: Final = ("door", "up")
"""Views that alternatives are seen from."""


def alternative_view(number: int, view: str) -> str:
    """What the picture of an alternative is called, by its number in `Job.alternatives`."""
    return f"alternative-{number}-{view}"


def draw_views(
    job: Job,
    folder: Path,
    quality: Quality,
    step: OnStep,
    *,
    budget: float | None = None,
    names: Sequence[str] = (),
) -> list[str]:
    """Write every view into a folder, or those that are named, and some of each alternative.

    Returns:
        Sentences: why there are none, or what they assume.
    """
    from lacunar.pictures import can_render, unfit, view_names

    is_traced = quality == "traced"
    # The question in this process is the quicker one, but may end it, and traced stills need no graphics library.
    advice = (can_render() if is_traced else unfit()) or ""
    if advice and not is_traced:
        return [f"pictures: {advice}"]
    step("light", 0.0)
    scene = _scene(job, quality, "today", "evening")
    others = {n: one for n, one in enumerate(job.alternatives) if n and one.job}
    told = _part(step, 0, 1 + len(others))
    notes = _draw_own(job, scene, folder, quality, told, budget, advice, names or view_names(scene))
    for done, (number, one) in enumerate(others.items(), 1):
        told = _part(step, done, 1 + len(others))
        notes += _draw_other(number, one, scene, folder, quality, told, budget, drawn=not advice)
    return list(dict.fromkeys(notes))


def _part(step: OnStep, done: int, of: int) -> OnStep:
    """Tells the steps of one of several pieces of work."""
    return lambda text, share: step(text, (done + share) / of)


def _draw_own(
    job: Job,
    scene: "Scene",
    folder: Path,
    quality: Quality,
    step: OnStep,
    budget: float | None,
    advice: str,
    views: Sequence[str],
) -> list[str]:
    """Views of the job's own design; `advice`: why there is none but those that are traced, "" where there is."""
    from lacunar.pictures import write_pictures

    is_traced = quality == "traced"
    wanted = {view: folder / f"{view}.png" for view in TRACED if is_traced and view in views}
    notes = _trace(scene, wanted, trust_of(job).words, budget, lambda text, share: step(text, 0.8 * share))
    if advice:
        return [*notes, *scene.notes, f"pictures: {advice}"]
    names = [name for name in views if name not in wanted or not wanted[name].exists()]
    done: list[str] = []

    def on_picture(name: str) -> None:
        done.append(name)
        share, start = len(done) / len(names), 0.8 if is_traced else 0.3
        step(f"picture {min(len(done) + 1, len(names))} of {len(names)}", start + (1.0 - start) * share)

    write_pictures(scene, folder, names, quality, remark=trust_of(job).words, on_step=on_picture)
    return [*notes, *scene.notes]


def _draw_other(
    number: int,
    one: Alternative,
    first: "Scene",
    folder: Path,
    quality: Quality,
    step: OnStep,
    budget: float | None,
    *,
    drawn: bool,
) -> list[str]:
    """An alternative by the cameras and the exposure of the file's own design; `drawn`: what is not traced is drawn."""
    from lacunar.pictures import pictures_of, save
    from lacunar.scene import set_alike

    assert one.job is not None
    job, name, remark = one.job, one.row.name, trust_of(one.job).words
    step(f"pictures of {name}", 0.0)
    scene = replace(set_alike(_scene(job, quality), first), title=f"{first.title}, {name}")
    files = {view: folder / f"{alternative_view(number, view)}.png" for view in CHOSEN_BY}
    folder.mkdir(exist_ok=True)
    notes = _trace(scene, files if quality == "traced" else {}, remark, budget, step)
    left = [view for view, path in files.items() if drawn and not path.exists()]
    for view, image in pictures_of(scene, left, quality, remark=remark) if left else ():
        save(image, files[view])
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
        said = run_apart({"traced": ("scene", errand)}, step)
    except RuntimeError as error:
        return [f"{UNTRACED}: {error}"]
    ended = [f"{UNTRACED}: the tracer ended its process"]
    return [*filter(None, [tracing.advice]), *(ended if said["traced"] is None else said["traced"])]


def draw_view(job: Job, view: str, path: Path, quality: Quality, budget: float | None, step: OnStep) -> list[str]:
    """Write one picture of a job; sentences: what it assumes, or why there is none."""
    from lacunar.pictures import APART, UNSTATED, can_render, parted, pictures_of, save, unfit

    state, camera = parted(view)
    is_traced = quality == "traced" and (camera if state else view) not in (*UNSTATED, *APART)
    advice = can_render() if is_traced else unfit()
    if advice and not is_traced:
        return [f"{NONE}: {advice}"]
    step("picture", 0.2)
    scene, remark = _scene(job, quality, state, light=view not in UNLIT), trust_of(job).words
    files = {view: path} if is_traced else {}
    notes = _trace(scene, files, remark, budget, lambda text, share: step(text, 0.2 + 0.8 * share))
    if not path.exists():
        if advice:
            return [f"{NONE}: {advice}", *notes]
        ((_, image),) = pictures_of(scene, (view,), quality, remark=remark)
        save(image, path)
    return [*notes, *scene.notes]


def draw_comparison(
    jobs: Sequence[Job], captions: Sequence[str], view: str, paths: tuple[Path, Path], quality: Quality, step: OnStep
) -> list[str]:
    """Write a sheet of jobs and a tall strip of the same, each from a view and straight up, by the first one's cameras.

    Returns:
        Sentences: what it assumes, or why there is none.
    """
    from lacunar.pictures import UNTRACED, WORDS, Variant, comparison, parted, pictures_of, save, unfit
    from lacunar.scene import set_alike

    advice = unfit()
    if advice:
        return [f"{NONE}: {advice}"]
    views = tuple(dict.fromkeys((view, "up")))
    variants: list[Variant] = []
    notes = dict.fromkeys(
        [f"{UNTRACED}: lacunar render traces one picture, compare none"] if quality == "traced" else []
    )
    first: Scene | None = None
    for number, (job, caption) in enumerate(zip(jobs, captions, strict=True)):
        step(f"picture {number + 1} of {len(jobs)}", (number + 0.2) / len(jobs))
        scene = _scene(job, quality, parted(view)[0])
        first = first or scene  # one camera and one exposure for all: pale wood stays paler than dark wood
        notes |= dict.fromkeys(scene.notes)
        images = dict(pictures_of(set_alike(scene, first), views, quality, titled=False))
        variants.append(
            Variant(
                name=caption,
                trust=f"good for: {trust_of(job).good_for}",
                pictures=[images[name] for name in views],
                facts=choice_facts(job),
                against=against(job),
                fails=any(finding.level == "fail" for finding in job.findings),
            )
        )
    title = jobs[0].config.title or jobs[0].config.name
    for image, path in zip(comparison(title, [WORDS.get(name, name) for name in views], variants), paths, strict=True):
        save(image, path)
    return list(notes)


def _scene(job: Job, quality: Quality, *states: str, light: bool = True) -> "Scene":
    from lacunar.scene import flat_of, make_scene

    made = {state: state in states for state in ("today", "evening")}
    scene = make_scene(job.parts, job.room, job.config, job.layout, quality=quality, light=light, **made)
    return replace(scene, flat=flat_of(job.parts, job.layout, job.analysis, job.config))


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
    check_view(view, job.config.camera)
    with replaced_file(path, ".png") as stage:
        notes = _apart(partial(draw_view, job, view, stage, quality, budget), on_step)
        is_drawn = stage.exists()
    if not is_drawn:
        raise ExportError([Problem(where="--view", what=NONE, fix=notes[0].removeprefix(f"{NONE}: "))])
    return notes


def _apart(errand: Errand, on_step: OnStep | None) -> tuple[str, ...]:
    """What an errand says in a process of its own, or why that ended."""
    from lacunar.pictures import NO_OPENGL

    notes = run_apart({"picture": ("scene", errand)}, on_step or silent)["picture"]
    return (f"{NONE}: {NO_OPENGL}",) if notes is None else notes


def check_view(view: str, cameras: Sequence[CameraTable]) -> None:
    """Refuse a view that a job with these cameras does not have.

    Raises:
        ConfigError: the view is neither standing nor one of the cameras.
    """
    from lacunar.pictures import APART, STATES, UNSTATED, VIEWS, parted

    views = (*VIEWS, *APART, *(camera.name for camera in cameras))
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
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """Several jobs of one room on one sheet, and in a tall strip for a phone beside it.

    Returns:
        What was written; sentences: why there is nothing, or what it assumes.

    Raises:
        ConfigError: there is no such view.
        ExportError: a file cannot be written.
    """
    check_view(view, jobs[0].config.camera)
    tall = path.with_name(f"{path.stem}-phone{path.suffix}")
    with replaced_file(path, ".png") as stage, replaced_file(tall, ".png") as other:
        notes = _apart(partial(draw_comparison, tuple(jobs), captions, view, (stage, other), quality), on_step)
        return (path, tall) if stage.exists() else (), notes


def has_screen() -> bool:
    """Whether a window can be opened."""
    return sys.platform != "linux" or bool(os.environ.get("DISPLAY"))


def open_window(job: Job, poll: Callable[[], Job | str | None] | None = None) -> None:
    """Show a job in a window and return when it is closed.

    Args:
        job: what to show.
        poll: asked now and then; another job takes the first one's place, and words say why there is none.

    Raises:
        ExportError: there is no screen or no graphics library here.
    """
    from lacunar.pictures import can_render, show

    no_screen = "there is no screen here (DISPLAY is not set); lacunar render makes a picture, view --watch a page"
    advice = can_render() if has_screen() else no_screen
    if advice:
        raise ExportError([Problem(where="the window", what="cannot be opened", fix=advice)])

    def newer() -> "Scene | str | None":
        changed = poll() if poll else None
        return _scene(changed, "draft") if isinstance(changed, Job) else changed

    show(_scene(job, "draft"), newer if poll else None)
