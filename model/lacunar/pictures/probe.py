"""Whether pictures can be made here: asked in a child process, because without a graphics library VTK ends it."""

import subprocess
import sys
from functools import lru_cache
from pathlib import Path

TRIAL = Path(__file__).with_name("trial.py")

PATIENCE = 60
"""Seconds for the child: it takes one, and longer on a busy machine."""

NO_OPENGL = (
    "Pictures need an OpenGL library, and none was found. On Debian or Ubuntu: apt-get install libgl1 libegl1. "
    "Everything else is built without them."
)


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
    try:
        child = subprocess.run(
            [sys.executable, "-P", str(TRIAL)], capture_output=True, timeout=PATIENCE, check=False, text=True
        )
    except (OSError, subprocess.TimeoutExpired) as error:
        return f"{NO_OPENGL} ({error})"
    if child.returncode == 0:
        return None
    if "ModuleNotFoundError" in child.stderr:
        return f"Pictures need pyvista: {child.stderr.strip().splitlines()[-1]}"
    return NO_OPENGL
