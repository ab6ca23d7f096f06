"""One board as it lies on the saw stand."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.boards_bands import Band, bands
from lacunar.drawings.boards_leaders import LANE, Leader, Led, in_lanes, led_things
from lacunar.drawings.boards_words import Words
from lacunar.drawings.lettering import POINT, SMALLEST, folded, largest, text_width
from lacunar.drawings.page import GREY, PALE, WHITE, Label, Spot, Stroke, Thing, rectangle
from lacunar.plan import Board, Cut

ACCENT: Final = "#a03c00"
BAR: Final = 8.4
"""mm on paper. Every board is drawn as wide, so that two rips can be lettered."""
KERF: Final = 0.5
"""mm on paper. A kerf is drawn no narrower."""
WASTE: Final = 1.4
"""mm on paper. The waste at a board's end is drawn no shorter."""
HATCH: Final = 1.1
"""mm on paper. From one line of a hatching to the next."""
AIR: Final = 0.6
"""mm on paper. Between a text and what is beside it."""
LINE: Final = 2.5
"""mm on paper. From one line of settings to the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scale:
    """Where boards lie on the page.

    Attributes:
        left: of a board's left end, mm from the page's.
        right: no text reaches further.
        ratio: mm of paper for one mm of board.
    """

    left: float
    right: float
    ratio: float

    def x(self, along: float) -> float:
        """On the page, mm."""
        return self.left + along * self.ratio


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """A board that is drawn from y = 0 down.

    Attributes:
        height: mm, its texts below included.
        said: its offcut is lettered.
    """

    things: tuple[Thing, ...]
    height: float
    said: bool


def draw_bar(board: Board, placed: frozenset[str], words: Words, scale: Scale) -> Bar:
    """A board with its cuts and their settings.

    Args:
        board: with its cuts.
        placed: settings that are to be set now: bold where they are used first.
        words: what is written.
        scale: along the board.
    """
    along, saw = bands(board), words.saw
    offcut, said = _offcut(board, words, scale)
    width = words.width(board)
    things: list[Thing] = [*_ends(board, scale, saw), *offcut, *_outlines(along, width, scale)]
    leaders: list[Leader] = []
    depth = 0
    todo = set(placed)
    for band in along:
        text = _inside(band, words, width, scale)
        below = _below(band, words, todo, scale) if text else None
        if text and below is not None:
            things += [*text, *below]
            depth = max(depth, len(below))
        else:
            leaders += _leaders(band, words, width, scale)
    things += _kerfs(along, width, scale, saw[0])
    led = in_lanes(leaders, scale.right)
    top = BAR + AIR + depth * LINE
    things += led_things(led, top)
    return Bar(things=tuple(things), height=top + _lanes(led) * LANE, said=said)


def _lanes(led: Sequence[Led]) -> int:
    return max((one.lane for one in led), default=-1) + 1


def _ends(board: Board, scale: Scale, saw: tuple[float, float]) -> list[Thing]:
    """The board's outline and the waste at both ends, hatched."""
    waste = max(saw[1] * scale.ratio, WASTE if saw[1] else 0.0)
    first, last = scale.x(saw[1]), scale.x(board.length - saw[1])
    left, right = first - waste, last + waste
    things: list[Thing] = [rectangle((left, 0.0), (right - left, BAR), width=0.0, fill=WHITE)]
    for at in (left, last):
        things += _hatched(at, at + waste)
    return [*things, rectangle((left, 0.0), (right - left, BAR), width=0.35)]


def _hatched(left: float, right: float) -> Iterator[Thing]:
    """Lines that rise to the right, over the whole width of the board, and a frame."""
    start = left - BAR
    steps = int((right - start) / HATCH) + 1
    for i in range(steps):
        x = start + i * HATCH
        a, b = max(x, left), min(x + BAR, right)
        if a < b:
            yield Stroke(points=((a, BAR - (a - x)), (b, BAR - (b - x))), width=0.12, colour=GREY)
    yield rectangle((left, 0.0), (right - left, BAR), width=0.2)


def _outlines(along: Sequence[Band], width: float, scale: Scale) -> Iterator[Thing]:
    """Pieces white; what is left of a section that is ripped, hatched."""
    for start, end in dict.fromkeys(band.blank for band in along if band.blank is not None):
        yield from _hatched(scale.x(start), scale.x(end))
    for band in along:
        for cut in band.cuts:
            yield Stroke(points=_corners(cut, width, scale), closed=True, width=0.25, fill=WHITE)


def _corners(cut: Cut, width: float, scale: Scale) -> tuple[Spot, ...]:
    """Of a piece, from the near edge at its start, clockwise on the page."""
    low, high = cut.across or (0.0, width)
    low_end, high_end = cut.across_end or (low, high)
    (near, far), (far_end, near_end) = _slanted(cut.slants[0], width), _slanted(cut.slants[1], width)
    spots = (
        (cut.start + near, low),
        (cut.start + far, high),
        (cut.end - far_end, high_end),
        (cut.end - near_end, low_end),
    )
    return tuple((scale.x(along), BAR * (1.0 - across / width)) for along, across in spots)


def _slanted(angle_deg: float, width: float) -> tuple[float, float]:
    """How far the two edges of a slanted end fall short of its long point: at its start near and far edge."""
    short = width * math.tan(math.radians(abs(angle_deg)))
    return (short, 0.0) if angle_deg < 0.0 else (0.0, short)


