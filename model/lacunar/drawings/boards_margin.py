"""What stands round the drawn boards: head, foot, and what each board is."""

from collections import Counter
from collections.abc import Sequence
from functools import partial
from typing import Final

from lacunar.drawings.boards_bar import ACCENT
from lacunar.drawings.boards_words import Words, numbers_text
from lacunar.drawings.drawing import BLACK, GREY, Text, Thing, rectangle
from lacunar.drawings.lettering import POINT, SMALLEST, cut_short, folded, largest, text_width
from lacunar.drawings.page_parts import page_head, rule, text_lines
from lacunar.plan import Board, Plan
from lacunar.told import counted

MARGIN: Final = 10.0
"""mm. Most printers reach further out. Source: common practice, no source."""
LABELS: Final = 44.0
"""mm. Column of what a board is."""
LINE: Final = 2.75
"""mm. From one line of it to the next."""
SIZE: Final = 6.5
SECTION: Final = 7.5
"""mm. A line that says which stock follows."""
PAD: Final = 1.6
"""mm. Inside the frame of a banner."""
BANNER: Final = 3.6
"""mm. From one line of a banner to the next."""

CARE: Final = (
    "Measure each board before you cut it, and look for splits. Unplug the saw, or take its battery out, before a "
    "stop, a fence or the blade is moved."
)
"""Source: common practice."""


def beside(boards: Sequence[Board], words: Words, *, said: bool) -> tuple[list[Thing], float]:
    """Number, length and price of boards that are cut alike, and how tall; their offcut where that was not `said`.

    What must not be cut yet says so, and what it waits for.
    """
    board, room = boards[0], LABELS - 1.5
    each = " each" if len(boards) > 1 else ""
    waits = words.waiting([cut for one in boards for cut in one.cuts])
    long = words.tape.cut_text(board.length, "words").removesuffix(" 0 in")  # as the yard says it
    lines = [
        (f"x {len(boards)}, " if each else "") + f"{long}{each}{_stacked(boards)}",
        ", ".join(
            filter(None, [words.money(board) + each * bool(words.money(board)), "" if said else words.offcut(board)[0]])
        ),
        f"NOT YET: {', '.join(waits)}" if waits else "",
    ]
    name = numbers_text(boards)
    size = largest(name, room, 8.5, bold=True) or SMALLEST
    things: list[Thing] = [
        Text(
            at=(MARGIN, 1.4),
            text=cut_short(name, room, partial(text_width, size=size, bold=True)),
            size=size,
            bold=True,
        )
    ]
    y = 1.4 + LINE + 0.5
    for line in filter(None, lines):
        bold = line.startswith("NOT YET")
        size = largest(line, room, SIZE, bold=bold) or SMALLEST
        colour = BLACK if bold else ACCENT if board.on_hand and line.startswith("on hand") else GREY
        for text in folded(line.split(), room, size, bold=bold):
            short = cut_short(text, room, partial(text_width, size=size, bold=bold))
            things.append(Text(at=(MARGIN, y), text=short, size=size, bold=bold, colour=colour))
            y += LINE
    return things, y - LINE / 2.0


def _stacked(boards: Sequence[Board]) -> str:
    """How many go through the saw at once."""
    most = max(Counter(board.turn for board in boards).values())
    return f", {most} at once" if most > 1 else ""


def heading(title: str, banner: str, right: float) -> tuple[tuple[Thing, ...], float]:
    """Which stock follows, and in a frame what of it must not be cut yet; from y = 0 down, and its height."""
    things: list[Thing] = [Text(at=(MARGIN, 2.6), text=title, size=10.5, bold=True)]
    if not banner:
        return tuple(things), SECTION
    lines = folded(banner.split(), right - MARGIN - 2.0 * PAD, 8.0, bold=True)
    tall = len(lines) * BANNER + PAD
    things.append(rectangle((MARGIN, SECTION - 1.6), (right - MARGIN, tall), width=0.5))
    at = (MARGIN + PAD, SECTION - 1.6 + PAD / 2.0 + 0.5 * BANNER)
    return (*things, *text_lines(lines, at, BANNER, 8.0, bold=True)), SECTION + tall + 0.6


def not_yet(boards: Sequence[Board], words: Words) -> str:
    """Which boards of a section wait for which field measure; empty where all may be cut."""
    found: dict[str, list[Board]] = {}
    for board in boards:
        for measure in words.waiting(board.cuts):
            found.setdefault(measure, []).append(board)
    if not found:
        return ""
    waits = (f"{_named(some, boards)} for {measure}" for measure, some in found.items())
    return f"NOT YET: {'; '.join(waits)}. Measure that on the wood and build again before you cut."


def _named(some: Sequence[Board], boards: Sequence[Board]) -> str:
    who = "all boards" if len(some) == len(boards) > 1 else numbers_text(some)
    return f"{who} {'waits' if len(some) == 1 else 'wait'}"


def head(title: str, code: str, plan: Plan, number: str, right: float) -> list[Thing]:
    """Title, the plan's code, how many boards, page number and a line under them."""
    count = f"{counted(len(plan.boards), 'board')} in the order in which they are pulled, plan {code}, {number}"
    room = right - MARGIN - text_width(count, 8.5) - 6.0
    title = cut_short(f"Boards: {title}", room, partial(text_width, size=14.0, bold=True))
    return [
        *page_head(title, count, (MARGIN, MARGIN + 3.0), right, (14.0, 8.5), 0.5),
        rule(MARGIN, right, MARGIN + 8.0),
    ]


def foot(words: Words, plan: Plan, ratio: float, right: float, *, mitred: bool) -> tuple[tuple[Thing, ...], float]:
    """What the saw takes, what the signs mean, and what to take care of; from y = 0 down, and its height.

    Args:
        words: for units and saw.
        plan: of the parts.
        ratio: mm of paper for one mm of board.
        right: how far it reaches.
        mitred: strips of trim are, at their corners.
    """
    things: list[Thing] = [rule(MARGIN, right, 0.0)]
    y, pitch = 3.2, SIZE * POINT * 1.35
    for text, bold in ((_saw(words, ratio), False), (_signs(plan, mitred=mitred), False), (CARE, True)):
        lines = folded(text.split(), right - MARGIN, SIZE, bold=bold)
        things += text_lines(lines, (MARGIN, y), pitch, SIZE, bold=bold)
        y += len(lines) * pitch
    return tuple(things), y - pitch / 2.0


def _saw(words: Words, ratio: float) -> str:
    kerf, waste = (words.tape.cut_text(side, "inches") for side in words.saw)
    return (
        f"Kerf {kerf} (black), end waste {waste} at each end (hatched). Lengths are 1 : {1.0 / ratio:.0f}; "
        "kerfs and end waste are drawn too large, all boards equally wide. The near edge is below."
    )


def _signs(plan: Plan, *, mitred: bool) -> str:
    signs = ["Bold: set that stop now. Dashed: not yet, its field measure is missing."]
    cuts = [cut for board in plan.boards for cut in board.cuts]
    if any(cut.blank is not None for cut in cuts):
        signs.append("Rips: crosscut their section (black), rip it, then cut the rips to length (grey).")
    if any(cut.slants != (0.0, 0.0) for cut in cuts):
        signs.append("Mitred strips share cuts: roll every other one over.")
    if mitred:
        signs.append("Lengths of trim are long point to long point.")
    return " ".join(signs)
