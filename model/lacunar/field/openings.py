"""Stage openings: each beam piece, top and bottom on both faces; from it the piece's length."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from lacunar.drawings import degrees
from lacunar.field.fitted import Fitted, Remark
from lacunar.field.sheet_row import Parts, Row, Values
from lacunar.geometry import Line, Point
from lacunar.layout import Bar, Layout
from lacunar.parts import Part, bar_beside, face_lengths, face_reach, faced
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

OUT_OF_TRUE = INCH / 32.0
"""mm. Openings that differ by more need another cut at an end: the mark that beams are cut to, common practice."""

LEVELS = ("top", "bottom")


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceOpening:
    """The room for one piece along one face: true lengths along the piece.

    Attributes:
        face: by what it looks at across the coffer.
        clear: between what the piece's ends meet.
        ends: plan points of that face's ends.
    """

    face: str
    clear: float
    ends: tuple[Point, Point]


def fitted_bars(layout: Layout) -> tuple[Bar, ...]:
    """Bars that are cut to an opening: new main beams, half beams, pieces, in order of going up."""
    return (*(bar for bar in layout.beams if bar.kind == "main beam"), *layout.half_beams, *layout.pieces)


def openings(layout: Layout, bar: Bar) -> tuple[FaceOpening, FaceOpening]:
    """Of the faces left and right of the axis. What is taken off for clearance is given back."""
    axis = Line.through(*bar.axis)
    stretch = bar.bottom.stretch(axis.direction)
    faces = [face_reach(bar, hand) for hand in ("left", "right")]
    taken = bar.clear[0] - min(high - low for low, high, _ in faces)
    left, right = (
        FaceOpening(
            face=f"{name} face",
            clear=(high - low + taken) * stretch,
            ends=(axis.at(low - taken / 2.0, side), axis.at(high + taken / 2.0, side)),
        )
        for name, (low, high, side) in zip(bar_beside(layout, bar), faces, strict=True)
    )
    return left, right


def opening_rows(layout: Layout) -> Iterator[Row]:
    """Four of each piece."""
    for bar in fitted_bars(layout):
        for opening, hand in zip(openings(layout, bar), ("left", "right"), strict=True):
            for level in LEVELS:
                short = f"{opening.face} {level}"
                yield Row(
                    stage="openings",
                    card=bar.id,
                    short=short,
                    design=opening.clear,
                    ends=opening.ends,
                    note=f"{bar.meets[0]} to {bar.meets[1]}",
                    formerly=f"{bar.id} {hand} {level}",
                )


def fit_openings(layout: Layout, parts: Parts, values: Values) -> Fitted:
    """Lengths of the pieces whose four openings are known, less the clearance as designed.

    Each face's opening is the shorter of its two. Where both faces differ from the design alike the piece keeps the
    angles of its ends, and grows by what the tighter face allows; else each face gets its own length.
    """
    fitted = Fitted()
    for bar in fitted_bars(layout):
        faces = openings(layout, bar)
        names = [f"{bar.id} {opening.face} {level}" for opening in faces for level in LEVELS]
        missing = [name for name in names if name not in values]
        if missing:
            fitted = fitted.waits(bar.id, missing) if len(missing) < len(names) else fitted
            continue
        part, remarks = parts[bar.id], tuple(_plumb(bar, faces, values))
        # What each face's opening has more than the design.
        more = [min(values[f"{bar.id} {face.face} {level}"] for level in LEVELS) - face.clear for face in faces]
        if abs(more[0] - more[1]) <= OUT_OF_TRUE + ARITHMETIC:
            fitted = fitted.with_row(bar.id, {"length": part.length + min(more)}, *remarks)
            continue
        left, right = (drawn + by for drawn, by in zip(face_lengths(part), more, strict=True))
        angles = Remark(where=bar.id, what=_angles(part, faces, (left, right), parts), by=abs(left - right))
        fitted = fitted.with_row(
            bar.id, {"faces": dict(zip(part.beside, (left, right), strict=True))}, angles, *remarks
        )
    return fitted


def _angles(part: Part, faces: Sequence[FaceOpening], lengths: tuple[float, float], parts: Parts) -> str:
    """What both ends are cut to, and which face is the shorter."""
    cuts = (degrees(end.mitre_deg) for end in faced(part, lengths, parts).ends)
    ends = " and ".join(
        f"{'square' if cut == degrees(0.0) else cut} at {place}" for cut, place in zip(cuts, part.meets, strict=True)
    )
    shorter = faces[0 if lengths[0] < lengths[1] else 1].face
    return f"its ends stand at another angle than drawn: it is cut {ends}, its {shorter} shorter by"


def _plumb(bar: Bar, faces: Sequence[FaceOpening], values: Values) -> Iterator[Remark]:
    for opening in faces:
        top, bottom = (values[f"{bar.id} {opening.face} {level}"] for level in LEVELS)
        if abs(top - bottom) > OUT_OF_TRUE:
            longer = "top" if top > bottom else "bottom"
            what = f"what it meets is out of plumb; cut plumb, the {longer} of its {opening.face} gapes by"
            yield Remark(where=bar.id, what=what, by=abs(top - bottom))
