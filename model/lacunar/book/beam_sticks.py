"""A stick for each beam and wall that rows come up to: where both edges of every piece stand on its faces."""

import math
from collections.abc import Iterator, Sequence
from itertools import groupby

from lacunar.book.sticks import Band, Half, Stick, merged
from lacunar.book.subject import Book
from lacunar.geometry import Line, middle
from lacunar.layout import Bar
from lacunar.parts import FaceMarks, row_marks


def beam_sticks(book: Book) -> Iterator[Stick]:
    """Beam by beam, then wall by wall; each from the end that the book's distances are taken from."""
    beams = {beam.id: beam for beam in book.layout.beams}
    for name, found in groupby(row_marks(book.room, book.layout), key=lambda face: face.bar):
        yield _stick(name, [*found], beams.get(name))


def _stick(name: str, faces: Sequence[FaceMarks], beam: Bar | None) -> Stick:
    first = faces[0]
    axis = Line.through(*first.ends)
    stretch = 1.0 if beam is None else beam.bottom.stretch(axis.direction)
    edges: dict[Half, str] = {_half(face, beam): face.face or name for face in faces}
    return Stick(
        names=(name,),
        shows="where the pieces of every row stand",
        hold=first.start,
        edges=(_edge(edges, "upper"), _edge(edges, "lower")),
        length=max(math.dist(*face.ends) for face in faces) * stretch,
        bands=merged(
            Band(kind="row", name=row.piece, start=row.near, end=row.far, half=_half(face, beam))
            for face in faces
            for row in face.rows
        ),
    )


def _half(face: FaceMarks, beam: Bar | None) -> Half:
    """Read from below, what lies to the right of the way along a beam is above; a wall has one face."""
    if beam is None:
        return "both"
    return "upper" if Line.through(*face.ends).offset(middle(*beam.axis)) > 0.0 else "lower"


def _edge(edges: dict[Half, str], half: Half) -> str:
    return edges.get(half) or edges.get("both") or "no row here"
