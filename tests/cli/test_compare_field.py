"""The command that says what field measures have changed."""

import json
import math
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from commands import Lacunar
from lacunar.config import read_config, write_field
from lacunar.job import as_designed, run_job, trust_of
from lacunar.parts import Part, field_sheets
from strategies import config_of

INCH = 25.4


@pytest.fixture
def room(tmp_path: Path, configs: Path) -> Path:
    """Fifteen coffers, all measured in inches."""
    copy = tmp_path / "room.toml"
    copy.write_text((configs / "4-inch.toml").read_text(encoding="utf-8"), encoding="utf-8")
    return copy


def parts_of(room: Path) -> dict[str, Part]:
    """As designed, once for all tests that ask before they change the file."""
    return _parts_of(room.read_text(encoding="utf-8"))


@cache
def _parts_of(text: str) -> dict[str, Part]:
    return {part.id: part for part in as_designed(run_job(config_of(text), advised=False))[1]}


def changed(done: Any) -> dict[str, dict[str, Any]]:
    return {row["id"]: row for row in json.loads(done.out)["changed"]}


def test_nothing_changed(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("compare", room, "--field")
    assert (done.status, done.out) == (0, "nothing changed: there are no field measures yet\n")
    write_field(room, {"C1-S02": {"length": parts_of(room)["C1-S02"].length}})
    done = lacunar("compare", room, "--field")
    assert (done.status, done.out) == (0, "nothing changed: every piece that was measured fits as planned\n")
    assert changed(lacunar("compare", room, "--field", "--json")) == {}


def test_what_changed_is_what_was_measured(lacunar: Lacunar, room: Path) -> None:
    before = parts_of(room)
    rows = {
        "X1-1": {"length": before["X1-1"].length - INCH / 16},
        "C1-S03": {"length": before["C1-S03"].length + INCH / 8},
        "C2-S14": {"width": 2 * INCH, "width_end": 2.125 * INCH},
        "C9-T4": {"length": before["C9-T4"].length + INCH / 32},
    }
    write_field(room, rows)
    found = changed(lacunar("compare", room, "--field", "--json"))
    # What is not cut is planned anew: other slats may go to other stops; what is fitted to its place stays.
    assert {*rows} <= {*found}
    assert [name for name in found if "-S" not in name] == ["X1-1", "C9-T4"]
    for name in ("X1-1", "C1-S03", "C9-T4"):
        assert found[name]["length"] == pytest.approx([before[name].length, rows[name]["length"]])
        assert found[name]["width"][0] == found[name]["width"][1]
    assert found["C2-S14"]["width"] == pytest.approx([before["C2-S14"].width, 2 * INCH], abs=0.02)
    # The measured widths are those of the designed length; the plan's is a little other, and the taper goes on over it.
    assert found["C2-S14"]["width_end"] == pytest.approx([before["C2-S14"].width, 2.125 * INCH], abs=0.02)
    lines = lacunar("compare", room, "--field").out.splitlines()
    assert [line.split()[0] for line in lines[: len(found) + 1]] == ["piece", *found]
    assert '2" to 2 1/8"' in next(line for line in lines if line.startswith("C2-S14"))


def test_what_is_cut_to_the_same_mark_has_not_changed(lacunar: Lacunar, room: Path) -> None:
    """Trim measured to a mark is the designed strip, whose length lies between two."""
    trim = [part for part in parts_of(room).values() if part.kind == "trim"]
    mark = INCH / 32.0
    write_field(room, {part.id: {"length": round(part.length / mark) * mark} for part in trim})
    assert any(abs(part.length / mark - round(part.length / mark)) > 0.01 for part in trim)
    done = lacunar("compare", room, "--field")
    assert (done.status, done.out) == (0, "nothing changed: every piece that was measured fits as planned\n")
    assert changed(lacunar("compare", room, "--field", "--json")) == {}


def test_a_pile_is_dealt_again(lacunar: Lacunar, room: Path) -> None:
    """Pieces of C1 as it was designed; then C1 is found 3/8 in shorter."""
    before = parts_of(room)
    slats = [part for part in before.values() if part.coffer == "C1" and part.kind == "slat" and not part.ripped]
    pile = room.parent / "pile.csv"
    pile.write_text(
        "stock,length,count\n"
        + "".join(f"1x4,{part.length!r} mm,1\n" for part in slats)
        + "1x4,80 in,1\n1x4,10 in,2\n",
        encoding="utf-8",
    )
    report = json.loads(lacunar("compare", room, "--field", "--pile", pile, "--json").out)["pile"]
    uses = {row["id"]: row["use"] for row in report["slats"]}
    assert sum(use == "fits" for use in uses.values()) == len(slats)
    assert list(uses.values()).count("trim") == 1  # the 80 in one
    assert [row["line"] for row in report["left"]] == [len(slats) + 3] * 2
    write_field(room, {part.id: {"length": part.length - 3 * INCH / 8} for part in slats})
    text = lacunar("compare", room, "--field", "--pile", pile).out
    assert "of the pile " in text
    assert "left over, from lines: " in text
    assert "cut new, " in text


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (("--field", "--run", "with"), "--field: got --run with --field, must be alone"),
        (("--field", "--set", "slats.gap=1/4 in", "-o", "x.png"), "--set and --output"),
        (("--field", "--pile", "none.csv"), "none.csv: there is no such file"),
    ],
)
def test_bad_usage_is_two(lacunar: Lacunar, room: Path, arguments: tuple[str, ...], message: str) -> None:
    done = lacunar("compare", room, *arguments)
    assert done.status == 2
    assert message in done.err


