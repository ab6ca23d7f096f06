"""Checks as text and as JSON."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from commands import Lacunar, change


def test_a_good_room_is_zero_and_writes_nothing(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("check", room)
    assert (done.status, done.err) == (0, "")
    assert "good for: look" in done.out
    assert list(room.parent.iterdir()) == [room]


def test_text_fits_eighty_columns_without_a_terminal(lacunar: Lacunar, configs: Path) -> None:
    for config in ("2-one-coffer.toml", "4-inch.toml"):
        done = lacunar("check", configs / config)
        assert max(len(line) for line in done.out.splitlines()) <= 80
        assert "\x1b" not in done.out


def test_the_page_is_in_the_order_of_use_and_short(lacunar: Lacunar, configs: Path) -> None:
    out = lacunar("check", configs / "4-inch.toml").out
    assert len(out.splitlines()) <= 45
    heads = (
        "good for: ",
        "next, to make it good for cutting:",
        "\nwarn  ",
        "\nask   ",
        "before anybody",
        "\npass  ",
        "assumed: --all",
    )
    places = [out.index(head) for head in (*heads, "to buy and to cut:")]
    assert places == sorted(places)


def test_what_is_missing_is_said_up_to_three_things(lacunar: Lacunar, configs: Path) -> None:
    room = configs / "1-first-look.toml"
    out = lacunar("check", room).out
    steps = out.split("next, to make it good for buying:")[1].split("\n\n")[0]
    assert steps.count("  - ") == 3
    assert "more: --all lists them" in steps
    whole = lacunar("check", room, "--all").out
    assert whole.split("next, to make it good for buying:")[1].split("\n\n")[0].count("  - ") > 3


def test_what_is_assumed_is_counted_and_listed_on_demand(lacunar: Lacunar, room: Path) -> None:
    out = lacunar("check", room).out
    (line,) = [line for line in out.splitlines() if line.endswith("values are assumed: --all lists them")]
    whole = lacunar("check", room, "--all").out
    listed = whole.split("\nassumed:\n")[1].split("\n\n")[0]
    assert listed.count("  - ") == int(line.split()[0])
    assert "framing.joists not given" in listed


def test_all_says_what_passed_and_what_is_proved(lacunar: Lacunar, room: Path) -> None:
    whole = lacunar("check", room, "--all").out
    assert "each of 19 parts is cut once" in " ".join(whole.split()).lower()
    assert "proved " in whole
    assert "proved " not in lacunar("check", room).out


def failing(room: Path) -> None:
    """Nails that end inside the old ceiling, and joists that somebody has measured."""
    text = room.read_text(encoding="utf-8")
    joists = 'joists = { along = "DA", first = "8 in", spacing = "16 in" }'
    old = 'old_ceiling = { kind = "plasterboard", thickness = "1/2 in" }'
    more = f'\n[framing]\n{joists}\n{old}\n[fasteners]\nslat = {{ length = "1 in" }}\n'
    room.write_text(text + more, encoding="utf-8")


def test_a_failure_is_one_and_says_what_to_do(lacunar: Lacunar, room: Path) -> None:
    failing(room)
    done = lacunar("check", room)
    assert done.status == 1
    assert "(nail-reach)" in done.out.split("\nfail  ")[1].split("\nask")[0]
    assert "(nail-reach)" in done.out.split("next, ")[1].split("\n\n")[0]


def test_failures_come_first_and_passes_last(lacunar: Lacunar, room: Path) -> None:
    failing(room)
    levels = [line.split(" ")[0] for line in lacunar("check", room).out.splitlines()]
    order = [level for level in levels if level in ("fail", "warn", "ask", "pass")]
    assert order == sorted(order, key=("fail", "warn", "ask", "pass").index)
    assert len({"fail", "ask", "pass"} & set(order)) == 3


def test_json_is_the_report_alone(lacunar: Lacunar, room: Path) -> None:
    done = lacunar("check", room, "--json")
    report = json.loads(done.out)
    assert (done.status, done.err) == (0, "")
    assert report["good_for"] == "look"
    assert report["files"] == []
    assert {"survey", "coffers", "parts", "checks", "plan"} <= set(report)


def test_json_of_a_failing_room_is_one_too(lacunar: Lacunar, room: Path) -> None:
    failing(room)
    done = lacunar("check", room, "--json")
    assert done.status == 1
    assert any(finding["level"] == "fail" for finding in json.loads(done.out)["checks"])


def test_every_problem_is_told_at_once(lacunar: Lacunar, room: Path) -> None:
    change(room, "[slats]", '[slats]\ncolour = "red"\nend_gap = -3')
    done = lacunar("check", room)
    assert done.status == 2
    assert len(done.err.splitlines()) == 2
    assert "slats.colour" in done.err
    assert "slats.end_gap" in done.err


def test_an_impossible_room_is_two(lacunar: Lacunar, room: Path) -> None:
    change(room, 'AC = "7 ft 5 15/16 in"', 'AC = "17 ft"')
    done = lacunar("check", room)
    assert done.status == 2
    assert "AC" in done.err


def test_a_fault_of_ours_is_three_in_one_line(lacunar: Lacunar, room: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise RuntimeError("two\nlines")

    monkeypatch.setattr("lacunar.job.run_job", broken)
    done = lacunar("check", room)
    assert done.status == 3
    assert "RuntimeError: two lines" in done.err
    assert "LACUNAR_TRACEBACK=1" in done.err
    monkeypatch.setenv("LACUNAR_TRACEBACK", "1")
    with pytest.raises(RuntimeError):
        lacunar("check", room)


def test_a_reader_that_leaves_early_is_no_error(room: Path) -> None:
    program = "from lacunar_cli.main import main; main()"
    command = [sys.executable, "-c", program, "check", str(room), "--json"]
    ours, theirs = os.pipe()
    os.close(ours)
    with subprocess.Popen(command, stdout=theirs, stderr=subprocess.PIPE, text=True) as process:
        os.close(theirs)
        _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, "")


@pytest.mark.parametrize(("no_colour", "expected"), [("", True), ("1", False)])
def test_colour_is_for_terminals(room: Path, no_colour: str, expected: bool) -> None:
    pty = pytest.importorskip("pty", reason="no pseudo terminals on this system")
    ours, theirs = pty.openpty()
    command = [sys.executable, "-c", "from lacunar_cli.main import main; main()", "check", str(room)]
    env = {**os.environ, "NO_COLOR": no_colour, "TERM": "xterm"}
    screen = b""
    with subprocess.Popen(command, stdout=theirs, stderr=subprocess.DEVNULL, env=env) as process:
        os.close(theirs)
        while True:
            try:
                read = os.read(ours, 65536)
            except OSError:
                break
            if not read:
                break
            screen += read
    os.close(ours)
    assert process.returncode == 0
    assert (b"\x1b[" in screen) is expected
