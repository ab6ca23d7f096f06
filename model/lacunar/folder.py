"""A folder of products, replaced as a whole: what was there stays until the new one is complete."""

import contextlib
import json
import os
import secrets
import shutil
from collections.abc import Callable, Generator, Iterable
from pathlib import Path
from typing import Final, cast

from lacunar.errors import ExportError, Problem

MARK: Final = "report.json"
"""The file that tells a folder of ours: JSON with the key "lacunar"."""


def products(folder: Path) -> frozenset[str]:
    """Paths of what an earlier build wrote into the folder, as its report lists them.

    Raises:
        ExportError: it is a file, or holds something but no report of ours.
    """
    if not folder.exists() and not folder.is_symlink():
        return frozenset()
    if not folder.is_dir():
        raise _refused(folder, "is a file, not a folder")
    if not any(folder.iterdir()):
        return frozenset()
    listed = _listed(folder / MARK)
    if listed is None:
        raise _refused(folder, f"holds files, and no {MARK} of an earlier build: nothing there will be replaced")
    return frozenset({MARK, *listed})


def _listed(mark: Path) -> list[str] | None:
    try:
        report: object = json.loads(mark.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    if not isinstance(report, dict) or "lacunar" not in report:
        return None
    rows = cast("dict[str, object]", report).get("files")
    listed = cast("list[object]", rows) if isinstance(rows, list) else []
    paths = [cast("dict[str, object]", row).get("path") for row in listed if isinstance(row, dict)]
    return [path for path in paths if isinstance(path, str)]


def _refused(folder: Path, what: str) -> ExportError:
    return ExportError([Problem(where=str(folder), what=what, fix="give an absent or empty folder with -o")])


@contextlib.contextmanager
def replaced(folder: Path) -> Generator[Path]:
    """An empty folder to write into; it takes the folder's place when the block ends well, and is removed when not.

    Raises:
        ExportError: the disk is full, or the place cannot be written.
    """
    target = folder.resolve()
    if Path.cwd().is_relative_to(target):
        raise ExportError(
            [Problem(where=str(folder), what="is the folder you are in", fix="go up and build from there")]
        )
    stage = _beside(target, "part")
    made = [parent for parent in (target.parent, *target.parent.parents) if not parent.exists()]
    try:
        stage.mkdir(parents=True)
        yield stage
        _swap(stage, target)
    except BaseException as error:
        shutil.rmtree(stage, ignore_errors=True)
        _remove_empty(made)
        if isinstance(error, OSError):
            raise ExportError([_unwritten(folder, error)]) from error
        raise


@contextlib.contextmanager
def replaced_file(path: Path, ending: str) -> Generator[Path]:
    """A name to write one file to; it takes the path's place when the block ends well, and is removed when not.

    Args:
        path: of the file.
        ending: that it must have, like ".png".

    Raises:
        ExportError: it has another ending, or cannot be written.
    """
    if path.suffix.lower() != ending:
        raise ExportError([Problem(where=str(path), what=f"must end in {ending}")])
    stage = _beside(path, f"part{ending}")
    try:
        if path.is_dir():
            raise IsADirectoryError(None, "is a folder", str(path))
        yield stage
        stage.replace(path)
    except OSError as error:
        raise ExportError([_unwritten(path, error)]) from error
    finally:
        stage.unlink(missing_ok=True)


def _unwritten(path: Path, error: OSError) -> Problem:
    return Problem(where=str(path), what=f"cannot be written: {error.strerror or error}", fix="nothing was changed")


def _beside(target: Path, ending: str) -> Path:
    return target.with_name(f".{target.name}.{secrets.token_hex(4)}.{ending}")


def _swap(stage: Path, target: Path) -> None:
    old = _beside(target, "old")
    try:
        if target.exists():
            target.rename(old)
        stage.rename(target)
    except BaseException:
        if old.exists() and not target.exists():
            old.rename(target)
        raise
    shutil.rmtree(old, ignore_errors=True)


def _remove_empty(folders: Iterable[Path]) -> None:
    for folder in folders:
        with contextlib.suppress(OSError):
            folder.rmdir()


def carry_over(folder: Path, stage: Path, wanted: Callable[[str], bool]) -> tuple[str, ...]:
    """Bring into the stage what stands in the folder, is wanted and is not in the stage already.

    Args:
        folder: what is to be replaced; it may be absent.
        stage: what takes its place.
        wanted: told a path relative to the folder, with forward slashes.

    Returns:
        Paths relative to the folder, sorted.
    """
    kept: list[str] = []
    for source in sorted(folder.rglob("*")) if folder.is_dir() else ():
        path = source.relative_to(folder).as_posix()
        target = stage / path
        is_file = source.is_symlink() or not source.is_dir()
        if is_file and wanted(path) and not target.exists():
            target.parent.mkdir(parents=True, exist_ok=True)
            _link(source, target)
            kept.append(path)
    return tuple(kept)


def _link(source: Path, target: Path) -> None:
    """A second name for the file; a copy where the file system has no such thing."""
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)
