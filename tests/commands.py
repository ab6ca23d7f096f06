"""What tests of the command line share."""

import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """A finished command."""

    status: int
    out: str
    err: str


Lacunar = Callable[..., Done]

Start = Callable[..., "subprocess.Popen[str]"]

NO_BYTECODE = {"PYTHONDONTWRITEBYTECODE": "1"}
"""For processes that may write small files only: bytecode cut off there would stop all that come after."""


def change(room: Path, old: str, new: str) -> None:
    """Another text in a config; the old one must be there."""
    text = room.read_text(encoding="utf-8")
    assert old in text
    room.write_text(text.replace(old, new), encoding="utf-8")


def tree(folder: Path) -> dict[str, bytes]:
    """Every file below a folder with what is in it."""
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
