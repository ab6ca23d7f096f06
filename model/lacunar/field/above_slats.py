"""What is above the slats, on the room's sheet: joists, the old ceiling's thickness, and how large a lamp's hole is."""

# pyright: basic
# tomlkit's containers are untyped; what goes in and comes out here is plain text.

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from lacunar.config import Config
from lacunar.field.fitted import Fitted
from lacunar.field.sheet_row import Row, Values
from lacunar.field.sketch import Sketch
from lacunar.materials import DEFAULT_OLD_CEILING
from lacunar.units import INCH

LIGHT = "light"
"""What a fixture is called that the config does not have yet."""

USUAL_SPACING = 16.0 * INCH
"""Of joists, where nobody has looked: common practice, no source."""

USUAL_SIZE: Mapping[str, float] = {"in": 4.0 * INCH, "mm": 100.0}
"""Of a lamp's hole, where nobody has looked: common practice, no source."""

UNKNOWN = math.inf
"""A limit: where nobody has looked, any value is as good as what was taken."""

THICKNESS = "old ceiling thickness"
SPACING = "joist spacing"
FIRST = re.compile(r"first joist from (?P<wall>[A-Z]{2})")
SIZE = re.compile(r"(?P<fixture>.+) size")

Put = Callable[[Any, str, float], None]
"""Writes a length into a table."""


def above_rows(config: Config, sketch: Sketch) -> Iterator[Row]:
    """All optional: nothing of the room's shape waits for them."""
    for name, size in _sizes(config, sketch).items():
        known = any(fixture.name == name for fixture in config.fixture)
        yield _row(sketch, f"{name} size", size, "its hole across", known)
    old = config.framing.old_ceiling
    thickness = (old or DEFAULT_OLD_CEILING).thickness
    yield _row(sketch, THICKNESS, thickness, "name its kind too", old is not None)
    joists = config.framing.joists
    first = joists.first if joists else None
    for wall in _joist_walls(config, sketch):
        note = f"if parallel to {wall}"
        yield _row(sketch, f"first joist from {wall}", first or USUAL_SPACING, note, first is not None)
    if _joist_walls(config, sketch):
        spacing = joists.spacing if joists else None
        yield _row(sketch, SPACING, spacing or USUAL_SPACING, "middle to middle", spacing is not None)


def _row(sketch: Sketch, name: str, design: float, note: str, known: bool) -> Row:
    ends, limit = (sketch.centre, sketch.centre), None if known else UNKNOWN
    said = f"optional: {note}"
    return Row(stage="room", card="above", short=name, design=design, ends=ends, note=said, optional=True, limit=limit)


def _sizes(config: Config, sketch: Sketch) -> dict[str, float]:
    """Holes as wide as they are long, by fixture."""
    if not config.is_given("fixture"):
        return {LIGHT: USUAL_SIZE[config.units]} if sketch.room is not None else {}
    return {fixture.name: fixture.size[0] for fixture in config.fixture if fixture.size[0] == fixture.size[1]}


def _joist_walls(config: Config, sketch: Sketch) -> tuple[str, ...]:
    """Walls that joists may lie along: the one that is given, else either way; none where each was found."""
    joists = config.framing.joists
    if joists is None:
        return (sketch.walls[0], sketch.walls[-1])
    return () if joists.at else (joists.along,)


def write_above(document: Any, config: Config, values: Values, fitted: Fitted, put: Put) -> Fitted:
    """Write what was read of all that, as far as it is complete.

    Args:
        document: of the file.
        config: read from it.
        values: by the name of the row.
        fitted: so far.
        put: writes one length.
    """
    if THICKNESS in values:
        put(_framing(document, "old_ceiling"), "thickness", values[THICKNESS])
    for name, mm in values.items():
        if (match := SIZE.fullmatch(name)) is not None:
            table = _fixture(document, config, match["fixture"])
            if table is None:
                fitted = fitted.waits(name, [f"{LIGHT} from two walls"])
            else:
                put(table, "size", mm)
    return _joists(document, config, values, fitted, put)


def _joists(document: Any, config: Config, values: Values, fitted: Fitted, put: Put) -> Fitted:
    firsts = {match["wall"]: mm for name, mm in values.items() if (match := FIRST.fullmatch(name)) is not None}
    if not firsts and SPACING not in values:
        return fitted
    if len(firsts) > 1:
        return fitted.waits("joists", [f"one first joist alone, from {' or '.join(firsts)}: they lie one way"])
    if config.framing.joists is None and not (firsts and SPACING in values):
        return fitted.waits("joists", [SPACING if firsts else "first joist from the wall that they are parallel to"])
    table = _framing(document, "joists")
    for wall, mm in firsts.items():
        if "along" not in table:
            table["along"] = wall
        put(table, "first", mm)
    if SPACING in values:
        put(table, "spacing", values[SPACING])
    return fitted


def _framing(document: Any, key: str) -> Any:
    """A table of [framing], made where it is not there."""
    import tomlkit

    if "framing" not in document:
        document.add(tomlkit.nl())
        document["framing"] = tomlkit.table()
    framing = document["framing"]
    if key not in framing:
        framing[key] = tomlkit.inline_table()
    return framing[key]


def _fixture(document: Any, config: Config, name: str) -> Any:
    """A fixture's table; None where the file has none of that name."""
    return named(document, "fixture", [fixture.name for fixture in config.fixture], name)


def named(document: Any, key: str, names: Sequence[str], name: str) -> Any:
    """The table of that name among those of a key, by the names that the config gave them; None where there is none."""
    names = names or [table.get("name") for table in document.get(key, ())]
    return document[key][names.index(name)] if name in names else None
