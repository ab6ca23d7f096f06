"""cut-list.csv: what is cut, in the order in which the saw is set."""

from collections.abc import Sequence
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.drawings import ends_text, notch_texts, settings_by_part, tape_text
from lacunar.parts import Part, natural, sawn_to, waits_for
from lacunar.plan import Plan, Setting, fine_mark
from lacunar.reports.csv_text import csv_text
from lacunar.reports.settings_list import LONG_POINTS
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
    "ends",
    "ripped",
    "sawn_edge",
    "waits_for",
    "board",
    "slot",
    "setting",
    "notes",
)


def cut_list_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each part that is bought: by stock and species, then stop, as they are cut, then id.

    `length` is where the stop is set, `length_mm` the exact length; `waits_for` names the field measures without which
    it must not be cut, and is empty where it may be; `slot` is where the piece waits until it is needed.
    """
    settings = settings_by_part(plan)
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    stocks = {part: s.stock for s in plan.settings for part in s.parts}
    unserved = {item.part: item.reason for item in plan.unserved}
    waits = waits_for(parts, config)
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
            waits=tuple(waits.get(part.id, {}).values()),
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
    waits: Sequence[str],
) -> tuple[str, ...]:
    return (
        part.id,
        part.kind,
        part.coffer or "",
        stock,
        part.species,
        f"{part.length:.2f}",
        _length(part, settings, config),
        *_widths(part, config),
        _section(part.thickness, config),
        ends_text(part, settings, config),
        "yes" if part.ripped else "",
        _sawn(part),
        ", ".join(waits),
        board,
        "" if slot is None else str(slot),
        " ".join(setting.id for setting in settings),
        "; ".join(_notes(part, config, trouble)),
    )


def _length(part: Part, settings: Sequence[Setting], config: Config) -> str:
    """As the stop is set."""
    stops = (setting.stop for setting in settings if setting.stop is not None)
    return tape_text(next(stops, part.length), config, "inches")


def _section(side: float, config: Config) -> str:
    return format_length(side, config.units, fine_mark(config), "inches")


def _widths(part: Part, config: Config) -> tuple[str, str]:
    """The second of a tapered part only; both then say at which end."""
    if part.width_end is None:
        return _section(part.width, config), ""
    first, second = (
        f"{_section(mm, config)} at {at}" for mm, at in zip((part.width, part.width_end), part.meets, strict=True)
    )
    return first, second


def _sawn(part: Part) -> str:
    names = sawn_to(part)
    return f"to {' and '.join(names)}" if names else ""


def _notes(part: Part, config: Config, trouble: str | None) -> list[str]:
    notes = [f"NO BOARD: {trouble}"] if trouble else []
    if part.width_end is not None:
        notes.append("tapered")
    if part.kind == "trim" and config.trim.corners == "mitre":
        notes.append(LONG_POINTS)
    notes += notch_texts(part, config)
    if part.pockets:
        high = sum(pocket.level == "high" for pocket in part.pockets)
        notes.append(f"{len(part.pockets)} pockets, {high} of them high")
    return notes
