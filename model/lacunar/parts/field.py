"""Parts as measured again on the wood: what [field] of the config says instead of the design."""

import difflib
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config, DonePiece, FieldRow, Sheet, sheets_trusted
from lacunar.errors import LayoutError, Problem
from lacunar.layout import Size, of_base
from lacunar.parts.cut import longer
from lacunar.parts.faces import face_lengths, faced
from lacunar.parts.part import BEAM_PIECES, Part
from lacunar.parts.sawn import rip_to, sawn_edge
from lacunar.tape import Tape
from lacunar.tolerances import ARITHMETIC
from lacunar.units import finest_mark, nearest_mark


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldChange:
    """One part whose numbers differ.

    Attributes:
        lengths: before and after.
        widths: at the first end, before and after.
        widths_end: at the second end, before and after; the same as `widths` where the part is not tapered.
        mitres: of both ends, before and after, degrees away from square.
    """

    part: str
    kind: str
    lengths: tuple[float, float]
    widths: tuple[float, float]
    widths_end: tuple[float, float]
    mitres: tuple[tuple[float, float], tuple[float, float]]


_WIDTHS, _INTERVAL = ("width", "width_end"), ("shortest", "longest")

_TAKES: Mapping[str, tuple[tuple[str, ...], str]] = {
    "beam": (("length", "faces"), "a length, or those of its two faces,"),
    "slat": (("length", *_WIDTHS, *_INTERVAL), "a length, widths and an interval"),
}
"""Keys of a row by kind, and how that is told; all else takes a length."""


class _NoUseError(Exception):
    """A row that a part cannot take: the key, and what is wrong."""

    def __init__(self, key: str, what: str, fix: str = "") -> None:
        super().__init__(what)
        self.key, self.what, self.fix = key, what, fix


def apply_field(parts: Sequence[Part], config: Config) -> tuple[Part, ...]:
    """The parts with the sizes of [field], in the design's shapes; what has no row, or one like the design, stays.

    Like the design is what differs from it by no more than what is written is rounded by. A row changes only the part
    that it names. A slat's interval goes with its length, and its length with its interval, where only one of them is
    given.

    Raises:
        LayoutError: rows that no part, or not this part, can take; all of them.
    """
    problems = list(_unknown(parts, config))
    made: list[Part] = []
    for part in parts:
        row = config.field.get(part.id)
        try:
            made.append(part if row is None else _measured(part, row, parts, config.slats.width, config.tape))
        except _NoUseError as error:
            where = f"{config.path.name} field.{part.id}.{error.key}"
            problems.append(Problem(where=where, what=error.what, fix=error.fix))
    if problems:
        raise LayoutError(problems)
    return tuple(made)


def as_done(parts: Sequence[Part], config: Config) -> tuple[Part, ...]:
    """The parts, those that are cut already as wide as they were ripped, whatever was measured since."""
    cut = config.done.cut
    return tuple(_as_ripped(part, cut[part.id], parts, config) if part.id in cut else part for part in parts)


def _as_ripped(part: Part, piece: DonePiece, parts: Sequence[Part], config: Config) -> Part:
    if piece.width is None:
        return part
    row = FieldRow().model_copy(update={"width": piece.width, "width_end": piece.width_end})
    try:
        ripped = _measured(replace(part, interval=None), row, parts, config.slats.width, config.tape)
    except _NoUseError:  # the design has it ripped no more
        return part
    return replace(ripped, interval=part.interval)


def field_sheets(parts: Sequence[Part]) -> Mapping[Sheet, Mapping[str, tuple[str, ...]]]:
    """What each sheet of field measures is about: part ids by sheet, with the keys that each part wants.

    Rips are cut to the holes that the full slats leave, where a coffer has two of them the first as well as the last.
    """
    bought = [part for part in parts if part.bought]
    slats = [part for part in bought if part.kind == "slat"]
    sheets: dict[Sheet, list[Part]] = {
        "beam pieces": [part for part in bought if part.kind in BEAM_PIECES],
        # What lies between two cut-outs hangs on no side of the coffer.
        "slats": [part for part in slats if any(part.grow)],
        "rips": [part for part in slats if any(part.sawn_edges)],
        "trim": [part for part in bought if part.kind == "trim"],
    }
    return {
        sheet: {part.id: _width_keys(part) if sheet == "rips" else ("length",) for part in members}
        for sheet, members in sheets.items()
        if members
    }


