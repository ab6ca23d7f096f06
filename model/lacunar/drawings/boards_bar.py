"""One board as it lies on the saw stand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from lacunar.drawings.boards_shape import AIR, BAR, KERF, SawnBand, Scale, bands, corners_of
from lacunar.drawings.boards_texts import alike_texts, one_texts
from lacunar.drawings.boards_words import Words
from lacunar.drawings.drawing import GREY, PALE, WHITE, Hatch, Outline, Stroke, Text, Thing, rectangle
from lacunar.drawings.lettering import SMALLEST, largest
from lacunar.plan import Board

ACCENT: Final = "#a03c00"
WASTE: Final = 1.4
"""mm on paper. The waste at a board's end is drawn no shorter."""
HATCH: Final = 1.1
"""mm on paper. From one line of a hatching to the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnBoard:
    """A board that is drawn from y = 0 down.

    Attributes:
        height: mm, its texts below included.
        said: its offcut is lettered.
    """

    things: tuple[Thing, ...]
    height: float
    said: bool


def draw_bar(boards: Sequence[Board], placed: frozenset[str], words: Words, scale: Scale) -> DrawnBoard:
    """A board with its cuts and their settings, or several that are cut alike.

    Args:
        boards: with their cuts.
        placed: settings that are to be set now: bold where they are used first.
        words: what is written.
        scale: along the board.
    """
    board = boards[0]
    along, saw, width = bands(board), words.saw, words.width(board)
    offcut, said = _offcut(board, words, scale)
    things: list[Thing] = [*_ends(board, scale, saw), *_gone(board, scale, saw), *offcut]
    things += _outlines(along, words, width, scale)
    things += _kerfs(along, width, scale, saw[0])
    written, height = (one_texts if len(boards) == 1 else alike_texts)(boards, set(placed), words, scale)
    return DrawnBoard(things=(*things, *written), height=height, said=said)


def _ends(board: Board, scale: Scale, saw: tuple[float, float]) -> list[Thing]:
    """The board's outline and the waste at both ends, hatched."""
    waste = max(saw[1] * scale.ratio, WASTE if saw[1] else 0.0)
    first, last = scale.x(saw[1]), scale.x(board.length - saw[1])
    left, right = first - waste, last + waste
    whole = rectangle((left, 0.0), (right - left, BAR), width=0.35, layer="wood")
    return [replace(whole, width=0.0, fill=WHITE), *(_hatched(at, at + waste) for at in (left, last)), whole]


def _gone(board: Board, scale: Scale, saw: tuple[float, float]) -> Iterator[Hatch]:
    """Where pieces were that are cut already: hatched, behind those that are still there."""
    if board.rest is not None:
        yield _hatched(scale.x(saw[1]), scale.x(board.length - saw[1] - board.offcut))


def _hatched(left: float, right: float) -> Hatch:
    """Over the whole width of the board."""
    spots = ((left, 0.0), (right, 0.0), (right, BAR), (left, BAR))
    return Hatch(points=spots, width=0.2, colour=GREY, pitch=HATCH, layer="waste")


def _outlines(along: Sequence[SawnBand], words: Words, width: float, scale: Scale) -> Iterator[Thing]:
    """Pieces white, dashed where they must not be cut yet; what is left of a section that is ripped, hatched."""
    for start, end in dict.fromkeys(band.blank for band in along if band.blank is not None):
        yield _hatched(scale.x(start), scale.x(end))
    for band in along:
        for cut in band.cuts:
            points, waits = corners_of(cut, width, scale), bool(words.waiting([cut]))
            if waits:
                # Or the board's own outline would fill the dashes up.
                yield Outline(points=points, width=0.5, colour=WHITE, layer="wood")
            yield Outline(points=points, width=0.25, fill=WHITE, dashed=waits, layer="wood")


def _kerfs(along: Sequence[SawnBand], width: float, scale: Scale, kerf: float) -> Iterator[Thing]:
    """Black; grey where a ripped section is crosscut last."""
    pen = max(kerf * scale.ratio, KERF) if kerf else 0.0
    shift = kerf * scale.ratio / 2.0
    for band in along:
        whole = band.blank is None or band.end == band.blank[1]
        if band.blank is not None and not whole:
            x = scale.x(band.end) + shift
            yield Stroke(points=((x, 0.0), (x, BAR)), width=pen, colour=GREY, layer="waste")
            continue
        spots = corners_of(band.cuts[0], width, scale)
        (xf, _), (xn, _) = (spots[2], spots[3]) if band.blank is None else ((scale.x(band.end), 0.0),) * 2
        yield Stroke(points=((xf + shift, 0.0), (xn + shift, BAR)), width=pen, layer="waste")


def _offcut(board: Board, words: Words, scale: Scale) -> tuple[list[Thing], bool]:
    """What is left over, and whether its length could be written into it."""
    if board.offcut <= 0.0:
        return [], True
    right = board.length - words.saw[1]
    left, width = scale.x(right - board.offcut), board.offcut * scale.ratio
    colour = ACCENT if board.keep else GREY
    fill = WHITE if board.keep else PALE
    rest = rectangle((left, 0.0), (width, BAR), width=0.2, fill=fill, layer="waste")
    room = width - 2.0 * AIR
    fitting = (
        (text, largest(text, room, 7.0, bold=board.keep)) for text in words.offcut(board)[: 1 if board.keep else 2]
    )
    text, size = next(((text, size) for text, size in fitting if size), ("", SMALLEST))
    middle = (left + width / 2.0, BAR / 2.0)
    label = Text(at=middle, text=text, size=size, anchor="centre", bold=board.keep, colour=colour, layer="waste")
    return ([rest, label], True) if text else ([rest], False)
