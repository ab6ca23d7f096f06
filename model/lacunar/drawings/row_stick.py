"""A beam seen from below as one long stick: the lines of every row on both of its faces, from one end."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Final

from lacunar.drawings.drawing import PALE, Dimension, Spot, Stroke, Text, Thing, rectangle
from lacunar.drawings.lettering import text_width
from lacunar.drawings.running import CLEAR, height_of
from lacunar.geometry import Line
from lacunar.parts import FaceMarks, RowMark
from lacunar.tape import Tape

THICK: Final = 15.0
"""mm. Of the drawn beam: two lines of letters."""
AT: Final = 0.7
"""mm. Between a mark and its number."""


def row_stick(faces: Sequence[FaceMarks], tape: Tape, width: float, size: float) -> tuple[list[Thing], float, float]:
    """One beam's faces, the first above: the drawing from (0, 0), how far down it reaches, and its scale.

    Only distances along it are to scale.
    """
    pitch = 1.35 * height_of(size)
    crowded = any(not _both_fit(face, tape, width, size) for face in faces)
    top = 1.3 * pitch + pitch * (1 + crowded)
    scale = width / max(Line.through(*face.ends).along(face.ends[1]) for face in faces)
    bar = rectangle((0.0, top), (width, THICK), width=0.5, fill=PALE, layer="wood")
    title = f"{faces[0].bar}: tape from {faces[0].start}"
    things: list[Thing] = [Text(at=(0.0, pitch / 2.0), text=title, size=size, bold=True), bar]
    for face, below in zip(faces, (False, True), strict=False):
        edge = top + THICK if below else top
        if face.face:
            inner = (1.5, edge + (-4.0 if below else 4.0))
            things.append(Text(at=inner, text=face.face, size=size, layer="measures"))
        for number, row in enumerate(face.rows):
            things += _row(face, row, tape, (edge, -1.0 if below else 1.0), scale, size, crowded and number % 2 == 1)
    reach = top + THICK + (pitch * (1 + crowded) if len(faces) > 1 else 0.0) + 2.0
    return things, reach, scale


def _row(
    face: FaceMarks, row: RowMark, tape: Tape, edge: tuple[float, float], scale: float, size: float, lifted: bool
) -> Iterator[Thing]:
    """Both lines of a row on one face, a cross between them where the piece goes, its id and its numbers."""
    y, inward = edge
    out = y - inward * (0.75 * height_of(size) + (1.35 * height_of(size) if lifted else 0.0))
    near, far = row.near * scale, row.far * scale
    half = y + inward * THICK / 2.0
    for x in (near, far):
        yield Stroke(
            points=((x, out + inward * 2.0 if lifted else y - inward * 2.0), (x, half)), width=0.5, layer="measures"
        )
    yield Stroke(points=((near, y), (far, half)), width=0.25, layer="measures")
    yield Stroke(points=((near, half), (far, y)), width=0.25, layer="measures")
    yield Text(at=(far + 1.5, y + inward * 4.0), text=row.piece, size=size, bold=True, layer="wood")
    for mm, x, anchor in ((row.near, near, "right"), (row.far, far, "left")):
        by = -AT if anchor == "right" else AT
        label = Text(at=(x + by, out), text=_plain(mm, tape), size=size, anchor=anchor, layer="measures")
        yield Dimension(points=((0.0, y), (x, y)), width=0.2, tick=0.0, label=label, layer="measures")


def _plain(mm: float, tape: Tape) -> str:
    return tape.text(mm, "inches", tape.fine).removesuffix(" in").removesuffix(" mm")


def _both_fit(face: FaceMarks, tape: Tape, width: float, size: float) -> bool:
    """Every row's two numbers beside their marks, in one line."""
    scale = width / Line.through(*face.ends).along(face.ends[1])
    spans: list[Spot] = []
    for row in face.rows:
        before, after = (text_width(_plain(mm, tape), size) for mm in (row.near, row.far))
        spans.append((row.near * scale - AT - before, row.far * scale + AT + after))
    return all(one[1] + CLEAR <= other[0] for one, other in pairwise(spans))
