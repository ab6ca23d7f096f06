"""The whole ceiling as it will be seen, the way round that the floor is: slats, trim, beams, fixtures, names."""

from collections.abc import Sequence
from typing import Final

from shapely import Polygon

from lacunar.drawings.drawing import GREY, PALE, WHITE, Outline, Spot, Text, Thing
from lacunar.drawings.lettering import cut_short, text_width
from lacunar.drawings.plan_view import PlanView, corner_letters
from lacunar.drawings.plates import plate, plated
from lacunar.drawings.scales import ON_A_RULE, to_scale
from lacunar.geometry import centroid
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.survey import Room
from lacunar.units import Units

AROUND: Final = 9.0
"""mm. For the corners' letters."""
LONGEST: Final = 30.0
"""mm. Of a fixture's name beside it."""


def reflected_plan(
    room: Room, layout: Layout, parts: Sequence[Part], units: Units, size: Spot
) -> tuple[list[Thing], PlanView, int]:
    """The drawing in a rectangle from (0, 0), its view, and the number n of its scale 1 : n."""
    inner = (size[0] - 2.0 * AROUND, size[1] - 2.0 * AROUND)
    view, number = to_scale(room.points, (AROUND, AROUND), inner, ON_A_RULE[units])
    things: list[Thing] = []
    for kinds, width, colour, fill in (
        (("slat",), 0.13, GREY, WHITE),
        (("trim",), 0.15, GREY, PALE),
        (("existing beam", "main beam", "half beam", "cross beam", "moulding"), 0.35, "#000000", PALE),
    ):
        for part in (part for part in parts if part.kind in kinds):
            points = view.spots(part.outline)
            things.append(Outline(points=points, width=width, colour=colour, fill=fill, layer="wood"))
    for hole in layout.cut_outs:
        shown = hole.cover or hole.fixture
        things.append(Outline(points=view.spots(shown), width=0.3, fill=WHITE, layer="room"))
    things.append(Outline(points=view.spots(room.points), width=0.7, layer="room"))
    names = [
        Text(at=view.spot(centroid(c.outline)), text=c.id, size=9.0, anchor="centre", bold=True) for c in layout.coffers
    ]
    for hole in layout.cut_outs:
        x, _ = view.spot(hole.centre)
        name = cut_short(hole.name, LONGEST, lambda text: text_width(text, 7.0))
        below = max(down for _, down in view.spots(hole.cover or hole.fixture))
        names.append(Text(at=(x, below + 2.2), text=name, size=7.0, anchor="centre"))
    shown = [Polygon(view.spots(hole.cover or hole.fixture)) for hole in layout.cut_outs]
    things += _apart(names, shown)
    return [*things, *corner_letters(view, room.points, room.corners)], view, number


def _apart(names: Sequence[Text], fixtures: Sequence[Polygon]) -> list[Thing]:
    """Each on a bare patch, moved up where it would stand on one before it."""
    taken = list(fixtures)
    things: list[Thing] = []
    for name in reversed(names):  # fixtures keep their places, coffers make way
        at = name.at
        for up in range(12):
            moved = Text(
                at=(at[0], at[1] - 1.5 * up),
                text=name.text,
                size=name.size,
                anchor="centre",
                bold=name.bold,
                layer="room",
            )
            box = Polygon(plate(moved))
            if not any(box.intersects(other) for other in taken):
                taken.append(box)
                things += plated(moved)
                break
    return things
