"""What every sheet has: paper, head, foot, and boxes to write in."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.drawings import GREY, SMALLEST, Disc, Label, Page, Spot, Stroke, Thing, paper_size, rectangle, text_width
from lacunar.field.row import Row, Stage
from lacunar.units import Units, format_length, told_mark

MARGIN = 12.0
HEAD = 30.0
FOOT = 11.0
GUTTER = 5.0
BADGE = 2.7
"""mm. Radius of a number's disc."""
CELL = 14.5
"""mm. Height of a name, and under it a box that a pencil writes in."""
BOX = (31.0, 8.6)
"""mm. Of a write-in box: feet, inches and a fraction in handwriting of 6 mm. Own choice, tried on paper size."""

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
        size: of the paper, mm.
        near_light: some of it is measured beside an electrical box.
        how: what to do.
    """

    config: Config
    stage: Stage
    size: Spot
    near_light: bool
    how: str

    @property
    def units(self) -> Units:
        """That the design's values are printed in."""
        return self.config.units

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


def paper(config: Config, stage: Stage, near_light: bool, angled: bool = False) -> Paper:
    """One stage's sheets, empty."""
    how = HOW_ANGLED if angled else HOW[stage]
    return Paper(config=config, stage=stage, size=paper_size(config), near_light=near_light, how=how)


def pages(sheet: Paper, bodies: Sequence[Sequence[Thing]]) -> tuple[Page, ...]:
    """Every body with head and foot."""
    count = len(bodies)
    return tuple(
        Page(size=sheet.size, things=(*_head(sheet, number, count), *body, *_foot(sheet)))
        for number, body in enumerate(bodies, start=1)
    )


def _head(sheet: Paper, number: int, count: int) -> list[Thing]:
    title, how = TITLES[sheet.stage], sheet.how
    right, y = sheet.size[0] - MARGIN, MARGIN
    mark = format_length(sheet.config.read_to, sheet.units, sheet.config.read_to, "words")
    things: list[Thing] = [
        Label(at=(MARGIN, y + 3.0), text=title, size=15.0, bold=True),
        Label(at=(right, y + 3.0), text=f"page {number} of {count}", size=9.0, anchor="right"),
        Label(at=(MARGIN, y + 11.5), text=_short(sheet.config.title, 38), size=11.0),
    ]
    for text, start, end in (("Date", right - 92.0, right - 56.0), ("By", right - 51.0, right)):
        things.append(Label(at=(start, y + 11.5), text=text, size=9.0))
        things.append(Stroke(points=((start + 9.0, y + 13.5), (end, y + 13.5)), width=0.2))
    things.append(Label(at=(MARGIN, y + 17.5), text=how.format(mark=mark), size=8.5, measure=sheet.width))
    things.append(Stroke(points=((MARGIN, y + HEAD - 3.0), (right, y + HEAD - 3.0)), width=0.4))
    return things


def _short(text: str, most: int) -> str:
    return text if len(text) <= most else text[: most - 1].rstrip() + "…"


def _foot(sheet: Paper) -> list[Thing]:
    y = sheet.size[1] - MARGIN - FOOT + 3.0
    things: list[Thing] = [
        Stroke(points=((MARGIN, y), (sheet.size[0] - MARGIN, y)), width=0.4),
        Label(at=(MARGIN, y + 2.0), text=LADDER, size=7.5, measure=sheet.width),
    ]
    if sheet.near_light:
        things.append(Label(at=(MARGIN, y + 6.2), text=ELECTRICITY, size=7.5, bold=True, measure=sheet.width))
    return things


def badge(at: Spot, number: int) -> list[Thing]:
    """A row's number in a disc."""
    return [
        Disc(centre=at, radius=BADGE, width=0.35),
        Label(at=at, text=str(number), size=8.0 if number < 100 else 6.5, anchor="centre", bold=True),
    ]


def cell(at: Spot, box_width: float, width: float, row: Row, units: Units) -> list[Thing]:
    """Number and name; under them the box, the design's value small beside it.

    Args:
        at: top left corner.
        box_width: of the box; 0 for as wide as goes, with the value above it.
        width: of the whole cell.
        row: what is measured.
        units: of the value.
    """
    x, y = at
    top = y + 2.0 * BADGE + 0.5
    box = (box_width or width - 2.0, BOX[1] - 0.9)
    value = Label(at=(x + box[0] + 1.5, top + box[1] / 2.0), text=nominal(row, units), size=7.5, colour=GREY)
    if not box_width:
        value = replace(value, at=(x + box[0], y + BADGE), anchor="right")
    return [
        *badge((x + BADGE, y + BADGE), row.number),
        Label(at=(x + 2.0 * BADGE + 1.5, y + BADGE), text=row.short, size=9.0, bold=not row.optional),
        rectangle((x, top), box, width=0.45),
        value,
    ]


def line_cell(at: Spot, width: float, row: Row, units: Units) -> list[Thing]:
    """The same on one line: number, name with its note under it, box, the design's value."""
    x, y = at
    box_x = x + width - BOX[0] - 22.0
    lift = 1.6 if row.note else 0.0
    name_x, bold = x + 2.0 * BADGE + 1.5, not row.optional
    size = max(SMALLEST, min(9.0, 9.0 * (box_x - name_x - 1.0) / text_width(row.short, 9.0, bold=bold)))
    things: list[Thing] = [
        *badge((x + BADGE, y + BOX[1] / 2.0), row.number),
        Label(at=(name_x, y + BOX[1] / 2.0 - lift), text=row.short, size=size, bold=bold),
        rectangle((box_x, y), BOX, width=0.45),
        Label(at=(box_x + BOX[0] + 1.5, y + BOX[1] / 2.0), text=nominal(row, units), size=7.5, colour=GREY),
    ]
    if row.note:
        note = Label(at=(name_x, y + BOX[1] / 2.0 + 2.6), text=row.note, size=6.5, colour=GREY)
        things.append(note)
    return things


def nominal(row: Row, units: Units) -> str:
    """What the design has, as a tape shows it."""
    return format_length(row.design, units, told_mark(units))
