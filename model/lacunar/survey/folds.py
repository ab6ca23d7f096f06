"""Where the ceiling folds: from its centre to every point of its rim, one flat triangle meets the next."""

from lacunar.geometry import Line
from lacunar.survey.room import Room, ceiling_rim
from lacunar.tolerances import ARITHMETIC


def fold_crossings(room: Room, line: Line) -> tuple[float, ...]:
    """How far along a line of the plan it crosses the folds of the ceiling, in no order.

    The height along the line is straight between these places. A line through the centre meets all folds there; one
    along a wall meets them at their ends on the rim. A place may be told more than once.
    """
    centre = room.centre[:2]
    found = [line.along(centre)] if line.offset(centre) == 0.0 else []
    for x, y, _ in ceiling_rim(room).values():
        a, b = line.offset(centre), line.offset((x, y))
        if a * b < 0.0:
            found.append(line.along(centre) + a / (a - b) * (line.along((x, y)) - line.along(centre)))
        elif abs(b) <= ARITHMETIC:
            found.append(line.along((x, y)))
    return tuple(found)
