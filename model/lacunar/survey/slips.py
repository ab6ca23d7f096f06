"""How a tape is misread: what a distance may be that was read as another."""

import re
from collections.abc import Iterator

from lacunar.units import FOOT, INCH, Units, format_length

INCH_STEPS = (1 * INCH, 2 * INCH, 6 * INCH, 1 * FOOT, 2 * FOOT, 3 * FOOT, 5 * FOOT, 10 * FOOT)
METRIC_STEPS = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 3000.0)
"""By how much a tape is read too long or too short: the hook held wrong, "burning an inch", the next red figure.
Source: common practice, no source."""

SHORTEST = 25.0
"""mm. No shorter distance is proposed."""


def usual_slips(read: float, units: Units) -> Iterator[tuple[float, str]]:
    """What a distance may be, mm, with the slip that made it what was read."""
    for value, how in _slips(read, units):
        if value >= SHORTEST:
            yield value, how


def _slips(read: float, units: Units) -> Iterator[tuple[float, str]]:
    for step in INCH_STEPS if units == "in" else METRIC_STEPS:
        size = format_length(step, units, INCH if units == "in" else 1.0, "words").removesuffix(" 0 in")
        yield read - step, f"read {size} more"
        yield read + step, f"read {size} less"
    yield read * 2.0, "read as half of that"
    yield read / 2.0, "read as twice that"
    tenth, ten_times = "read as a tenth of that", "read as ten times that"
    if units == "mm":
        tenth, ten_times = f"{tenth}: centimetres written for millimetres", f"{ten_times}: a figure too many"
    yield read * 10.0, tenth
    yield read / 10.0, ten_times
    yield read * 1000.0 / FOOT, "metres read as feet"
    yield read * FOOT / 1000.0, "feet read as metres"
    yield from _swapped(read, units)


def _swapped(read: float, units: Units) -> Iterator[tuple[float, str]]:
    """Two figures that changed places: of the feet, of the millimetres, or feet and inches."""
    if units == "mm":
        for number in _turned_about(f"{round(read)}"):
            yield float(number), "two figures changed places"
        return
    feet, rest = divmod(read, FOOT)
    for number in _turned_about(f"{feet:.0f}"):
        yield float(number) * FOOT + rest, "two figures changed places"
    inches, part = divmod(rest, INCH)
    if inches != feet:
        yield inches * FOOT + feet * INCH + part, "feet and inches changed places"


def _turned_about(figures: str) -> Iterator[str]:
    for i in range(len(figures) - 1):
        turned = figures[:i] + figures[i + 1] + figures[i] + figures[i + 2 :]
        if turned != figures and re.match("[1-9]", turned):
            yield turned
