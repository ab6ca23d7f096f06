"""What is other in a plan than in the one before it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.config import Config, first_of
from lacunar.cost import money_text
from lacunar.parts import FieldChange, Part, field_changes
from lacunar.plan import Plan
from lacunar.reports.cut_list import cut_list_rows
from lacunar.tolerances import CONTACT

Planned = tuple[Plan, Sequence[Part]]
"""A plan, and the parts at its lengths."""

MOST_NAMES: Final = 6
"""Pieces that are named before "and n more"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Change:
    """What is other after measuring or cutting than before; each pair is before and after.

    Attributes:
        pieces: that are cut to another size; what was cut before is none of them.
        stops: lengths that are cut, those cut to measure among them.
        settings: times that a stop is set.
        boards: still to buy, spares among them.
        cost: of these boards; None where one of them has no price.
        stale: files of a build whose printed sheets hold no longer, but for what is cut meanwhile.
    """

    pieces: tuple[FieldChange, ...]
    stops: tuple[int, int]
    settings: tuple[int, int]
    boards: tuple[int, int]
    cost: tuple[float | None, float | None]
    stale: tuple[str, ...]


def changed(before: Planned, after: Planned, config: Config) -> Change:
    """What is other in the later plan."""
    (old, old_parts), (new, new_parts) = before, after
    return Change(
        pieces=field_changes(old_parts, new_parts, config.tape.fine),
        stops=(_stops(old), _stops(new)),
        settings=(_settings(old), _settings(new)),
        boards=(_boards(old), _boards(new)),
        cost=(old.cost, new.cost),
        stale=_on_paper(tuple(_stale(before, after, config))),
    )


def _stale(before: Planned, after: Planned, config: Config) -> Iterator[str]:
    """Sheets that say something else of what is still to be cut, or have less to buy than is wanted."""
    (old, _), (new, _) = before, after
    left = {cut.part for board in new.boards for cut in board.cuts}
    old_rows, rows = ({row.id: row for row in cut_list_rows(parts, plan, config)} for plan, parts in (before, after))
    if any(old_rows.get(part) != rows[part] for part in left):
        yield "cut-list.csv"
    if any(_set_at(old, part) != _set_at(new, part) for part in left):
        yield "settings.csv"
    was = {(line.stock, line.species, line.length): line.count + line.spare for line in old.buy}
    if any(line.count + line.spare > was.get((line.stock, line.species, line.length), 0) for line in new.buy):
        yield "buy-list.csv"
    boards = {board.id: board for board in old.boards}
    if any(board.id not in boards or not {*board.cuts} <= {*boards[board.id].cuts} for board in new.boards):
        yield "drawings"


def _on_paper(stale: tuple[str, ...]) -> tuple[str, ...]:
    """With what is printed of the same rows: a book has all of them, a label that of its piece."""
    labels = ("labels.pdf",) if "cut-list.csv" in stale else ()
    return (*stale, "crew-book.pdf", *labels) if stale else ()


def _set_at(plan: Plan, part: str) -> list[tuple[float | None, ...]]:
    return [(s.stop, s.fence, s.fence_end, s.mitre_deg) for s in plan.settings if part in s.parts]


def _stops(plan: Plan) -> int:
    return sum(section.stops + section.apart for section in plan.sections)


def _settings(plan: Plan) -> int:
    return sum(section.placements for section in plan.sections)


def _boards(plan: Plan) -> int:
    return sum(line.count + line.spare for line in plan.buy)


def change_lines(one: Change, currency: str) -> tuple[str, ...]:
    """The same in words; none where nothing is other."""
    lines: list[str] = []
    if one.pieces:
        names = first_of([piece.part for piece in one.pieces], MOST_NAMES)
        lines.append(f"{len(one.pieces)} {'piece is' if len(one.pieces) == 1 else 'pieces are'} cut otherwise: {names}")
    pairs = (("stops", one.stops), ("times a stop is set", one.settings), ("boards still to buy", one.boards))
    lines += [f"{what}: {old}, now {new}" for what, (old, new) in pairs if old != new]
    old, new = one.cost
    if old is not None and new is not None and abs(old - new) > CONTACT:
        lines.append(f"boards still to buy cost {money_text(old, currency)}, now {money_text(new, currency)}")
    if one.stale:
        lines.append(f"what was printed of these holds no longer: {', '.join(one.stale)}")
    return tuple(lines)
