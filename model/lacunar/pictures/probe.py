"""Whether pictures can be made here: asked in child processes, because a library that is missing may end one."""

import subprocess
import sys
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Final, Literal

TRIAL = Path(__file__).with_name("trial.py")
TRACE_TRIAL = Path(__file__).with_name("trace_trial.py")

PATIENCE = 60
"""Seconds for the child: it takes one, and longer on a busy machine."""

NO_OPENGL = (
    "Pictures need an OpenGL library, and none was found. On Debian or Ubuntu: apt-get install libgl1 libegl1. "
    "Everything else is built without them."
)

Variant = Literal["llvm_ad_rgb", "scalar_rgb"]
"""Of the tracer: through a compiler, or three times slower without one."""

SLOW: Final = "Traced without LLVM 19, which is three times as slow. On Debian or Ubuntu: apt-get install libllvm19."

UNTRACED: Final = "Not traced, quick stills are there instead"


@dataclass(frozen=True, slots=True, kw_only=True)
class Tracing:
    """How stills can be traced here. `variant`: None where they cannot; `advice`: why not, or why slowly, or ""."""

    variant: Variant | None
    advice: str = ""


def unfit() -> str | None:
    """None if this process can draw, else why not; one without a graphics library is ended by it."""
    try:
        from lacunar.pictures.trial import is_drawn

        return None if is_drawn() else NO_OPENGL
    except ImportError as error:
        return f"Pictures need pyvista: {error}"


@lru_cache(maxsize=1)
def can_render() -> str | None:
    """None if pictures can be made, else what to install. Asked once in a process."""
    failed = _failed(TRIAL)
    if failed is not None and "ModuleNotFoundError" in failed:
        return f"Pictures need pyvista: {failed.splitlines()[-1]}"
    return None if failed is None else NO_OPENGL


@lru_cache(maxsize=1)
def can_trace() -> Tracing:
    """How stills can be traced here. Asked once in a process."""
    if (compiled := _failed(TRACE_TRIAL, "llvm_ad_rgb")) is None:
        return Tracing(variant="llvm_ad_rgb")
    if "ModuleNotFoundError" in compiled:
        return Tracing(variant=None, advice=f"{UNTRACED}: that needs the extra: pip install 'lacunar[traced]'")
    if (plain := _failed(TRACE_TRIAL, "scalar_rgb")) is None:
        return Tracing(variant="scalar_rgb", advice=SLOW)
    last = (plain.splitlines() or ["its process was ended by a library"])[-1]
    advice = f"{UNTRACED}: the tracer does not run here ({last}). On Debian or Ubuntu: apt-get install libatomic1"
    return Tracing(variant=None, advice=advice)


def _failed(script: Path, *arguments: str) -> str | None:
    """What a script said that failed in a process of its own, "" where it died silently; None if it went well."""
    command = [sys.executable, "-P", str(script), *arguments]
    try:
        child = subprocess.run(command, capture_output=True, timeout=PATIENCE, check=False, text=True)
    except (OSError, subprocess.TimeoutExpired) as error:
        return str(error)
    return None if child.returncode == 0 else child.stderr.strip()
