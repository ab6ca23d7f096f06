"""A job becomes a folder of files."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from lacunar.folder import carry_over, edited, products, refuse_taken, replaced
from lacunar.job.apart import Errand, run_apart
from lacunar.job.products import GL_ADVICE, PRODUCTS, Product, Writer
from lacunar.job.run import Job, OnStep, Quality, silent


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


def write_job(
    job: Job,
    folder: Path,
    only: Collection[str] | None = None,
    quality: Quality = "fine",
    on_step: OnStep | None = None,
    rows: Sequence[Product] = PRODUCTS,
) -> Written:
    """Write a job's products; the folder is replaced when all of them are complete, or stays as it was.

    Args:
        job: of `run_job`.
        folder: absent, empty, or written by an earlier build, whose other products are kept.
        only: groups of `rows`; all of them where None. The report is always written.
        quality: of pictures.
        on_step: told before each step.
        rows: what there is to write, the report first.

    Raises:
        ExportError: the folder is not ours to replace, or cannot be written.
    """
    step = on_step or silent
    asked = [row for row in rows if only is None or row.group in ("report", *only)]
    notes: list[str] = []
    ours = products(folder)
    with replaced(folder) as stage:
        notes += _write_here(job, stage, [row for row in asked if row.needs == "plan"], quality, step)
        refuse_taken(folder, stage, ours)  # before the slow ones
        drawn = any(row.needs == "scene" for row in asked)  # else pages have no pictures to wait for
        apart = [row for row in asked if row.needs not in ("plan", "files")]
        pages = [row for row in apart if drawn and row.needs == "pictures"]
        slow = [row for row in apart if row not in pages]
        notes += _write_apart(job, stage, slow, quality, step, (0.1, 0.85))
        notes += _write_apart(job, stage, pages, quality, step, (0.85, 0.95))
        refuse_taken(folder, stage, ours)
        files = [path.relative_to(stage).as_posix() for path in stage.rglob("*") if path.is_file()]
        failed = [row for row in apart if not (stage / row.path).exists()]

        def stays(path: str) -> bool:
            row = next((row for row in rows if row.holds(path)), rows[0])  # what no row has is told with the report
            return path in ours and (row not in asked or row in failed)

        older = carry_over(folder, stage, stays)
        lost = [path for path in edited(folder, ours) if path not in older]
        listing = [row for row in asked if row.needs == "files"]
        notes += _write_here(job, stage, listing, quality, step)
        foreign = carry_over(folder, stage, lambda path: path not in ours)
        step("done", 1.0)
    old = sorted(row.path for row in failed if any(row.holds(path) for path in older))
    notes += [f"{path} in {folder}: still that of an earlier build, it may show another design" for path in old]
    notes += [f"{', '.join(lost)}: changed by somebody since it was built, now new or gone"] if lost else []
    written = (*sorted(files), *(row.path for row in listing))
    return Written(folder=folder, files=written, kept=(*older, *foreign), notes=tuple(notes))


def _write_here(job: Job, stage: Path, rows: Sequence[Product], quality: Quality, step: OnStep) -> list[str]:
    """What is quick; what there is to say of it, in sentences."""
    notes: list[str] = []
    for row in rows:
        step(row.step, 0.95 if row.needs == "files" else 0.0)
        notes += row.write(job, stage / row.path, quality, silent) or ()
    return notes


def _write_apart(
    job: Job, stage: Path, rows: Sequence[Product], quality: Quality, step: OnStep, shares: tuple[float, float]
) -> list[str]:
    """What is slow, side by side in processes of their own; `shares` of the whole build before it and after it."""
    first, last = shares
    together: dict[str, list[Product]] = {}
    for row in rows:
        together.setdefault(row.needs if row.needs in TOGETHER else row.path, []).append(row)
    errands: dict[str, tuple[str, Errand]] = {
        name: (some[0].needs, partial(_write_each, job, {stage / row.path: row.write for row in some}, quality))
        for name, some in together.items()
    }
    said = run_apart(errands, lambda text, share: step(text, first + (last - first) * share))
    outcomes = ((some, said[name]) for name, some in together.items())
    return [note for some, told in outcomes for note in (_died(some, stage) if told is None else told)]


TOGETHER: Final = ("model", "sheets")
"""What is needed by products that one process writes."""


def _write_each(job: Job, writers: Mapping[Path, Writer], quality: Quality, step: OnStep) -> list[str]:
    return [note for path, write in writers.items() for note in write(job, path, quality, step) or ()]


def _died(products: Sequence[Product], stage: Path) -> list[str]:
    """What is said where a process was ended by its library."""
    paths = ", ".join(row.path for row in products if row.needs not in TOGETHER or not (stage / row.path).exists())
    if products[0].needs == "solids":
        return [f"{paths}: the CAD kernel ended its process before the file was there; {GL_ADVICE}"]
    if products[0].needs in ("pictures", "sheets", "model"):
        return [f"{paths}: its process ended before the file was there; build again, --only adds what is missing"]
    from lacunar.pictures import NO_OPENGL

    return [f"{paths}: {NO_OPENGL}"]
