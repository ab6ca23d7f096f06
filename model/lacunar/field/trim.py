"""Stage trim: each side of each coffer under the slats; from it the strip's length."""

import math
from collections.abc import Iterator

from lacunar.field.fitted import Fitted
from lacunar.field.sheet_row import Parts, Row, Values
from lacunar.geometry import Line
from lacunar.layout import CofferStrip, Layout


def _side(layout: Layout, strip: CofferStrip) -> Row:
    coffer = layout.coffer(strip.coffer)
    side = coffer.sides[strip.side]
    ends = (side.start, side.end)
    mm = math.dist(*ends) * coffer.ceiling.stretch(Line.through(*ends).direction)
    short, note = strip.id.removeprefix(f"{coffer.id}-"), f"along {side.against}"
    return Row(stage="trim", card=coffer.id, short=short, design=mm, ends=ends, note=note, called=strip.id)


def trim_rows(layout: Layout) -> Iterator[Row]:
    """One of each strip: its side, corner to corner."""
    for strip in layout.trim:
        yield _side(layout, strip)


def fit_trim(layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Lengths of the strips whose side is known: as much longer as the side is."""
    fitted = Fitted()
    for strip in layout.trim:
        if strip.id in values:
            more = values[strip.id] - _side(layout, strip).design
            fitted = fitted.with_row(strip.id, {"length": parts[strip.id].length + more})
    return fitted
