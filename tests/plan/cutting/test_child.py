"""Whole-number programs in a child process: the same numbers, and none that is late, dead or wrong."""

import io
import subprocess
import sys
import time
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from lacunar.plan.cutting import Effort, Rip, RipSaw, forget, pair_rips, solve_boards
from lacunar.plan.cutting import child as child_module
from lacunar.plan.cutting.child import command, is_sound, solve_whole
from lacunar.plan.cutting.whole import WholeAnswer, WholeProgram, packed, solve_here
from plan.cutting.sawbench import cases, priced, saw_up

SMALL = [case for case in cases("P1") if sum(case["demands"]) == 100]

SLEEPS = "import time; time.sleep(600)"
DIES = "import os; os._exit(7)"
BABBLES = "print('banner')"
ZEROS = (
    "import sys, numpy as np; "
    "np.savez(sys.stdout.buffer, found=True, numbers=np.zeros(3, dtype=np.int64), iterations=1, by_clock=False)"
)
"""An answer in good form: nothing is cut at all."""


def covering(columns: int = 3, rows: int = 2, **other: Any) -> WholeProgram:
    """Every column costs 1 and gives 1 in each row; every row wants 2 or more."""
    entries = np.tile(np.arange(rows, dtype=np.int32), columns)
    program = WholeProgram(
        costs=np.ones(columns),
        most=np.full(columns, np.inf),
        lower=np.full(rows, 2.0),
        upper=np.full(rows, np.inf),
        starts=np.arange(0, rows * columns + 1, rows, dtype=np.int32),
        rows=entries,
        values=np.ones(rows * columns),
        first=np.zeros(0),
        nodes=-1,
        seconds=20.0,
        share=0.0,
        gap=0.5,
    )
    return replace(program, **other)


def hard(seconds: float) -> WholeProgram:
    """A market split of 40 numbers below 100 in 5 rows, with slack to be paid for: a tree of many million nodes."""
    random = np.random.default_rng(5)
    rows, columns = 5, 40
    split = random.integers(1, 100, (rows, columns)).astype(float)
    half = np.floor(split.sum(axis=1) / 2.0)
    slack = np.repeat(np.arange(rows, dtype=np.int32), 2)
    entries = [np.tile(np.arange(rows, dtype=np.int32), columns), slack]
    return WholeProgram(
        costs=np.concatenate([np.zeros(columns), np.ones(2 * rows)]),
        most=np.concatenate([np.ones(columns), np.full(2 * rows, np.inf)]),
        lower=half,
        upper=half,
        starts=np.cumsum([0, *[rows] * columns, *[1] * (2 * rows)]).astype(np.int32),
        rows=np.concatenate(entries),
        values=np.concatenate([split.T.ravel(), np.tile([1.0, -1.0], rows)]),
        first=np.zeros(0),
        nodes=-1,
        seconds=seconds,
        share=0.0,
        gap=0.0,
    )


