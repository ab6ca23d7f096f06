"""Boards as they lie on the saw stand, in the order in which they are pulled: pages to hang up beside the saw."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from lacunar.config import Config, CrossBeams, Slats
from lacunar.drawings.boards_bar import WASTE, draw_bar
from lacunar.drawings.boards_margin import LABELS, MARGIN, beside, foot, head, heading, not_yet
from lacunar.drawings.boards_shape import Scale
from lacunar.drawings.boards_words import Words
from lacunar.drawings.cut_words import settings_by_part
from lacunar.drawings.drawing import Page, Thing, moved, paper_size
from lacunar.parts import Part, waits_for
from lacunar.plan import Board, Plan, plan_code, stock_width
from lacunar.told import counted

HEAD: Final = 11.0
GAP: Final = 2.2
"""mm. Between two boards."""
MOST_ALIKE: Final = 120
"""Boards in one drawing, so that it stays shorter than a page whatever its pieces are called."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Row:
    """One board or several that are cut alike, drawn from y = 0 down.

    Attributes:
        title: of its section.
        banner: what of its section must not be cut yet.
        opens: it is the first of its section.
    """

    things: tuple[Thing, ...]
    height: float
    title: str
    banner: str
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
    code = plan_code(parts, plan)
    height, width = paper_size(config)
    left = MARGIN + LABELS + WASTE
    right = width - MARGIN
    longest = max(board.length for board in plan.boards)
    scale = Scale(left=left, right=right, ratio=(right - WASTE - left) / longest)
    words = Words(
        tape=config.tape,
        shop=config.shop,
        currency=config.currency,
        settings=settings_by_part(plan),
        parts={part.id: part for part in parts},
        lengths=plan.lengths,
        widths=_widths(plan, parts, config.slats, config.cross_beams),
        waits=waits_for(parts, config.field, config.done.cut),
    )
    sections = groupby(plan.boards, key=lambda board: (board.stock, board.species))
    rows = [row for _, section in sections for row in _section_rows(tuple(section), plan, words, scale)]
    notes, depth = foot(words, plan, scale.ratio, right, mitred=config.trim.is_mitred)
    below = height - MARGIN - depth
    filled = list(_filled(rows, below - MARGIN - HEAD, right))
    return tuple(
        Page(
            size=(width, height),
            scale=scale.ratio,
            things=(
                *head(config.title, code, plan, f"page {number} of {len(filled)}", right),
                *moved(body, (0.0, MARGIN + HEAD)),
                *moved(notes, (0.0, below)),
            ),
        )
        for number, body in enumerate(filled, 1)
    )


def _widths(
    plan: Plan, parts: Sequence[Part], slats: Slats, cross: CrossBeams | None
) -> Mapping[tuple[str, str], float]:
    """Of every sort of board: what is cut from it in full width, or what its rips lie across."""
    by_id = {part.id: part for part in parts}
    found: dict[tuple[str, str], float] = {}
    for board in plan.boards:
        key = (board.stock, board.species)
        cut = [by_id[cut.part] for cut in board.cuts]
        sides = (stock_width(part, slats, cross) if part.ripped else part.width for part in cut)
        found[key] = max(found.get(key, 0.0), *sides)
    return found


def _section_rows(boards: Sequence[Board], plan: Plan, words: Words, scale: Scale) -> Iterator[_Row]:
    """Boards of one sort that are pulled one after the other."""
    placed = {turn.boards[0]: frozenset(turn.placed) for turn in plan.turns}
    title = f"{boards[0].stock} {boards[0].species}: {counted(len(boards), 'board')}"
    banner = not_yet(boards, words)
    for alike in _alike(boards, placed, words):
        bar = draw_bar(alike, placed.get(alike[0].id, frozenset()), words, scale)
        margin, tall = beside(alike, words, said=bar.said)
        yield _Row(
            things=(*margin, *bar.things),
            height=max(bar.height, tall) + GAP,
            title=title,
            banner=banner,
            opens=alike[0] is boards[0],
        )


def _alike(boards: Sequence[Board], placed: Mapping[str, frozenset[str]], words: Words) -> Iterator[tuple[Board, ...]]:
    """Boards one after the other that are cut alike, at settings that stay where they are."""
    group: list[Board] = []
    for board in boards:
        if group and (
            placed.get(board.id) or len(group) == MOST_ALIKE or _pattern(board, words) != _pattern(group[0], words)
        ):
            yield tuple(group)
            group = []
        group.append(board)
    yield tuple(group)


def _pattern(board: Board, words: Words) -> tuple[object, ...]:
    """What two boards have in common that are drawn as one."""
    cuts = [
        (
            round(cut.start, 1),
            round(cut.end, 1),
            *(round(mm, 1) for mm in (*(cut.across or ()), *(cut.across_end or ()))),
            *(round(angle) for angle in cut.slants),
            words.stops([cut]),
            words.waiting([cut]),
        )
        for cut in board.cuts
    ]
    return board.length, board.on_hand, board.price, board.keep, *cuts


def _filled(rows: Sequence[_Row], room: float, right: float) -> Iterator[tuple[Thing, ...]]:
    """What stands on each page, from y = 0 down: boards, under a line that says what they are."""
    body: list[Thing] = []
    y = 0.0
    for row in rows:
        titled = row.opens or not body
        text = row.title if row.opens else f"{row.title} (continued)"
        head, tall = heading(text, row.banner, right)
        if body and y + row.height + (tall if titled else 0.0) > room:
            yield tuple(body)
            body, y, titled = [], 0.0, True
        if titled:
            body += moved(head, (0.0, y))
            y += tall
        body += moved(row.things, (0.0, y))
        y += row.height
    if body:
        yield tuple(body)
