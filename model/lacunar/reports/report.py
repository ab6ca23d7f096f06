"""report.json: every number of a ceiling in one place."""

import hashlib
import json
from collections.abc import Iterator, Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any, Final, cast

from lacunar.checks import Finding
from lacunar.config import Config, Trust
from lacunar.cost import Cost
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.reports.plan_rows import plan_row
from lacunar.reports.rows import coffer_rows, finding_rows, part_rows, survey_row
from lacunar.survey import Room

Report = dict[str, Any]

REPORT: Final = "report.json"


def make_report(
    config: Config,
    room: Room,
    layout: Layout,
    parts: Sequence[Part],
    plan: Plan,
    cost: Cost,
    findings: Sequence[Finding],
    trust: Trust,
) -> Report:
    """Everything that is known, as JSON values in a fixed order; `files` is empty until they are written.

    Lengths in mm, areas in m2, volumes in mm3, masses in kg (at 12 % moisture), money in the config's currency, all
    unrounded.
    """
    return {
        "lacunar": version("lacunar"),
        "title": config.title,
        "units": config.units,
        "good_for": trust.good_for,
        "missing": list(trust.missing),
        "assumed": list(config.assumed),
        "survey": survey_row(room),
        "coffers": coffer_rows(room, layout),
        "parts": part_rows(parts, plan),
        "checks": finding_rows(findings),
        "plan": plan_row(plan, cost),
        "files": [],
    }


def list_files(folder: Path) -> list[dict[str, Any]]:
    """Every file below a folder but the report itself: path, bytes and, where bytes are the same each time, sha256."""
    found: list[dict[str, Any]] = []
    for path in sorted(p for p in folder.rglob("*") if p.is_file()):
        name = path.relative_to(folder).as_posix()
        if name == REPORT:
            continue
        row: dict[str, Any] = {"path": name, "bytes": path.stat().st_size}
        # A STEP file carries the time of writing and numbers that follow from addresses: its hash says nothing.
        if path.suffix.lower() not in (".step", ".stp"):
            row["sha256"] = _sha256(path)
        found.append(row)
    return found


def _sha256(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def report_text(report: Report) -> str:
    """The report as JSON: keys as made, floats exact, one line for each part, coffer, finding, board or file.

    Raises:
        ValueError: a number is infinite or none at all.
    """
    return "\n".join(_lines(report, 0)) + "\n"


def write_report(report: Report, path: Path) -> None:
    """Write report.json.

    Raises:
        ValueError: a number is infinite or none at all.
        OSError: it cannot be written.
    """
    path.write_text(report_text(report), encoding="utf-8", newline="\n")


def _lines(value: Any, depth: int) -> Iterator[str]:
    """The upper levels one item a line, what lies deeper in one line."""
    many: Sequence[tuple[str, Any]] = ()
    if isinstance(value, dict) and depth < 2:
        items = cast("dict[str, Any]", value)
        many = [(f"{_compact(key)}: ", item) for key, item in items.items()]
    elif isinstance(value, list) and depth < 3:
        many = [("", item) for item in cast("list[Any]", value)]
    if not many:
        yield _compact(value)
        return
    left, right = "{}" if isinstance(value, dict) else "[]"
    yield left
    indent = " " * (depth + 1)
    for number, (head, item) in enumerate(many, 1):
        comma = "," if number < len(many) else ""
        inner = list(_lines(item, depth + 1 if isinstance(value, dict) else 9))
        inner[0] = head + inner[0]
        inner[-1] += comma
        yield from (indent + line for line in inner)
    yield right


def _compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False, separators=(", ", ": "))
