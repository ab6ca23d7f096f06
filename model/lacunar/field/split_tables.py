"""Two places of a config where a measure is more than a value: one height becomes several, even beams become single."""

import re
from collections.abc import Mapping, Sequence
from typing import Final

from lacunar.field.beams import BeamEnd, beam_ends
from lacunar.field.sheet_row import Values, length_text
from lacunar.field.sketch import Sketch
from lacunar.units import Units

Waiting = Mapping[str, Sequence[str]]
"""What cannot be written yet, and what is missing."""

_HEADER: Final = re.compile(r"^\s*\[")
_PAIR: Final = re.compile(
    r"^(?P<before>\s*)(?P<key>[A-Za-z_]+)(?P<equals>\s*=\s*)(?P<value>.*?)(?P<after>\s*(?:#.*)?)$"
)


_HEIGHT: Final = re.compile(
    r"^(?P<head>\[room\][^\n]*\n(?:(?!\s*\[)[^\n]*\n)*?\s*)height(?P<equals>\s*=\s*).*?(?P<after>\s*(?:#.*)?)$",
    re.MULTILINE,
)


def single_height(text: str, sketch: Sketch, measured: Mapping[str, float]) -> tuple[str, Waiting]:
    """`height` as `heights`, once every corner is measured."""
    if sketch.given.heights or not measured:
        return text, {}
    missing = [f"height {corner}" for corner in sketch.corners if corner not in measured]
    if missing:
        return text, {"heights": missing}
    if all(mm == sketch.given.height for mm in measured.values()):
        return text, {}
    written = ", ".join(f'{place} = "{length_text(mm, sketch.units)}"' for place, mm in measured.items())
    text, count = _HEIGHT.subn(lambda m: f"{m['head']}heights{m['equals']}{{ {written} }}{m['after']}", text, count=1)
    return text, {} if count else {"heights": ["room.height on a line of its own, to be replaced"]}


def even_beams(text: str, sketch: Sketch, values: Values) -> tuple[str, Waiting]:
    """`[beams]` as one `[[beam]]` each, once both ends of every one are measured; comments stay."""
    beams = beam_ends(sketch)
    names = [f"{beam} at {wall} from {corner}" for beam, ends in beams.items() for wall, corner, _ in ends]
    given = [name for name in names if name in values]
    if sketch.even is None or not given:
        return text, {}
    missing = [name for name in names if name not in values]
    if missing:
        return text, {"beams": missing}
    lines = text.split("\n")
    start = next((i for i, line in enumerate(lines) if re.match(r"\s*\[beams\]", line)), None)
    if start is None:
        return text, {"beams": ["a table [beams] under a header of its own, to be replaced"]}
    end = next((i for i in range(start + 1, len(lines)) if _HEADER.match(lines[i])), len(lines))
    body = lines[start + 1 : end]
    while body and not body[-1].strip():
        body.pop()
    rest = lines[start + 1 + len(body) : end]
    made = _tables(lines[start], body, beams, values, sketch.units)
    return "\n".join([*lines[:start], *made, *rest, *lines[end:]]), {}


def _tables(
    header: str, body: Sequence[str], beams: Mapping[str, Sequence[BeamEnd]], values: Values, units: Units
) -> list[str]:
    tail = "\r" if header.endswith("\r") else ""
    comments, pairs = _kept(body)
    made: list[str] = []
    for name, ends in beams.items():
        lead = [tail, f"[[beam]]{tail}"] if made else [header.replace("[beams]", "[[beam]]"), *comments]
        kept = [f"{plain}{tail}" if made else line for plain, line in pairs]
        places = ", ".join(
            f'{{ wall = "{wall}", from = "{corner}", at = "'
            f'{length_text(values[f"{name} at {wall} from {corner}"], units)}" }}'
            for wall, corner, _ in ends
        )
        made += [*lead, f'name = "{name}"{tail}', *kept, f"ends = [ {places} ]{tail}"]
    return made


def _kept(body: Sequence[str]) -> tuple[list[str], list[tuple[str, str]]]:
    """Comments on lines of their own; and keys that every beam keeps, without and with their comments."""
    comments: list[str] = []
    pairs: list[tuple[str, str]] = []
    for line in body:
        pair = _PAIR.match(line.rstrip("\r"))
        if pair is not None and pair["key"] in ("width", "depth", "made", "keep"):
            pairs.append((line.rstrip("\r")[: pair.end("value")], line))
        elif "#" in line:
            comments.append(line[line.index("#") :])
    return comments, pairs
