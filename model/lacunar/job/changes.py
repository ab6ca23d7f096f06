"""What is other in a plan than in the one before it, and how much of a ceiling is done."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.config import Config, Done, first_of
from lacunar.cost import money_text
from lacunar.parts import FieldChange, Part, field_changes
from lacunar.plan import Plan, left_of
from lacunar.reports import cut_list_rows, setting_rows
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
        stale: files of a build whose printed sheets hold no longer.
    """

    pieces: tuple[FieldChange, ...]
    stops: tuple[int, int]
    settings: tuple[int, int]
    boards: tuple[int, int]
    cost: tuple[float | None, float | None]
    stale: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneSoFar:
    """How much of a ceiling is done; lengths in mm.

    Attributes:
        pieces: that are cut in the whole ceiling.
        cut: of them are cut and good; up: of these hang; spoilt: were cut and are no good.
        lengths: how many lengths those that are cut have, which no later plan changes.
        boards: that were cut into.
        bought: their length, whole.
        good, bad, left, lost: what became of it: good pieces, spoilt ones, what is left, saw cuts and ends.
    """

    pieces: int
    cut: int
    up: int
    spoilt: int
    lengths: int
    boards: int
    bought: float
    good: float
    bad: float
    left: float
    lost: float


def changed(before: Planned, after: Planned, config: Config) -> Change:
    """What is other in the later plan."""
    sheets: dict[str, Callable[[Planned], object]] = {
        "cut-list.csv": lambda planned: cut_list_rows(planned[1], planned[0], config),
        "settings.csv": lambda planned: setting_rows(planned[1], planned[0], config),
        "buy-list.csv": lambda planned: planned[0].buy,
        "drawings": lambda planned: planned[0].boards,
    }
    (old, old_parts), (new, new_parts) = before, after
    return Change(
        pieces=field_changes(old_parts, new_parts, config.tape.fine),
        stops=(_stops(old), _stops(new)),
        settings=(_settings(old), _settings(new)),
        boards=(_boards(old), _boards(new)),
        cost=(old.cost, new.cost),
        stale=tuple(name for name, held in sheets.items() if held(before) != held(after)),
    )


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


def done_so_far(parts: Sequence[Part], config: Config) -> DoneSoFar | None:
    """None where nothing is said to be done."""
    done, shop = config.done, config.shop
    if done == Done():
        return None
    good, spoilt = done.cut.values(), done.spoilt
    bought, left = sum(board.length for board in done.board), sum(left_of(board, shop) for board in done.board)
    lengths = [sum(piece.length for piece in pieces) for pieces in (good, spoilt)]
    return DoneSoFar(
        pieces=sum(part.bought for part in parts),
        cut=len(good),
        up=sum(piece.is_up for piece in good),
        spoilt=len(spoilt),
        lengths=len({round(piece.length, 3) for piece in good}),
        boards=len(done.board),
        bought=bought,
        good=lengths[0],
        bad=lengths[1],
        left=left,
        lost=bought - left - sum(lengths),
    )


def done_line(so_far: DoneSoFar) -> str:
    """The same in one line."""
    kept = f", at {so_far.lengths} lengths that stay" if so_far.cut else ""
    spoilt = f", {so_far.spoilt} spoilt" if so_far.spoilt else ""
    boards = f"boards cut into: {so_far.boards}"
    return f"cut: {so_far.cut} of {so_far.pieces} pieces{kept}; up: {so_far.up}{spoilt}; {boards}"
