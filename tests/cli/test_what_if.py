"""What second thoughts cost: each the same as the config written that way and planned by itself."""

import json
from pathlib import Path

import pytest

from checks.sample import SQUARE, edited
from commands import Lacunar
from lacunar.config import read_config, write_field
from lacunar.errors import LacunarError
from lacunar.job import WhatIf, run_job, what_if

SHOP = """
[shop]
kerf = 3
end_waste = 6
tax = 0.1
[[shop.board]]
stock = "20x90"
length = 4000
price = 8
[[shop.board]]
stock = "20x90"
length = 3000
price = 6.5
[[shop.board]]
stock = "100x140"
length = 4000
price = 45
[[shop.board]]
stock = "20x20"
length = 4000
price = 5
on_hand = 1
[[shop.board]]
stock = "24x48"
length = 3000
price = 3
[[shop.pack]]
name = "furring screw"
price = 11
[finish]"""


@pytest.fixture
def square(tmp_path: Path) -> Path:
    """Four coffers of 1950 by 1450 mm, with prices for boards and for nothing else."""
    path = tmp_path / "square.toml"
    path.write_text(edited(SQUARE, ("[finish]", SHOP)), encoding="utf-8")
    return path


def by_label(found: tuple[WhatIf, ...]) -> dict[str, WhatIf]:
    return {one.label: one for one in found}


def test_each_is_the_config_written_that_way(square: Path) -> None:
    found = what_if(read_config(square))
    assert [one.label for one in found] == [
        "as it is",
        "trim 25 mm wider (45 mm)",
        "one more row of cross beams (2)",
        "one row less (0)",
        "slats with the beams",
        "slats alternating",
    ]
    written = {
        "as it is": (),
        "one more row of cross beams (2)": (("rows = 1", "rows = 2"),),
        "one row less (0)": (("rows = 1", "rows = 0"),),
        "slats with the beams": (('run = "across"', 'run = "with"'),),
        "slats alternating": (('run = "across"', 'run = "alternate"'),),
    }
    base = run_job(read_config(square))
    assert base.plan.cost is not None
    other = square.with_name("other.toml")
    for label, changes in written.items():
        text = edited(square.read_text(encoding="utf-8"), *changes)
        other.write_text(text, encoding="utf-8")
        job, one = run_job(read_config(other)), by_label(found)[label]
        assert job.plan.cost is not None
        assert (one.cost, one.board_cost, one.board_length) == (job.cost.total, job.plan.cost, job.plan.board_length)
        assert one.more_cost == job.cost.total - base.cost.total
        assert one.more_board_cost == job.plan.cost - base.plan.cost
        assert one.more_board_length == job.plan.board_length - base.plan.board_length
        slats = [part for part in job.parts if part.kind == "slat"]
        assert (one.slats, one.ripped) == (len(slats), sum(part.ripped for part in slats))
        assert one.worst in {finding.level for finding in job.findings}
        assert one.lacking == job.cost.lacking
        assert not one.cost_complete, "nails have no price"


def test_wider_trim_is_another_stock_without_a_price(square: Path) -> None:
    wider = what_if(read_config(square))[1]
    text = edited(square.read_text(encoding="utf-8"), ("width = 20\n", "width = 45\n"), ('"20x20"', '"20x45"'))
    other = square.with_name("other.toml")
    other.write_text(text.replace("length = 4000\nprice = 5\non_hand = 1", "length = 4000"), encoding="utf-8")
    job = run_job(read_config(other))
    assert (wider.cost, wider.board_cost, wider.board_length) == (job.cost.total, None, job.plan.board_length)
    assert wider.more_cost is None, "what lacks a price is not cheaper for it"
    assert "boards of 20x45" in wider.lacking


def test_trim_that_a_price_list_does_not_have(square: Path) -> None:
    """Rows of a spreadsheet are what they are: no board gives wider trim, and nothing is saved by that."""
    rows = "stock,length,price\n20x90,4000,8\n100x140,4000,45\n20x20,4000,5\n"
    square.with_name("prices.csv").write_text(rows, encoding="utf-8")
    square.write_text(edited(SQUARE, ("[finish]", '[shop]\nboards = "prices.csv"\n[finish]')), encoding="utf-8")
    wider = what_if(read_config(square))[1]
    assert wider.worst == "fail"
    assert (wider.more_cost, wider.more_board_cost, wider.more_board_length) == (None, None, None)
    assert any("no board gives" in one for one in wider.lacking)


def test_what_cannot_be_is_said(square: Path) -> None:
    # 16 rows leave 82 mm between: room for two strips of 20 mm, none for two of 45
    close = edited(square.read_text(encoding="utf-8"), ("rows = 1", "rows = 16"))
    square.write_text(close, encoding="utf-8")
    more = what_if(read_config(square))[1]
    with pytest.raises(LacunarError) as caught:
        run_job(read_config(square, more.overrides))
    assert more.error == "; ".join(str(problem) for problem in caught.value.problems)
    assert (more.cost, more.more_cost, more.slats) == (None, None, 0)


def test_without_cross_beams_there_may_be_a_row(configs: Path) -> None:
    found = what_if(read_config(configs / "2-one-coffer.toml"))
    assert "one row of cross beams" in by_label(found) or "one more row of cross beams (1)" in by_label(found)
    assert not any("less" in one.label for one in found)
    assert {one.cost for one in found} == {None}
    assert found[1].more_board_length == found[1].board_length - found[0].board_length


def test_measures_of_the_field_are_left_out(square: Path) -> None:
    plain = what_if(read_config(square))[0]
    job = run_job(read_config(square))
    slat = next(part for part in job.parts if part.kind == "slat")
    write_field(square, {slat.id: {"length": slat.length - 900.0}})
    measured = what_if(read_config(square))[0]
    assert measured.overrides == (("field", "{}"),)
    assert (measured.cost, measured.board_length) == (plain.cost, plain.board_length)


def test_the_table(lacunar: Lacunar, square: Path) -> None:
    done = lacunar("compare", square, "--what-if")
    lines = done.out.splitlines()
    found = what_if(read_config(square))
    assert done.status == (1 if found[0].worst == "fail" else 0)
    assert [line.split("  ")[0] for line in lines[1:7]] == [one.label for one in found]
    assert lines[0].split() == ["cost", "boards", "length", "slats", "rips", "worst"]
    row = by_label(found)["one row less (0)"]
    assert row.more_cost is not None
    assert lines[4].split()[-7] == f"{row.more_cost:+,.0f}"
    assert "? because the cost lacks boards of 20x45" in " ".join(done.out.split())
    assert max(len(line) for line in lines) <= 80
    assert sorted(path.name for path in square.parent.iterdir()) == ["square.toml"]


def test_json_says_the_same(lacunar: Lacunar, square: Path) -> None:
    report = json.loads(lacunar("compare", square, "--what-if", "--json").out)
    found = what_if(read_config(square))
    assert [one["label"] for one in report["what_if"]] == [one.label for one in found]
    assert [one["more_cost"] for one in report["what_if"]] == [one.more_cost for one in found]
    assert report["what_if"][2]["set"] == {"cross_beams.rows": "2"}
    assert report["currency"] == "USD"


@pytest.mark.parametrize(
    "more", [("--run", "with"), ("--set", "slats.gap=6"), ("--field",), ("-o", "x.png")], ids=" ".join
)
def test_it_goes_with_nothing_else(lacunar: Lacunar, square: Path, more: tuple[str, ...]) -> None:
    done = lacunar("compare", square, "--what-if", *more)
    assert (done.status, done.out) == (2, "")
    assert "--what-if: got" in done.err
