"""What is said on the label of each piece that is cut, in the order in which the saw cuts them."""

import math
import re
from dataclasses import dataclass

from lacunar.book.subject import Book
from lacunar.book.waiting import banners
from lacunar.geometry import Line, dot
from lacunar.layout import Layout
from lacunar.parts import Hand, Part, beside, face_name
from lacunar.reports import CutRow, cut_list_rows


@dataclass(frozen=True, slots=True, kw_only=True)
class Label:
    """A label, to be stuck on the side that will look at the ceiling.

    Attributes:
        length: as the cut list has it.
        up: what the edge at the upper side of the label looks at then, in words.
        ends: what the ends look at to which the label's two sides point.
        stock: with its species.
        where: what it is cut from, and where it waits.
        state: what must be known before it is cut: what it waits for, that no board gives it, that it is cut; or "".
    """

    id: str
    length: str
    up: str
    ends: tuple[str, str]
    stock: str
    where: str
    state: str


def label_rows(book: Book) -> tuple[Label, ...]:
    """One for each part that is bought: board by board as they are pulled, then those that no board gives."""
    place = {cut.part: n for n, cut in enumerate(cut for board in book.plan.boards for cut in board.cuts)}
    by_id, waiting = {part.id: part for part in book.parts}, banners(book)
    rows = cut_list_rows(book.parts, book.plan, book.config)
    return tuple(
        _label(row, by_id[row.id], book.layout, waiting.get(row.id, ""))
        for row in sorted(rows, key=lambda row: place.get(row.id, math.inf))
    )


def _label(row: CutRow, part: Part, layout: Layout, banner: str) -> Label:
    hand, up = _upper_edge(part, layout)
    # Seen from above, the axis of a part runs to the right where what is left of it lies at the upper side.
    first, second = part.meets if hand == "left" else part.meets[::-1]
    return Label(
        id=row.id,
        length=row.length,
        up=f"{row.coffer}, {up}" if row.coffer else up,
        ends=(first, second),
        stock=f"{row.stock} {row.species}".strip(),
        where=", ".join(f"{what} {which}" for what, which in (("board", row.board), ("slot", row.slot)) if which),
        state=_state(row, banner),
    )


def _upper_edge(part: Part, layout: Layout) -> tuple[Hand, str]:
    """The long edge that the label's upper side lies at, and what that looks at: of a slat where slat 1 lies."""
    axis = Line.through(*part.axis)
    if part.kind == "slat" and part.coffer:
        coffer = layout.coffer(part.coffer)
        start = coffer.sides[coffer.start_side]
        return _towards(dot(axis.left, start.line.left)), f"start {start.against}"
    if part.kind == "trim" and part.coffer:
        number = re.search(r"-T(\d+)", part.id)
        side = layout.coffer(part.coffer).sides[int(number[1]) - 1 if number else 0]
        hand = _towards(dot(axis.left, side.line.left))
        return hand, f"against {beside(part, hand)}"
    return "left", face_name(part, "left")


def _towards(left: float) -> Hand:
    return "left" if left > 0.0 else "right"


def _state(row: CutRow, banner: str) -> str:
    if row.waits_for:
        return f"NOT YET: {row.waits_for}"
    if banner:
        return banner
    said = row.notes.split("; ")[0]
    return said.partition(":")[0] if said.startswith("NO BOARD") else said if said in ("up", "cut already") else ""
