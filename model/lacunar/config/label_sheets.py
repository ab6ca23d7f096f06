"""Sheets of labels: the usual ones, and what must hold of one's own."""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from lacunar.config.judge import Breach, Breaches, Judge
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.config.work_tables import LabelGrid, Paper
from lacunar.tolerances import CONTACT
from lacunar.units import INCH, Units

PAPERS: Final[Mapping[Paper, tuple[float, float]]] = {"letter": (8.5 * INCH, 11.0 * INCH), "a4": (210.0, 297.0)}
"""mm, upright. Source: ANSI/ASME Y14.1, size A; ISO 216."""

LEAST: Final = (Limit("2 in", "50 mm"), Limit("1 in", "25 mm"))
"""Width and height of a label. Own judgement: a smaller one does not hold what is written on it."""

GRID: Final[KeyPath] = ("labels", "grid")


@dataclass(frozen=True, slots=True, kw_only=True)
class UsualSheet:
    """A sheet as it is sold: labels across and down, sizes in mm, each across and down."""

    shape: tuple[int, int]
    size: tuple[float, float]
    pitch: tuple[float, float]
    margins: tuple[float, float]


USUAL: Final[Mapping[Paper, UsualSheet]] = {
    "letter": UsualSheet(
        shape=(3, 10),
        size=(2.625 * INCH, INCH),
        pitch=(2.75 * INCH, INCH),
        margins=(0.1875 * INCH, 0.5 * INCH),
    ),
    "a4": UsualSheet(shape=(3, 8), size=(63.5, 33.9), pitch=(66.0, 33.9), margins=(7.25, 12.9)),
}
"""Common practice, no source."""

KEYS: Final = (("columns", "width", "across", "side"), ("rows", "height", "down", "top"))
"""Count, size, pitch and margin, across the sheet and down it."""


def filled_grid(grid: LabelGrid, units: Units) -> LabelGrid:
    """With what the sheet leaves open: that of the usual one, as long as its labels are as many and as large."""
    sheet: Paper = grid.sheet or ("letter" if units == "in" else "a4")
    usual, found = USUAL[sheet], dict[str, object]()
    for way, (count, size, pitch, margin) in enumerate(KEYS):
        n = getattr(grid, count) or usual.shape[way]
        given = getattr(grid, size)
        like = n == usual.shape[way] and math.isnan(given)
        wide = usual.size[way] if like else given
        apart = _first(getattr(grid, pitch), usual.pitch[way] if like else wide)
        rest = (PAPERS[sheet][way] - (n - 1) * apart - wide) / 2.0
        before = _first(getattr(grid, margin), max(rest, 0.0))  # a sheet that is too full is told by its rule
        found |= {count: n, size: wide, pitch: apart, margin: before}
    return grid.changed(sheet=sheet, **found)


def _first(given: float, otherwise: float) -> float:
    return otherwise if math.isnan(given) else given


def label_rules(judge: Judge) -> Breaches:
    """Labels lie on their sheet, none over another."""
    grid = judge.config.labels.grid
    for way, keys in enumerate(KEYS):
        yield from _way(judge, grid, way, keys)
    columns, rows = grid.shape
    if grid.skip >= columns * rows:
        what = f"got {grid.skip}, must be less than the {columns * rows} labels of a sheet"
        yield Breach((*GRID, "skip"), what, "take a new sheet: skip = 0", _paths("columns", "rows"))


def _way(judge: Judge, grid: LabelGrid, way: int, keys: tuple[str, str, str, str]) -> Breaches:
    count, size, pitch, margin = keys
    n, wide, apart, before = (getattr(grid, key) for key in keys)
    sheet: Paper = grid.sheet or "letter"
    paper, name = PAPERS[sheet][way], "letter" if sheet == "letter" else "A4"
    if math.isnan(wide):
        usual = " x ".join(f"{number}" for number in USUAL[sheet].shape)
        what = f"got {n}, which is not the usual sheet of {usual}: {size} must be given too"
        yield Breach((*GRID, count), what, f"measure a label, or see the box: {size} = ...", _paths(size))
        return
    least = LEAST[way].mm(judge.config.units)
    if wide < least - CONTACT:
        yield judge.size((*GRID, size), wide, "{} or more", least, "all that a label says does not fit a smaller one")
    elif n > 1 and apart < wide - CONTACT:
        yield judge.size((*GRID, pitch), apart, f"{size} or more, {{}}", wide, "it is from edge to same edge")
    elif before + (n - 1) * apart + wide > paper + CONTACT:
        needs = judge.length(before + (n - 1) * apart + wide)
        what = f"got {n}, which need {needs} with {margin}, {pitch} and {size}; {name} has {judge.length(paper)}"
        yield Breach((*GRID, count), what, f"measure {margin}, {pitch} and {size} on the sheet", _paths(*keys[1:]))


def _paths(*keys: str) -> tuple[KeyPath, ...]:
    return tuple((*GRID, key) for key in keys)
