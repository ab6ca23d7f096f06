"""What an earlier build wrote, as its report lists it."""

import hashlib
import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Final, cast

from lacunar.errors import ExportError, Problem
from lacunar.files import read_plain

MARK: Final = "report.json"
"""The file that tells a folder of ours: JSON with the key "lacunar"."""

LARGEST: Final = 500_000_000
"""Bytes of a report: a hall's has some millions; own judgement."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Product:
    """A file as it was written; None where its report does not say."""

    size: int | None = None
    sha256: str | None = None


def products(folder: Path) -> Mapping[str, Product]:
    """What an earlier build wrote into the folder, by path.

    Raises:
        ExportError: it is a file, or holds something but no report of ours.
    """
    if not folder.exists() and not folder.is_symlink():
        return {}
    if not folder.is_dir():
        raise _refused(folder, "is a file, not a folder")
    if not any(folder.iterdir()):
        return {}
    listed = _listed(folder / MARK)
    if listed is None:
        raise _refused(folder, f"holds files, and no {MARK} of an earlier build: nothing there will be replaced")
    return {MARK: Product(), **listed}


def edited(folder: Path, written: Mapping[str, Product]) -> tuple[str, ...]:
    """Paths of products that are no longer as they were written; those that are gone are none."""
    return tuple(path for path, product in sorted(written.items()) if _is_edited(folder / path, product))


def _is_edited(path: Path, product: Product) -> bool:
    if not path.is_file():
        return False
    if product.size is not None and path.stat().st_size != product.size:
        return True
    if product.sha256 is None:
        return False
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest() != product.sha256


def _listed(mark: Path) -> dict[str, Product] | None:
    try:
        report: object = json.loads(read_plain(mark, LARGEST).decode("utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    if not isinstance(report, dict) or "lacunar" not in report:
        return None
    rows = cast("dict[str, object]", report).get("files")
    listed = cast("list[object]", rows) if isinstance(rows, list) else []
    return dict(_product(cast("dict[str, object]", row)) for row in listed if _is_product(row))


def _is_product(row: object) -> bool:
    return isinstance(row, dict) and isinstance(cast("dict[str, object]", row).get("path"), str)


def _product(row: dict[str, object]) -> tuple[str, Product]:
    size, digest = row.get("bytes"), row.get("sha256")
    return str(row["path"]), Product(
        size=size if isinstance(size, int) else None, sha256=digest if isinstance(digest, str) else None
    )


def _refused(folder: Path, what: str) -> ExportError:
    return ExportError([Problem(where=str(folder), what=what, fix="give an absent or empty folder with -o")])
