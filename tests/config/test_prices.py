"""A price list as a spreadsheet beside the config."""

from pathlib import Path

import pytest

from lacunar.config import Config, read_config, read_config_text
from lacunar.errors import ConfigError

ROOM = '[room]\nheight = "9 ft"\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n[shop]\nboards = "prices.csv"\n'


def read(folder: Path, csv: str | bytes, room: str = ROOM) -> Config:
    (folder / "room.toml").write_text(room, encoding="utf-8")
    (folder / "prices.csv").write_bytes(csv if isinstance(csv, bytes) else csv.encode())
    return read_config(folder / "room.toml")


def said(folder: Path, csv: str | bytes, room: str = ROOM) -> list[str]:
    with pytest.raises(ConfigError) as error:
        read(folder, csv, room)
    return [str(problem) for problem in error.value.problems]


def test_rows_become_boards(tmp_path: Path) -> None:
    csv = (
        'stock,length,price,on_hand\n1x4,8 ft,9.80,2\n1x4,120,$12.25,\n\n 1 x 6 , "12\' 0""" ,15,0\nplywood,8 ft,40,0\n'
    )
    boards = read(tmp_path, csv).shop.board
    assert [(board.stock, board.length / 25.4, board.price, board.on_hand) for board in boards] == [
        ("1x4", pytest.approx(96.0), 9.80, 2),
        ("1x4", pytest.approx(120.0), 12.25, 0),
        ("1x6", pytest.approx(144.0), 15.0, 0),
        ("plywood", pytest.approx(96.0), 40.0, 0),  # a price list holds more than this job wants
    ]


@pytest.mark.parametrize("csv", ["length;stock\n8 ft;1x4\n", "\ufeffSTOCK,Length\r\n1x4,8 ft\r\n"])
def test_as_spreadsheets_write_them(tmp_path: Path, csv: str) -> None:
    (board,) = read(tmp_path, csv).shop.board
    assert (board.stock, board.price) == ("1x4", None)


def test_every_bad_cell_with_its_line(tmp_path: Path) -> None:
    csv = "stock,length,price,on_hand\n1x4,8 ft,9.80,0\n1x4,9 ft 14 in,10,0\n1x4,12 ft,free,0\n"
    csv += ",10 ft,9,0\n1x4,16 ft,20,some\n"
    assert said(tmp_path, csv) == [
        'prices.csv:3 length: got "9 ft 14 in": after ft there must be fewer than 12 in',
        'prices.csv:4 price: got "free", must be a price above 0',
        "prices.csv:5 stock: missing, must be given: nominal size",
        'prices.csv:6 on_hand: got "some", must be a whole number from 0 to 100000',
    ]


COLUMNS = "stock, length, price, on_hand, supply, actual"
NOT_TEXT = (
    'room.toml:7 shop.boards: got "prices.csv", which is not UTF-8 text; it is looked for beside the config; columns: '
    "stock,length,price,on_hand,supply,actual"
)


@pytest.mark.parametrize(
    ("csv", "message"),
    [
        (
            "stock,length,prize\n1x4,8 ft,9\n",
            f'prices.csv:1: unknown column "prize", must be {COLUMNS}; did you mean "price"?',
        ),
        ("stock,price\n1x4,9\n", "prices.csv:1: no column length in the first line, must be given"),
        (
            "stock,length,price\n1x4,8 ft,9,80\n",
            "prices.csv:2: got 4 cells, must be 3 as in the first line; a number has a point, not a comma",
        ),
        (
            "stock,length\n",
            "prices.csv: has no rows, must have one for each board; stock,length,price,on_hand,supply,actual",
        ),
        ("", f'prices.csv:1: unknown column "", must be {COLUMNS}'),
        (b"stock,length\n1x4,8\xa0ft\n", NOT_TEXT),
        (
            "stock,length\n1x4," + "8" * 200_000 + "\n",
            "prices.csv: cannot be read as a table: field larger than field limit (131072)",
        ),
    ],
)
def test_bad_lists(tmp_path: Path, csv: str | bytes, message: str) -> None:
    assert said(tmp_path, csv) == [message]


