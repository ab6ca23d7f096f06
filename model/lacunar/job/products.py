"""What a build writes: a row for each file or folder of files. Nothing heavy is loaded before it is written."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final, Literal

from lacunar.errors import ConfigError, Problem
from lacunar.files import REPORT

if TYPE_CHECKING:
    from lacunar.drawings import Page
    from lacunar.exports import Model
    from lacunar.job.run import Job, OnStep, Quality

Writer = Callable[["Job", Path, "Quality", "OnStep"], list[str] | None]
"""Writes one product of a job to a path; sentences: what was not written and why, what it assumes."""

GL_ADVICE: Final = "on Debian or Ubuntu: apt-get install libgl1 libegl1; then build again, --only adds what is missing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A file, or a folder of files.

    Attributes:
        path: in the folder of the build.
        group: word of `--only`; what is in "report" is always written.
        step: what is told while it is written.
        needs: the plan alone; solids, a scene or many sheets, so that it is made in a process apart, beside others; a
            model for viewers, all of which are made in one process; the pictures beside it, where they are made, in a
            process apart too; or the other files.
        write: must go through `pickle` where another process writes.
    """

    path: str
    group: str
    step: str
    needs: Literal["plan", "solids", "scene", "sheets", "model", "pictures", "files"] = "plan"
    write: Writer

    def holds(self, path: str) -> bool:
        """Whether a path in the folder is this product's."""
        return path == self.path or path.startswith(f"{self.path}/")


def _report(job: "Job", path: Path, *_: object) -> None:
    from lacunar.job.run import report_of
    from lacunar.reports import list_files, write_report

    write_report(replace(report_of(job), files=list_files(path.parent)), path)


def _cut_list(job: "Job", path: Path, *_: object) -> None:
    from lacunar.job.run import code_of
    from lacunar.reports import CutRow, cut_list_rows, write_csv

    write_csv(path, cut_list_rows(job.parts, job.plan, job.config), CutRow, code_of(job))


def _settings(job: "Job", path: Path, *_: object) -> None:
    from lacunar.job.run import code_of
    from lacunar.reports import SettingRow, setting_rows, write_csv

    write_csv(path, setting_rows(job.parts, job.plan, job.config), SettingRow, code_of(job))


def _buy_list(job: "Job", path: Path, *_: object) -> None:
    from lacunar.job.run import code_of
    from lacunar.reports import BuyRow, buy_rows, write_csv

    write_csv(path, buy_rows(job.plan, job.cost, job.config.tape), BuyRow, code_of(job))


def _stl(job: "Job", path: Path, *_: object) -> None:
    from lacunar.exports import write_stl_parts, write_stl_whole

    path.mkdir()
    write_stl_whole(job.parts, path / "ceiling.stl")
    write_stl_parts(job.parts, path)


def _glb(job: "Job", path: Path, *_: object) -> None:
    from lacunar.exports import write_glb

    write_glb(_shown(job), path)


def _usdz(job: "Job", path: Path, *_: object) -> list[str]:
    """The same for the other kind of phone; a sentence where the library for it does not load.

    Raises:
        ExportError: the library does not write it.
    """
    try:
        import pxr as _library  # noqa: F401  # pyright: ignore[reportUnusedImport, reportMissingImports, reportMissingTypeStubs]
    except ImportError as error:
        why = "" if isinstance(error, ModuleNotFoundError) else f" ({error})"
        return [f"{path.name}: not written, that needs the extra, 209 MB: pip install 'lacunar[usdz]'{why}"]
    from lacunar.exports import write_usdz

    write_usdz(_shown(job), path)
    return []


_kept: "list[tuple[Job, Model]]" = []


def _shown(job: "Job") -> "Model":
    """What viewers are shown of a job, made once for both of their files."""
    from lacunar.exports import model_of
    from lacunar.scene import make_scene

    if not any(job is other for other, _ in _kept):
        made = (job.parts, job.room, job.config, job.layout)
        scene = make_scene(*made, quality="draft", light=False, evening=False, shade=True)
        _kept[:] = [(job, model_of(scene, job.parts))]
    return _kept[0][1]


def _step_file(job: "Job", path: Path, _quality: object, step: "OnStep") -> list[str]:
    """The model for CAD; a sentence where the kernel does not load.

    Raises:
        ExportError: a solid that is not sound, or a file that cannot be written.
    """
    try:
        import cadquery as _kernel  # noqa: F401  # pyright: ignore[reportUnusedImport, reportMissingTypeStubs]
    except ImportError as error:
        return [f"{path.name}: the CAD kernel does not load ({error}); {GL_ADVICE}"]
    from lacunar.exports import write_step
    from lacunar.solids import build_solids

    step("solids", 0.2)
    solids = build_solids(job.parts)
    step("STEP", 0.6)
    write_step(solids, job.parts, path, job.config.title)
    return []