def _kerfs(along: Sequence[Band], width: float, scale: Scale, kerf: float) -> Iterator[Thing]:
    """Black; grey where a ripped section is crosscut last."""
    pen = max(kerf * scale.ratio, KERF) if kerf else 0.0
    shift = kerf * scale.ratio / 2.0
    for band in along:
        whole = band.blank is None or band.end == band.blank[1]
        if band.blank is not None and not whole:
            x = scale.x(band.end) + shift
            yield Stroke(points=((x, 0.0), (x, BAR)), width=pen, colour=GREY)
            continue
        corners = _corners(band.cuts[0], width, scale)
        (xf, _), (xn, _) = (corners[2], corners[3]) if band.blank is None else ((scale.x(band.end), 0.0),) * 2
        yield Stroke(points=((xf + shift, 0.0), (xn + shift, BAR)), width=pen)


def _offcut(board: Board, words: Words, scale: Scale) -> tuple[list[Thing], bool]:
    """What is left over, and whether its length could be written into it."""
    if board.offcut <= 0.0:
        return [], True
    right = board.length - words.saw[1]
    left, width = scale.x(right - board.offcut), board.offcut * scale.ratio
    colour = ACCENT if board.keep else GREY
    things: list[Thing] = [rectangle((left, 0.0), (width, BAR), width=0.2, fill=WHITE if board.keep else PALE)]
    room = width - 2.0 * AIR
    fitting = (
        (text, largest(text, room, 7.0, bold=board.keep)) for text in words.offcut(board)[: 1 if board.keep else 2]
    )
    text, size = next(((text, size) for text, size in fitting if size), ("", SMALLEST))
    middle = (left + width / 2.0, BAR / 2.0)
    label = Label(at=middle, text=text, size=size, anchor="centre", bold=board.keep, colour=colour)
    return ([*things, label], True) if text else (things, False)


def _inside(band: Band, words: Words, width: float, scale: Scale) -> list[Thing]:
    """Number and length of its parts; nothing where they do not fit."""
    corners = [_corners(cut, width, scale) for cut in band.cuts]
    left, right = max(max(c[0][0], c[1][0]) for c in corners), min(min(c[2][0], c[3][0]) for c in corners)
    room, middle = right - left - 2.0 * AIR - KERF, (left + right) / 2.0
    if band.blank is None:
        (cut,) = band.cuts
        rows = ((cut.part, 8.0, True, 0.31), (words.length(cut), 7.0, False, 0.72))
        sizes = [largest(text, room, size, bold=bold) for text, size, bold, _ in rows]
        if None in sizes:
            return []
        return [
            Label(at=(middle, BAR * y), text=text, size=size or SMALLEST, anchor="centre", bold=bold)
            for (text, _, bold, y), size in zip(rows, sizes, strict=True)
        ]
    labels = [_in_rip(cut, words, width, scale) for cut in band.cuts]
    return [label for label in labels if label] if all(labels) else []


def _in_rip(cut: Cut, words: Words, width: float, scale: Scale) -> Label | None:
    """In the middle of what is straight across of a rip over the text's length."""
    text = f"{cut.part} {words.length(cut)}"
    left, right = scale.x(cut.start), scale.x(cut.end)
    size = largest(text, right - left - 2.0 * AIR - KERF, 7.0)
    if size is None:
        return None
    corners = _corners(cut, width, scale)
    reach = text_width(text, size) / (right - left) / 2.0
    shares = (0.5 - reach, 0.5 + reach)
    near = min(_between(corners[0], corners[3], share) for share in shares)
    far = max(_between(corners[1], corners[2], share) for share in shares)
    tall = min(size, (near - far) / POINT)
    if tall < SMALLEST:
        return None
    return Label(at=((left + right) / 2.0, (near + far) / 2.0), text=text, size=tall, anchor="centre")


def _between(start: Spot, end: Spot, share: float) -> float:
    return start[1] + share * (end[1] - start[1])


def _below(band: Band, words: Words, todo: set[str], scale: Scale) -> list[Thing] | None:
    """Settings under it, a line for each rip; None where they do not fit. What is set now is bold, once."""
    room = (band.end - band.start) * scale.ratio - AIR
    middle = scale.x((band.start + band.end) / 2.0)
    lines: list[tuple[str, bool]] = []
    used: set[str] = set()
    for cut in band.cuts:
        for line in folded(words.named(cut), room, SMALLEST, bold=True):
            ids = {word.rstrip("*") for word in line.split()}
            lines.append((line, bool(ids & (todo - used))))
            used |= ids
    if any(text_width(line, SMALLEST, bold=True) > room for line, _ in lines):
        return None
    todo -= used
    return [
        Label(at=(middle, BAR + AIR + (i + 0.5) * LINE), text=line, size=SMALLEST, anchor="centre", bold=bold)
        for i, (line, bold) in enumerate(lines)
    ]


def _leaders(band: Band, words: Words, width: float, scale: Scale) -> Iterator[Leader]:
    for i, cut in enumerate(band.cuts, 1):
        corners = _corners(cut, width, scale)
        x = corners[0][0] + (corners[3][0] - corners[0][0]) * i / (len(band.cuts) + 1)
        y = sum(y for _, y in corners) / 4.0
        text = " ".join([cut.part, words.length(cut), *words.named(cut)])
        yield Leader(at=(x, y), text=text)
