"""The pieces of one setting, board by board: which board, how the ends are cut, what comes before and after."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from lacunar.book.subject import Book
from lacunar.book.waiting import banners, under_banners
from lacunar.drawings import degrees, mitre_settings, rip_text, settings_by_part
from lacunar.parts import Part, natural, sawn_to
from lacunar.plan import Board, Cut, Setting
from lacunar.reports import LONG_POINTS, CutRow, SettingRow, cut_list_rows, setting_rows

Row = tuple[str, ...]
Found = Sequence[tuple[str, tuple[Row, ...]]]
"""Rows of a table by the banner that they stand under; "" for what may be cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """A book as the saw wants it.

    Attributes:
        parts: by id.
        cuts: rows of the cut list by part.
        settings: of each part, the stop first.
        rows: of the list of settings, in the order of work, each with its setting.
        banners: over what must not be cut yet, by part.
    """

    book: Book
    parts: Mapping[str, Part]
    cuts: Mapping[str, CutRow]
    settings: Mapping[str, Sequence[Setting]]
    rows: Sequence[tuple[SettingRow, Setting]]
    banners: Mapping[str, str]

    def board(self, board: Board) -> str:
        """Its name and length."""
        there = "" if not board.on_hand else ", on hand" if board.rest is None else ", on hand, cut into"
        return f"{board.id}, {self.book.config.tape.words(board.length)}{there}"


def at_the_saw(book: Book) -> Saw:
    """What all sections share."""
    by_id = {setting.id: setting for setting in book.plan.settings}
    rows = setting_rows(book.parts, book.plan, book.config)
    return Saw(
        book=book,
        parts={part.id: part for part in book.parts},
        cuts={row.id: row for row in cut_list_rows(book.parts, book.plan, book.config)},
        settings=settings_by_part(book.plan),
        rows=[(row, by_id[row.id]) for row in rows],
        banners=banners(book),
    )


STOP_HEAD = ("Board", "Pieces", "Ends", "Before and after", "Bundle")
ENDS = STOP_HEAD.index("Ends")
SQUARE = "square"


def stop_rows(saw: Saw, setting: Setting) -> Found:
    """Board, pieces, ends, what comes before and after, bundle: a row for each board and way to cut."""
    found: list[tuple[str, Row]] = []
    for board, cuts in _boards(saw, setting):
        alike: dict[tuple[str, ...], list[str]] = {}
        for cut in cuts:
            row = saw.cuts[cut.part]
            key = (saw.banners.get(cut.part, ""), _ends(saw, cut.part), "; ".join(_beside(saw, row)), row.slot)
            alike.setdefault(key, []).append(cut.part)
        for (banner, ends, beside, slot), names in alike.items():
            found.append((banner, (saw.board(board), _named(names), ends, beside, slot)))
    return under_banners(sorted(found, key=lambda row: len(row[0])))  # what waits for least comes first


FENCE_HEAD = ("Piece", "Before: crosscut its section", "Rip to", "Sawn edge", "After")


def fence_rows(saw: Saw, setting: Setting) -> Found:
    """Piece, what is crosscut for it first, its width, where its sawn edge goes, what comes after."""
    tape = saw.book.config.tape
    found: list[tuple[str, Row]] = []
    for board, cuts in _boards(saw, setting):
        for cut in cuts:
            part = saw.parts[cut.part]
            start, end = blank = cut.blank or (cut.start, cut.end)
            shared = [other.part for other in board.cuts if other.blank == blank and other is not cut]
            before = f"{saw.board(board)}: {tape.text(end - start, 'inches')}"
            before += f", shared with {_named(shared)}" if shared else ""
            edges = f"to {' and '.join(sawn_to(part))}" if sawn_to(part) else ""
            stops = [one.id for one in saw.settings[part.id] if one.stop is not None]
            row = (part.id, before, rip_text(part, setting, tape), edges, f"{', '.join(stops)}")
            found.append((saw.banners.get(part.id, ""), row))
    return under_banners(sorted(found, key=lambda row: len(row[0])))  # what waits for least comes first


MITRE_HEAD = ("Pieces", "Stop", "Ends")


def mitre_rows(saw: Saw, setting: Setting) -> Found:
    """Pieces, the stop that they are cut at, their ends: those together that are cut alike."""
    alike: dict[tuple[str, str, str], list[str]] = {}
    for name in sorted(setting.parts, key=natural):
        if name in saw.book.config.done.cut:
            continue
        stops = [one.id for one in saw.settings[name] if one.stop is not None]
        ends = _ends(saw, name)
        alike.setdefault((saw.banners.get(name, ""), ", ".join(stops), ends), []).append(name)
    return under_banners((banner, (_named(names), stops, ends)) for (banner, stops, ends), names in alike.items())


def _boards(saw: Saw, setting: Setting) -> Iterator[tuple[Board, Sequence[Cut]]]:
    """Boards in the order in which they are pulled, each with those of its cuts that are of a setting."""
    names = {*setting.parts} - {*saw.book.config.done.cut}
    for board in saw.book.plan.boards:
        cuts = [cut for cut in board.cuts if cut.part in names]
        if cuts:
            yield board, cuts


def _ends(saw: Saw, name: str) -> str:
    """Square ends are all told alike, and those of a strip that is mitred the same at both."""
    part, settings = saw.parts[name], saw.settings[name]
    first, second = mitre_settings(part, settings)
    if any(end.bevel_deg for end in part.ends) or first is not second:
        return saw.cuts[name].ends
    if first is None:
        return SQUARE
    usual = part.kind == "trim" and saw.book.config.trim.is_mitred  # then one face is the longer at both
    return f"{degrees(first.mitre_deg or 0.0)} at both" if usual else saw.cuts[name].ends


def _beside(saw: Saw, row: CutRow) -> Iterator[str]:
    fences = [one.id for one in saw.settings[row.id] if one.fence is not None]
    yield from (f"after {fence}" for fence in fences)
    yield from (note for note in row.notes.split("; ") if note and note != LONG_POINTS)


def _named(names: Sequence[str]) -> str:
    return ", ".join(sorted(names, key=natural))
