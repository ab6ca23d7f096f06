"""cut-list.csv: what is cut, in the order in which the saw is set."""

import csv
import io
import re
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.parts import End, Part
from lacunar.plan import Plan, Setting, fine_mark
from lacunar.tolerances import CONTACT
from lacunar.units import INCH, format_length, nearest_mark

COLUMNS: Final = (
    "id",
    "kind",
    "coffer",
    "stock",
    "species",
    "length_mm",
    "length",
    "width",
    "width_end",
    "thickness",
    "end_1",
    "end_2",
    "ripped",
    "sawn_edge",
    "board",
    "setting",
    "notes",
)

_FINEST_MARK = {"in": INCH / 64.0, "mm": 0.1}
"""mm. For a length whose stop stands on no mark that is cut to."""


def cut_list_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each part that is bought: by stock, then setting (the longest first), then id."""
    settings = _settings(plan)
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    stocks = {part: s.stock for s in plan.settings for part in s.parts}
    unserved = {item.part: item.reason for item in plan.unserved}
    bought = sorted((part for part in parts if part.bought), key=lambda part: _order(part, settings.get(part.id, ())))
    return tuple(
        _row(
            part,
            config,
            stock=stocks.get(part.id, part.stock),
            settings=settings.get(part.id, ()),
            board=boards.get(part.id, ""),
            trouble=unserved.get(part.id),
        )
        for part in bought
    )


def cut_list_text(parts: Sequence[Part], plan: Plan, config: Config) -> str:
    """The cut list as CSV, with a line of column names."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(COLUMNS)
    writer.writerows(cut_list_rows(parts, plan, config))
    return out.getvalue()


def write_cut_list(parts: Sequence[Part], plan: Plan, config: Config, path: Path) -> None:
    """Write cut-list.csv.

    Raises:
        OSError: it cannot be written.
    """
    path.write_text(cut_list_text(parts, plan, config), encoding="utf-8", newline="\n")


def _settings(plan: Plan) -> Mapping[str, tuple[Setting, ...]]:
    found: dict[str, tuple[Setting, ...]] = {}
    for setting in plan.settings:
        for part in setting.parts:
            found[part] = (*found.get(part, ()), setting)
    return found


def _order(part: Part, settings: Sequence[Setting]) -> tuple[object, ...]:
    first = settings[0].id if settings else "~"
    return (settings[0].stock if settings else part.stock, natural(first), natural(part.id))


def natural(name: str) -> tuple[tuple[int, str], ...]:
    """A key that puts C2 before C10."""
    pieces = re.findall(r"\d+|\D+", name)
    return tuple((int(piece), "") if piece.isdigit() else (-1, piece) for piece in pieces)


def _row(
    part: Part, config: Config, *, stock: str, settings: Sequence[Setting], board: str, trouble: str | None
) -> tuple[str, ...]:
    return (
        part.id,
        part.kind,
        part.coffer or "",
        stock,
        part.species,
        f"{part.length:.2f}",
        _length(part, settings, config),
        _section(part.width, config),
        "" if part.width_end is None else _section(part.width_end, config),
        _section(part.thickness, config),
        _end(part.ends[0], settings, mitred=part.kind == "trim"),
        _end(part.ends[1], settings, mitred=part.kind == "trim"),
        "yes" if part.ripped else "",
        _sawn(part),
        board,
        " ".join(setting.id for setting in settings),
        "; ".join(_notes(part, config, trouble)),
    )


def _length(part: Part, settings: Sequence[Setting], config: Config) -> str:
    """As the stop is set: on a mark, unless no mark would do for this part."""
    mark = config.read_to if part.kind == "slat" else fine_mark(config)
    stops = [s.stop for s in settings if s.stop is not None]
    if any(abs(nearest_mark(stop, mark) - stop) > CONTACT for stop in stops):
        mark = min(mark, _FINEST_MARK[config.units])
    return format_length(part.length, config.units, mark)


def _section(side: float, config: Config) -> str:
    return format_length(side, config.units, fine_mark(config))


def _end(end: End, settings: Sequence[Setting], *, mitred: bool) -> str:
    """The cut as the saw is set for it."""
    angles = [s.mitre_deg for s in settings if s.mitre_deg is not None]
    angle = min((0.0, *angles), key=lambda a: abs(a - end.mitre_deg))
    words = "square"
    if angle:
        words = f"{_degrees(angle)} deg"
        if mitred:
            words += " mitre" if angle > 0.0 else " mitre, inside out"
        else:
            words += f", {'left' if angle > 0.0 else 'right'} side longer"
    return f"{words}, bevel {_degrees(end.bevel_deg)} deg" if end.bevel_deg else words


def _degrees(angle: float) -> str:
    return f"{abs(angle):.2f}".rstrip("0").rstrip(".")


def _sawn(part: Part) -> str:
    left, right = part.sawn_edges
    return {(True, True): "both", (True, False): "left", (False, True): "right"}.get((left, right), "")


def _notes(part: Part, config: Config, trouble: str | None) -> list[str]:
    notes = [f"NO BOARD: {trouble}"] if trouble else []
    if part.width_end is not None:
        notes.append("tapered")
    for notch in part.notches:
        start, end = (format_length(along, config.units, config.read_to) for along in notch.along)
        notes.append(f"{'hole' if notch.inside else 'notch'} for {notch.fixture}, {start} to {end} from end 1")
    if part.pockets:
        high = sum(pocket.level == "high" for pocket in part.pockets)
        notes.append(f"{len(part.pockets)} pockets, {high} of them high")
    return notes
