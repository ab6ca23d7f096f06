"""A job becomes a folder of files. Solids and the renderer are loaded only where they are wanted."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any, Final

from lacunar.errors import ConfigError, Problem
from lacunar.folder import carry_over, edited, products, refuse_taken, replaced
from lacunar.job.apart import Errand, run_apart
from lacunar.job.pictures import Quality, draw_views, seen
from lacunar.job.run import Job, OnStep, silent, trust_of
from lacunar.parts import Part

GROUPS: Final = ("report", "plan", "model", "pictures", "drawings", "book", "share")
"""Products that may be asked for by name; the report is always written."""

NOT_YET: Final = ("book", "share")
"""Groups that this version does not write."""

BOARDS_ONLY: Final = (
    "drawings: boards only; this version draws no reflected plan, coffer sheets, section or cut-out templates, "
    "and writes no DXF"
)

GL_ADVICE: Final = "on Debian or Ubuntu: apt-get install libgl1 libegl1; then build again, --only adds what is missing"

NO_KERNEL: Final = "the CAD kernel ended its process before the file was there"

STEP: Final = "ceiling.step"


@dataclass(frozen=True, slots=True, kw_only=True)
class Written:
    """What a build left in its folder.

    Attributes:
        folder: where.
        files: of this build, as paths relative to the folder.
        kept: what was there before and stays: older products and files that are not ours.
        notes: sentences: what was not written, why, and what to do; what pictures assume.
    """

    folder: Path
    files: tuple[str, ...]
    kept: tuple[str, ...]
    notes: tuple[str, ...]


def read_groups(text: str) -> frozenset[str]:
    """Groups as typed, by commas; all that this version writes where nothing is typed.

    Raises:
        ConfigError: one of them is no group.
    """
    asked = [word.strip() for word in text.split(",") if word.strip()]
    unknown = [word for word in asked if word not in GROUPS]
    if unknown:
        allowed = ", ".join(GROUPS)
        raise ConfigError([Problem(where="--only", what=f'got "{word}", must be of {allowed}') for word in unknown])
    return frozenset(asked) or frozenset(GROUPS) - frozenset(NOT_YET)


def write_job(
    job: Job,
    folder: Path,
    only: Collection[str] | None = None,
    quality: Quality = "fine",
    on_step: OnStep | None = None,
) -> Written:
    """Write a job's products; the folder is replaced when all of them are complete, or stays as it was.

    Args:
        job: of `run_job`.
        folder: absent, empty, or written by an earlier build, whose other products are kept.
        only: of GROUPS; all that this version writes where None. The report is always written.
        quality: of pictures.
        on_step: told before each step.

    Raises:
        ExportError: the folder is not ours to replace, or cannot be written.
    """
    groups = frozenset(GROUPS) - frozenset(NOT_YET) if only is None else frozenset(only)
    step = on_step or silent
    ours = products(folder)
    with replaced(folder) as stage:
        notes = [*_not_yet(groups), *_write_here(job, stage, groups, step)]
        refuse_taken(folder, stage, ours)  # before the slow ones
        slow = _write_apart(job, stage, groups, quality, step)
        step("report", 0.95)
        refuse_taken(folder, stage, ours)
        files = [path.relative_to(stage).as_posix() for path in stage.rglob("*") if path.is_file()]
        renewed = {"report", *groups} - slow.unwritten

        def stays(path: str) -> bool:
            return path in ours and (group_of(path) not in renewed or path in slow.unwritten)

        older = carry_over(folder, stage, stays)
        lost = [path for path in edited(folder, ours) if path not in older]
        _write_report(job, stage)
        foreign = carry_over(folder, stage, lambda path: path not in ours)
        step("done", 1.0)
    notes += [*slow.notes, *_about_old(folder, older, slow), *_about_edited(lost)]
    return Written(folder=folder, files=(*sorted(files), "report.json"), kept=(*older, *foreign), notes=tuple(notes))


def group_of(path: str) -> str:
    """The group that a product belongs to, by its path in the folder."""
    first, _, rest = path.partition("/")
    if rest:
        return {"stl": "model", "pictures": "pictures", "drawings": "drawings"}.get(first, "report")
    named = {"ceiling": "model", "cut-list": "plan", "settings": "plan", "buy-list": "plan", "labels": "plan"}
    return {**named, "crew-book": "book", "share": "share"}.get(path.partition(".")[0], "report")


def _not_yet(groups: Collection[str]) -> list[str]:
    missing = [group for group in GROUPS if group in groups and group in NOT_YET]
    return [f"{', '.join(missing)}: this version does not write them"] if missing else []


def _write_here(job: Job, stage: Path, groups: Collection[str], step: OnStep) -> list[str]:
    """What is quick; what there is to say of it, in sentences."""
    notes: list[str] = []
    if "plan" in groups:
        step("cut list", 0.0)
        _write_plan(job, stage)
    if "drawings" in groups:
        step("boards", 0.01)
        notes += _write_drawings(job, stage / "drawings")
    if "model" in groups:
        step("STL and GLB", 0.02)
        _write_meshes(job, stage)
    return notes


@dataclass(frozen=True, slots=True, kw_only=True)
class _Slow:
    """What was made in processes of their own.

    Attributes:
        notes: sentences.
        unwritten: a group or a path that was asked for and is not there.
    """

    notes: tuple[str, ...]
    unwritten: frozenset[str]


def _write_apart(job: Job, stage: Path, groups: Collection[str], quality: Quality, step: OnStep) -> _Slow:
    """What needs the kernel and the renderer, side by side."""
    errands: dict[str, Errand] = {}
    if "model" in groups:
        errands["model"] = partial(write_step_file, job.parts, job.config.title, stage / STEP)
    if "pictures" in groups:
        errands["pictures"] = partial(draw_views, seen(job), stage / "pictures", quality)
    said = run_apart(errands, lambda text, share: step(text, 0.1 + 0.85 * share))
    notes = [note for name, told in said.items() for note in ((_died(name),) if told is None else told)]
    made = {"model": (stage / STEP).exists(), "pictures": (stage / "pictures").exists()}
    unwritten = {{"model": STEP, "pictures": "pictures"}[name] for name in said if not made[name]}
    return _Slow(notes=tuple(notes), unwritten=frozenset(unwritten))


def _died(errand: str) -> str:
    """What is said where a process was ended by its library."""
    if errand == "model":
        return f"{STEP}: {NO_KERNEL}; {GL_ADVICE}"
    from lacunar.pictures import NO_OPENGL

    return f"pictures: {NO_OPENGL}"


def write_step_file(parts: Sequence[Part], title: str, path: Path, step: OnStep) -> list[str]:
    """Write the model for CAD; a sentence where the kernel does not load.

    Raises:
        ExportError: a solid that is not sound, or a file that cannot be written.
    """
    try:
        import cadquery as _kernel  # noqa: F401  # pyright: ignore[reportUnusedImport, reportMissingTypeStubs]
    except ImportError as error:
        return [f"{STEP}: the CAD kernel does not load ({error}); {GL_ADVICE}"]
    from lacunar.exports import write_step
    from lacunar.solids import build_solids

    step("solids", 0.2)
    solids = build_solids(parts)
    step("STEP", 0.6)
    write_step(solids, parts, path, title)
    return []


def _about_old(folder: Path, older: Sequence[str], slow: _Slow) -> list[str]:
    """Products that this build should have renewed and could not."""
    old = [what for what in sorted(slow.unwritten) if any(path.split("/")[0] == what for path in older)]
    return [f"{what} in {folder}: still that of an earlier build, it may show another design" for what in old]


def _about_edited(lost: Sequence[str]) -> list[str]:
    """Products that somebody has changed since they were written."""
    return [f"{', '.join(lost)}: changed by somebody since it was built, now new or gone"] if lost else []


def _write_plan(job: Job, stage: Path) -> None:
    from lacunar.reports import write_buy_list, write_cut_list, write_settings

    write_cut_list(job.parts, job.plan, job.config, stage / "cut-list.csv")
    write_settings(job.parts, job.plan, job.config, stage / "settings.csv")
    write_buy_list(job.plan, job.cost, job.config, stage / "buy-list.csv")


def _write_drawings(job: Job, folder: Path) -> list[str]:
    """Boards as boards-1.svg, boards-2.svg, ...: as many digits as the last one has, so that they sort."""
    from lacunar.drawings import board_pages, svg_text

    pages = board_pages(job.plan, job.parts, job.config)
    if pages:
        folder.mkdir()
    digits = len(str(len(pages)))
    for number, page in enumerate(pages, 1):
        title = f"{job.config.title}: boards, page {number} of {len(pages)}"
        path = folder / f"boards-{number:0{digits}}.svg"
        path.write_text(svg_text(page, title), encoding="utf-8", newline="\n")
    return [BOARDS_ONLY]


def _write_meshes(job: Job, stage: Path) -> None:
    from lacunar.exports import write_glb, write_stl_parts, write_stl_whole

    (stage / "stl").mkdir()
    write_stl_whole(job.parts, stage / "stl" / "ceiling.stl")
    write_stl_parts(job.parts, stage / "stl")
    write_glb(job.parts, stage / "ceiling.glb", job.config.title)


def report_of(job: Job) -> dict[str, Any]:
    """The report as JSON values, before any file is written."""
    from lacunar.reports import make_report

    return make_report(job.config, job.room, job.layout, job.parts, job.plan, job.cost, job.findings, trust_of(job))


def report_text_of(job: Job) -> str:
    """The report as JSON, before any file is written."""
    from lacunar.reports import report_text

    return report_text(report_of(job))


def _write_report(job: Job, stage: Path) -> None:
    from lacunar.reports import REPORT, list_files, write_report

    write_report({**report_of(job), "files": list_files(stage)}, stage / REPORT)
