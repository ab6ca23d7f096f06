"""A job becomes a folder of files. Solids and the renderer are loaded only where they are wanted."""

from collections.abc import Collection
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from lacunar.errors import ConfigError, Problem
from lacunar.folder import carry_over, products, replaced
from lacunar.job.pictures import Quality, write_pictures
from lacunar.job.run import Job, OnStep, silent, trust_of

GROUPS: Final = ("report", "plan", "model", "pictures", "drawings", "book", "share")
"""Products that may be asked for by name; the report is always written."""

NOT_YET: Final = ("book", "share")
"""Groups that this version does not write."""

BOARDS_ONLY: Final = (
    "drawings: boards only; this version draws no reflected plan, coffer sheets, section or cut-out templates, "
    "and writes no DXF"
)

GL_ADVICE: Final = "on Debian or Ubuntu: apt-get install libgl1 libegl1; then build again, --only adds what is missing"


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
        notes = [*_not_yet(groups), *_write(job, stage, groups, quality, step)]
        step("report", 0.95)
        files = [path.relative_to(stage).as_posix() for path in stage.rglob("*") if path.is_file()]
        older = carry_over(folder, stage, lambda path: path in ours and group_of(path) not in {*groups, "report"})
        _write_report(job, stage)
        foreign = carry_over(folder, stage, lambda path: path not in ours)
        step("done", 1.0)
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


def _write(job: Job, stage: Path, groups: Collection[str], quality: Quality, step: OnStep) -> list[str]:
    """Everything but the report; what there is to say of it, in sentences."""
    notes: list[str] = []
    if "plan" in groups:
        step("cut list", 0.0)
        _write_plan(job, stage)
    if "drawings" in groups:
        step("boards", 0.01)
        notes += _write_drawings(job, stage / "drawings")
    if "model" in groups:
        notes += _write_model(job, stage, step)
    if "pictures" in groups:
        notes += write_pictures(job, stage / "pictures", quality, step)
    return notes


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


def _write_model(job: Job, stage: Path, step: OnStep) -> list[str]:
    from lacunar.exports import write_glb, write_stl_parts, write_stl_whole

    title = job.config.title
    step("STL and GLB", 0.02)
    (stage / "stl").mkdir()
    write_stl_whole(job.parts, stage / "stl" / "ceiling.stl")
    write_stl_parts(job.parts, stage / "stl")
    write_glb(job.parts, stage / "ceiling.glb", title)
    step("solids", 0.1)
    try:
        import cadquery as _kernel  # noqa: F401  # pyright: ignore[reportUnusedImport, reportMissingTypeStubs]
    except ImportError as error:
        return [f"ceiling.step: the CAD kernel does not load ({error}); {GL_ADVICE}"]
    from lacunar.exports import write_step
    from lacunar.solids import build_solids

    solids = build_solids(job.parts)
    step("STEP", 0.2)
    write_step(solids, job.parts, stage / "ceiling.step", title)
    return []


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
