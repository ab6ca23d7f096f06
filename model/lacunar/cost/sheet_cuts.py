"""How many pieces a sheet gives."""

import math
from collections.abc import Sequence

from lacunar.geometry import Line, Point, Ring
from lacunar.tolerances import ARITHMETIC

Sides = tuple[float, float]
"""mm."""


def around(ring: Ring, plumb: float) -> Sides:
    """The smaller and the larger side of the smallest rectangle around a coffer, one side along one of its edges.

    Args:
        ring: its outline.
        plumb: how much longer the ceiling is along its slope than in plan; taken in both directions.
    """
    edges = zip(ring, (*ring[1:], ring[0]), strict=True)
    sides = min((_along(ring, start, end) for start, end in edges), key=math.prod)
    return min(sides) * plumb, max(sides) * plumb


def _along(ring: Ring, start: Point, end: Point) -> Sides:
    """Extent of a ring along an edge and across it."""
    edge = Line.through(start, end)
    places = [(edge.along(point), edge.offset(point)) for point in ring]
    return tuple(max(values) - min(values) for values in zip(*places, strict=True))


def per_sheet(piece: Sides, sheet: Sides) -> int:
    """Equal pieces that a sheet gives in rows, in the better of the two directions.

    The kerf is left out: a piece that goes up between beams is cut smaller than its coffer by as much.
    """
    (a, b), (length, width) = piece, sheet
    return max(_times(length, a) * _times(width, b), _times(length, b) * _times(width, a))


def _times(length: float, piece: float) -> int:
    return math.floor((length + ARITHMETIC) / piece)


def cut_sheets(pieces: Sequence[Sides], sheet: Sides) -> int:
    """Sheets that give every piece whole: those of one sheet lie in equal rows, spaced for the largest of them.

    Three orders are tried, and the best is taken: enough for certain; where all pieces are alike, no such rows take
    fewer.

    Args:
        pieces: each fits on a sheet.
        sheet: sides of one.
    """
    orders = (
        sorted(pieces, reverse=True),
        sorted(pieces, key=lambda piece: (piece[1], piece[0]), reverse=True),
        sorted(pieces, key=math.prod, reverse=True),
    )
    return min(_in_order(order, sheet) for order in orders)


def _in_order(pieces: Sequence[Sides], sheet: Sides) -> int:
    """As many of the pieces as fit onto one sheet, then the next sheet."""
    sheets = start = 0
    while start < len(pieces):
        end = start + 1
        while end < len(pieces) and _fit(pieces[start : end + 1], sheet):
            end += 1
        sheets, start = sheets + 1, end
    return sheets


def _fit(pieces: Sequence[Sides], sheet: Sides) -> bool:
    """Whether a sheet gives so many pieces as large as the largest."""
    largest = (max(piece[0] for piece in pieces), max(piece[1] for piece in pieces))
    return per_sheet(largest, sheet) >= len(pieces)
