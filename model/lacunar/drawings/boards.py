"""Boards as they lie on the saw stand, in the order in which they are pulled: pages to hang up beside the saw."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from lacunar.config import Config
from lacunar.drawings.boards_bar import WASTE, Scale, draw_bar
from lacunar.drawings.boards_margin import LABELS, MARGIN, TURNS, beside, foot, head, heading
from lacunar.drawings.boards_words import Words, counted, words_of
from lacunar.drawings.page import Page, Thing, moved
from lacunar.drawings.paper import paper_size
from lacunar.parts import Part
from lacunar.plan import Board, Plan, stock_width

HEAD: Final = 11.0
GAP: Final = 2.2
"""mm. Between two boards."""
SECTION: Final = 7.5
"""mm. A line that says which stock follows."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One board, drawn from y = 0 down.

    Attributes:
        title: of its section.
        opens: it is the first of its section.
    """

    things: tuple[Thing, ...]
    height: float
    title: str
    opens: bool


def board_pages(plan: Plan, parts: Sequence[Part], config: Config) -> tuple[Page, ...]:
    """Pages on their sides; lengths are true to one scale on all of them, widths are not. None where there is no board.

    Args:
        plan: of the parts.
        parts: as cut.
        config: for units, saw and paper.
    """
    if not plan.boards:
        return ()
    height, width = paper_size(config)
    left = MARGIN + TURNS + LABELS + WASTE
    right = width - MARGIN
    longest = max(board.length for board in plan.boards)
    scale = Scale(left=left, right=right, ratio=(right - WASTE - left) / longest)
    words = words_of(plan, config, _widths(plan, parts, config))
    rows = [row for section in _sections(plan) for row in _section_rows(section, plan, words, scale)]
    notes, depth = foot(words, plan, parts, scale.ratio, right)
    below = height - MARGIN - depth
    filled = list(_filled(rows, below - MARGIN - HEAD))
    return tuple(
        Page(
            size=(width, height),
            things=(
                *head(config, plan, f"page {number} of {len(filled)}", right),
                *(moved(thing, (0.0, MARGIN + HEAD)) for thing in body),
                *(moved(thing, (0.0, below)) for thing in notes),
            ),
        )
        for number, body in enumerate(filled, 1)
    )


def _widths(plan: Plan, parts: Sequence[Part], config: Config) -> Mapping[tuple[str, str], float]:
    """Of every sort of board: what is cut from it in full width, or what its rips lie across."""
    by_id = {part.id: part for part in parts}
    found: dict[tuple[str, str], float] = {}
    for board in plan.boards:
        key = (board.stock, board.species)
        cut = [by_id[cut.part] for cut in board.cuts]
        sides = (stock_width(part, config) if part.ripped else part.width for part in cut)
        found[key] = max(found.get(key, 0.0), *sides)
    return found


def _sections(plan: Plan) -> Iterator[tuple[Board, ...]]:
    """Boards of one sort that are pulled one after the other."""
    for _, boards in groupby(plan.boards, key=lambda board: (board.stock, board.species)):
        yield tuple(boards)


def _section_rows(boards: Sequence[Board], plan: Plan, words: Words, scale: Scale) -> Iterator[_Row]:
    turns = {turn.number: turn for turn in plan.turns}
    n_turns = len({board.turn for board in boards})
    title = f"{boards[0].stock} {boards[0].species}: {counted(len(boards), 'board')} in {counted(n_turns, 'turn')}"
    for number, group in groupby(boards, key=lambda board: board.turn):
        alike = tuple(group)
        for i, board in enumerate(alike):
            placed = frozenset(turns[number].placed if number in turns and i == 0 else ())
            bar = draw_bar(board, placed, words, scale)
            margin = beside(board, (i, len(alike)), words, said=bar.said)
            height = max(bar.height, margin.height) + GAP
            yield _Row(
                things=(*margin.bracket(height), *margin.things, *bar.things),
                height=height,
                title=title,
                opens=board is boards[0],
            )


def _filled(rows: Sequence[_Row], room: float) -> Iterator[tuple[Thing, ...]]:
    """What stands on each page, from y = 0 down: boards, under a line that says what they are."""
    body: list[Thing] = []
    y = 0.0
    for row in rows:
        titled = row.opens or not body
        if body and y + row.height + (SECTION if titled else 0.0) > room:
            yield tuple(body)
            body, y, titled = [], 0.0, True
        if titled:
            text = row.title if row.opens else f"{row.title} (continued)"
            body += [moved(thing, (0.0, y)) for thing in heading(text)]
            y += SECTION
        body += [moved(thing, (0.0, y)) for thing in row.things]
        y += row.height
    if body:
        yield tuple(body)
