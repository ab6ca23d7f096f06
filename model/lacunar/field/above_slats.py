"""What is above the slats, on the room's sheet: joists, the old ceiling's thickness, and how large a lamp's hole is."""

# pyright: basic
# tomlkit's containers are untyped; what goes in and comes out here is plain text.

import math
import re
from collections.abc import Iterator, Mapping
from typing import Any

from lacunar.field.fitted import Fitted
from lacunar.field.sheet_row import Row, Values
from lacunar.field.sketch import Sketch
from lacunar.field.toml_places import named, put
from lacunar.layout import USUAL_SPACING
from lacunar.materials import DEFAULT_OLD_CEILING
from lacunar.units import INCH

LIGHT = "light"
"""What a fixture is called that the config does not have yet."""

USUAL_SIZE: Mapping[str, float] = {"in": 4.0 * INCH, "mm": 100.0}
"""Of a lamp's hole, where nobody has looked: common practice, no source."""

UNKNOWN = math.inf
"""A limit: where nobody has looked, any value is as good as what was taken."""

THICKNESS = "old ceiling thickness"
SPACING = "joist spacing"
FIRST = re.compile(r"first joist from (?P<wall>[A-Z]{2})")
SIZE = re.compile(r"(?P<fixture>.+) size")


def above_rows(sketch: Sketch) -> Iterator[Row]:
    """All optional: nothing of the room's shape waits for them."""
    for name, size in _sizes(sketch).items():
        yield _row(sketch, f"{name} size", size, "its hole across", sketch.fixtures is not None)
    old = sketch.framing.old_ceiling
    thickness = (old or DEFAULT_OLD_CEILING).thickness
    yield _row(sketch, THICKNESS, thickness, "name its kind too", old is not None)
    joists = sketch.framing.joists
    first = joists.first if joists else None
    for wall in _joist_walls(sketch):
        note = f"if parallel to {wall}"
        yield _row(sketch, f"first joist from {wall}", first or USUAL_SPACING, note, first is not None)
    if _joist_walls(sketch):
        spacing = joists.spacing if joists else None
        yield _row(sketch, SPACING, spacing or USUAL_SPACING, "middle to middle", spacing is not None)


def _row(sketch: Sketch, name: str, design: float, note: str, known: bool) -> Row:
    ends, limit = (sketch.centre, sketch.centre), None if known else UNKNOWN
    said = f"optional: {note}"
    return Row(stage="room", card="above", short=name, design=design, ends=ends, note=said, optional=True, limit=limit)


def _sizes(sketch: Sketch) -> dict[str, float]:
    """Holes as wide as they are long, by fixture."""
    if sketch.fixtures is None:
        return {LIGHT: USUAL_SIZE[sketch.units]} if sketch.room is not None else {}
    return {fixture.name: fixture.size[0] for fixture in sketch.fixtures if fixture.size[0] == fixture.size[1]}


def _joist_walls(sketch: Sketch) -> tuple[str, ...]:
    """Walls that joists may lie along: the one that is given, else either way; none where each was found."""
    joists = sketch.framing.joists
    if joists is None:
        return (sketch.walls[0], sketch.walls[-1])
    return () if joists.at else (joists.along,)


def write_above(document: Any, sketch: Sketch, values: Values, fitted: Fitted) -> Fitted:
    """Write what was read of all that, as far as it is complete.

    Args:
        document: of the file.
        sketch: what was read from it.
        values: by the name of the row.
        fitted: so far.
    """
    if THICKNESS in values:
        put(_framing(document, "old_ceiling"), "thickness", values[THICKNESS], sketch.units)
    for name, mm in values.items():
        if (match := SIZE.fullmatch(name)) is not None:
            table = named(document, "fixture", sketch.fixtures or (), match["fixture"])
            if table is None:
                fitted = fitted.waits(name, [f"{LIGHT} from two walls"])
            else:
                put(table, "size", mm, sketch.units)
    return _joists(document, sketch, values, fitted)


def _joists(document: Any, sketch: Sketch, values: Values, fitted: Fitted) -> Fitted:
    firsts = {match["wall"]: mm for name, mm in values.items() if (match := FIRST.fullmatch(name)) is not None}
    if not firsts and SPACING not in values:
        return fitted
    if len(firsts) > 1:
        return fitted.waits("joists", [f"one first joist alone, from {' or '.join(firsts)}: they lie one way"])
    if sketch.framing.joists is None and not (firsts and SPACING in values):
        return fitted.waits("joists", [SPACING if firsts else "first joist from the wall that they are parallel to"])
    table = _framing(document, "joists")
    for wall, mm in firsts.items():
        if "along" not in table:
            table["along"] = wall
        put(table, "first", mm, sketch.units)
    if SPACING in values:
        put(table, "spacing", values[SPACING], sketch.units)
    return fitted


def _framing(document: Any, key: str) -> Any:
    """A table of [framing], made where it is not there."""
    import tomlkit

    if "framing" not in document:
        document.add(tomlkit.nl())
    return document.setdefault("framing", tomlkit.table()).setdefault(key, tomlkit.inline_table())
