"""What every sheet of a stage has: paper, head and foot, and what they say."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.drawings import Page, Spot, Stroke, Text, Thing, WriteIn, page_head, paper_size, rule
from lacunar.field.sheet_row import Row, Stage
from lacunar.tape import Tape
from lacunar.units import told_mark

MARGIN = 12.0
HEAD = 30.0
FOOT = 11.0

TITLES: dict[Stage, str] = {
    "room": "Measure 1: the room",
    "openings": "Measure 2: openings for beam pieces",
    "coffers": "Measure 3: coffers for slats",
    "last": "Measure 4: the holes for rips",
    "trim": "Measure 5: sides for trim",
}
HOW: dict[Stage, str] = {
    "room": "Before wood is bought. Hold the tape level, all at one height, from corner to corner. Read each distance "
    "by itself, to {mark}, and write what the tape says, not the small figure: that is only what is expected.",
    "openings": "Before the pieces are cut. Along both faces of each piece, at the ceiling (top) and at the underside "
    "(bottom), between what its ends meet, to {mark}. A face is called by what it looks at across the coffer. Take "
    "nothing off: clearance is taken off later.",
    "coffers": "Beams are up, no slat is cut. Lengths run along the slats, widths square across them, depth from the "
    "old ceiling down to the underside of the beam. To {mark}; take nothing off. Dashed ones are good to have.",
    "last": "All full slats of the coffer are up, no rip is: where a hole is left at both sides, its design says where "
    "they begin. From the edge of the slat square to the beam or wall, at both ends of each hole, to {mark}. Take "
    "nothing off.",
    "trim": "Slats are up. Each side from corner to corner, right under the slats, to {mark}. Take nothing off.",
}
HOW_ANGLED = (
    "Beams are up, no slat is cut. Draw both edges of every slat on the old ceiling, a spacer apart. Then measure each "
    "along its middle line, from beam to beam or wall, to {mark}. Take nothing off: end gaps are taken off later."
)
"""For coffers, where all slats lie at an angle."""
LADDER = (
    "On the ladder: all feet on the floor and locked, hips between the rails; climb down to move it. "
    "Long tapes: two people."
)
"""Source: common practice."""
ELECTRICITY = (
    "Near the light: breaker off and box tested dead before a tape comes near. Local code and licensed trades decide."
)
"""Source: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """One stage's sheets.

    Attributes:
        title: of the job.
        tape: that is read.
        size: of the paper, mm.
        near_light: some of it is measured beside an electrical box.
        how: what to do.
    """

    title: str
    tape: Tape
    stage: Stage
    size: Spot
    near_light: bool
    how: str

    def write_in(self, row: Row) -> WriteIn:
        """A row as it is written by hand, what the design has as a tape shows it."""
        expected = self.tape.text(row.design, mark=told_mark(self.tape.units))
        return WriteIn(number=row.number, name=row.short, expected=expected, note=row.note, optional=row.optional)

    @property
    def width(self) -> float:
        """Between the margins."""
        return self.size[0] - 2.0 * MARGIN

    @property
    def top(self) -> float:
        """Where the free part of a page begins."""
        return MARGIN + HEAD

    @property
    def bottom(self) -> float:
        """Where it ends."""
        return self.size[1] - MARGIN - FOOT


def paper(config: Config, stage: Stage, near_light: bool, angled: bool) -> Paper:
    """One stage's sheets, empty."""
    how = HOW_ANGLED if angled else HOW[stage]
    size = paper_size(config)
    return Paper(title=config.title, tape=config.tape, stage=stage, size=size, near_light=near_light, how=how)


def pages(sheet: Paper, bodies: Sequence[Sequence[Thing]]) -> tuple[Page, ...]:
    """Every body with head and foot."""
    count = len(bodies)
    return tuple(
        Page(size=sheet.size, things=(*_head(sheet, number, count), *body, *_foot(sheet)))
        for number, body in enumerate(bodies, start=1)
    )


def _head(sheet: Paper, number: int, count: int) -> list[Thing]:
    right, y = sheet.size[0] - MARGIN, MARGIN
    mark = sheet.tape.text(sheet.tape.read_to, "words")
    title = sheet.title if len(sheet.title) <= 38 else sheet.title[:37].rstrip() + "…"
    number_at = f"page {number} of {count}"
    things = [
        *page_head(TITLES[sheet.stage], number_at, (MARGIN, y + 3.0), right, (15.0, 9.0)),
        Text(at=(MARGIN, y + 11.5), text=title, size=11.0),
    ]
    for text, start, end in (("Date", right - 92.0, right - 56.0), ("By", right - 51.0, right)):
        things.append(Text(at=(start, y + 11.5), text=text, size=9.0, layer="boxes"))
        things.append(Stroke(points=((start + 9.0, y + 13.5), (end, y + 13.5)), width=0.2, layer="boxes"))
    how = Text(at=(MARGIN, y + 17.5), text=sheet.how.format(mark=mark), size=8.5, measure=sheet.width)
    return [*things, how, rule(MARGIN, right, y + HEAD - 3.0)]


def _foot(sheet: Paper) -> list[Thing]:
    y = sheet.size[1] - MARGIN - FOOT + 3.0
    things: list[Thing] = [
        rule(MARGIN, sheet.size[0] - MARGIN, y),
        Text(at=(MARGIN, y + 2.0), text=LADDER, size=7.5, measure=sheet.width),
    ]
    if sheet.near_light:
        things.append(Text(at=(MARGIN, y + 6.2), text=ELECTRICITY, size=7.5, bold=True, measure=sheet.width))
    return things
