"""What an earlier build wrote, as its report lists it."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from lacunar.errors import ExportError, Problem
from lacunar.files import REPORT, REPORT_LARGEST, read_plain
from lacunar.reports import FileRow, file_row


@dataclass(frozen=True, slots=True, kw_only=True)
class _Listing:
    """What marks a report of any version."""

    lacunar: object
    files: tuple[FileRow, ...] = ()


def products(folder: Path) -> Mapping[str, FileRow | None]:
    """What an earlier build wrote into the folder, by path; of its report itself there is no row.

    Raises:
        ExportError: it is a file, or holds something but no report of ours.
    """
    if not folder.exists() and not folder.is_symlink():
        return {}
    if not folder.is_dir():
        raise _refused(folder, "is a file, not a folder")
    if not any(folder.iterdir()):
        return {}
    try:
        listing = TypeAdapter(_Listing).validate_json(read_plain(folder / REPORT, REPORT_LARGEST))
    except (OSError, ValidationError):
        what = f"holds files, and no {REPORT} of an earlier build: nothing there will be replaced"
        raise _refused(folder, what) from None
    return {REPORT: None, **{row.path: row for row in listing.files}}


def edited(folder: Path, written: Mapping[str, FileRow | None]) -> tuple[str, ...]:
    """Paths of products that are no longer as they were written; those that are gone are none."""
    rows = (row for row in written.values() if row is not None and (folder / row.path).is_file())
    pairs = ((row, file_row(folder / row.path, row.path)) for row in rows)
    changed = (row for row, now in pairs if now.bytes != row.bytes or row.sha256 not in (None, now.sha256))
    return tuple(sorted(row.path for row in changed))


def _refused(folder: Path, what: str) -> ExportError:
    return ExportError([Problem(where=str(folder), what=what, fix="give an absent or empty folder with -o")])