def waits_for(
    parts: Sequence[Part], field: Mapping[str, FieldRow], cut: Collection[str] = ()
) -> Mapping[str, Mapping[str, str]]:
    """What must not be cut yet: the measure, not in [field], that a part's "length" or "width" waits for, by part."""
    wanted = field_sheets(parts)
    found: dict[str, dict[str, str]] = {}
    for sheet in sheets_trusted(field, wanted, cut):
        for part in sheet.missing:
            found.setdefault(part, {})[wanted[sheet.sheet][part][0]] = sheet.measure
    return found


def _width_keys(part: Part) -> tuple[str, ...]:
    return ("width",) if part.width_end is None else ("width", "width_end")


def field_changes(before: Sequence[Part], after: Sequence[Part], mark: float) -> tuple[FieldChange, ...]:
    """Parts that are cut to another length or width, in their order.

    Args:
        before: as designed.
        after: as measured.
        mark: the finest that anything is cut to, mm; what differs by less than it takes to reach another is the same.
    """
    old = {part.id: part for part in before}
    changes = (_change(old[part.id], part) for part in after if part.id in old)
    return tuple(change for change in changes if _differs(change, mark))


def _change(old: Part, new: Part) -> FieldChange:
    return FieldChange(
        part=new.id,
        kind=new.kind,
        lengths=(old.length, new.length),
        widths=(old.width, new.width),
        widths_end=(old.widths[1], new.widths[1]),
        mitres=(_mitres(old), _mitres(new)),
    )


def _mitres(part: Part) -> tuple[float, float]:
    return part.ends[0].mitre_deg, part.ends[1].mitre_deg


def _differs(change: FieldChange, mark: float) -> bool:
    pairs = (change.lengths, change.widths, change.widths_end)
    old, new = change.mitres
    return old != new or any(nearest_mark(before, mark) != nearest_mark(after, mark) for before, after in pairs)


def _unknown(parts: Sequence[Part], config: Config) -> Iterator[Problem]:
    ids = [part.id for part in parts]
    boards = enumerate(config.done.board, 1)
    done = [
        (f"done.board[{b}].pieces[{n}].part", one.part) for b, board in boards for n, one in enumerate(board.pieces, 1)
    ]
    for key, name in (*((f"field.{name}", name) for name in config.field), *done):
        if name in ids:
            continue
        near = difflib.get_close_matches(name, ids, n=1, cutoff=0.5)
        fix = f"did you mean {near[0]}?" if near else "the cut list has every part's id"
        fix += "; lacunar done --undo takes it back" if key.startswith("done.") else ""
        yield Problem(where=f"{config.path.name} {key}", what=f"there is no part {name}", fix=fix)


def _measured(part: Part, row: FieldRow, parts: Sequence[Part], full: float, tape: Tape) -> Part:
    within = finest_mark(tape.units)
    _refuse(part, row, within)
    if _is_like(part, row, within):
        return part
    size = _ripped(part, row, parts, full, tape) if part.kind == "slat" else part
    interval, length = _interval(size, row), size.length
    if row.length is not None:
        length = length if abs(row.length - length) <= ARITHMETIC else row.length
    elif interval is not None and size.interval is not None:
        length = _length_in(interval, size, size.interval, tape.read_to)
    _must_fit(length, interval, row, tape)
    if row.faces is not None:
        size = faced(part, _faces(part, row.faces), {other.id for other in parts})
        length = size.length
    new = replace(part, **of_base(size, Size) | longer(size, part, length - size.length) | {"interval": interval})
    return part if new == part else replace(new, drawn=Size(**of_base(part, Size)))


