"""settings.csv, buy-list.csv and the lines for the terminal: what the saw and the lumber yard are told."""

from dataclasses import asdict, astuple, replace
from typing import Any

import pytest

from drawings import sawing
from lacunar.config import read_config_text
from lacunar.cost import Cost, make_cost
from lacunar.plan import Plan
from lacunar.reports import (
    buy_lines,
    buy_rows,
    make_report,
    proof_lines,
    report_schema,
    setting_rows,
)
from lacunar.units import read_length
from reports.json_shape import faults
from reports.reporting import FINDINGS, TEXT, TRUST, analysis, calendar, config, cost, layout, parts, plan, room, told


def _settings() -> list[dict[str, str]]:
    return [asdict(row) for row in setting_rows(parts(), plan(), config())]


def _buy(of: Plan) -> list[dict[str, str]]:
    return [asdict(row) for row in buy_rows(of, cost(), sawing.config().tape)]


def test_every_setting_once_with_its_parts() -> None:
    rows = {row["id"]: row for row in _settings()}
    assert set(rows) == {setting.id for setting in plan().settings}
    for setting in plan().settings:
        row = rows[setting.id]
        assert int(row["pieces"]) == len(setting.parts)
        assert set(row["parts"].split()) == set(setting.parts)
        assert row["cut_to_measure"] == ("yes" if setting.apart else "no")
        value = setting.stop if setting.fence is None else setting.fence
        if value is not None:
            assert float(row["value_mm"]) == pytest.approx(value, abs=0.005 + 1e-6)
            # On no finer mark than 1/64 in.
            assert read_length(row["value"]) == pytest.approx(value, abs=25.4 / 128.0)


def test_rips_are_set_before_the_last_crosscuts_and_mitres_last() -> None:
    rows = _settings()
    for sort in dict.fromkeys((row["stock"], row["species"]) for row in rows):
        kinds = [row["kind"] for row in rows if (row["stock"], row["species"]) == sort]
        assert kinds == sorted(kinds, key=["fence", "taper", "stop", "mitre"].index)
    sorts = [(row["stock"], row["species"]) for row in rows]
    pulled = list(dict.fromkeys((board.stock, board.species) for board in plan().boards))
    assert list(dict.fromkeys(sorts)) == pulled


def test_notes_tell_what_to_mind() -> None:
    rows = _settings()
    taper = next(row for row in rows if row["kind"] == "taper")
    assert taper["parts"] == "C9-S99"
    assert taper["notes"] == (
        "sled; rip before the last crosscut; sawn edge towards the beam or wall; C9-S99 is wider at the end at E2"
    )
    assert (taper["value"], taper["end"]) == ("2 3/4 in", "2 3/8 in")
    for row in rows:
        is_trim = row["kind"] == "stop" and "-T" in row["parts"]
        assert (row["notes"] == "long point to long point") == is_trim
    mitre = next(row for row in rows if row["kind"] == "mitre" and "C1-T1" in row["parts"])
    assert (mitre["value_mm"], mitre["value"]) == ("", "45 deg")
    assert mitre["notes"] == "the face against beam or wall is the longer"
    odd = [row for row in rows if row["kind"] == "mitre" and row["parts"] == "C9-S99"]
    assert {(row["value"], row["notes"]) for row in odd} == {
        ("30 deg", "C9-S99 at E1: X1-1 face longer"),
        ("20 deg", "C9-S99 at E2: X1-1 face longer"),
    }


