"""`lacunar view`: the ceiling in a window, or in a browser where there is no screen."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lacunar_cli import options
from lacunar_cli.progress import progress_bar
from lacunar_cli.show import GOOD, show_findings
from lacunar_cli.stopping import leave_at_once
from lacunar_cli.terminal import complain, flush, say

if TYPE_CHECKING:
    from lacunar.job import Job

HINT = "turn with the mouse; F1 door, F2 seat, F3 up, F4 corner, q closes"

OPEN = "no screen here: open {} in a browser on this machine; Ctrl+C ends it"

WRONG = "this is the ceiling as it was before the file was changed:"


def view(
    room: options.Room,
    watch: Annotated[bool, typer.Option("--watch", help="Build again whenever the file is saved.")] = False,
) -> int:
    """Look at the ceiling in a window; with --watch in a browser of this machine, where there is no screen."""
    from lacunar.config import read_config
    from lacunar.job import has_screen, open_window, run_job, watch_in_browser

    watched = Watched(room)
    with progress_bar() as progress:
        job = run_job(read_config(room), progress, weighed=False, advised=False)
    leave_at_once(b"\nstopped\n")
    if watch and not has_screen():
        watch_in_browser(job, watched.rebuilt, _tell)
    say(HINT)
    flush()
    open_window(job, watched.rebuilt if watch else None)
    return GOOD


def _tell(address: str) -> None:
    say(OPEN.format(address))
    flush()


class Watched:
    """A config that somebody may be writing to."""

    def __init__(self, room: Path) -> None:
        """Remember how the file is now."""
        self._room = room
        self._stamp = self._look()

    def _look(self) -> tuple[int, int] | None:
        """Time and size of the file; None while an editor is replacing it."""
        try:
            status = self._room.stat()
        except OSError:
            return None
        return status.st_mtime_ns, status.st_size

    def rebuilt(self) -> "Job | str | None":
        """The new job, once after each time the file is saved; or what is wrong with it, which is told here too."""
        from lacunar.config import read_config
        from lacunar.errors import LacunarError
        from lacunar.job import run_job

        stamp = self._look()
        if stamp is None or stamp == self._stamp:
            return None
        self._stamp = stamp
        try:
            job = run_job(read_config(self._room), weighed=False, advised=False)
        except LacunarError as error:
            problems = [str(problem) for problem in error.problems]
            for problem in problems:
                complain(problem)
            return "\n".join((WRONG, *problems))
        show_findings([finding for finding in job.findings if finding.level == "fail"])
        say("built again")
        flush()
        return job
