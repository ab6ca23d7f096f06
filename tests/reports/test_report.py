"""report.json: its shape, its numbers, its files."""

import hashlib
import itertools
import json
import math
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from checks.sample import SQUARE, ceiling, edited
from lacunar.analysis import analyse
from lacunar.cost import Mover
from lacunar.errors import ReportError
from lacunar.job import summary_lines
from lacunar.materials import find_species
from lacunar.parts import make_parts
from lacunar.reports import (
    FileRow,
    PartRow,
    list_files,
    make_report,
    read_report,
    report_schema,
    report_text,
    write_report,
)
from reports.json_shape import faults
from reports.reporting import (
    FINDINGS,
    LONG,
    TRUST,
    calendar,
    config,
    cost,
    job,
    layout,
    parts,
    plan,
    report,
    room,
    told,
)

HEAD = ["lacunar", "title", "units", "good_for", "missing", "sheets", "assumed"]
TOP = [*HEAD, "survey", "coffers", "parts", "checks", "analysis", "plan", "alternatives", "done", "change", "files"]
METRIC = config().model_copy(update={"units": "mm"})


def _faults(value: Any) -> list[str]:
    schema = report_schema()
    return faults(value, schema, schema)


def _part(name: str) -> PartRow:
    return next(row for row in report().parts if row.id == name)


def test_shape() -> None:
    assert list(told()) == TOP
    assert _faults(told()) == []


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("good_for",), "sell"),
        (("units",), "cm"),
        (("survey", "dof"), -1),
        (("survey", "corners", "A"), [1.0]),
        (("parts", 0, "kind"), "plank"),
        (("parts", 0, "ends"), []),
        (("parts", 0, "volume"), "12"),
        (("parts", 0, "colour"), "brown"),
        (("checks", 0, "level"), "bad"),
        (("plan", "waste"), 1.5),
        (("plan", "boards", 0, "cuts"), None),
        (("plan", "cost"), "dear"),
        (("plan", "boards", 0, "turn"), 1.5),
        (("plan", "boards", 0, "cuts", 0, "slants"), [45.0]),
        (("plan", "settings", 0, "apart"), "no"),
        (("plan", "turns", 0, "boards"), "B1"),
        (("plan", "sections", 0, "stops"), None),
        (("plan", "slots"), {"C1-S01": "1"}),
        (("plan", "money", "total"), None),
        (("plan", "money", "load", "loads"), 1.5),
        (("plan", "fasteners", 0, "unit"), "kg"),
        (("files",), [{"path": "a", "bytes": 1, "sha256": "xyz"}]),
    ],
)
def test_schema_and_reader_refuse_what_is_wrong(path: tuple[str | int, ...], value: Any, tmp_path: Path) -> None:
    broken: Any = told()
    place = broken
    for step in path[:-1]:
        place = place[step]
    place[path[-1]] = value
    assert _faults(broken) != []
    (tmp_path / "report.json").write_text(json.dumps(broken), encoding="utf-8")
    with pytest.raises(ReportError, match=r"report\.json: is no report of this version: .*; build it again") as caught:
        read_report(tmp_path / "report.json")
    assert len(caught.value.problems) == 1


@pytest.mark.parametrize("text", ["", "[1]", '{"lacunar": "0.1.0"}', "\x00"])
def test_what_is_no_report_is_refused_in_one_message(tmp_path: Path, text: str) -> None:
    (tmp_path / "report.json").write_text(text, encoding="utf-8")
    with pytest.raises(ReportError, match=r"report\.json: is no report of this version"):
        read_report(tmp_path / "report.json")
    with pytest.raises(ReportError, match=r"absent\.json: cannot be read: No such file"):
        read_report(tmp_path / "absent.json")


def test_what_is_read_back_is_what_was_written(tmp_path: Path) -> None:
    made = replace(report(), files=(FileRow(path="cut-list.csv", bytes=7, sha256="0" * 64),))
    write_report(made, tmp_path / "report.json")
    read = read_report(tmp_path / "report.json")
    assert report_text(read) == report_text(made)
    assert (read.survey.measured, read.checks, read.files) == (made.survey.measured, made.checks, made.files)
    assert (read.plan.settings, read.plan.boards, read.plan.buy) == (plan().settings, plan().boards, plan().buy)
    assert (read.parts[0], read.coffers[0].running) == (made.parts[0], made.coffers[0].running)


def test_the_schema_says_what_the_types_say() -> None:
    rows = report_schema()["$defs"]
    assert rows["Cut"]["properties"]["from"]["description"].startswith("along the board, from its left end")
    assert rows["FinishItem"]["properties"]["need"]["description"].startswith("what the work takes: boards to be cut")
    assert "cure" not in rows["Unserved"]["properties"]
    assert "Proof" not in rows


@pytest.mark.parametrize("key", TOP)
def test_the_schema_wants_every_key(key: str) -> None:
    broken = told()
    del broken[key]
    assert _faults(broken) == [f"$: no {key}"]


