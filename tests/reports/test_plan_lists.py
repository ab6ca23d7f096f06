"""settings.csv, buy-list.csv and the lines for the terminal: what the saw and the lumber yard are told."""

import csv
import io
from dataclasses import replace
from typing import Any

import pytest

from drawings import sawing
from lacunar.plan import Plan
from lacunar.reports import (
    buy_rows,
    buy_text,
    plan_lines,
    setting_rows,
    settings_text,
)
from lacunar.units import read_length
from reports.reporting import config, parts, plan, report


def _settings() -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(settings_text(parts(), plan(), config()))))


def _buy(of: Plan) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(buy_text(of, sawing.config()))))


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
    assert taper["notes"] == "sled; rip before the last crosscut; sawn edge towards the beam or wall"
    assert (taper["value"], taper["end"]) == ('2 3/4"', '2 3/8"')
    for row in rows:
        is_trim = row["kind"] == "stop" and "-T" in row["parts"]
        assert row["notes"].startswith("expected, long point to long point") == is_trim
    mitre = next(row for row in rows if row["kind"] == "mitre" and "C1-T1" in row["parts"])
    assert (mitre["value_mm"], mitre["value"]) == ("", "45 deg")


def test_a_stop_that_no_mark_serves_is_cut_to_measure() -> None:
    rows = {row[0]: row for row in setting_rows(sawing.parts(), sawing.plan(), sawing.config())}
    apart = [row[0] for row in rows.values() if row[10] == "yes"]
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
    rows = buy_rows(plan(), config())
    assert sum(int(row[4]) for row in rows if row[0] != "total") == len(plan().boards)


def _with(**section: object) -> dict[str, Any]:
    rows = report()
    return {**rows, "plan": {**rows["plan"], "sections": [{**rows["plan"]["sections"][0], **section}]}}


@pytest.mark.parametrize(
    ("section", "line"),
    [
        ({"proven": True, "gap": 0.0, "cost": 10.0}, "proved cheapest"),
        ({"proven": True, "gap": 0.0, "cost": None}, "proved shortest"),
        # Rounded up, never down.
        ({"proven": False, "gap": 0.00301, "cost": 10.0}, "at most 0.4 % over the cheapest there can be"),
        ({"proven": False, "gap": 0.002, "cost": None}, "at most 0.2 % over the shortest there can be"),
        ({"proven": False, "gap": None, "cost": 10.0}, "no bound"),
        ({"stops": 3, "fewest": 3}, "3 stops (no plan needs fewer)"),
        ({"stops": 3, "fewest": 2}, "3 stops (no plan needs fewer than 2)"),
        ({"placements": 5, "least_placements": 4}, "set 5 times (at least 4)"),
        ({"placements": 2, "least_placements": 2}, "set twice"),
        ({"by_clock": True}, "the search was ended by the clock"),
    ],
)
def test_what_is_proved_is_said(section: dict[str, object], line: str) -> None:
    last = plan_lines(_with(**section))[-1]
    assert line in last


def test_a_line_for_each_purchase_and_each_stock() -> None:
    rows = report()["plan"]
    assert len(plan_lines(report())) == len(rows["buy"]) + len(rows["sections"])
    metric = plan_lines({**report(), "units": "mm"})
    assert all(" mm " in line for line in metric[: len(rows["buy"])])
