"""What stands in a folder already: carried over, or in the way."""

import os
import shutil
from collections.abc import Callable, Collection
from pathlib import Path

from lacunar.errors import ExportError, Problem


def carry_over(folder: Path, stage: Path, wanted: Callable[[str], bool]) -> tuple[str, ...]:
    """Bring into the stage what stands in the folder, is wanted and is not in the stage already; empty folders too.

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
        if _is_leaf(source) and wanted(path) and not target.exists():
            target.parent.mkdir(parents=True, exist_ok=True)
            _link(source, target)
            kept.append(path)
    return tuple(kept)


def refuse_taken(folder: Path, stage: Path, ours: Collection[str]) -> None:
    """Nothing that no build wrote is replaced, whatever its name.

    Args:
        folder: what is to be replaced; it may be absent.
        stage: what takes its place.
        ours: paths that an earlier build wrote.

    Raises:
        ExportError: with every file of somebody else's that stands in the way.
    """
    problems = [
        Problem(
            where=str(folder / path),
            what="bears a name that this build needs, and no build wrote it: it is not replaced",
            fix="rename it, or give another folder with -o",
        )
        for path in sorted(one.relative_to(stage).as_posix() for one in stage.rglob("*"))
        if path not in ours and _is_in_the_way(folder / path, stage / path)
    ]
    if problems:
        raise ExportError(problems)


def _is_in_the_way(there: Path, new: Path) -> bool:
    """Something stands there; two folders of one name may be one."""
    both_folders = new.is_dir() and there.is_dir() and not there.is_symlink()
    return os.path.lexists(there) and not both_folders


def _is_leaf(path: Path) -> bool:
    """A file, a link, or a folder with nothing in it."""
    return path.is_symlink() or not path.is_dir() or not any(path.iterdir())


def _link(source: Path, target: Path) -> None:
    """A second name for the file; a copy where the file system has no such thing."""
    if source.is_dir() and not source.is_symlink():
        target.mkdir()
        return
    try:
        os.link(source, target, follow_symlinks=False)
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)
