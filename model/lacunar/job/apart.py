"""Slow work in processes of its own: kernel and renderer heed no interrupt, and may end the process they are in."""

import contextlib
import json
import os
import pickle
import queue
import subprocess
import sys
import threading
from collections.abc import Callable, Generator, Mapping
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


def run_apart(errands: Mapping[str, Errand], step: OnStep) -> dict[str, tuple[str, ...] | None]:
    """Do errands side by side, each in a process of its own; none outlives this call, however it ends.

    Args:
        errands: by name.
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
        for name, errand in errands.items():
            process = started.enter_context(_started())
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


def _packed(errand: Errand) -> bytes:
    data = pickle.dumps(sys.path) + pickle.dumps(errand)
    return len(data).to_bytes(8, "little") + data


@contextlib.contextmanager
def _started() -> Generator["subprocess.Popen[bytes]"]:
    """A process out of the reach of the interrupt key, killed when the block ends."""
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
        yield process
    finally:
        process.kill()
        process.wait()


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
