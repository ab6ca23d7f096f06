"""Where rows of cross beams go on the faces that they meet: running distances from one end of each face."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from lacunar.geometry import Line, Point, dot
from lacunar.layout import Bar, Layout
from lacunar.parts.faces import HANDS, face_reach
from lacunar.parts.facing import bar_beside
from lacunar.survey import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class RowMark:
    """One row on one face: the lines of both its sides, from the end that the tape is held to. True lengths.

    Attributes:
        row: X1, X2, ...
        piece: id of the piece that comes up to the face there.
    """

    row: str
    piece: str
    near: float
    far: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceMarks:
    """One face of a beam, or a wall, with the rows that come up to it.

    Attributes:
        bar: id of the beam, or name of the wall.
        face: "E2 face": by what it looks at; "" of a wall.
        start: what the tape is held to: a wall, or a corner.
        ends: plan points of the face, the one first that the tape is held to.
        beside: a plan point on the side of the face that the pieces are on.
        rows: in order along it.
    """

    bar: str
    face: str
    start: str
    ends: tuple[Point, Point]
    beside: Point
    rows: tuple[RowMark, ...]


def row_marks(room: Room, layout: Layout) -> tuple[FaceMarks, ...]:
    """Both faces of every beam, in order, then walls; only those that a row comes up to.

    All of them run the same way, so that a row has the same distance everywhere in a room that is square, and a string
    stretched over its marks proves it in one that is not.
    """
    ahead = Line.through(*layout.beams[0].axis).direction if layout.beams else None
    found = [*_beams(layout, ahead), *_walls(room, layout, ahead)]
    return tuple(face for face in found if face.rows)


def _beams(layout: Layout, ahead: Point | None) -> Iterator[FaceMarks]:
    for bar in layout.beams:
        axis = Line.through(*bar.axis)
        stretch = bar.bottom.stretch(axis.direction)
        for hand, looks_at in zip(HANDS, bar_beside(layout, bar), strict=True):
            low, high, side = face_reach(bar, hand)
            first, second = axis.at(low, side), axis.at(high, side)
            forward = ahead is None or dot(axis.direction, ahead) >= 0.0
            start, ends = (bar.meets[0], (first, second)) if forward else (bar.meets[1], (second, first))
            beside = [piece for piece in _at(layout.pieces, bar.id) if _is_left(bar, piece) is (hand == "left")]
            yield FaceMarks(
                bar=bar.id,
                face=f"{looks_at} face",
                start=start,
                ends=ends,
                beside=axis.at((low + high) / 2.0, 2.0 * side),
                rows=_rows(beside, ends, stretch),
            )


def _walls(room: Room, layout: Layout, ahead: Point | None) -> Iterator[FaceMarks]:
    for wall in room.walls:
        ends, start = room.wall(wall), wall[0]
        way = Line.through(*ends).direction
        # Without beams from the end nearer A, which the wall's own end or the one before it is.
        back = dot(way, ahead) < 0.0 if ahead is not None else wall[1] == room.corners[0] or wall in _after(room)
        if back:
            ends, start = (ends[1], ends[0]), wall[1]
        rows = _rows(_at(layout.pieces, wall), ends, 1.0)
        inside = room.wall_line(wall).shifted(-1.0).point
        yield FaceMarks(bar=wall, face="", start=f"corner {start}", ends=ends, beside=inside, rows=rows)


def _after(room: Room) -> tuple[str, ...]:
    """The walls of the half of the room that comes back to A."""
    return room.walls[len(room.walls) // 2 :]


def _at(pieces: Iterable[Bar], name: str) -> list[Bar]:
    return [piece for piece in pieces if name in piece.meets]


def _is_left(bar: Bar, piece: Bar) -> bool:
    (ax, ay), (bx, by) = piece.axis
    return Line.through(*bar.axis).offset(((ax + bx) / 2.0, (ay + by) / 2.0)) > 0.0


def _rows(pieces: Sequence[Bar], ends: tuple[Point, Point], stretch: float) -> tuple[RowMark, ...]:
    line, rows = Line.through(*ends), list[RowMark]()
    for piece in pieces:
        axis = Line.through(*piece.axis)
        sides = (axis.shifted(half).crossing(line) for half in (piece.width / 2.0, -piece.width / 2.0))
        near, far = sorted(line.along(point) * stretch for point in sides)
        rows.append(RowMark(row=piece.id.rpartition("-")[0], piece=piece.id, near=near, far=far))
    return tuple(sorted(rows, key=lambda mark: mark.near))
