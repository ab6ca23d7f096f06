"""settings.csv: where the saw is set, in the order of work, and what is cut there."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.config import Config, TrimTable
from lacunar.drawings import degrees, mitre_settings, settings_by_part, wider_at
from lacunar.parts import Part, face_name, longer_face, natural, waits_for
from lacunar.plan import Plan, Setting
from lacunar.reports.spreadsheet import decimal_inches


@dataclass(frozen=True, slots=True, kw_only=True)
class SettingRow:
    """A setting as the saw is told of it; text as it is written, nothing where it does not apply."""

    id: str
    kind: str
    stock: str
    species: str
    value_mm: str
    value_in: str
    value: str
    end_mm: str
    end: str
    pieces: str
    parts: str
    cut_to_measure: str
    waits_for: str
    notes: str


LONG_POINTS: Final = "long point to long point"

KINDS: Final = ("fence", "taper", "stop", "mitre")
"""In the order of work: rips are ripped long, before their last crosscut."""


def setting_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[SettingRow, ...]:
    """One row for each setting: by stock and species as the boards are pulled, then as the saw is used.

    `value_mm`, `value_in` and `value` of a taper are its wider end, `end_mm` and `end` the narrower one. Of a mitre,
    `value` is the angle away from square. `waits_for` names the field measure without which nothing must be cut at a
    setting, with the parts where others may be; it is empty where all may.
    """
    by_id, waits = {part.id: part for part in parts}, waits_for(parts, config.field, config.done.cut)
    sorts = list(dict.fromkeys((board.stock, board.species) for board in plan.boards))
    settings = settings_by_part(plan)

    def length(mm: float | None) -> tuple[str, str]:
        return ("", "") if mm is None else (f"{mm:.2f}", config.tape.cut_text(mm, "inches"))

    def row(setting: Setting) -> SettingRow:
        mm = setting.fence or setting.stop
        (value_mm, value), (end_mm, end) = length(mm), length(setting.fence_end)
        return SettingRow(
            id=setting.id,
            kind=_kind(setting),
            stock=setting.stock,
            species=setting.species,
            value_mm=value_mm,
            value_in="" if mm is None else decimal_inches(mm),
            value=degrees(setting.mitre_deg) if setting.mitre_deg else value,
            end_mm=end_mm,
            end=end,
            pieces=str(len(setting.parts)),
            parts=" ".join(sorted(setting.parts, key=natural)),
            cut_to_measure="yes" if setting.apart else "no",
            waits_for=_waits(setting, waits),
            notes="; ".join(_notes(setting, [by_id[name] for name in setting.parts], settings, config.trim)),
        )

    return tuple(row(setting) for setting in sorted(plan.settings, key=lambda setting: _order(setting, sorts)))


def _kind(setting: Setting) -> str:
    if setting.fence is not None:
        return "fence" if setting.fence_end is None else "taper"
    return "stop" if setting.stop is not None else "mitre"


def _order(setting: Setting, sorts: Sequence[tuple[str, str]]) -> tuple[object, ...]:
    """Stops are numbered as the boards are pulled, fences and mitres from the widest and steepest."""
    sort = (setting.stock, setting.species)
    place = sorts.index(sort) if sort in sorts else len(sorts)
    return place, sort, KINDS.index(_kind(setting)), natural(setting.id)


def _notes(
    setting: Setting, parts: Sequence[Part], settings: Mapping[str, Sequence[Setting]], trim: TrimTable
) -> list[str]:
    kind = _kind(setting)
    notes: list[str] = []
    if kind == "taper":
        notes.append("sled")
    if kind in ("fence", "taper"):
        notes.append("rip before the last crosscut")
        if any(any(part.sawn_edges) for part in parts):
            notes.append("sawn edge towards the beam or wall")
        notes += [f"{part.id} is wider at the {wider_at(part)}" for part in parts if part.width_end is not None]
    if kind == "stop" and trim.is_mitred and all(part.kind == "trim" for part in parts):
        notes.append(LONG_POINTS)
    if kind == "mitre":
        notes += _longer_faces(setting, parts, settings, trim)
    return notes


def _longer_faces(
    setting: Setting, parts: Sequence[Part], settings: Mapping[str, Sequence[Setting]], trim: TrimTable
) -> Iterator[str]:
    """At which ends a part is cut at an angle, and which face is the longer there."""
    if trim.is_mitred and all(part.kind == "trim" for part in parts):
        juts = (setting.mitre_deg or 0.0) < 0.0
        yield f"the face {'away from' if juts else 'against'} beam or wall is the longer"
        return
    for part in parts:
        cuts = mitre_settings(part, settings[part.id])
        at = [part.meets[end] for end, cut in enumerate(cuts) if cut is setting]
        faces = [face_name(part, longer_face(part, end)) for end, cut in enumerate(cuts) if cut is setting]
        if len(set(faces)) == 1:
            yield f"{part.id} at {' and '.join(at)}: {faces[0]} longer"
        else:
            yield f"{part.id} " + ", ".join(f"at {name}: {face} longer" for name, face in zip(at, faces, strict=True))


def _waits(setting: Setting, waits: Mapping[str, Mapping[str, str]]) -> str:
    """What widths wait for at a fence, and lengths elsewhere; with the parts, where others may be cut."""
    key = "width" if setting.fence is not None else "length"
    found: dict[str, list[str]] = {}
    for part in setting.parts:
        measure = waits.get(part, {}).get(key)
        if measure is not None:
            found.setdefault(measure, []).append(part)
    return "; ".join(
        measure if len(names) == len(setting.parts) else f"{measure}: {' '.join(sorted(names, key=natural))}"
        for measure, names in found.items()
    )
