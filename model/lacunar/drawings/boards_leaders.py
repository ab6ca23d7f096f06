"""Text for pieces too small to hold it: below the board, each at the end of a line of its own."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.drawings.drawing import GREY, Disc, Spot, Stroke, Text, Thing
from lacunar.drawings.lettering import text_width

SIZE = 6.0
LANE = 2.9
"""mm. From one line of text to the next."""
AWAY = 1.0
"""mm. Between a leader and its text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Leader:
    """A text, and where on the page the piece lies that it is about."""

    at: Spot
    text: str

    @property
    def width(self) -> float:
        """Room that it wants, mm."""
        return text_width(self.text, SIZE) + AWAY


@dataclass(frozen=True, slots=True, kw_only=True)
class Led:
    """A leader with its lane, from 0 at the top.

    Attributes:
        back: the text stands left of the line.
    """

    leader: Leader
    lane: int
    back: bool


def in_lanes(leaders: Sequence[Leader], right: float) -> tuple[Led, ...]:
    """Lanes in which no text meets another text or a line.

    Texts stand right of their lines, the rightmost pieces in the upper lanes: lines of pieces further left pass on the
    left of them. Those that would run past the page, or into the line of one that does, stand left of their lines in
    the lower lanes, the rightmost lowest.
    """
    back: list[Leader] = []
    ahead: list[Led] = []
    for leader in sorted(leaders, key=lambda leader: -leader.at[0]):
        limit = min([right, *(other.at[0] - AWAY for other in back)])
        if leader.at[0] + leader.width > limit:
            back.append(leader)
            continue
        crossed = [led.lane for led in ahead if led.leader.at[0] < leader.at[0] + leader.width + AWAY]
        ahead.append(Led(leader=leader, lane=max(crossed, default=-1) + 1, back=False))
    below = max((led.lane for led in ahead), default=-1) + 1
    lowest = below + len(back) - 1
    return (*ahead, *(Led(leader=leader, lane=lowest - i, back=True) for i, leader in enumerate(back)))


def led_things(led: Sequence[Led], top: float) -> list[Thing]:
    """Dots, lines and texts; the first lane begins at `top`."""
    things: list[Thing] = []
    for one in led:
        (x, y), below = one.leader.at, top + (one.lane + 0.5) * LANE
        turn = -0.6 if one.back else 0.6
        things += [
            Stroke(points=((x, y), (x, below), (x + turn, below)), width=0.15, colour=GREY, layer="measures"),
            Disc(at=(x, y), radius=0.35, width=0.0, fill=GREY, layer="measures"),
            Text(
                at=(x - AWAY if one.back else x + AWAY, below),
                text=one.leader.text,
                size=SIZE,
                anchor="right" if one.back else "left",
                layer="measures",
            ),
        ]
    return things