@pytest.fixture
def always(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Every program goes to a child."""
    monkeypatch.setattr(child_module, "LARGE", 0)
    forget()
    yield
    forget()


@pytest.fixture
def children(monkeypatch: pytest.MonkeyPatch) -> "list[subprocess.Popen[bytes]]":
    """Those that are started."""
    started: list[subprocess.Popen[bytes]] = []
    start = subprocess.Popen

    def popen(*arguments: Any, **others: Any) -> Any:
        child: Any = start(*arguments, **others)
        started.append(child)
        return child

    monkeypatch.setattr(subprocess, "Popen", popen)
    return started


def instead(monkeypatch: pytest.MonkeyPatch, code: str, patience: float = 5.0) -> None:
    """Children that do something else."""
    monkeypatch.setattr(child_module, "command", lambda: [sys.executable, "-c", code])
    monkeypatch.setattr(child_module, "MARGIN", patience)


@pytest.mark.usefixtures("always")
def test_a_child_finds_what_is_found_here(children: "list[subprocess.Popen[bytes]]") -> None:
    program = covering()
    there, here = solve_whole(program), solve_here(program)
    assert here.numbers is not None
    assert there.numbers is not None
    assert int(here.numbers.sum()) == 2
    assert (there.numbers.tolist(), there.iterations, there.by_clock) == (
        here.numbers.tolist(),
        here.iterations,
        False,
    )
    assert [child.returncode is not None for child in children] == [True]


def test_small_programs_need_no_child(children: "list[subprocess.Popen[bytes]]") -> None:
    assert solve_whole(covering()).numbers is not None
    assert children == []


def test_plans_are_the_same_with_children(
    monkeypatch: pytest.MonkeyPatch, children: "list[subprocess.Popen[bytes]]"
) -> None:
    problem = priced(SMALL[0])
    here = solve_boards(problem)
    assert children == []
    monkeypatch.setattr(child_module, "LARGE", 0)
    forget()
    there = solve_boards(problem)
    assert children
    assert (there.patterns, there.certificate, there.work) == (here.patterns, here.certificate, here.work)
    assert not there.by_clock


@pytest.mark.usefixtures("always")
def test_a_late_child_is_killed(monkeypatch: pytest.MonkeyPatch, children: "list[subprocess.Popen[bytes]]") -> None:
    instead(monkeypatch, SLEEPS, patience=0.2)
    start = time.monotonic()
    answer = solve_whole(covering(seconds=0.1))
    assert time.monotonic() - start < 30.0
    assert (answer.numbers, answer.by_clock) == (None, True)
    assert [child.returncode is not None for child in children] == [True]


@pytest.mark.usefixtures("always")
def test_a_plan_comes_out_though_every_child_hangs(monkeypatch: pytest.MonkeyPatch) -> None:
    instead(monkeypatch, SLEEPS, patience=0.2)
    monkeypatch.setattr("lacunar.plan.cutting.tidy.MOST_SECONDS", 0.1)
    monkeypatch.setattr("lacunar.plan.cutting.program.MOST_SECONDS", 0.1)
    problem = priced(SMALL[0])
    solution = solve_boards(problem)
    assert saw_up(problem, solution.patterns)[0] == solution.cost == SMALL[0]["optimum"]
    assert solution.by_clock, "another machine may find another plan"


@pytest.mark.usefixtures("always")
@pytest.mark.parametrize("code", [DIES, BABBLES, ZEROS, "", "import sys; sys.stdout.buffer.write(b'PK\\x03\\x04')"])
def test_a_child_that_writes_nonsense_is_refused(monkeypatch: pytest.MonkeyPatch, code: str) -> None:
    instead(monkeypatch, code)
    answer = solve_whole(covering())
    assert (answer.numbers, answer.by_clock) == (None, False)
    problem = priced(SMALL[0])
    solution = solve_boards(problem, Effort(work=1.0))
    assert saw_up(problem, solution.patterns)[0] == solution.cost


@pytest.mark.usefixtures("always")
def test_rips_are_paired_though_the_child_dies(monkeypatch: pytest.MonkeyPatch) -> None:
    saw = RipSaw(rip_kerf=4, spare=2, kerf=4, least_blank=0)
    rips = [Rip(length=n, width=w, width_end=w, board=100) for n, w in ((90, 40), (80, 50), (70, 50), (60, 40))]
    exact = pair_rips(rips, saw)
    assert (exact.is_exact, exact.saved) == (True, 80 + 4 + 60 + 4)
    instead(monkeypatch, DIES)
    paired = pair_rips(rips, saw)
    assert not paired.is_exact
    assert len({i for pair in paired.pairs for i in pair}) == 2 * len(paired.pairs)
    assert exact.saved / 2.0 <= paired.saved <= exact.saved


@pytest.mark.parametrize(
    ("numbers", "sound"),
    [
        ([1, 1, 0], True),
        ([2, 0, 0], True),
        ([1, 0, 0], False),
        ([3, -1, 0], False),
        ([1, 1], False),
        ([0, 0, 9], False),
    ],
)
def test_every_bound_is_looked_at(numbers: list[int], sound: bool) -> None:
    program = covering(upper=np.full(2, 8.0))
    answer = WholeAnswer(numbers=np.array(numbers, dtype=np.int64), iterations=0, by_clock=False)
    assert is_sound(program, answer) is sound
    assert not is_sound(replace(program, most=np.zeros(3)), answer)


@pytest.mark.usefixtures("always")
def test_an_interrupt_leaves_no_child(
    monkeypatch: pytest.MonkeyPatch, children: "list[subprocess.Popen[bytes]]"
) -> None:
    instead(monkeypatch, SLEEPS)

    class Interrupted(child_module.threading.Thread):
        is_first = True

        def join(self, timeout: float | None = None) -> None:
            if self.is_first:
                self.is_first = False
                raise KeyboardInterrupt
            super().join(timeout)

    monkeypatch.setattr(child_module.threading, "Thread", Interrupted)
    with pytest.raises(KeyboardInterrupt):
        solve_whole(covering())
    assert [child.returncode is not None for child in children] == [True]


def test_a_child_ends_with_its_parent() -> None:
    """The parent's end of the pipe closes, while the solver is at work and however the parent ended."""
    program = hard(seconds=120.0)
    with subprocess.Popen(command(), stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL) as busy:
        assert busy.stdin is not None
        data = packed(program)
        busy.stdin.write(len(data).to_bytes(8, "little") + data)
        busy.stdin.flush()
        with pytest.raises(subprocess.TimeoutExpired):
            busy.wait(2.0)
        busy.stdin.close()
        assert busy.wait(20.0) == 1
        assert busy.stdout is not None
        assert busy.stdout.read() == b""


def test_the_clock_is_told() -> None:
    answer = solve_here(hard(seconds=0.3))
    assert answer.by_clock


def test_packed_programs_hold_no_objects() -> None:
    with np.load(io.BytesIO(packed(covering())), allow_pickle=False) as arrays:
        assert all(arrays[name].dtype.kind in "if" for name in arrays.files)
