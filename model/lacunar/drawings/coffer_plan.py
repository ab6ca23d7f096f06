"""A coffer as it is covered: its slats, from where they are counted, what they are nailed to, what keeps nails away.

It is drawn as every plan is, AB across the top, and not as its mirror image. Who faces wall AB and holds the sheet flat
in front of them, printed side up, has A on the left and AB ahead both in the room and on the sheet, whichever way the
head is turned; only a sheet held overhead, printed side down, would have to be mirrored.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.drawings.coffer_sides import side_names
from lacunar.drawings.coffer_wood import Wood, draw_wood
from lacunar.drawings.drawing import Spot, Stroke, Thing
from lacunar.drawings.lettering import text_width
from lacunar.drawings.plan_view import PlanView
from lacunar.drawings.running import OFF, Ladder, Reading, bare, draw_ladder, fits, height_of, thinned, unit
from lacunar.drawings.scales import WHOLE, to_scale
from lacunar.layout import Coffer, Layout, NoNailZone, OverheadLines, Running, Side
from lacunar.parts import Part
from lacunar.tape import Tape

NAME: Final = 8.5
"""mm. Beyond the numbers, for what the sides stand against."""
LINE_OFF: Final = 3.0
"""mm. From the coffer to a line of marks."""
THIRD: Final = 3
"""Every third slat has its number: the two between are set with the spacer."""
ROWS: Final = 4
"""Of numbers above each other at the most, where they stand close."""

WAYS: Final[tuple[Spot, ...]] = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0), (0.0, 1.0))
"""Outward, on the four sides of the page."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CofferDrawing:
    """What a drawing of one coffer needs.

    Attributes:
        parts: slats, trim and furring of the coffer, as cut.
        running: where its slats begin.
        overhead: joists and strips over it.
        zones: where no nail may go.
        size: of its letters, points.
    """

    layout: Layout
    coffer: Coffer
    parts: tuple[Part, ...]
    running: Running
    overhead: tuple[OverheadLines, ...]
    zones: tuple[NoNailZone, ...]
    tape: Tape
    size: float

    @property
    def level(self) -> bool:
        """Slats run across the page."""
        dx, dy = self.coffer.direction
        return abs(dx) >= abs(dy)

    @property
    def bearers(self) -> OverheadLines | None:
        """What crosses the slats and is nailed into: strips of furring where there are any, else joists."""
        crossing = [lines for lines in self.overhead if lines.side != self.coffer.start_side]
        return next((one for kind in ("furring", "joist") for one in crossing if one.kind == kind), None)

    @property
    def start(self) -> Side:
        """The side that slat 1 lies along."""
        return self.coffer.sides[self.coffer.start_side]

    def plain(self, mm: float) -> str:
        """A number on the drawing, as the rule reads it, without its unit."""
        return bare(mm, self.tape)


def coffer_plan(one: CofferDrawing, size: Spot, steps: Sequence[int] = WHOLE) -> tuple[list[Thing], float, int]:
    """The drawing in a rectangle from (0, 0), how far down it reaches, and the number n of its scale 1 : n."""
    rows, margin = 1, _margin(one, 1)
    view, number = _view(one, size, margin, steps)
    while rows < ROWS and any(_crowded(one, view, way, rows) for way in WAYS):
        rows, margin = rows + 1, _margin(one, rows + 1)
        view, number = _view(one, size, margin, steps)
    things: list[Thing] = []
    shown: set[str] = set()
    for way in WAYS:
        rungs, named = _ladder(one, view, way, rows)
        things += rungs
        shown |= named
    if one.coffer.cut_to_shape:
        shown = {str(mark.number) for mark in one.running.marks[::THIRD]}
    wood = Wood(
        layout=one.layout,
        coffer=one.coffer,
        parts=one.parts,
        overhead=one.overhead,
        zones=one.zones,
        numbered=frozenset(part.id for part in one.parts if part.kind == "slat" and _number(part) in shown),
        view=view,
        size=one.size,
    )
    things = [*_start(one, view), *draw_wood(wood), *things]
    things += side_names(one.layout, one.coffer, view, margin, one.size, things)
    return things, max(y for _, y in view.spots(one.coffer.outline)) + margin[1], number


def _margin(one: CofferDrawing, rows: int) -> Spot:
    """What numbers and names take beside the coffer, and above and below it."""
    numbers = [one.plain(mm) for mm in _distances(one)]
    wide = max((text_width(number, one.size) for number in numbers), default=0.0)
    tall = rows * (height_of(one.size) + 1.0)
    return wide + LINE_OFF + OFF + 1.0 + NAME, tall + LINE_OFF + OFF + NAME


def _view(one: CofferDrawing, size: Spot, margin: Spot, steps: Sequence[int]) -> tuple[PlanView, int]:
    """As large as goes, and as high up."""
    (x, y), outline = margin, one.coffer.outline
    view, number = to_scale(outline, (x, y), (size[0] - 2.0 * x, size[1] - 2.0 * y), steps)
    top = min(down for _, down in view.spots(outline))
    return PlanView(scale=view.scale, origin=(view.origin[0], view.origin[1] - (top - y))), number