def test_a_row_for_no_part_is_two_and_names_the_nearest(lacunar: Lacunar, room: Path) -> None:
    write_field(room, {"C1S02": {"length": 1000.0}})
    done = lacunar("compare", room, "--field")
    assert done.status == 2
    assert done.err == "room.toml field.C1S02: there is no part C1S02; did you mean C1-S02?\n"


def test_a_house_that_differs_from_its_drawing_fails_no_check(room: Path) -> None:
    """Everything 4 mm longer than designed, as it is found: what fits on the wood is not held against the drawing."""
    before = parts_of(room)
    rows: dict[str, dict[str, float]] = {}
    for sheet, parts in field_sheets(tuple(before.values())).items():
        for name in parts:
            part = before[name]
            row = rows.setdefault(name, {})
            row["width" if sheet == "rips" else "length"] = (part.width if sheet == "rips" else part.length) + 4.0
    write_field(room, rows)
    job = run_job(read_config(room))
    assert [f for f in job.findings if f.level == "fail"] == []
    assert trust_of(job).good_for == "cut"
    assert {round(part.length - before[part.id].length, 6) for part in job.parts if part.bought} == {4.0}


def test_an_end_that_is_cut_at_another_angle(lacunar: Lacunar, room: Path) -> None:
    """The long point may stay where it is; the saw is set otherwise all the same."""
    room.write_text(
        room.read_text(encoding="utf-8") + '\n[field]\nX1-2 = { faces = { AB = "43.7 in", X2-2 = "43.5 in" } }\n',
        encoding="utf-8",
    )
    row = changed(lacunar("compare", room, "--field", "--json"))["X1-2"]
    before, after = row["mitre"]
    # drawn the AB face is 0.553 mm the shorter, now 0.2 in the longer; half of that at each end of 3 1/2 in
    run = (0.553 + 0.2 * INCH) / 2.0 / (3.5 * INCH)
    tangents = [[math.tan(math.radians(angle)) for angle in angles] for angles in (before, after)]
    assert [new - old for old, new in zip(*tangents, strict=True)] == pytest.approx([-run, run], abs=1e-4)
    head, line, *_ = lacunar("compare", room, "--field").out.splitlines()
    assert head.endswith("ends were              are now")
    assert line.endswith("0.41 deg and 0.77 deg  2.23 deg and 1.05 deg")