def test_a_setting_waits_for_the_measure_of_what_it_sets() -> None:
    by_id = {row["id"]: row for row in _settings()}
    kinds = {(row["kind"], row["waits_for"]) for row in by_id.values()}
    lengths = {("stop", what) for what in ("openings", "coffers", "sides")}
    assert kinds >= lengths
    mitres = {("mitre", what) for what in ("openings", "coffers", "sides")}
    assert kinds - lengths == {("fence", "last holes"), ("taper", "last holes"), *mitres}
    stop = next(row for row in by_id.values() if row["kind"] == "stop" and "C1-T1" in row["parts"].split())
    first, *others = stop["parts"].split()
    measured = read_config_text(TEXT + f'[field.{first}]\nlength = "3 ft"\n', "study.toml")
    rows = {row.id: row for row in setting_rows(parts(), plan(), measured)}
    assert rows[stop["id"]].waits_for == (f"sides: {' '.join(others)}" if others else "")


def test_a_stop_that_no_mark_serves_is_cut_to_measure() -> None:
    rows = setting_rows(sawing.parts(), sawing.plan(), sawing.config())
    apart = [row.id for row in rows if row.cut_to_measure == "yes"]
    assert apart == [setting.id for setting in sawing.plan().settings if setting.apart]


def test_what_to_buy_and_what_is_there() -> None:
    bought, there, total = _buy(sawing.plan())
    assert (bought["count"], bought["spare"], bought["to_buy"]) == ("5", "1", "6")
    assert (bought["price"], bought["total"], bought["length"]) == ("10.00", "60.00", "8' 0\"")
    assert (there["notes"], there["count"], there["to_buy"], there["total"]) == ("on hand", "1", "0", "0.00")
    assert float(there["length_mm"]) == 4 * 304.8
    assert (total["stock"], total["to_buy"], total["total"]) == ("total", "6", "60.00")


def test_no_total_where_a_price_is_missing() -> None:
    line = replace(sawing.plan().buy[0], price=None, total=None)
    rows = _buy(replace(sawing.plan(), buy=(sawing.plan().buy[0], line)))
    assert [row["stock"] for row in rows] == ["1x4", "1x4", "1x4"]
    assert rows[1]["price"] == rows[1]["total"] == ""
    assert rows[1]["notes"] == "no price given"


def test_the_list_holds_the_whole_purchase() -> None:
    rows = buy_rows(plan(), cost(), config().tape)
    assert sum(int(row.count) for row in rows if row.stock != "total") == len(plan().boards)


@pytest.mark.parametrize(
    ("section", "line"),
    [
        ({"proven": True, "gap": 0.0, "cost": 10.0}, "proved cheapest"),
        ({"proven": True, "gap": 0.0, "cost": None}, "proved shortest"),
        # Rounded up, never down.
        ({"proven": False, "gap": 0.00301, "cost": 10.0}, "at most 0.4 % over the cheapest there can be"),
        ({"proven": False, "gap": 0.002, "cost": None}, "at most 0.2 % over the shortest there can be"),
        ({"proven": False, "gap": None, "cost": 10.0}, "no bound"),
        ({"stops": 1, "fewest": 1, "witness": ["a"]}, "1 stop (no plan needs fewer)"),
        ({"stops": 2, "fewest": 2, "witness": ["a", "b"]}, "2 stops (no plan needs fewer: a and b share no mark)"),
        ({"stops": 5, "fewest": 4, "witness": [*"abcd"]}, "(no plan needs fewer than 4: a, b, c and d share no mark)"),
        ({"stops": 6, "fewest": 6, "witness": [*"abcdef"]}, "fewer: a, b, c, d and 2 more share no mark)"),
        ({"stops": 6, "fewest": 0, "witness": []}, "6 stops, set"),
        ({"placements": 5, "least_placements": 4}, "set 5 times (at least 4)"),
        ({"placements": 2, "least_placements": 2}, "set twice"),
        (
            {"stops": 5, "apart": 0, "placements": 85, "least_placements": 85, "pulls": 98, "pulls_by_stop": 196},
            "set 85 times; stop by stop only 5 times, boards picked up 196 times instead of 98",
        ),
        ({"by_clock": True}, "the search was ended by the clock"),
    ],
)
def test_what_is_proved_is_said(section: dict[str, Any], line: str) -> None:
    first = replace(plan().sections[0], **section)
    (told,) = proof_lines(replace(plan(), sections=(first,)))
    assert line in told