def test_list_and_boards_together(tmp_path: Path) -> None:
    room = ROOM + '[[shop.board]]\nstock = "1x4"\nlength = "8 ft"\n'
    assert said(tmp_path, "stock,length\n1x4,8 ft\n", room) == [
        "room.toml:7 shop.boards: both shop.boards and [[shop.board]] are given, must be one of them"
    ]


def test_a_folder_is_no_list(tmp_path: Path) -> None:
    (tmp_path / "prices.csv").mkdir()
    (tmp_path / "room.toml").write_text(ROOM, encoding="utf-8")
    with pytest.raises(ConfigError, match=r"room\.toml:7 shop\.boards: got \"prices\.csv\", which cannot be read"):
        read_config(tmp_path / "room.toml")


# --- prices of what is not used ------------------------------------------------------------------------------------


def tables(*stocks: str, units: str = "in") -> Config:
    text = f'units = "{units}"\n' + ROOM.removesuffix('[shop]\nboards = "prices.csv"\n')
    text += "".join(f'[[shop.board]]\nstock = "{stock}"\nlength = "8 ft"\nprice = 9\n' for stock in stocks)
    return read_config_text(text, "room.toml")


def notes(config: Config) -> list[str]:
    return [sentence for sentence in config.assumed if "not used: nothing here is made of" in sentence]


@pytest.mark.parametrize("stock", ["1x6", "3/4x1", "5/4x4", "1x1", "1-1/2x2-1/2"])
def test_a_section_that_nothing_is_made_of_is_a_note(stock: str) -> None:
    config = tables("1x4", stock)
    assert [board.stock for board in config.shop.board] == ["1x4", stock]
    assert notes(config) == [f"boards of {stock} are listed in [shop] and not used: nothing here is made of them"]


@pytest.mark.parametrize("stock", ["20x45", "18x95", "1x6", "18.5x95"])
def test_a_metric_section_that_nothing_is_made_of_is_a_note(stock: str) -> None:
    assert len(notes(tables("20x90", stock, units="mm"))) == 1


def test_what_is_used_gives_no_note() -> None:
    assert notes(tables("1x4", "3/4x3/4", "1x3")) == []  # slats, trim, and furring that may be wanted


def test_a_spreadsheet_says_the_same_in_one_line(tmp_path: Path) -> None:
    stocks = ("1x4", "1x6", "1x6", "1x8", "1x10", "1x12", "2x2", "plywood")
    rows = "".join(f"{stock},{8 + n} ft,9\n" for n, stock in enumerate(stocks))
    assert notes(read(tmp_path, f"stock,length,price\n{rows}")) == [
        "boards of 1x6, 1x8, 1x10, 1x12 and 2 more are listed in [shop] and not used: nothing here is made of them"
    ]


@pytest.mark.parametrize(
    ("stock", "units", "nearest"),
    [
        ("1x44", "in", "1x4"),
        ("1x7", "in", "1x8"),
        ("4x1", "in", "1x4"),
        ("3/4x40", "in", "3/4x3/4"),
        ("1x", "in", "1x8"),
        ("plywood", "in", ""),
        ("1x44", "mm", "1x4"),
        ("9x20000", "mm", ""),
        ("48x24", "mm", "24x48"),
    ],
)
def test_what_is_no_section_is_refused(stock: str, units: str, nearest: str) -> None:
    with pytest.raises(ConfigError) as error:
        tables("1x4", stock, units=units)
    (problem,) = error.value.problems
    assert f'shop.board[2].stock: got "{stock}", must be a nominal size, a section by its two sides' in str(problem)
    assert f'did you mean "{nearest}' in str(problem)
