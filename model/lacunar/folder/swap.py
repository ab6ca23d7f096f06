"""A folder that takes another's place when it is complete."""

import contextlib
import ctypes
import os
import re
import shutil
import sys
from collections.abc import Generator
from pathlib import Path
from typing import Final

from lacunar.errors import ExportError, Problem
from lacunar.files import beside, made, replacing

IN_PLACE: Final = "the new build is in place and whole"
"""What is said where the work was stopped too late to be stopped."""

_HERE: Final = -100
"""AT_FDCWD: paths as they are. Source: linux/fcntl.h."""

_EXCHANGE: Final = 2
"""RENAME_EXCHANGE: both stay, each under the other's name. Source: linux/fs.h."""


@contextlib.contextmanager
def replaced(folder: Path) -> Generator[Path]:
    """An empty folder to write into; it takes the folder's place when the block ends well, and is removed when not.

    What killed builds of this folder left beside it is cleared away first.

    Raises:
        ExportError: the disk is full, or the place cannot be written.
        KeyboardInterrupt: with IN_PLACE as its text where it came when the new folder was in its place.
    """
    target = folder.resolve()
    if Path.cwd().is_relative_to(target):
        raise ExportError(
            [Problem(where=str(folder), what="is the folder you are in", fix="go up and build from there")]
        )
    try:
        with made(target.parent):
            _clear_left(target)
            yield from _staged(target)
    except OSError as error:
        raise ExportError([_unwritten(folder, error)]) from error


def _staged(target: Path) -> Generator[Path]:
    stage = beside(target, "part")
    stage.mkdir()
    new = _identity(stage)
    try:
        with _locked(stage):
            yield stage
            _put_in_place(stage, target)
        shutil.rmtree(stage, ignore_errors=True)  # what was there before
    except BaseException as error:
        is_in_place = _identity(target) == new
        shutil.rmtree(stage, ignore_errors=True)
        if is_in_place and isinstance(error, KeyboardInterrupt):
            raise type(error)(IN_PLACE) from None
        raise


@contextlib.contextmanager
def in_place(what: str) -> Generator[None]:
    """Who stops the work from here on is told that this was done."""
    try:
        yield
    except KeyboardInterrupt as stop:
        raise type(stop)(what) from None


def _identity(folder: Path) -> tuple[int, int] | None:
    try:
        status = folder.stat()
    except OSError:
        return None
    return status.st_dev, status.st_ino


def _put_in_place(stage: Path, target: Path) -> None:
    """The stage becomes the target; what was there bears the stage's name afterwards."""
    if not target.exists():
        stage.rename(target)
    elif not _exchanged(stage, target):
        old = beside(target, "old")
        target.rename(old)
        try:
            stage.rename(target)
        except BaseException:
            if not target.exists():
                old.rename(target)
            raise
        old.rename(stage)


def _exchanged(one: Path, other: Path) -> bool:
    """Swap two names in one step, so that not even a kill finds neither; false where the system cannot."""
    if sys.platform != "linux":
        return False
    try:
        rename = ctypes.CDLL(None).renameat2
    except (OSError, AttributeError):
        return False
    return rename(_HERE, os.fsencode(one), _HERE, os.fsencode(other), _EXCHANGE) == 0


@contextlib.contextmanager
def _locked(folder: Path) -> Generator[bool]:
    """Hold a lock that ends with this process, whatever ends it; false where another holds it or there are none."""
    if sys.platform == "win32":
        yield False
        return
    import fcntl

    handle = os.open(folder, os.O_RDONLY)
    try:
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            yield False
        else:
            yield True
    finally:
        os.close(handle)


def _clear_left(target: Path) -> None:
    """Remove what killed builds of a folder left beside it; what one had moved aside comes back."""
    name = re.compile(rf"\.{re.escape(target.name)}\.[0-9a-f]{{8}}\.(part|old)")
    for left in sorted(target.parent.iterdir()):
        if not name.fullmatch(left.name) or left.is_symlink() or not left.is_dir():
            continue
        with _locked(left) as is_free:
            if is_free and left.suffix == ".old" and not target.exists():
                left.rename(target)
            elif is_free:
                shutil.rmtree(left, ignore_errors=True)


def check_file(path: Path, ending: str) -> None:
    """Refuse a name that no file can be written to, before any work.

    Raises:
        ExportError: it has another ending, is a folder, or lies in none.
    """
    if path.suffix.lower() != ending:
        raise ExportError([Problem(where=str(path), what=f"must end in {ending}")])
    if path.is_dir():
        raise ExportError([Problem(where=str(path), what="is a folder", fix="give the name of a file in it")])
    if not path.parent.is_dir():
        raise ExportError([Problem(where=str(path), what=f"there is no folder {path.parent}", fix="make it first")])


@contextlib.contextmanager
def replaced_file(path: Path, ending: str) -> Generator[Path]:
    """A name to write one file to; it takes the path's place when the block ends well, and is removed when not.

    Args:
        path: of the file.
        ending: that it must have, like ".png".

    Raises:
        ExportError: it has another ending, or cannot be written.
    """
    check_file(path, ending)
    try:
        with replacing(path) as stage:
            yield stage
    except OSError as error:
        raise ExportError([_unwritten(path, error)]) from error


def _unwritten(path: Path, error: OSError) -> Problem:
    return Problem(where=str(path), what=f"cannot be written: {error.strerror or error}", fix="nothing was changed")
