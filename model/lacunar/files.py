"""Files read within bounds, and written whole or not at all; tables as a spreadsheet opens them."""

import contextlib
import csv
import errno
import io
import re
import secrets
import stat
from collections.abc import Generator, Iterable, Sequence
from pathlib import Path
from typing import Final

CONFIG_LARGEST: Final = 1_000_000
"""Bytes. A config of a ballroom has some thousands; own judgement."""

TABLE_LARGEST: Final = 5_000_000
"""Bytes of a price list, a filled sheet or a pile: a hall's sheets have a hundred thousand; own judgement."""

REPORT: Final = "report.json"
"""Every number of a build, and the mark of a folder that a build wrote: JSON with the key "lacunar"."""

REPORT_LARGEST: Final = 500_000_000
"""Bytes of a report: a hall's has some millions; own judgement."""

TABLE_ENCODING: Final = "utf-8-sig"
"""Of a table: without the mark at its head a spreadsheet takes it for the letters of one country."""

_MONTH: Final = "(jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)[a-z]{0,6}"

_TAKEN_OTHERWISE: Final = re.compile(
    r"\s*[=+\-@'＝＋－＠].*"  # a formula; wide signs are the same where such are typed
    r"|\d{1,4}[-/.]\d{1,2}([-/.]\d{1,4})?|\d{1,2}:\d\d.*"  # a day, an hour
    rf"|\d{{1,4}}[- /.]?{_MONTH}([- /.]?\d{{1,4}})?|{_MONTH}[- /.]?\d{{1,4}}"
    r"|\d+e\d+",  # a number
    re.IGNORECASE | re.DOTALL,
)
"""What a spreadsheet makes something else of, unless it is a plain number."""

_NUMBER: Final = re.compile(r"[-+]?\d+(\.\d+)?")


def table_text(columns: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """CSV with the names of its columns first; no cell is a formula, or a day that was a name."""
    out = io.StringIO(newline="")
    writer = csv.writer(out)  # with the line ends of RFC 4180
    writer.writerow(columns)
    writer.writerows([_marked(f"{cell}") for cell in row] for row in rows)
    return out.getvalue()


def unmarked(cell: str) -> str:
    """A cell of such a table as it was before an apostrophe kept it from being anything else."""
    return cell[1:] if cell.startswith("'") and _marked(cell[1:]) == cell else cell


def _marked(cell: str) -> str:
    plain = _NUMBER.fullmatch(cell) or not _TAKEN_OTHERWISE.fullmatch(cell)
    return cell if plain else f"'{cell}"


def read_plain(path: Path, largest: int) -> bytes:
    """The bytes of a plain file; devices and pipes are refused unopened, for some never end.

    Args:
        path: of the file, or a link to it.
        largest: bytes.

    Raises:
        OSError: it is not there, no plain file, larger, or cannot be read; `strerror` says so to a person.
    """
    status = path.stat()
    if stat.S_ISDIR(status.st_mode):
        raise IsADirectoryError(errno.EISDIR, "it is a folder", str(path))
    if not stat.S_ISREG(status.st_mode):
        raise OSError(errno.EINVAL, "it is a device or a pipe, must be a plain file", str(path))
    if status.st_size > largest:
        raise _too_large(path, f"{status.st_size:,}", largest)
    with path.open("rb") as file:
        data = file.read(largest + 1)
    if len(data) > largest:
        raise _too_large(path, f"more than {largest:,}", largest)
    return data


def _too_large(path: Path, size: str, largest: int) -> OSError:
    return OSError(errno.EFBIG, f"it has {size} bytes, must have {largest:,} or less; is it the right file?", str(path))


def beside(target: Path, ending: str) -> Path:
    """A hidden name that nothing bears yet, in the same folder."""
    return target.with_name(f".{target.name}.{secrets.token_hex(4)}.{ending}")


@contextlib.contextmanager
def made(folder: Path) -> Generator[Path]:
    """A folder that is there; what had to be made for it is removed again when the block ends badly and left it empty.

    Raises:
        OSError: it cannot be made.
    """
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        yield folder
    except BaseException:
        for one in missing:
            with contextlib.suppress(OSError):
                one.rmdir()
        raise


@contextlib.contextmanager
def replacing(path: Path) -> Generator[Path]:
    """A name to write one file to; it takes the path's place when the block ends well, and is removed when not.

    A link stays, and what it points to is replaced; permissions stay. A missing folder is not made. Where nothing was
    written, nothing is replaced.

    Raises:
        OSError: it cannot be written; nothing was changed.
    """
    target = path.resolve()
    if target.is_dir():
        raise IsADirectoryError(errno.EISDIR, "it is a folder", str(path))
    stage = beside(target, f"part{target.suffix}")
    try:
        yield stage
        if stage.exists():
            with contextlib.suppress(FileNotFoundError):
                stage.chmod(stat.S_IMODE(target.stat().st_mode))
            stage.replace(target)
    finally:
        stage.unlink(missing_ok=True)


def write_whole(path: Path, data: bytes) -> None:
    """Replace a file at once or not at all; as `replacing`.

    Raises:
        OSError: it cannot be written; nothing was changed.
    """
    with replacing(path) as stage:
        stage.write_bytes(data)