def _refuse(part: Part, row: FieldRow, within: float) -> None:
    if not part.bought:
        raise _NoUseError(next(_given(row), "length"), f"{part.id} hangs there already: nothing of it is cut")
    takes, told = _TAKES.get("beam" if part.kind in BEAM_PIECES else part.kind, (("length",), "a length"))
    for key in _given(row):
        if key not in takes:
            raise _NoUseError(key, f"a {part.kind} takes {told} only")
        if key in _INTERVAL and part.interval is None:
            what = "its ends are cut to an angle or round a fixture, so it takes a length, no interval"
            raise _NoUseError(key, what)
    if row.length is not None and not any(part.grow) and abs(row.length - part.length) > within:
        raise _NoUseError("length", "both its ends are cut round a fixture: its length hangs on no side of the coffer")


def _given(row: FieldRow) -> Iterator[str]:
    for key in ("length", *_WIDTHS, *_INTERVAL, "faces"):
        if getattr(row, key) is not None:
            yield key


def _is_like(part: Part, row: FieldRow, within: float) -> bool:
    """Whether a row says no other than the design."""
    drawn = {
        "length": part.length,
        **dict(zip((*_WIDTHS, *_INTERVAL), (*part.widths, *(part.interval or ())), strict=False)),
    }
    pairs = [(getattr(row, key), drawn[key]) for key in _given(row) if key != "faces"]
    if row.faces is not None:
        pairs += zip(_faces(part, row.faces), face_lengths(part), strict=True)
    return all(abs(given - mm) <= within for given, mm in pairs)


def _faces(part: Part, faces: Mapping[str, float]) -> tuple[float, float]:
    """Of the left and the right face."""
    if {*faces} != {*part.beside}:
        raise _NoUseError("faces", f"got {', '.join(faces) or 'none'}, must be both of {', '.join(part.beside)}")
    return faces[part.beside[0]], faces[part.beside[1]]


def _ripped(part: Part, row: FieldRow, parts: Sequence[Part], full: float, tape: Tape) -> Size:
    width = part.width if row.width is None else row.width
    second = row.width_end
    if second is None:
        second = width if part.width_end is None else part.width_end
    if max(abs(width - part.widths[0]), abs(second - part.widths[1])) <= ARITHMETIC:
        return part
    key = "width" if row.width is not None and width >= second else "width_end"
    if max(width, second) > full + ARITHMETIC:
        got, limit = (_said(mm, tape) for mm in (max(width, second), full))
        fix = "leave a wider edge gap, or put a narrower slat beside it"
        raise _NoUseError(key, f"got {got}, the board is only {limit} wide", fix)
    edge = sawn_edge(part, [other for other in parts if other.kind == "slat" and other.coffer == part.coffer])
    if edge is None:
        raise _NoUseError(key, "only the first and the last slat of a coffer are ripped to a measured width")
    return rip_to(part, width, second, edge, min(width, second) < full - ARITHMETIC)


def _interval(size: Size, row: FieldRow) -> tuple[float, float] | None:
    """As measured; what is not given goes with the length."""
    if size.interval is None:
        return None
    by = 0.0 if row.length is None else row.length - size.length
    given = (row.shortest, row.longest)
    new = tuple(old + by if mm is None else mm for old, mm in zip(size.interval, given, strict=True))
    same = all(abs(mm - old) <= ARITHMETIC for old, mm in zip(size.interval, new, strict=True))
    return size.interval if same else (new[0], new[1])


def _length_in(interval: tuple[float, float], size: Size, old: tuple[float, float], mark: float) -> float:
    """As far below the longest as the design's length was, on a mark, within the interval."""
    if interval == old:
        return size.length
    wished = min(max(interval[1] - (old[1] - size.length), interval[0]), interval[1])
    on_mark = nearest_mark(wished, mark)
    return on_mark if interval[0] - ARITHMETIC <= on_mark <= interval[1] + ARITHMETIC else wished


def _must_fit(length: float, interval: tuple[float, float] | None, row: FieldRow, tape: Tape) -> None:
    if interval is None or interval[0] - ARITHMETIC <= length <= interval[1] + ARITHMETIC:
        return
    got, low, high = (_said(mm, tape) for mm in (length, *interval))
    key = next((key for key in ("length", "shortest", "longest") if getattr(row, key) is not None), "length")
    raise _NoUseError(key, f"the length is {got}, must be from {low} to {high}", "measure it again")


def _said(mm: float, tape: Tape) -> str:
    return tape.text(mm, "words", tape.written)
