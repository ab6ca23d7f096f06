"""The room's own measures written into the config's text: every other byte stays."""

# pyright: basic
# tomlkit's containers are untyped; what goes in and comes out here is plain text.

from collections.abc import Collection, Mapping
from typing import Any

from lacunar.config import with_line_ends_of
from lacunar.field.above_slats import write_above
from lacunar.field.beams import BeamSection, beam_rows, sections
from lacunar.field.fitted import Fitted
from lacunar.field.room_rows import Target, target
from lacunar.field.sheet_row import Values
from lacunar.field.sketch import Sketch
from lacunar.field.split_tables import even_beams, single_height
from lacunar.field.toml_places import named, put

ORDER = ("height", "mark", "distance", "beam", "fixture")


def edit_room(text: str, sketch: Sketch, values: Values, listed: Collection[str]) -> tuple[str, Fitted]:
    """Write distances, marks, heights, beams, the light and what is above it.

    Args:
        text: of the file, without a byte order mark.
        sketch: what was read from that text; which marks there are or are to be made.
        values: by the name of the sheet's row; each has a `target`.
        listed: names of all rows of the sheet, the blank ones too.

    Returns:
        The text with them in it, and what waits.
    """
    import tomlkit

    found = {name: target(sketch, name) for name in values}
    aims = sorted(
        ((aim, name) for name, aim in found.items() if aim is not None and aim.kind not in ("section", "above")),
        key=lambda pair: ORDER.index(pair[0].kind),
    )
    there = {*sketch.given.marks, *(aim.keys[0] for aim, _ in aims if aim.kind == "mark")}
    fitted = Fitted()
    for aim, name in aims:
        if lacking := [mark for mark in aim.needs if mark not in there]:
            fitted = fitted.waits(name, [f"{sketch.marks[mark][1]}-{mark}" for mark in lacking])
    aims = [(aim, name) for aim, name in aims if there.issuperset(aim.needs)]
    text, waiting = single_height(text, sketch, {a.keys[0]: values[n] for a, n in aims if a.kind == "height"})
    text, more = even_beams(text, sketch, values)
    for what, missing in {**waiting, **more}.items():
        fitted = fitted.waits(what, missing)
    document: Any = tomlkit.parse(text)
    for aim, name in aims:
        _write(document, sketch, aim, name, values[name], listed)
    for section in sections(sketch, values):
        fitted = _section(document, sketch, section, values, fitted)
    above = {name: values[name] for name, aim in found.items() if aim is not None and aim.kind == "above"}
    fitted = write_above(document, sketch, above, fitted)
    return with_line_ends_of(text, tomlkit.dumps(document)), fitted


def _write(document: Any, sketch: Sketch, aim: Target, name: str, mm: float, listed: Collection[str]) -> None:
    """One measure, where it belongs."""
    room = document["room"]
    if aim.kind == "height":
        if "heights" in room:
            put(room["heights"], aim.keys[0], mm, sketch.units)
    elif aim.kind == "mark":
        put(_mark(room, *aim.keys), "at", mm, sketch.units)
    elif aim.kind == "distance":
        put(room["measured"], _key(room["measured"], name, aim.keys, listed), mm, sketch.units)
    elif aim.kind == "beam":
        for i, beam in enumerate(sketch.beams):
            for j, end in enumerate(beam.ends):
                if (beam.name, end.wall) == aim.keys:
                    put(document["beam"][i]["ends"][j], "at", mm, sketch.units)
    else:
        at = _light(document, sketch, aim.keys[0])
        put(at, next((key for key in at if {*key} == {*aim.keys[1]}), aim.keys[1]), mm, sketch.units)


def _section(document: Any, sketch: Sketch, section: BeamSection, values: Values, fitted: Fitted) -> Fitted:
    """A beam's width or depth into its own table, once it has one and both its ends are read."""
    what = f"{section.beam} {'width half way' if section.key == 'middle' else section.key}"
    if section.missing:
        return fitted.waits(what, [name for name in section.names if name not in values])
    table = named(document, "beam", sketch.beams, section.beam)
    if table is None:
        rows = [row.name for row in beam_rows(sketch) if not row.optional]
        return fitted.waits(what, [name for name in rows if name not in values])
    put(table, section.key, section.mean, sketch.units)
    return fitted


def _mark(room: Any, name: str, wall: str, corner: str) -> Any:
    """A mark's table, made where it is not there."""
    import tomlkit

    marks, made = tomlkit.table(), tomlkit.inline_table()
    marks.add(tomlkit.nl())
    made.update({"wall": wall, "from": corner})
    return room.setdefault("marks", marks).setdefault(name, made)


def _key(measured: Mapping[str, Any], name: str, ends: tuple[str, ...], listed: Collection[str]) -> str:
    """The key of a distance as the file has it: turned round where only that is there and is no row of its own."""
    first, second = ends
    turned = f"{second}-{first}" if "-" in name else second + first
    return turned if name not in measured and turned in measured and turned not in listed else name


def _light(document: Any, sketch: Sketch, name: str) -> Any:
    """The `at` of a fixture, made where the config has none at all."""
    import tomlkit

    if "fixture" not in document:
        table = tomlkit.table()
        table["name"] = name
        table["at"] = tomlkit.inline_table()
        document["fixture"] = tomlkit.aot()
        document["fixture"].append(table)
    return (named(document, "fixture", sketch.fixtures or (), name) or document["fixture"][0])["at"]