def _views(job: "Job", path: Path, quality: "Quality", step: "OnStep", *, budget: float | None = None) -> list[str]:
    from lacunar.job.pictures import draw_views

    return draw_views(job, path, quality, step, budget=budget)


def _drawings(job: "Job", path: Path, _quality: object, step: "OnStep") -> list[str]:
    """Each sheet as SVG and as DXF; sentences: which letters of names are not drawn."""
    from lacunar.book import drawing_sheets
    from lacunar.drawings import dxf_text, svg_text
    from lacunar.job.booked import book_of

    path.mkdir()
    sheets = drawing_sheets(book_of(job))
    for number, sheet in enumerate(sheets):
        step("drawings", number / len(sheets))
        texts = {"svg": svg_text(sheet.page, f"{job.config.title}: {sheet.title}")}
        texts["dxf"] = dxf_text(sheet.page, job.config.units)
        for ending, text in texts.items():
            (path / f"{sheet.name}.{ending}").write_text(text, encoding="utf-8", newline="\n")
    return []


def _book(job: "Job", path: Path, quality: "Quality", step: "OnStep") -> list[str]:
    from lacunar.job.booked import write_book

    return write_book(job, path, quality, step)


def _labels(job: "Job", path: Path, *_: object) -> list[str]:
    """Labels for sheets as they are sold."""
    from lacunar.book import label_pages
    from lacunar.job.booked import book_of

    return _pages(job, path, label_pages(book_of(job)), "labels")


def _templates(job: "Job", path: Path, *_: object) -> list[str]:
    """Sticks and templates at full size."""
    from lacunar.book import template_pages
    from lacunar.job.booked import book_of

    return _pages(job, path, template_pages(book_of(job)), "sticks and templates")


def _pages(job: "Job", path: Path, pages: "Sequence[Page]", what: str) -> list[str]:
    """A PDF of pages; sentences: that there are none, which letters are not printed."""
    from lacunar.drawings import letters_note, pdf_bytes, texts

    if not pages:
        return [f"{path.name}: nothing is cut, so there are no {what}"]
    path.write_bytes(pdf_bytes(pages, f"{job.config.title}: {what}"))
    return [f"{path.name}: {note}" for note in letters_note(texts(pages))]


def _page(job: "Job", path: Path, quality: "Quality", step: "OnStep") -> list[str]:
    from lacunar.job.share import write_page

    return write_page(job, path, quality, step)


PRODUCTS: Final = (
    Product(path=REPORT, group="report", step="report", needs="files", write=_report),
    Product(path="cut-list.csv", group="plan", step="cut list", write=_cut_list),
    Product(path="settings.csv", group="plan", step="settings", write=_settings),
    Product(path="buy-list.csv", group="plan", step="buy list", write=_buy_list),
    Product(path="stl", group="model", step="STL", write=_stl),
    Product(path="ceiling.glb", group="model", step="GLB", needs="model", write=_glb),
    Product(path="ceiling.usdz", group="model", step="USDZ", needs="model", write=_usdz),
    Product(path="ceiling.step", group="model", step="STEP", needs="solids", write=_step_file),
    Product(path="pictures", group="pictures", step="pictures", needs="scene", write=_views),
    Product(path="drawings", group="drawings", step="drawings", needs="sheets", write=_drawings),
    Product(path="crew-book.pdf", group="book", step="crew book", needs="pictures", write=_book),
    Product(path="labels.pdf", group="book", step="labels", needs="sheets", write=_labels),
    Product(path="templates.pdf", group="book", step="templates", needs="sheets", write=_templates),
    Product(path="share.html", group="share", step="page to share", needs="pictures", write=_page),
)


def with_budget(budget: float) -> tuple[Product, ...]:
    """The same rows, with so many seconds for each picture that is traced."""
    return tuple(replace(row, write=partial(_views, budget=budget)) if row.write is _views else row for row in PRODUCTS)


GROUPS: Final = tuple(dict.fromkeys(row.group for row in PRODUCTS))
"""Words of `--only`."""


def read_groups(text: str) -> frozenset[str] | None:
    """Groups as typed, by commas; None, which is all, where nothing is typed.

    Raises:
        ConfigError: one of them is no group.
    """
    asked = [word.strip() for word in text.split(",") if word.strip()]
    unknown = [word for word in asked if word not in GROUPS]
    if unknown:
        allowed = ", ".join(GROUPS)
        raise ConfigError([Problem(where="--only", what=f'got "{word}", must be of {allowed}') for word in unknown])
    return frozenset(asked) or None
