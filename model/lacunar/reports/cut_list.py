"""cut-list.csv: what is cut, in the order in which the saw is set."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.drawings import tape_text
from lacunar.parts import End, Part
from lacunar.plan import Plan, Setting, fine_mark
from lacunar.reports.csv_text import csv_text, natural
from lacunar.reports.settings_list import trim_note
from lacunar.units import format_length

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
    "slot",
    "setting",
    "notes",
)


def cut_list_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each part that is bought: by stock and species, then stop, as they are cut, then id.

    `length` is where the stop is set, `length_mm` the exact length; `slot` is where the piece waits until it is needed.
    """
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
            slot=plan.slots.get(part.id),
            trouble=unserved.get(part.id),
        )
        for part in bought
    )


def cut_list_text(parts: Sequence[Part], plan: Plan, config: Config) -> str:
    """The cut list as CSV, with a line of column names."""
    return csv_text(COLUMNS, cut_list_rows(parts, plan, config))


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
    stop = next((setting for setting in settings if setting.stop is not None), None)
    return (
        stop.stock if stop else part.stock,
        part.species,
        natural(stop.id if stop else "~"),
        natural(part.id),
    )


def _row(
    part: Part,
    config: Config,
    *,
    stock: str,
    settings: Sequence[Setting],
    board: str,
    slot: int | None,
    trouble: str | None,
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
        "" if slot is None else str(slot),
        " ".join(setting.id for setting in settings),
        "; ".join(_notes(part, config, trouble)),
    )


def _length(part: Part, settings: Sequence[Setting], config: Config) -> str:
    """As the stop is set."""
    stops = (setting.stop for setting in settings if setting.stop is not None)
    return tape_text(next(stops, part.length), config)


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
    if expected := trim_note(part, config):
        notes.append(expected)
    for notch in part.notches:
        start, end = (format_length(along, config.units, config.read_to) for along in notch.along)
        notes.append(f"{'hole' if notch.inside else 'notch'} for {notch.fixture}, {start} to {end} from end 1")
    if part.pockets:
        high = sum(pocket.level == "high" for pocket in part.pockets)
        notes.append(f"{len(part.pockets)} pockets, {high} of them high")
    return notes
