"""Slow work in processes of its own: kernel and renderer heed no interrupt, and may end the process they are in."""

import contextlib
import json
import os
import pickle
import queue
import subprocess
import sys
import threading
from collections.abc import Callable, Generator, Mapping, Sequence
from pathlib import Path
from typing import Any, Final, cast

from lacunar.errors import ExportError, Problem
from lacunar.job import child
from lacunar.job.run import OnStep

Errand = Callable[[OnStep], list[str] | None]
"""A function of a module with all else that it is given (`functools.partial`), so that it can be pickled; it tells its
steps, and returns sentences, if there are any."""

CREATE_NEW_PROCESS_GROUP: Final = 0x00000200
CREATE_NO_WINDOW: Final = 0x08000000
"""For Windows."""

Said = queue.SimpleQueue[tuple[str, dict[str, Any] | None]]


DRAWING: Final = ("embreex.mesh_construction", "vtkmodules.vtkFiltersSources", "vtkmodules.vtkRenderingOpenGL2")
"""Where there is no graphics library, drawing ends a process; loading these fails, or goes well."""

AHEAD: Final[Mapping[str, tuple[str, ...]]] = {
    "solids": ("cadquery", "lacunar.job.run", "lacunar.exports", "lacunar.solids"),
    "scene": ("lacunar.job.run", "lacunar.scene", "lacunar.pictures", *DRAWING),
}
"""What an errand that needs this loads first: a process that stands by has it when the errand comes."""

GIVING_WAY: Final = frozenset({"sheets"})
"""What nobody waits for as long as something slower is done beside it."""
LATER: Final = 10
"""Niceness. Own choice."""

_standing_by: list[tuple[str, "subprocess.Popen[bytes]"]] = []


@contextlib.contextmanager
def standing_by(*needs: str) -> Generator[None]:
    """Start a process for each need, to be taken by `run_apart` in this block: it loads libraries meanwhile."""
    with contextlib.ExitStack() as started:
        _standing_by.extend((need, started.enter_context(_started(AHEAD[need]))) for need in needs)
        try:
            yield
        finally:
            _standing_by.clear()


def run_apart(errands: Mapping[str, tuple[str, Errand]], step: OnStep) -> dict[str, tuple[str, ...] | None]:
    """Do errands side by side, each in a process of its own; none outlives this call, however it ends.

    Args:
        errands: by name, each with what it needs: a process that stands by for that does it.
        step: told (what is done, share of all of it).

    Returns:
        By name, the sentences that came of it; None where the process was ended by what it did.

    Raises:
        ExportError: an errand came upon something that its caller can mend.
        OSError: a file cannot be written.
        RuntimeError: a fault of an errand's.
    """
    said: Said = queue.SimpleQueue()
    shares = dict.fromkeys(errands, 0.0)
    done: dict[str, tuple[str, ...] | None] = {}
    with contextlib.ExitStack() as started:
        for name, (need, errand) in errands.items():
            process = _taken(need, started) or started.enter_context(_started())
            if need in GIVING_WAY and sys.platform != "win32":
                with contextlib.suppress(OSError):
                    os.setpriority(os.PRIO_PROCESS, process.pid, LATER)
            threading.Thread(target=_talk, args=(name, process, _packed(errand), said), daemon=True).start()
        while len(done) < len(errands):
            try:
                name, line = said.get(timeout=0.5)  # where a wait without end takes no notice of an interrupt
            except queue.Empty:
                continue
            if line is not None and "step" in line:
                text, shares[name] = line["step"]
                step(text, sum(shares.values()) / len(shares))
            elif name not in done:
                done[name] = _outcome(line)
                shares[name] = 1.0
    return done


def command() -> list[str]:
    """That starts a process which waits for an errand."""
    return [sys.executable, "-P", str(Path(child.__file__))]


def _packed(given: object) -> bytes:
    data = pickle.dumps(given)
    return len(data).to_bytes(8, "little") + data


def _taken(need: str, started: contextlib.ExitStack) -> "subprocess.Popen[bytes] | None":
    """A process that stands by; it ends with the errand's block, as others do."""
    found = next((one for one in _standing_by if one[0] == need), None)
    if found is None:
        return None
    _standing_by.remove(found)
    started.callback(found[1].kill)
    return found[1]


@contextlib.contextmanager
def _started(modules: Sequence[str] = ()) -> Generator["subprocess.Popen[bytes]"]:
    """A process out of the reach of the interrupt key that loads some modules; killed when the block ends."""
    flags = CREATE_NO_WINDOW | CREATE_NEW_PROCESS_GROUP if sys.platform == "win32" else 0
    process = subprocess.Popen(
        command(),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=None if os.environ.get("LACUNAR_TRACEBACK") else subprocess.DEVNULL,
        creationflags=flags,
        start_new_session=sys.platform != "win32",
    )
    try:
        assert process.stdin is not None
        with contextlib.suppress(OSError):
            process.stdin.write(_packed((sys.path, modules)))
            process.stdin.flush()
        yield process
    finally:
        process.kill()
        process.wait()
        for pipe in (process.stdin, process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


def _talk(name: str, process: "subprocess.Popen[bytes]", data: bytes, said: Said) -> None:
    """The errand to the process, its lines to whoever waits; None after the last, where that tells no outcome."""
    assert process.stdin is not None
    assert process.stdout is not None
    with contextlib.suppress(OSError, ValueError), process.stdin, process.stdout:
        process.stdin.write(data)
        process.stdin.flush()
        for line in process.stdout:
            said.put((name, cast("dict[str, Any]", json.loads(line))))
    said.put((name, None))


def _outcome(line: dict[str, Any] | None) -> tuple[str, ...] | None:
    if line is None:
        return None
    if "problems" in line:
        raise ExportError([Problem(where=where, what=what, fix=fix) for where, what, fix in line["problems"]])
    if "system" in line:
        raise OSError(*line["system"])
    if "fault" in line:
        raise RuntimeError(line["fault"])
    return tuple(line["notes"])