def test_text_is_the_same_each_time_and_exact() -> None:
    text = report_text(report())
    assert text == report_text(report())
    assert "Bücherei" in text
    # One line a part: a change shows which part moved.
    lines = [line for line in text.splitlines() if line.lstrip().startswith('{"id": "C1-S01"')]
    assert len(lines) == 1


def test_what_is_no_number_is_refused() -> None:
    broken = replace(report(), plan=replace(report().plan, waste=math.nan))
    with pytest.raises(ValueError, match="not JSON compliant"):
        report_text(broken)


def test_survey_rows() -> None:
    survey = report().survey
    assert survey.corners["A"] == room().points[0]
    assert list(survey.heights) == ["A", "B", "C", "D", "centre"]
    assert [row.between for row in survey.measured] == ["AB", "BC", "CD", "DA"]


def test_coffer_rows() -> None:
    rows = report().coffers
    assert [row.id for row in rows] == [f"C{n}" for n in range(1, 10)]
    for row, coffer in zip(rows, layout().coffers, strict=True):
        corners = row.outline
        ring = [*corners, corners[0]]
        shoelace = sum(xa * yb - xb * ya for (xa, ya), (xb, yb) in itertools.pairwise(ring)) / 2.0
        assert row.area == pytest.approx(shoelace / 1e6)
        around = sum(math.dist(p, q) for p, q in itertools.pairwise(ring))
        assert sum(row.sides) == pytest.approx(around)
        assert row.slats == coffer.n_full + len(coffer.rips)
        assert row.ripped == len(coffer.rips)
        assert row.plane == (coffer.ceiling.z0, coffer.ceiling.sx, coffer.ceiling.sy)
        assert (row.above.mean, row.above.largest, row.above.shim) == (0.0, 0.0, 0.0)
        assert all(step.lower == 0.0 for step in row.steps)
    # The middle one of nine has a neighbour across each of its sides.
    assert sorted(step.coffer for step in rows[4].steps) == ["C2", "C4", "C6", "C8"]


def test_part_rows() -> None:
    rows = {row.id: row for row in report().parts}
    assert list(rows) == [part.id for part in parts()]
    first = rows["C1-S01"]
    assert first.setting in {s.id for s in plan().settings if s.stop is not None and "C1-S01" in s.parts}
    assert first.board in {b.id for b in plan().boards if any(cut.part == "C1-S01" for cut in b.cuts)}
    assert first.rings is None
    assert first.z[1] - first.z[0] == pytest.approx(first.thickness)
    beam = rows["E1"]
    assert beam.setting is None
    assert beam.board is None
    # A block of wood: its mass is its volume times the density at 12 % moisture.
    pine = find_species("eastern white pine")
    assert pine is not None
    odd = rows["C9-S99"]
    assert odd.volume == pytest.approx(LONG * 80.0 * 20.0)
    assert odd.mass == pytest.approx(LONG * 80.0 * 20.0 * 1e-9 * pine.density)


def test_rows_of_furring_and_of_slats_on_it() -> None:
    subject = ceiling(edited(SQUARE, ("[finish]", "[furring]\nuse = true\n[finish]")))
    made = make_report(
        subject.config,
        subject.room,
        subject.layout,
        subject.parts,
        subject.plan,
        cost(),
        analyse(subject),
        calendar(),
        FINDINGS,
        TRUST,
    )
    rows = {row.id: row for row in made.parts}
    strip, slat = rows["C1-F1"], rows["C1-S01"]
    # Joists at 200, 600, 1000, ... from DA: the first strip lies under the first of them.
    told = (strip.kind, strip.coffer, strip.stock, strip.joists, strip.furring)
    assert told == ("furring", "C1", "24x48", (1,), ())
    assert strip.z == pytest.approx((2500.0 - 24.0, 2500.0))
    assert strip.interval is not None
    assert strip.interval[0] < strip.length < strip.interval[1]
    assert strip.nails
    assert (slat.joists, slat.furring) == ((), tuple(f"C1-F{n}" for n in range(1, 6)))
    assert slat.z[1] == pytest.approx(2500.0 - 24.0)


def test_a_sloping_part_has_its_rings() -> None:
    row = _part("C9-S99")
    assert row.rings is not None
    bottom, top = row.rings
    assert bottom[1] == pytest.approx((LONG, -40.0, 2680.0 + LONG / 1000.0))
    assert top[1] == pytest.approx((LONG, -40.0, 2700.0 + LONG / 1000.0))
    assert row.z == pytest.approx((2680.0, 2700.0 + LONG / 1000.0))


def test_what_has_no_board_is_there_and_says_why() -> None:
    assert _part("C9-S100").board is None
    rows = report().plan.unserved
    assert [row.part for row in rows] == ["C9-S100"]
    assert "once both ends are squared" in rows[0].reason


