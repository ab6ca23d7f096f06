"""The room's sheet: distances on one plan; heights, beams and the light on another."""

import math
from collections.abc import Callable, Sequence

from lacunar.drawings import BOX, GUTTER, Page, Spot, Thing, box_beside, two_columns
from lacunar.field.room_plans import hanging_plan, shape_plan
from lacunar.field.sheet_row import Row
from lacunar.field.sketch import Sketch
from lacunar.field.stage_paper import MARGIN, Paper, pages

PITCH = BOX[1] + 1.3
"""mm. From one row to the next."""
LEAST_PLAN = 96.0
"""mm. Height of a plan below which it gets a page of its own. Own choice: numbers of 17 tapes still stand apart."""

Plan = Callable[[Sketch, Sequence[Row], Spot, Spot], list[Thing]]


def room_pages(sheet: Paper, drawn: Sketch, rows: Sequence[Row]) -> tuple[Page, ...]:
    """As many pages as it takes: first the room's shape, then what hangs in it."""
    shape = [row for row in rows if row.card in ("wall", "across")]
    rest = [row for row in rows if row.card not in ("wall", "across")]
    bodies = [*_part(sheet, drawn, shape, shape_plan), *_part(sheet, drawn, rest, hanging_plan)]
    return pages(sheet, bodies)


def _part(sheet: Paper, drawn: Sketch, rows: Sequence[Row], plan: Plan) -> list[list[Thing]]:
    """Plan and rows on one page, where both are large enough; else the plan first."""
    free = sheet.bottom - sheet.top
    height = free - math.ceil(len(rows) / 2) * PITCH - GUTTER
    if height >= LEAST_PLAN:
        at = (MARGIN, sheet.bottom - math.ceil(len(rows) / 2) * PITCH)
        return [[*plan(drawn, rows, (MARGIN, sheet.top), (sheet.width, height)), *_table(sheet, at, rows)]]
    most = 2 * int(free / PITCH)
    bodies = [plan(drawn, rows, (MARGIN, sheet.top), (sheet.width, free))]
    bodies += [_table(sheet, (MARGIN, sheet.top), rows[i : i + most]) for i in range(0, len(rows), most)]
    return bodies


def _table(sheet: Paper, at: Spot, rows: Sequence[Row]) -> list[Thing]:
    boxes = [sheet.write_in(row) for row in rows]
    return two_columns(boxes, at, sheet.width, PITCH, box_beside)
