"""Stops against money on a terminal and in the report."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from commands import Done, Lacunar, change
from plan.askew_room import ASKEW

LINE = re.compile(
    r"fewer stops: (\d+) for slats instead of (\d+), set (\d+) times in all instead of (\d+), for at most USD (\S+) "
    r"more: shop.stops = (\d+)"
)
TITLE = "stops for slats (shop.stops) against money (boards with spares, before tax):"


@pytest.fixture
def askew(tmp_path: Path) -> Path:
    room = tmp_path / "askew.toml"
    room.write_text(ASKEW, encoding="utf-8")
    return room


_SAID: dict[tuple[str, ...], Done] = {}


@pytest.fixture
def said(lacunar: Lacunar, askew: Path) -> Callable[..., Done]:
    """What a command that writes nothing says of the room as it is, once for all tests."""

    def run(*words: str) -> Done:
        if words not in _SAID:
            _SAID[words] = lacunar(words[0], askew, *words[1:])
        return _SAID[words]

    return run


def test_check_names_the_fewest_stops_in_one_line(lacunar: Lacunar, said: Callable[..., Done], askew: Path) -> None:
    plan = json.loads(said("check", "--json").out)["plan"]
    few, now = plan["by_stops"][0], plan["by_stops"][-1]
    told = LINE.search(" ".join(said("check").out.split()))
    assert told is not None
    more = f"{few['cost'] - now['cost']:.2f}"
    numbers = (few["most"], now["most"], few["placements"], now["placements"], more, few["most"])
    assert told.groups() == tuple(map(str, numbers))
    # The key does as the line says.
    change(askew, "[shop]", f"[shop]\nstops = {told[1]}")
    done = lacunar("check", askew)
    again = json.loads(lacunar("check", askew, "--json").out)["plan"]
    assert "fewer stops" not in done.out
    assert f"{again['cost'] - now['cost']:.2f}" == told[5]
    assert sum(len(turn["placed"]) for turn in again["turns"]) == int(told[3])
    (slats,) = (section for section in again["sections"] if section["fewest"])
    assert (slats["stops"], slats["apart"]) == (int(told[1]), 0)


@pytest.mark.parametrize("command", [("build", "--only", "plan"), ("check", "--all")])
def test_the_table_ends_with_the_plan(
    lacunar: Lacunar, said: Callable[..., Done], askew: Path, command: tuple[str, ...]
) -> None:
    done = lacunar(command[0], askew, *command[1:])
    assert TITLE in done.out
    lines = done.out.partition(TITLE)[2].splitlines()[1:]
    rows = [line.split("  ") for line in lines if line.startswith("  stops = ")]
    choices = json.loads(said("check", "--json").out)["plan"]["by_stops"]
    assert [row[1] for row in rows] == [f"stops = {one['most']}" for one in choices]
    assert [row[-1] for row in rows[:-1]] == [f"at most USD {one['cost']:,.2f}" for one in choices[:-1]]
    assert rows[-1][-1] == f"USD {choices[-1]['cost']:,.2f}, as planned, proved cheapest"
    if command[0] == "build":
        report = json.loads((askew.parent / "askew" / "report.json").read_text(encoding="utf-8"))
        assert report["plan"]["by_stops"] == choices


def test_second_thoughts_have_it_too(said: Callable[..., Done]) -> None:
    assert TITLE in said("compare", "--what-if").out
    variants = json.loads(said("compare", "--what-if", "--json").out)["what_if"]
    assert variants[0]["by_stops"] == json.loads(said("check", "--json").out)["plan"]["by_stops"]
    assert not any(one["by_stops"] for one in variants[1:] if "error" not in one)


def test_nothing_is_said_where_few_stops_are_as_cheap(lacunar: Lacunar, configs: Path) -> None:
    out = lacunar("check", configs / "4-inch.toml", "--all").out
    assert "fewer stops" not in out
    assert "shop.stops" not in out


def test_too_few_stops_are_told_with_the_number_that_will_do(lacunar: Lacunar, askew: Path) -> None:
    change(askew, "[shop]", "[shop]\nstops = 3")
    told = re.search(
        r"(\d+) pieces of 1x4 are cut to measure: shop.stops = (\d+) serves every one that a mark can serve",
        " ".join(lacunar("check", askew).out.split()),
    )
    assert told is not None
    assert int(told[1]) > 0
    change(askew, "stops = 3\n", f"stops = {told[2]}\n")
    assert "cut to measure" not in lacunar("check", askew, "--all").out
