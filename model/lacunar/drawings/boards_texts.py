"""What is written in and below a drawn board."""

from collections.abc import Sequence
from itertools import count
from typing import Final

from lacunar.drawings.boards_leaders import LANE, Leader, in_lanes, led_things
from lacunar.drawings.boards_shape import AIR, BAR, KERF, SawnBand, Scale, bands, corners_of
from lacunar.drawings.boards_words import Said, Words, ids_text
from lacunar.drawings.drawing import Text, Thing
from lacunar.drawings.lettering import POINT, SMALLEST, folded, largest, text_width, unbroken
from lacunar.drawings.page_parts import text_lines
from lacunar.drawings.spots import between
from lacunar.parts import natural
from lacunar.plan import Board, Cut

LEAD: Final = 55.0
"""mm on paper. A text that is led to from a piece is no longer."""
MOST_LINES: Final = 5
"""Of settings under a piece, before they stand beside a line of their own."""
LINE: Final = 2.5
"""mm on paper. From one line of settings to the next."""


def one_texts(boards: Sequence[Board], todo: set[str], words: Words, scale: Scale) -> tuple[list[Thing], float]:
    """Texts of a board: in each piece its id and length, below it its settings; and how far down they go."""
    width = words.width(boards[0])
    things: list[Thing] = []
    leaders: list[Leader] = []
    notes: list[Said] = []
    depth = 0
    for band in bands(boards[0]):
        inside = _inside(band, words, width, scale)
        below = _below(band, words, todo, scale) if inside else None
        if inside and below is not None:
            things += [*inside, *below]
            depth = max(depth, len(below))
        else:
            texts, more = _outside(band, words, todo)
            leaders += _led(band, texts, width, scale)
            notes += more
        todo -= words.stops(band.cuts)
    return _with_notes(things, leaders, notes, BAR + AIR + depth * LINE, scale)


def _with_notes(
    things: list[Thing], leaders: Sequence[Leader], notes: Sequence[Said], top: float, scale: Scale
) -> tuple[list[Thing], float]:
    """Leaders from `top` down, then lines over the whole length of a board; and where they end."""
    led = in_lanes(leaders, scale.right)
    things += led_things(led, top)
    y = top + (max((one.lane for one in led), default=-1) + 1) * LANE
    for text, bold in notes:
        lines = folded(unbroken(text), scale.right - scale.left, SMALLEST, bold=True)
        things += text_lines(lines, (scale.left, y + LINE / 2.0), LINE, SMALLEST, bold=bold, layer="measures")
        y += len(lines) * LINE
    return things, y


def alike_texts(boards: Sequence[Board], todo: set[str], words: Words, scale: Scale) -> tuple[list[Thing], float]:
    """Texts of several boards: in each piece its length, below them what is cut how; and how far down they go."""
    width = words.width(boards[0])
    things: list[Thing] = []
    leaders: list[Leader] = []
    for band in bands(boards[0]):
        lengths = [words.length(cut) for cut in band.cuts]
        inside = _in_pieces(band, lengths, width, scale)
        things += inside
        leaders += [] if inside else _led(band, lengths, width, scale)
    notes: list[Said] = []
    for cuts in _kinds(boards, words):
        length, said = words.length(cuts[0]), words.said(cuts[0], todo)
        bold = any(now for _, now in said)
        head = ", ".join([*([] if bold else [length]), *(text for text, _ in said)])
        notes.append((f"{head}: {ids_text([cut.part for cut in cuts])}", bold))
        todo -= words.stops(cuts)
    return _with_notes(things, leaders, notes, BAR + AIR, scale)


def _kinds(boards: Sequence[Board], words: Words) -> list[list[Cut]]:
    """Pieces of boards that are cut alike, those together that the same is said of, in the order of their ids."""
    kinds: dict[tuple[object, ...], list[Cut]] = {}
    for cuts in zip(*(board.cuts for board in boards), strict=True):
        for cut in cuts:
            kinds.setdefault((words.length(cut), *words.said(cut, set())), []).append(cut)
    return [sorted(kind, key=lambda cut: natural(cut.part)) for kind in kinds.values()]


