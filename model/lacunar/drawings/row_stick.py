"""A beam seen from below as one long stick: the lines of every row on both of its faces, from one end."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from lacunar.drawings.drawing import PALE, Anchor, Dimension, Stroke, Text, Thing, rectangle
from lacunar.drawings.lettering import text_width
from lacunar.drawings.running import CLEAR, bare, height_of
from lacunar.geometry import Line
from lacunar.parts import FaceMarks, RowMark
from lacunar.tape import Tape

THICK: Final = 15.0
"""mm. Of the drawn beam: two lines of letters."""
PAD: Final = 26.0
"""mm. Free at both ends of a stick whose numbers would reach past them."""
MOST_LEVELS: Final = 4
AT: Final = 0.7
"""mm. Between a mark and its number."""


def row_stick(faces: Sequence[FaceMarks], tape: Tape, width: float, size: float) -> tuple[list[Thing], float, float]:
    """One beam's faces, the first above: the drawing from (0, 0), how far down it reaches, and its scale.

    Only distances along it are to scale.
    """
    pitch = 1.35 * height_of(size)
    stick = _stick(faces, tape, width, size)
    top = 1.3 * pitch + pitch * stick.levels
    things: list[Thing] = [
        Text(at=(0.0, pitch / 2.0), text=_title(faces), size=size, bold=True),
        rectangle((stick.pad, top), (width - 2.0 * stick.pad, THICK), width=0.5, fill=PALE, layer="wood"),
    ]
    for face, below in zip(faces, (False, True), strict=False):
        edge = (top + THICK, -1.0) if below else (top, 1.0)
        for number, row in enumerate(face.rows):
            things += _row(stick, row, tape, edge, number % stick.levels)
    reach = top + THICK + (pitch * stick.levels if len(faces) > 1 else 0.0) + 2.0
    return things, reach, stick.scale


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stick:
    """How it is drawn: mm of paper per mm, what is left free at both ends, lines of numbers on each side, points."""

    scale: float
    pad: float
    levels: int
    size: float

    def span(self, row: RowMark, tape: Tape) -> tuple[float, float]:
        """From where to where a row's two numbers reach."""
        before, after = (text_width(bare(mm, tape, tape.fine), self.size) + AT for mm in (row.near, row.far))
        return self.pad + row.near * self.scale - before, self.pad + row.far * self.scale + after


def _stick(faces: Sequence[FaceMarks], tape: Tape, width: float, size: float) -> _Stick:
    """As long as goes; as many lines of numbers as keep them apart."""
    longest = max(Line.through(*face.ends).along(face.ends[1]) for face in faces)
    stick = _Stick(scale=width / longest, pad=0.0, levels=1, size=size)
    spans = [stick.span(row, tape) for face in faces for row in face.rows]
    if min(low for low, _ in spans) < 0.0 or max(high for _, high in spans) > width:
        stick = replace(stick, scale=(width - 2.0 * PAD) / longest, pad=PAD)
    while stick.levels < MOST_LEVELS and not all(_apart(stick, face, tape) for face in faces):
        stick = replace(stick, levels=stick.levels + 1)
    return stick


def _apart(stick: _Stick, face: FaceMarks, tape: Tape) -> bool:
    """Numbers on one line do not meet."""
    spans = [stick.span(row, tape) for row in face.rows]
    return all(one[1] + CLEAR <= other[0] for one, other in zip(spans, spans[stick.levels :], strict=False))


def _title(faces: Sequence[FaceMarks]) -> str:
    first = faces[0]
    if not first.face:
        return f"Wall {first.bar}, tape from {first.start}"
    named = f"{first.face} above" + "".join(f", {face.face} below" for face in faces[1:])
    return f"{first.bar}, tape from {first.start}: {named}"


def _row(stick: _Stick, row: RowMark, tape: Tape, edge: tuple[float, float], level: int) -> Iterator[Thing]:
    """Both lines of a row on one face, a cross between them where the piece goes, its id and its numbers."""
    y, inward = edge
    size = stick.size
    out = y - inward * (0.75 + 1.35 * level) * height_of(size)
    near, far = (stick.pad + mm * stick.scale for mm in (row.near, row.far))
    half, tip = y + inward * THICK / 2.0, out + inward * 2.0 if level else y - inward * 2.0
    for x in (near, far):
        yield Stroke(points=((x, tip), (x, half)), width=0.5, layer="measures")
    yield Stroke(points=((near, y), (far, half)), width=0.25, layer="measures")
    yield Stroke(points=((near, half), (far, y)), width=0.25, layer="measures")
    yield Text(at=(far + 1.5, y + inward * 4.0), text=row.piece, size=size, bold=True, layer="wood")
    sides: tuple[tuple[float, float, Anchor], ...] = ((row.near, near, "right"), (row.far, far, "left"))
    for mm, x, anchor in sides:
        by = -AT if anchor == "right" else AT
        label = Text(at=(x + by, out), text=bare(mm, tape, tape.fine), size=size, anchor=anchor, layer="measures")
        yield Dimension(points=((stick.pad, y), (x, y)), width=0.2, tick=0.0, label=label, layer="measures")
