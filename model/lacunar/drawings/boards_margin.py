"""What stands round the drawn boards: head, foot, and what each board is."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.config import Config
from lacunar.drawings.boards_bar import ACCENT, BAR
from lacunar.drawings.boards_words import Words, counted
from lacunar.drawings.lettering import POINT, SMALLEST, folded, largest, shortened, tape_text, text_width
from lacunar.drawings.page import GREY, Label, Stroke, Thing
from lacunar.parts import Part
from lacunar.plan import Board, Plan

MARGIN: Final = 10.0
"""mm. Most printers reach further out. Source: common practice, no source."""
TURNS: Final = 13.0
"""mm. Column of the turns' numbers."""
LABELS: Final = 37.0
"""mm. Column of what a board is."""
LINE: Final = 2.75
"""mm. From one line of it to the next."""
SIZE: Final = 6.5

CARE: Final = (
    "Measure each board before you cut it, and look for splits. Unplug the saw, or take its battery out, before a "
    "stop, a fence or the blade is moved."
)
"""Source: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Beside:
    """What stands left of a board.

    Attributes:
        height: mm.
        place: of the board among those that are cut at once, from 0, and how many these are.
    """

    things: tuple[Thing, ...]
    height: float
    place: tuple[int, int]

    def bracket(self, height: float) -> Iterator[Thing]:
        """Along boards that are cut at once; `height` is to where the next board begins."""
        i, n = self.place
        if n == 1:
            return
        x, tick = MARGIN + TURNS - 1.9, 0.9
        top, bottom = 0.0, BAR if i == n - 1 else height
        points = ((x, top), (x, bottom))
        if i == 0:
            points = ((x + tick, top), *points)
        if i == n - 1:
            points = (*points, (x + tick, bottom))
        yield Stroke(points=points, width=0.5, colour=ACCENT)


def beside(board: Board, place: tuple[int, int], words: Words, *, said: bool) -> Beside:
    """Number, length, stock, species and price of a board, and its turn; its offcut where that could not be `said`."""
    costs = ", ".join(filter(None, [words.money(board), "" if said else words.offcut(board)[0]]))
    lines = [f"{board.stock} {board.species}", costs]
    x = MARGIN + TURNS
    room = LABELS - 1.5
    name = f"{board.id}, {tape_text(board.length, words.config)}"
    things: list[Thing] = [
        Label(at=(x, 1.4), text=shortened(name, room, 8.5, bold=True), size=8.5, bold=True),
        *_turn(board, place),
    ]
    y = 1.4 + LINE + 0.5
    for line in filter(None, lines):
        size = largest(line, room, SIZE) or SMALLEST
        colour = ACCENT if board.on_hand and line.startswith("on hand") else GREY
        for text in folded(line.split(), room, size):
            things.append(Label(at=(x, y), text=shortened(text, room, size), size=size, colour=colour))
            y += LINE
    return Beside(things=tuple(things), height=y - LINE / 2.0, place=place)


def _turn(board: Board, place: tuple[int, int]) -> Iterator[Thing]:
    middle = MARGIN + (TURNS - 2.0) / 2.0
    yield Label(at=(middle, 1.2), text="turn", size=SMALLEST, anchor="centre", colour=GREY)
    yield Label(at=(middle, 4.9), text=str(board.turn), size=10.0, anchor="centre", bold=True, colour=ACCENT)
    i, n = place
    if n > 1 and i == 0:
        yield Label(at=(middle, 8.3), text=f"{n} at once", size=SMALLEST, anchor="centre", colour=ACCENT)


def heading(text: str) -> Iterator[Thing]:
    """Which stock follows."""
    yield Label(at=(MARGIN, 2.6), text=text, size=10.5, bold=True)


def head(config: Config, plan: Plan, number: str, right: float) -> Iterator[Thing]:
    """Title, how many boards, page number and a line under them."""
    count = f"{counted(len(plan.boards), 'board')} in the order in which they are pulled, {number}"
    room = right - MARGIN - text_width(count, 8.5) - 6.0
    title = shortened(f"Boards: {config.title}", room, 14.0, bold=True)
    yield Label(at=(MARGIN, MARGIN + 3.0), text=title, size=14.0, bold=True)
    yield Label(at=(right, MARGIN + 3.5), text=count, size=8.5, anchor="right")
    yield Stroke(points=((MARGIN, MARGIN + 8.0), (right, MARGIN + 8.0)), width=0.4)


def foot(
    words: Words, plan: Plan, parts: Sequence[Part], ratio: float, right: float
) -> tuple[tuple[Thing, ...], float]:
    """What the saw takes, what the signs mean, and what to take care of; from y = 0 down, and its height.

    Args:
        words: for units and saw.
        plan: of the parts.
        parts: as cut.
        ratio: mm of paper for one mm of board.
        right: how far it reaches.
    """
    things: list[Thing] = [Stroke(points=((MARGIN, 0.0), (right, 0.0)), width=0.4)]
    y, pitch = 3.2, SIZE * POINT * 1.35
    for text, bold in ((_saw(words.config, ratio), False), (_signs(plan, parts, words.config), False), (CARE, True)):
        for line in folded(text.split(), right - MARGIN, SIZE, bold=bold):
            things.append(Label(at=(MARGIN, y), text=line, size=SIZE, bold=bold))
            y += pitch
    return tuple(things), y - pitch / 2.0


def _saw(config: Config, ratio: float) -> str:
    kerf, waste = (tape_text(side, config) for side in (config.shop.kerf, config.shop.end_waste))
    return (
        f"Kerf {kerf} (black), end waste {waste} at each end (hatched). Lengths are 1 : {1.0 / ratio:.0f}; "
        "kerfs and end waste are drawn too large, all boards equally wide. The near edge is below."
    )


def _signs(plan: Plan, parts: Sequence[Part], config: Config) -> str:
    signs = ["Bold: set that stop now."]
    cuts = [cut for board in plan.boards for cut in board.cuts]
    if any(cut.blank is not None for cut in cuts):
        signs.append("Rips: crosscut their section (black), rip it, then cut the rips to length (grey).")
    if any(setting.apart for setting in plan.settings):
        signs.append("*: no mark of the tape will do, cut to measure.")
    if any(cut.turned for cut in cuts):
        signs.append("turned: end 2 lies to the left.")
    if any(cut.slants != (0.0, 0.0) for cut in cuts):
        signs.append("Mitred strips share cuts: roll every other one over.")
    if any(part.kind == "trim" and part.bought and part.id not in config.field for part in parts):
        signs.append(
            "Lengths of trim are expected ones, long point to long point: measure each side before its last cut."
        )
    return " ".join(signs)
