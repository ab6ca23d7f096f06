"""Whole-process timings, each beside a peer run in turn with it, or a limit. Run by name: python tests/bench/bench.py.

Never part of a test run: a shared machine's seconds prove nothing. Quote medians and ratios.
"""

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
INCH = str(ROOT / "configs" / "4-inch.toml")
HALL = str(ROOT / "configs" / "7-hall.toml")
NUMBERS_ONLY = "report,plan"
NO_PICTURES = "report,plan,model"

BARE_TYPER = """
import typer
app = typer.Typer(rich_markup_mode=None, add_completion=False)
@app.command()
def first() -> None: "One."
@app.command()
def second() -> None: "Two."
app()
"""
"""The floor of `--help`: typer with nothing of ours."""

IMPORTS = "import numpy, scipy.optimize, shapely, pydantic"
"""The floor of `check`: the libraries that it cannot do without."""

KERNEL = "import cadquery"
"""The floor of a model: the CAD kernel's import."""

BOOK = """
import sys
from pathlib import Path
from lacunar import read_config, run_job
from lacunar.book import crew_book
from lacunar.drawings import document_bytes
from lacunar.job import book_of
document_bytes(crew_book(book_of(run_job(read_config(Path(sys.argv[1])), advised=False))))
"""
"""A crew book without a picture; the numbers that it is made of are worked out first."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One finished process: wall and CPU seconds, largest resident memory in MB."""

    wall: float
    cpu: float
    peak: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """One line: a command, the peer that runs in turn with it, and the limit in seconds."""

    name: str
    command: tuple[str, ...]
    peer_name: str = ""
    peer: tuple[str, ...] = ()
    limit: float | None = None


def lacunar(*arguments: str) -> tuple[str, ...]:
    return (sys.executable, "-c", "from lacunar_cli.main import main; main()", *arguments)


def python(code: str, *arguments: str) -> tuple[str, ...]:
    return (sys.executable, "-c", code, *arguments)


def figures(out: str) -> tuple[Figure, ...]:
    """What is measured; `out` is a folder that builds may replace."""
    room, hall = f"{out}/inch", f"{out}/hall"
    return (
        Figure(
            name="help",
            command=lacunar("--help"),
            peer_name="typer alone",
            peer=python(BARE_TYPER, "--help"),
            limit=0.15,
        ),
        Figure(name="check", command=lacunar("check", INCH), peer_name="imports", peer=python(IMPORTS), limit=1.5),
        Figure(name="build-numbers", command=lacunar("build", INCH, "-o", room, "--only", NUMBERS_ONLY)),
        Figure(
            name="build-model",
            command=lacunar("build", INCH, "-o", room, "--only", NO_PICTURES),
            peer_name="import cadquery",
            peer=python(KERNEL),
        ),
        Figure(name="build", command=lacunar("build", INCH, "-o", room), limit=14.0),
        Figure(name="build-draft", command=lacunar("build", INCH, "-o", room, "--quality", "draft"), limit=8.0),
        Figure(
            name="render-draft",
            command=lacunar("render", INCH, "--view", "door", "--quality", "draft", "-o", f"{out}/door.png"),
            limit=3.0,
        ),
        Figure(
            name="compare",
            command=lacunar("compare", INCH, "--run", "with,across,alternate", "-o", f"{out}/compare.png"),
            limit=10.0,
        ),
        Figure(name="hall-check", command=lacunar("check", HALL), peer_name="imports", peer=python(IMPORTS)),
        Figure(name="hall-model", command=lacunar("build", HALL, "-o", hall, "--only", NO_PICTURES)),
        Figure(
            name="hall-book",
            command=python(BOOK, HALL),
            peer_name="check",
            peer=lacunar("check", HALL),
            limit=15.0,
        ),
        Figure(name="hall-build", command=lacunar("build", HALL, "-o", hall)),
    )


def run(command: Sequence[str]) -> Run:
    """One process from start to end, by the system's own accounting of it and of what it waited for."""
    started = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    wall = time.perf_counter() - started
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise SystemExit(f"exit status {process.returncode}: {' '.join(command[3:])}")
    unit = 2**20 if sys.platform == "darwin" else 2**10
    return Run(wall=wall, cpu=usage.ru_utime + usage.ru_stime, peak=usage.ru_maxrss / unit)


def line(figure: Figure, runs: int) -> str:
    """Measure, and say it in one row."""
    own: list[Run] = []
    peers: list[Run] = []
    for _ in range(runs):
        own.append(run(figure.command))
        if figure.peer:
            peers.append(run(figure.peer))
    wall = statistics.median(one.wall for one in own)
    cells = [
        figure.name,
        f"{wall:.2f}",
        f"{min(one.wall for one in own):.2f}-{max(one.wall for one in own):.2f}",
        f"{statistics.median(one.cpu for one in own):.2f}",
        f"{max(one.peak for one in own):.0f}",
        "",
        "" if figure.limit is None else f"{figure.limit:g} ({wall / figure.limit:.2f})",
    ]
    if peers:
        ratio = statistics.median(a.wall / b.wall for a, b in zip(own, peers, strict=True))
        cells[5] = f"{figure.peer_name} {statistics.median(one.wall for one in peers):.2f} ({ratio:.2f})"
    return "| " + " | ".join(cells) + " |"


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", help="figures to take; all where none is named")
    parser.add_argument("--runs", type=int, default=5)
    arguments = parser.parse_args()
    with tempfile.TemporaryDirectory() as out:
        known = {figure.name: figure for figure in figures(out)}
        unknown = set(arguments.names) - set(known)
        if unknown:
            parser.error(f"no figure {', '.join(sorted(unknown))}; there are {', '.join(known)}")
        print("| figure | wall s, median | range | CPU s | peak MB | peer s (ratio) | limit s (share) |")  # noqa: T201
        print("|---|---|---|---|---|---|---|")  # noqa: T201
        for name in arguments.names or known:
            run(known[name].command)  # not counted: files come into the cache
            print(line(known[name], arguments.runs), flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
