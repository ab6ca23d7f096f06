"""cut-list.csv: every bought part once, in the order of the saw."""

import csv
from dataclasses import asdict
from pathlib import Path

from lacunar.config import Config, read_config_text
from lacunar.job import write_job
from lacunar.plan import plan_code
from lacunar.reports import cut_list_rows
from lacunar.units import read_length
from reports.reporting import TEXT, config, job, parts, plan


def _rows(of: Config | None = None) -> list[dict[str, str]]:
    return [asdict(row) for row in cut_list_rows(parts(), plan(), of or config())]


def _row(name: str) -> dict[str, str]:
    return next(row for row in _rows() if row["id"] == name)


def test_every_bought_part_once() -> None:
    assert sorted(row["id"] for row in _rows()) == sorted(part.id for part in parts() if part.bought)
    assert any(not part.bought for part in parts())


def test_the_order_is_that_of_the_stops_stock_by_stock() -> None:
    rows = _rows()
    stocks = [row["stock"] for row in rows]
    assert [s for i, s in enumerate(stocks) if i == 0 or stocks[i - 1] != s] == sorted(set(stocks))
    for stock in set(stocks):
        stops = [row["setting"].split()[0] for row in rows if row["stock"] == stock]
        assert stops == sorted(stops, key=lambda name: int(name.removeprefix("stop-")))
    assert len({row["setting"].split()[0] for row in rows}) > 10


def test_ids_of_one_setting_are_in_natural_order() -> None:
    by_setting: dict[str, list[str]] = {}
    for row in _rows():
        if row["kind"] == "slat":
            by_setting.setdefault(row["setting"].split()[0], []).append(row["id"])
    longest = max(by_setting.values(), key=len)
    assert len(longest) > 5
    assert longest == sorted(longest, key=lambda name: [int(n) for n in name[1:].split("-S")])


def test_lengths_read_back_as_the_stop() -> None:
    stops = {s.id: s.stop for s in plan().settings if s.stop is not None}
    for row in _rows():
        stop = stops[row["setting"].split()[0]]
        assert stop is not None
        assert abs(read_length(row["length"]) - stop) < 1e-9
        assert abs(float(row["length_mm"]) - stop) <= 25.4 / 32.0 + 0.01


def test_an_odd_part_is_told_in_full() -> None:
    row = _row("C9-S99")
    assert row["width"] == "2 3/8 in at E1"
    assert row["width_end"] == "2 3/4 in at E2"
    # The axis runs from E1 to E2 with AB on its left: seen from E2 the left side at E1 is X1-1's.
    assert row["ends"] == (
        "30 deg at E1, X1-1 face longer by 1 19/32 in; 20 deg at E2, X1-1 face longer by 1 in, bevel 1.25 deg"
    )
    assert row["ripped"] == "yes"
    assert row["sawn_edge"] == "to AB and X1-1"
    assert row["notes"] == "tapered; notch for light 13/16 in deep, 4 to 8 in from the end at E1, to the X1-1 side"
    kinds = [name.partition("-")[0] for name in row["setting"].split()]
    assert list(dict.fromkeys(kinds)) == ["stop", "fence", "mitre"]


def test_a_part_without_a_board_says_so_first() -> None:
    row = _row("C9-S100")
    assert row["board"] == ""
    assert row["notes"].startswith("NO BOARD: 29 ft 6 5/16 in long; the longest 1x4, 16 ft 0 in, gives")


def test_pieces_and_trim() -> None:
    piece = _row("X1-1")
    assert piece["stock"] == "4x6"
    assert piece["notes"] == "6 pockets, 4 of them high"
    trim = _row("C1-T1")
    assert trim["ends"] == "45 deg at DA and E1, AB face longer by 3/4 in at each"
    assert trim["notes"] == "long point to long point"


def test_what_must_not_be_cut_yet_names_its_measure() -> None:
    waits = {row["id"]: row["waits_for"] for row in _rows()}
    assert (waits["X1-1"], waits["C1-S02"], waits["C1-T1"]) == ("openings", "coffers", "sides")
    rip = next(part.id for part in parts() if part.ripped and part.coffer == "C1")
    assert waits[rip] == "coffers, last holes"
    measured = read_config_text(TEXT + '[field.C1-T1]\nlength = "3 ft"\n', "study.toml")
    waits = {row["id"]: row["waits_for"] for row in _rows(measured)}
    assert (waits["C1-T1"], waits["C1-T2"]) == ("", "sides")


def test_slots_say_where_a_piece_waits() -> None:
    slots = {row["id"]: row["slot"] for row in _rows()}
    assert all(slots[name] == str(slot) for name, slot in plan().slots.items())
    assert slots["C1-S01"] == slots["C1-S02"] != slots["C2-S01"]


def test_rows_are_what_is_written(tmp_path: Path) -> None:
    write_job(job(), tmp_path / "out", ("plan",))
    with (tmp_path / "out" / "cut-list.csv").open(encoding="utf-8-sig", newline="") as file:
        code = plan_code(job().parts, job().plan)
        assert list(csv.DictReader(file)) == [{**row, "plan": code} for row in _rows()]
