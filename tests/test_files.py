"""Files read within bounds, and written whole or not at all."""

import csv
import io
import os
import re
import stat
import sys
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from lacunar.files import made, read_plain, replacing, table_text, unmarked, write_whole


def test_a_plain_file_within_its_bound(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"12345")
    assert read_plain(path, 5) == b"12345"


def test_a_file_beyond_its_bound(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"123456")
    with pytest.raises(OSError, match="it has 6 bytes, must have 5 or less"):
        read_plain(path, 5)


def test_a_sparse_file_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "a"
    with path.open("wb") as file:
        file.truncate(1 << 40)
    with pytest.raises(OSError, match="1,099,511,627,776 bytes"):
        read_plain(path, 5)


@pytest.mark.skipif(sys.platform == "win32", reason="no such files there")
def test_devices_and_pipes_are_refused_unopened(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (Path("/dev/zero"), pipe):
        with pytest.raises(OSError, match="a device or a pipe"):
            read_plain(path, 5)


def test_a_folder_is_said_to_be_one(tmp_path: Path) -> None:
    with pytest.raises(IsADirectoryError, match="it is a folder"):
        read_plain(tmp_path, 5)


def test_a_link_stays_and_its_file_is_replaced(tmp_path: Path) -> None:
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_bytes(b"old")
    link.symlink_to(real)
    write_whole(link, b"new")
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


@pytest.mark.skipif(sys.platform == "win32", reason="no such permissions there")
def test_permissions_stay(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"old")
    path.chmod(0o640)
    write_whole(path, b"new")
    assert stat.S_IMODE(path.stat().st_mode) == 0o640


def test_what_stops_half_way_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"old")

    def stopped() -> None:
        with replacing(path) as stage:
            stage.write_bytes(b"ne")
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert {one.name: one.read_bytes() for one in tmp_path.iterdir()} == {"a": b"old"}


def test_where_nothing_is_written_nothing_is_replaced(tmp_path: Path) -> None:
    path = tmp_path / "a"
    path.write_bytes(b"old")
    with replacing(path):
        pass
    assert path.read_bytes() == b"old"


def test_folders_that_were_made_for_nothing_go_again(tmp_path: Path) -> None:
    def stopped() -> None:
        with made(tmp_path / "a" / "b"):
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        stopped()
    assert not list(tmp_path.iterdir())


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=12))
@example("=1+1")
@example("'=1+1")
@example(" @SUM(A1)")
@example("\t-2+3")
@example('=HYPERLINK("x")')
@example("＝1")
def test_no_cell_is_a_formula_and_every_cell_reads_back(text: str) -> None:
    head, cells = csv.reader(io.StringIO(table_text(("a", "b"), [(text, -1.5)]), newline=""))
    assert head == ["a", "b"]
    assert cells[1] == "-1.5"
    is_number = re.fullmatch(r"[-+]?\d+(\.\d+)?", cells[0])
    assert is_number or not cells[0].lstrip().startswith(tuple("=+-@＝＋－＠"))
    assert unmarked(cells[0]) == text


@pytest.mark.parametrize(
    ("text", "cell"),
    [
        ("3/16", "'3/16"),
        ("1-2", "'1-2"),
        ("2026-11-29", "'2026-11-29"),
        ("MAY4", "'MAY4"),
        ("4-may", "'4-may"),
        ("10:30", "'10:30"),
        ("23456E", "23456E"),
        ("2345E6", "'2345E6"),
        ("51 3/16 in", "51 3/16 in"),
        ("995.36", "995.36"),
        ("-12.5", "-12.5"),
        ("marble", "marble"),
        ("stop-12", "stop-12"),
        ("C5-S03", "C5-S03"),
    ],
)
def test_a_name_is_no_day_and_a_number_stays_one(text: str, cell: str) -> None:
    assert table_text(("a",), [(text,)]) == f"a\r\n{cell}\r\n"
    assert unmarked(cell) == text
