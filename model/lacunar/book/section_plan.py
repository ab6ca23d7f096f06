"""The ceiling cut open, with its distances: a neutral drawing of what the section's picture shows."""

from collections.abc import Iterator, Sequence
from typing import Final

from shapely import LineString, Polygon, box

from lacunar.drawings import (
    GREY,
    PALE,
    WHITE,
    Dimension,
    Outline,
    PlanView,
    Spot,
    Stroke,
    Text,
    Thing,
    plated,
    text_box,
    to_scale,
)
from lacunar.scene import CutFace, CutView, Measure
from lacunar.tape import Tape

LETTERS: Final = 8.0
"""Points."""
STEP: Final = 4.5
"""mm. From one line of distances to the next."""
MOST_STEPS: Final = 30
FILLS: Final = {"beam": PALE, "trim": PALE, "moulding": PALE}


def section_plan(cut: CutView, tape: Tape, size: Spot, steps: Sequence[int]) -> tuple[list[Thing], PlanView, int]:
    """The drawing in a rectangle from (0, 0), its view, and the number n of its scale 1 : n."""
    low, high, foot, top = cut.window
    view, number = to_scale(((low, foot), (high, top)), (0.0, 0.0), size, steps)
    window = box(low, foot, high, top)
    things: list[Thing] = []
    for face in cut.faces:
        things += _face(face, view, window)
    labels: list[Text] = []
    for measure in cut.measures:
        things += _measure(measure, view, tape, labels)
    things += _names(cut, view, window, labels)
    return things, view, number


def _face(face: CutFace, view: PlanView, window: Polygon) -> Iterator[Thing]:
    """What of a face lies in the window; what goes on beyond the cut is drawn thin."""
    inside = Polygon(face.ring).intersection(window)
    if not isinstance(inside, Polygon) or inside.is_empty:
        return
    spots = view.spots([(x, y) for x, y in inside.exterior.coords[:-1]])
    beyond = face.kind == "beyond"
    fill = WHITE if beyond else FILLS.get(face.kind, WHITE)
    yield Outline(
        points=spots, width=0.13 if beyond else 0.35, colour=GREY if beyond else "#000000", fill=fill, layer="wood"
    )
    if face.end_grain:
        (left, up), (right, down) = (
            (min(x for x, _ in spots), min(y for _, y in spots)),
            (
                max(x for x, _ in spots),
                max(y for _, y in spots),
            ),
        )
        cross = LineString([(left, down), (right, up)])
        yield Stroke(points=tuple((x, y) for x, y in cross.coords), width=0.13, colour=GREY, layer="wood")


def _measure(measure: Measure, view: PlanView, tape: Tape, labels: list[Text]) -> Iterator[Thing]:
    """A distance beside what it is of, as far off as no other number stands."""
    places = [_place(measure, view, tape, STEP * step) for step in range(1, MOST_STEPS)]
    taken = [Polygon(text_box(label)) for label in labels]
    free = (place for place in places if not any(Polygon(text_box(place[1])).intersects(other) for other in taken))
    ends, label = next(free, places[-1])
    labels.append(label)
    for start, end in zip(view.spots((measure.start, measure.end)), ends, strict=True):
        yield Stroke(points=(start, end), width=0.1, colour=GREY, layer="measures")
    yield Outline(points=text_box(label), width=0.0, fill=WHITE, layer="measures")
    yield Dimension(points=ends, width=0.2, tick=0.9, label=label, layer="measures")


def _place(measure: Measure, view: PlanView, tape: Tape, off: float) -> tuple[tuple[Spot, Spot], Text]:
    """A distance's line, so far off what it is of, and its number."""
    a, b = view.spots((measure.start, measure.end))
    text = f"{measure.name} {tape.text(measure.size, 'inches', tape.fine)}"
    if measure.side in ("left", "right"):
        x = max(a[0], b[0]) + off
        at = (x + 1.6, (a[1] + b[1]) / 2.0)
        return ((x, a[1]), (x, b[1])), Text(at=at, text=text, size=LETTERS, layer="measures")
    below = measure.side == "below"
    y = max(a[1], b[1]) + off if below else min(a[1], b[1]) - off
    at = ((a[0] + b[0]) / 2.0, y + (2.0 if below else -2.0))
    return ((a[0], y), (b[0], y)), Text(at=at, text=text, size=LETTERS, anchor="centre", layer="measures")


def _names(cut: CutView, view: PlanView, window: Polygon, labels: Sequence[Text]) -> Iterator[Thing]:
    """Ids and kinds of what is cut, where they fit into it and no distance stands."""
    taken = [Polygon(text_box(label)) for label in labels]
    for face in cut.faces:
        inside = Polygon(face.ring).intersection(window)
        if face.kind in ("beyond", "wall") or not isinstance(inside, Polygon) or inside.is_empty:
            continue
        middle = inside.representative_point()
        name = Text(
            at=view.spot((middle.x, middle.y)), text=face.word or face.name, size=LETTERS, anchor="centre", layer="wood"
        )
        own = Polygon(text_box(name))
        if Polygon(view.spots(face.ring)).covers(own) and not any(own.intersects(other) for other in taken):
            taken.append(own)
            yield from plated(name)