def test_settings_and_cuts() -> None:
    rows = told()["plan"]
    kinds = [{key for key in ("stop", "fence", "mitre") if s[key] is not None} for s in rows["settings"]]
    assert all(len(kind) == 1 for kind in kinds)
    assert set().union(*kinds) == {"stop", "fence", "mitre"}
    cut = rows["boards"][0]["cuts"][0]
    assert list(cut) == ["part", "from", "to", "across", "across_end", "blank", "turned", "slants"]
    stops = {part: s["stop"] for s in rows["settings"] if s["stop"] is not None for part in s["parts"]}
    lengths = {c["part"]: c["to"] - c["from"] for board in rows["boards"] for c in board["cuts"]}
    # A thousandth of a millimetre: lengths lie on whole ticks of 1/64 in, or are exact.
    assert all(abs(length - stops[part]) <= 25.4 / 64.0 + 1e-3 for part, length in lengths.items())


def test_turns_sections_and_slots_are_the_plans() -> None:
    rows = told()["plan"]
    assert [name for turn in rows["turns"] for name in turn["boards"]] == [board["id"] for board in rows["boards"]]
    by_turn = {name: turn["number"] for turn in rows["turns"] for name in turn["boards"]}
    assert all(by_turn[board["id"]] == board["turn"] for board in rows["boards"])
    sorts = {(s["stock"], s["species"]) for s in rows["sections"]}
    assert sorts == {(board["stock"], board["species"]) for board in rows["boards"]}
    for section in rows["sections"]:
        mine = [s for s in rows["settings"] if s["stop"] is not None and s["stock"] == section["stock"]]
        assert len(mine) >= section["stops"] >= section["fewest"]
        assert len(section["witness"]) == section["fewest"]
        assert section["placements"] >= section["least_placements"]
    assert set(rows["slots"]) == {part.id for part in parts() if part.bought}


def test_money_adds_up() -> None:
    """Nothing in this room has a price: every line is there, counted, and named as lacking."""
    rows = report().plan
    money = rows.money
    assert (money.total, money.has_price, money.is_complete) == (0.0, False, False)
    names = [row.name for row in rows.fasteners]
    assert names == ["slat nail", "pocket screw", "plug", "trim nail", "adhesive", "putty"]
    assert set(names) < set(money.lacking)
    nails = sum(len(part.nails) for part in make_parts(layout()))
    assert rows.fasteners[0].need == nails
    assert money.notes[0] == "an estimate, ask for quotes"


def test_money_in_the_summary() -> None:
    assert any(line.startswith("cost no prices given") for line in summary_lines(job()))
    mover = Mover(what="boards", why="cull", low=-45.0, high=66.0)
    priced = tuple(replace(item, price=1.0) for item in cost().items)
    money = replace(cost(), items=priced, total=1545.0, low=1500.0, high=1611.0, ceiling_m2=15.45, movers=(mover,))
    lines = summary_lines(replace(job(), cost=money))
    assert "cost USD 1,545, an estimate, ask for quotes" in lines
    assert "cost per sq ft USD 9.29" in lines  # 100 x 0.09290304
    assert "cost range USD 1,500 to USD 1,611" in lines
    assert any(line.startswith("cost lacks ") and line.endswith(" more") for line in lines)
    assert not any("range" in line for line in summary_lines(replace(job(), cost=replace(money, movers=()))))
    assert "cost per m2 USD 100" in summary_lines(replace(job(), config=METRIC, cost=money))


def test_files(tmp_path: Path) -> None:
    (tmp_path / "stl").mkdir()
    (tmp_path / "stl" / "C1-S01.stl").write_bytes(b"solid")
    (tmp_path / "ceiling.step").write_bytes(b"ISO-10303-21;")
    write_report(report(), tmp_path / "report.json")
    assert list_files(tmp_path) == (
        FileRow(path="ceiling.step", bytes=13),
        FileRow(path="stl/C1-S01.stl", bytes=5, sha256=hashlib.sha256(b"solid").hexdigest()),
    )
    listed = told(replace(report(), files=list_files(tmp_path)))
    assert _faults(listed) == []
    assert listed["files"][0] == {"path": "ceiling.step", "bytes": 13}


def test_summary() -> None:
    slats = [part for part in parts() if part.kind == "slat"]
    ripped = sum(part.ripped for part in slats)
    stops = {s.id for s in plan().settings if s.id.startswith("stop-")}
    assert summary_lines(job()) == (
        "coffers 9",
        f"full slats {len(slats) - ripped}",
        f"ripped slats {ripped}",
        f"distinct lengths {len(stops)}",
        f"board length {plan().board_length / 304.8:.0f} ft",
        f"waste {100.0 * plan().waste:.1f} %",
        "cost no prices given ([[shop.board]], [[shop.pack]])",
        "parts without a board 1",
        "findings 1 warn, 1 pass",
    )
    metric = summary_lines(replace(job(), config=METRIC))
    assert f"board length {plan().board_length / 1000.0:.1f} m" in metric


def test_title_and_assumptions_are_the_configs() -> None:
    assert report().title == "Bücherei"
    assert report().assumed == config().assumed
    assert report().missing == ("a diagonal",)
