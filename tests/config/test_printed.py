"""The day on a sheet is the file's, else that of the environment, else written in by hand."""

from datetime import date

import pytest

from lacunar.config import BLANK, printed_day, printed_on, read_config_text

ROOM = '[room]\nheight = "8 ft 9 in"\n[room.measured]\nAB = "13 ft"\nBC = "11 ft"\n'


@pytest.mark.parametrize("key", ["date = 2026-03-04\n", 'date = "2026-03-04"\n'])
def test_the_file_comes_first(key: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "0")
    config = read_config_text(key + ROOM, "room.toml")
    assert printed_on(config) == date(2026, 3, 4)
    assert printed_day(config) == "4 March 2026"


@pytest.mark.parametrize(
    ("seconds", "day"),
    [("1772582400", "4 March 2026"), ("", BLANK), ("yesterday", BLANK), ("9" * 40, BLANK), ("-5", BLANK)],
)
def test_then_the_environment(seconds: str, day: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", seconds)
    assert printed_day(read_config_text(ROOM, "room.toml")) == day
