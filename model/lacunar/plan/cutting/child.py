"""Whole-number programs with a limit that holds: large ones in a child process that is killed when it is late."""

import subprocess
import sys
import threading
import zipfile
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import IO

import numpy as np

from lacunar.plan.cutting import whole
from lacunar.plan.cutting.whole import WholeAnswer, WholeProgram, packed, solve_here, unpacked_answer

LARGE = 2_500
"""Entries of a program from which on a child solves it. Measured: with 1,000 entries a program takes a few tenths of a
second, with 3,000 some seconds or all that it may; a child takes a quarter of a second to start. Up to 7,500 none was
later than 0.1 s, but the solver has been seen to take three times what it may with larger ones."""

MARGIN = 5.0
"""Seconds beyond the limit: for the child's start on a busy machine, and for the solver to look at its clock."""

SLACK = 1e-6
"""By which a row may miss its bounds: rounding of whole numbers times entries."""

CREATE_NO_WINDOW = 0x08000000
"""For Windows."""


def solve_whole(program: WholeProgram) -> WholeAnswer:
    """The best numbers found, none where that is nothing, nonsense or late.

    The same numbers in a child as here, unless the clock ends it.
    """
    answer = solve_here(program) if len(program.values) < LARGE else _in_child(program)
    return answer if is_sound(program, answer) else replace(answer, numbers=None)


def is_sound(program: WholeProgram, answer: WholeAnswer) -> bool:
    """There are numbers, and they keep every bound."""
    numbers = answer.numbers
    if numbers is None or numbers.shape != program.costs.shape:
        return False
    if (numbers < 0).any() or (numbers > program.most).any():
        return False
    taken = np.repeat(numbers, np.diff(program.starts)) * program.values
    rows = np.bincount(program.rows, weights=taken, minlength=len(program.lower))
    return bool((rows >= program.lower - SLACK).all() and (rows <= program.upper + SLACK).all())


def _in_child(program: WholeProgram) -> WholeAnswer:
    """Nothing where the child is late, dies or writes what is no answer. It never outlives this call."""
    flags = CREATE_NO_WINDOW if sys.platform == "win32" else 0
    pipe = subprocess.PIPE
    try:
        child = subprocess.Popen(command(), stdin=pipe, stdout=pipe, stderr=subprocess.DEVNULL, creationflags=flags)
    except OSError:
        return solve_here(program)
    written: list[bytes] = []
    # Its input stays open until the answer is there: when this process ends, however it does, the child ends too.
    talk = threading.Thread(target=_talk, args=(child, packed(program), written), daemon=True)
    try:
        talk.start()
        talk.join(program.seconds + MARGIN)
        is_late = talk.is_alive()
    finally:
        child.kill()
        child.wait()
        if talk.is_alive():
            talk.join()
        _close(child.stdin)
        _close(child.stdout)
    try:
        return unpacked_answer(b"".join(written))
    except (ValueError, KeyError, OSError, EOFError, zipfile.BadZipFile):
        return WholeAnswer(numbers=None, iterations=0, by_clock=is_late)


def command() -> list[str]:
    """That starts a child."""
    return [sys.executable, "-P", str(Path(whole.__file__))]


def _talk(child: "subprocess.Popen[bytes]", data: bytes, written: list[bytes]) -> None:
    """The program to the child; what it writes, once that is whole."""
    assert child.stdin is not None
    assert child.stdout is not None
    try:
        child.stdin.write(len(data).to_bytes(8, "little") + data)
        child.stdin.flush()
        written.append(child.stdout.read())
    except OSError:
        return


def _close(end: "IO[bytes] | None") -> None:
    with suppress(OSError):
        if end is not None:
            end.close()
