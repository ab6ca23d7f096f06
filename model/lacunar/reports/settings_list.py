"""settings.csv: where the saw is set, in the order of work, and what is cut there."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Final

from lacunar.config import Config
from lacunar.drawings import tape_text
from lacunar.parts import Part
from lacunar.plan import Plan, Setting
from lacunar.reports.csv_text import csv_text, natural

COLUMNS: Final = (
    "id",
    "kind",
    "stock",
    "species",
    "value_mm",
    "value",
    "end_mm",
    "end",
    "pieces",
    "parts",
    "cut_to_measure",
    "notes",
)

KINDS: Final = ("fence", "taper", "stop", "mitre")
"""In the order of work: rips are ripped long, before their last crosscut."""


def setting_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[tuple[str, ...], ...]:
    """One row of `COLUMNS` for each setting: by stock and species as the boards are pulled, then as the saw is used.

    `value_mm` and `value` of a taper are its wider end, `end_mm` and `end` the narrower one. Of a mitre, `value` is the
    angle away from square.
    """
    by_id = {part.id: part for part in parts}
    sorts = list(dict.fromkeys((board.stock, board.species) for board in plan.boards))
    ordered = sorted(plan.settings, key=lambda setting: _order(setting, sorts))
    return tuple(_row(setting, by_id, config) for setting in ordered)


def settings_text(parts: Sequence[Part], plan: Plan, config: Config) -> str:
    """The settings as CSV, with a line of column names."""
    return csv_text(COLUMNS, setting_rows(parts, plan, config))


def write_settings(parts: Sequence[Part], plan: Plan, config: Config, path: Path) -> None:
    """Write settings.csv.

    Raises:
        OSError: it cannot be written.
    """
    path.write_text(settings_text(parts, plan, config), encoding="utf-8", newline="\n")


def _kind(setting: Setting) -> str:
    if setting.fence is not None:
        return "fence" if setting.fence_end is None else "taper"
    return "stop" if setting.stop is not None else "mitre"


def _order(setting: Setting, sorts: Sequence[tuple[str, str]]) -> tuple[object, ...]:
    """Stops are numbered as the boards are pulled, fences and mitres from the widest and steepest."""
    sort = (setting.stock, setting.species)
    place = sorts.index(sort) if sort in sorts else len(sorts)
    return place, sort, KINDS.index(_kind(setting)), natural(setting.id)


def _row(setting: Setting, by_id: Mapping[str, Part], config: Config) -> tuple[str, ...]:
    value = setting.fence if setting.fence is not None else setting.stop
    mm, reading = ("", f"{setting.mitre_deg:.2f}".rstrip("0").rstrip(".") + " deg" if setting.mitre_deg else "")
    if value is not None:
        mm, reading = f"{value:.2f}", tape_text(value, config)
    end = setting.fence_end
    return (
        setting.id,
        _kind(setting),
        setting.stock,
        setting.species,
        mm,
        reading,
        "" if end is None else f"{end:.2f}",
        "" if end is None else tape_text(end, config),
        str(len(setting.parts)),
        " ".join(sorted(setting.parts, key=natural)),
        "yes" if setting.apart else "no",
        "; ".join(_notes(setting, [by_id[name] for name in setting.parts], config)),
    )


def _notes(setting: Setting, parts: Sequence[Part], config: Config) -> list[str]:
    kind = _kind(setting)
    notes: list[str] = []
    if kind == "taper":
        notes.append("sled")
    if kind in ("fence", "taper"):
        notes.append("rip before the last crosscut")
        if any(any(part.sawn_edges) for part in parts):
            notes.append("sawn edge towards the beam or wall")
    if kind == "stop":
        expected = [part.id for part in parts if trim_note(part, config)]
        if expected:
            some = "" if len(expected) == len(parts) else f" ({' '.join(sorted(expected, key=natural))})"
            notes.append(f"{expected_text(config)}{some}: measure before cutting")
    return notes


def trim_note(part: Part, config: Config) -> str:
    """What is to be known of a strip's length until it is measured on the wood; empty for other parts."""
    row = config.field.get(part.id)
    is_open = part.kind == "trim" and (row is None or row.length is None)
    return expected_text(config) if is_open else ""


def expected_text(config: Config) -> str:
    """How the lengths of strips are meant."""
    return "expected, long point to long point" if config.trim.corners == "mitre" else "expected"