def test_a_line_for_each_purchase_and_each_stock() -> None:
    assert len(buy_lines(plan(), cost(), "in")) == len(plan().buy)
    assert len(proof_lines(plan())) == len(plan().sections)
    metric = buy_lines(plan(), cost(), "mm")
    assert all(" mm " in line for line in metric[: len(plan().buy)])


def _sheets(*rows: str) -> Cost:
    """The cost of the ceiling with sheets."""
    with_sheets = read_config_text(TEXT + "".join(f"[[shop.sheet]]\n{row}\n" for row in rows), "study.toml")
    return make_cost(with_sheets, room(), layout(), parts(), plan())


PLY = 'name = "ply"\ncount = 3\nprice = 11.40'
FLOOR = 'name = "hardboard"\ncovers = "floor"\non_hand = 1\nwidth = "5 ft"\nspare = 0.1'
THERE = 'name = "there"\ncount = 2\non_hand = 4'


def test_sheets_stand_in_the_shopping_list() -> None:
    rows = buy_rows(sawing.plan(), _sheets(PLY, THERE), sawing.config().tape)
    bought, ply, wood_there, sheets_there, total = rows
    assert (bought.stock, wood_there.notes) == ("1x4", "on hand")
    assert astuple(ply) == ("ply", "", "2438.40", "8' 0\"", "3", "0", "3", "11.40", "34.20", "4' 0\" wide")
    assert astuple(sheets_there) == (
        "there", "", "2438.40", "8' 0\"", "2", "0", "0", "0.00", "0.00", "on hand; 4' 0\" wide"
    )  # fmt: skip
    assert (total.count, total.to_buy, total.total) == ("8", "9", "94.20")


def test_no_total_where_sheets_have_no_price() -> None:
    *_, sheets, _, on_hand = buy_rows(sawing.plan(), _sheets(FLOOR), sawing.config().tape)
    assert astuple(sheets)[4:] == ("3", "0", "3", "", "", "5' 0\" wide, on the floor, by area; no price given")
    assert on_hand.notes == "on hand; 5' 0\" wide, on the floor, by area"


def test_sheets_stand_in_the_terminal_after_the_boards() -> None:
    cost_of = _sheets(PLY, FLOOR, THERE)
    boards = len(plan().buy)
    lines = buy_lines(plan(), cost_of, "in")
    assert [line.split() for line in lines[boards : boards + 2]] == [
        ["ply", "8", "ft", "x", "4", "ft", "3", "USD", "34.20"],
        ["hardboard", "8", "ft", "x", "5", "ft", "3"],
    ]
    assert lines[boards + 2] == "3 of the sheets are on hand"
    assert len(lines) == boards + 3
    assert "1 of the sheets is on hand" in buy_lines(plan(), _sheets(FLOOR), "in")


def test_sheets_in_the_report_fit_its_schema_and_their_money_adds_up() -> None:
    made = make_report(
        config(), room(), layout(), parts(), plan(), _sheets(PLY, FLOOR, THERE), analysis(), calendar(), FINDINGS, TRUST
    )
    assert faults(told(made), report_schema(), report_schema()) == []
    ply, floor, there = made.plan.sheets
    assert (ply.length, ply.width, ply.count, ply.mass_kg) == (2438.4, pytest.approx(1219.2), 3, None)
    assert (floor.on_hand, floor.unit, there.count, there.on_hand) == (1, "m2", 0, 2)
    money = made.plan.money
    assert money.sheets == pytest.approx(34.20)
    assert money.goods == pytest.approx(money.boards + money.sheets + money.fasteners + money.finish)
    assert [sheet.name for sheet in money.load.sheets] == ["ply", "hardboard"]
    assert "hardboard" in money.lacking