def _inside(band: SawnBand, words: Words, width: float, scale: Scale) -> list[Thing]:
    """Number and length of its parts; nothing where they do not fit."""
    corners = [corners_of(cut, width, scale) for cut in band.cuts]
    left, right = max(max(c[0][0], c[1][0]) for c in corners), min(min(c[2][0], c[3][0]) for c in corners)
    room, middle = right - left - 2.0 * AIR - KERF, (left + right) / 2.0
    if band.blank is None:
        (cut,) = band.cuts
        rows = ((cut.part, 8.0, True, 0.31), (words.length(cut), 7.0, False, 0.72))
        sizes = [largest(text, room, size, bold=bold) for text, size, bold, _ in rows]
        if None in sizes:
            return []
        return [
            Text(at=(middle, BAR * y), text=text, size=size or SMALLEST, anchor="centre", bold=bold, layer="wood")
            for (text, _, bold, y), size in zip(rows, sizes, strict=True)
        ]
    return _in_pieces(band, [f"{cut.part} {words.length(cut)}" for cut in band.cuts], width, scale)


def _in_pieces(band: SawnBand, texts: Sequence[str], width: float, scale: Scale) -> list[Thing]:
    """A text in each of its parts; nothing where they do not fit."""
    labels = [_in_rip(cut, text, width, scale) for cut, text in zip(band.cuts, texts, strict=True)]
    return [label for label in labels if label] if all(labels) else []


def _in_rip(cut: Cut, text: str, width: float, scale: Scale) -> Text | None:
    """In the middle of what is straight across of a piece over the text's length."""
    left, right = scale.x(cut.start), scale.x(cut.end)
    size = largest(text, right - left - 2.0 * AIR - KERF, 7.0)
    if size is None:
        return None
    corners = corners_of(cut, width, scale)
    reach = text_width(text, size) / (right - left) / 2.0
    shares = (0.5 - reach, 0.5 + reach)
    near = min(between(corners[0], corners[3], share)[1] for share in shares)
    far = max(between(corners[1], corners[2], share)[1] for share in shares)
    tall = min(size, (near - far) / POINT)
    if tall < SMALLEST:
        return None
    return Text(at=((left + right) / 2.0, (near + far) / 2.0), text=text, size=tall, anchor="centre", layer="wood")


def _below(band: SawnBand, words: Words, todo: set[str], scale: Scale) -> list[Thing] | None:
    """Settings under it, for each rip; None where they do not fit. What is set now is bold."""
    room = (band.end - band.start) * scale.ratio - AIR
    middle = scale.x((band.start + band.end) / 2.0)
    lines: list[tuple[str, bool]] = []
    for cut in band.cuts:
        said = words.said(cut, todo)
        if len(band.cuts) > 1:
            said = [(f"{cut.part}: {said[0][0]}", said[0][1]), *said[1:]]
        lines += [(line, bold) for text, bold in said for line in folded(unbroken(text), room, SMALLEST, bold=True)]
    if len(lines) > MOST_LINES * len(band.cuts) or any(
        text_width(line, SMALLEST, bold=True) > room for line, _ in lines
    ):
        return None
    heights = count(BAR + AIR + 0.5 * LINE, LINE)
    return [
        Text(at=(middle, y), text=line, size=SMALLEST, anchor="centre", bold=bold, layer="measures")
        for y, (line, bold) in zip(heights, lines, strict=False)
    ]


def _outside(band: SawnBand, words: Words, todo: set[str]) -> tuple[list[str], list[Said]]:
    """Of pieces too small for their texts: one to lead to each, and what is too long for that."""
    texts: list[str] = []
    notes: list[Said] = []
    for cut in band.cuts:
        said, short = words.said(cut, todo), f"{cut.part} {words.length(cut)}"
        more, bold = ", ".join(text for text, _ in said), any(now for _, now in said)
        if text_width(f"{short}, {more}", SMALLEST) <= LEAD:
            texts.append(f"{short}, {more}")
        else:
            texts.append(short)
            notes.append((f"{cut.part}: {more}", bold))
    return texts, notes


def _led(band: SawnBand, texts: Sequence[str], width: float, scale: Scale) -> list[Leader]:
    """One for each text, from its piece."""
    found: list[Leader] = []
    for i, (cut, text) in enumerate(zip(band.cuts, texts, strict=True), 1):
        corners = corners_of(cut, width, scale)
        x = corners[0][0] + (corners[3][0] - corners[0][0]) * i / (len(band.cuts) + 1)
        found.append(Leader(at=(x, sum(y for _, y in corners) / 4.0), text=text))
    return found