def _crowded(one: CofferDrawing, view: PlanView, way: Spot, rows: int) -> bool:
    """The numbers of joists or strips want another row."""
    ladder = _placed(one, view, way)
    if ladder.beside is one.level or one.coffer.cut_to_shape:
        return False
    return not fits(ladder, *_bearer_readings(one, view, ladder), rows)


def _placed(one: CofferDrawing, view: PlanView, way: Spot) -> Ladder:
    xs, ys = zip(*view.spots(one.coffer.outline), strict=True)
    edge = {(-1.0, 0.0): min(xs), (1.0, 0.0): max(xs), (0.0, -1.0): min(ys), (0.0, 1.0): max(ys)}[way]
    return Ladder(way=way, line=edge + LINE_OFF * (way[0] + way[1]), size=one.size)


def _number(part: Part) -> str:
    """Of a slat, without the letter of a severed one's half."""
    return part.id.rpartition("-S")[2].rstrip("abcdefgh").lstrip("0")


def _distances(one: CofferDrawing) -> Iterator[float]:
    yield from (mm for mark in one.running.marks for mm in (mark.start, mark.end))
    yield from (mm for mark in (one.bearers.marks if one.bearers else ()) for mm in mark.distances)


def _ladder(one: CofferDrawing, view: PlanView, way: Spot, rows: int) -> tuple[list[Thing], set[str]]:
    """Numbers on one side of the page: where slats begin beside their ends, what holds them along the other two.

    And the slats, by number, whose mark has one.
    """
    if one.coffer.cut_to_shape:
        return [], set()
    ladder = _placed(one, view, way)
    if ladder.beside is one.level:
        readings, along = _slat_readings(one, view, ladder)
        kept = thinned(ladder, readings, along, THIRD)
        numbers = {
            str(mark.number) for mark, reading in zip(one.running.marks, readings, strict=True) if reading in kept
        }
        return draw_ladder(ladder, kept, along), numbers
    readings, along = _bearer_readings(one, view, ladder)
    return draw_ladder(ladder, readings, along, rows), set()


def _slat_readings(one: CofferDrawing, view: PlanView, ladder: Ladder) -> tuple[list[Reading], Spot]:
    """Distances of the end of the start side that lies nearer to a ladder."""
    base, length = one.running.base, one.running.length
    stretch = one.coffer.ceiling.stretch(base.left)
    first = _out(ladder, view.spot(base.at(0.0))) > _out(ladder, view.spot(base.at(length)))
    at = 0.0 if first else length
    marks = [mark.start if first else mark.end for mark in one.running.marks]
    readings = [
        Reading(start=view.spot(base.at(at)), end=view.spot(base.at(at, -mm / stretch)), text=one.plain(mm))
        for mm in marks
    ]
    return readings, unit(view.spot(base.at(0.0)), view.spot(base.at(length)))


def _bearer_readings(one: CofferDrawing, view: PlanView, ladder: Ladder) -> tuple[list[Reading], Spot]:
    """Distances from the face at the slats' ends, where joists or strips meet the side that lies nearer to a ladder."""
    bearers = one.bearers
    if bearers is None:
        return [], (1.0, 0.0)
    face = one.coffer.sides[bearers.side].line
    readings: list[Reading] = []
    for mark in bearers.marks:
        near = max((0, 1), key=lambda end: _out(ladder, view.spot(mark.ends[end])))
        point = mark.ends[near]
        foot = face.at(face.along(point))
        reading = Reading(start=view.spot(foot), end=view.spot(point), text=one.plain(mark.distances[near]))
        # Both halves of a strip that is severed have one line.
        if not readings or reading.text != readings[-1].text:
            readings.append(reading)
    return readings, unit(view.spot(face.at(0.0)), view.spot(face.at(1000.0)))


def _out(ladder: Ladder, spot: Spot) -> float:
    return spot[0] * ladder.way[0] + spot[1] * ladder.way[1]


def _start(one: CofferDrawing, view: PlanView) -> list[Thing]:
    """The side that is measured from, heavy, outside; the line of the first slat, dashed, out to its numbers."""
    right, up = one.start.line.left
    out = [(x + 0.8 * right, y - 0.8 * up) for x, y in view.spots((one.start.start, one.start.end))]
    things: list[Thing] = [Stroke(points=tuple(out), width=1.6, layer="room")]
    if one.running.marks and not one.coffer.cut_to_shape:
        base, stretch, first = one.running.base, one.coffer.ceiling.stretch(one.running.base.left), one.running.marks[0]
        beyond = LINE_OFF / view.scale
        ends = base.at(-beyond, -first.start / stretch), base.at(one.running.length + beyond, -first.end / stretch)
        things.append(Stroke(points=view.spots(ends), width=0.5, dashed=True, layer="measures"))
    return things
