"""cut-list.csv: what is cut, in the order in which the saw is set."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config, DonePiece, TrimTable
from lacunar.drawings import ends_text, notch_texts, settings_by_part
from lacunar.parts import Part, natural, sawn_to, waits_for
from lacunar.plan import Plan, Setting
from lacunar.reports.settings_list import LONG_POINTS
from lacunar.reports.spreadsheet import decimal_inches
from lacunar.tape import Tape


@dataclass(frozen=True, slots=True, kw_only=True)
class CutRow:
    """A part as the saw is told of it; text as it is written, nothing where it does not apply."""

    id: str
    kind: str
    coffer: str
    stock: str
    species: str
    length_mm: str
    length_in: str
    length: str
    width: str
    width_end: str
    thickness: str
    ends: str
    ripped: str
    sawn_edge: str
    waits_for: str
    board: str
    slot: str
    setting: str
    notes: str


def cut_list_rows(parts: Sequence[Part], plan: Plan, config: Config) -> tuple[CutRow, ...]:
    """One row for each part that is bought: by stock and species, then stop, as they are cut, then id.

    `length` is where the stop is set, `length_mm` and `length_in` the exact length; `waits_for` names the field
    measures without which it must not be cut, and is empty where it may be; `slot` is where the piece waits until it is
    needed.
    """
    settings = settings_by_part(plan)
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    stocks = {part: s.stock for s in plan.settings for part in s.parts}
    unserved = {item.part: item.reason for item in plan.unserved}
    waits, tape = waits_for(parts, config.field, config.done.cut), config.tape

    def row(part: Part) -> CutRow:
        mine = settings.get(part.id, ())
        width, width_end = _widths(part, tape)
        return CutRow(
            id=part.id,
            kind=part.kind,
            coffer=part.coffer or "",
            stock=stocks.get(part.id, part.stock),
            species=part.species,
            length_mm=f"{part.length:.2f}",
            length_in=decimal_inches(part.length),
            length=tape.cut_text(next((s.stop for s in mine if s.stop is not None), part.length), "inches"),
            width=width,
            width_end=width_end,
            thickness=_section(part.thickness, tape),
            ends=ends_text(part, mine, tape),
            ripped="yes" if part.ripped else "",
            sawn_edge=f"to {' and '.join(names)}" if (names := sawn_to(part)) else "",
            waits_for=", ".join(waits.get(part.id, {}).values()),
            board=boards.get(part.id, ""),
            slot=str(plan.slots.get(part.id, "")),
            setting=" ".join(setting.id for setting in mine),
            notes="; ".join((*_done(part, config.done.cut), *_notes(part, config.trim, tape, unserved.get(part.id)))),
        )

    bought = (part for part in parts if part.bought)
    return tuple(row(part) for part in sorted(bought, key=lambda part: _order(part, settings.get(part.id, ()))))


def _done(part: Part, cut: Mapping[str, DonePiece]) -> tuple[str, ...]:
    """What is not to be cut any more."""
    return () if part.id not in cut else ("up",) if cut[part.id].is_up else ("cut already",)


def _order(part: Part, settings: Sequence[Setting]) -> tuple[object, ...]:
    stock, stop = next(((s.stock, s.id) for s in settings if s.stop is not None), (part.stock, "~"))
    return stock, part.species, natural(stop), natural(part.id)


def _section(side: float, tape: Tape) -> str:
    return tape.text(side, "inches", tape.fine)


def _widths(part: Part, tape: Tape) -> tuple[str, str]:
    """The second of a tapered part only; both then say at which end."""
    if part.width_end is None:
        return _section(part.width, tape), ""
    first, second = (
        f"{_section(mm, tape)} at {at}" for mm, at in zip((part.width, part.width_end), part.meets, strict=True)
    )
    return first, second


def _notes(part: Part, trim: TrimTable, tape: Tape, trouble: str | None) -> list[str]:
    notes = [f"NO BOARD: {trouble}"] if trouble else []
    if part.width_end is not None:
        notes.append("tapered")
    if part.kind == "trim" and trim.is_mitred:
        notes.append(LONG_POINTS)
    notes += notch_texts(part, tape)
    if part.pockets:
        high = sum(pocket.level == "high" for pocket in part.pockets)
        notes.append(f"{len(part.pockets)} pockets, {high} of them high")
    return notes
