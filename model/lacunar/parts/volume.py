"""Volume of a part in closed form.

A prism between two planes holds plan area x plumb height over the centroid, exactly, because the height is linear over
the plan. A pocket takes a bore cut slantwise by the side face and a pilot cut slantwise by the end face. A plane that
cuts the whole mantle of a cylinder leaves what a square cut where it meets the axis would: lengths along the axis do.
"""

import math

from lacunar.geometry import Ring, area, centroid
from lacunar.parts.drilling import drilled
from lacunar.parts.part import Part, Pocket


def gross_volume(part: Part) -> float:
    """Volume in mm3 before any pocket is drilled: exact for every outline, with holes, between any two planes."""
    return _prism(part.outline, part) - sum(_prism(hole, part) for hole in part.holes)


def pocket_volume(pocket: Pocket) -> float:
    """Volume in mm3 that one pocket takes out, exact where `drilled` names the pocket."""
    bore = math.pi * (pocket.bore / 2.0) ** 2 * pocket.bore_length
    return bore + math.pi * (pocket.pilot / 2.0) ** 2 * pocket.pilot_length


def volume(part: Part) -> float:
    """Volume in mm3 of the wood that is left: the prism less the pockets that can be drilled as drawn.

    Exact: a pocket is subtracted only where its mouth lies wholly in one side face, its shoulder wholly inside the
    wood, its way out wholly in one end face, and it meets no other pocket (see `undrilled`).
    """
    return gross_volume(part) - sum(pocket_volume(pocket) for pocket in drilled(part))


def _prism(ring: Ring, part: Part) -> float:
    middle = centroid(ring)
    return area(ring) * (part.top.at(middle) - part.bottom.at(middle))
