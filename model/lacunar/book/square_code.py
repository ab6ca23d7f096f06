"""A square code that a phone or a scanner reads, as black rectangles."""

from collections.abc import Iterator
from typing import Final

from lacunar.drawings import BLACK, Outline, Spot, Thing, rectangle

QUIET: Final = 4
"""Modules left blank on all sides. Source: ISO/IEC 18004, 4 for this kind of code."""

Run = tuple[int, int, int, int]
"""Column, row, columns, rows of modules."""


def square_code(text: str, at: Spot, side: float) -> Iterator[Thing]:
    """The code of a text in a square with its quiet zone; few rectangles, so that a sheet of labels stays small.

    Args:
        text: any.
        at: top left corner of the square, mm.
        side: of the square, mm.
    """
    import segno

    dark = [[bool(module) for module in row] for row in segno.make_qr(text, error="m").matrix]
    module = side / (len(dark) + 2 * QUIET)
    for column, row, wide, tall in _runs(dark):
        corner = (at[0] + (column + QUIET) * module, at[1] + (row + QUIET) * module)
        yield _block(corner, (wide * module, tall * module))


def _block(at: Spot, size: Spot) -> Outline:
    return rectangle(at, size, width=0.0, fill=BLACK)


def _runs(dark: list[list[bool]]) -> Iterator[Run]:
    """Every dark module in one rectangle: the widest run from where none is covered yet, as far down as it goes."""
    n = len(dark)
    covered = [[False] * n for _ in range(n)]
    for row in range(n):
        for column in range(n):
            if not dark[row][column] or covered[row][column]:
                continue
            end = column
            while end < n and dark[row][end] and not covered[row][end]:
                end += 1
            foot = row + 1
            while foot < n and all(dark[foot][column:end]) and not any(covered[foot][column:end]):
                foot += 1
            for line in covered[row:foot]:
                line[column:end] = [True] * (end - column)
            yield column, row, end - column, foot - row
