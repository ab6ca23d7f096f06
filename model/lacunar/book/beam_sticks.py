"""A stick for each beam that pieces are fitted to: where both edges of every piece stand on its two faces."""

from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.book.sticks import Band, Half, Stick, merged
from lacunar.geometry import Line
from lacunar.layout import Bar, Layout
from lacunar.parts import Hand, bar_beside


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where a piece stands on a face of a beam: from where to where along the face, true length, mm."""

    piece: str
    hand: Hand
    start: float
    end: float


def beam_sticks(layout: Layout) -> Iterator[Stick]:
    """By beam: read from below, the end that is nearer to A first."""
    for beam in layout.beams:
        stands = [*stands_on(layout, beam)]
        if not stands:
            continue
        names = bar_beside(layout, beam)
        yield Stick(
            names=(beam.id,),
            shows="where the pieces of every row stand",
            hold=beam.meets[0],
            edges=(f"{names[1]} face", f"{names[0]} face"),
            length=max(_face(beam, hand)[1] for hand in ("left", "right")),
            bands=merged(
                Band(kind="row", name=stand.piece, start=stand.start, end=stand.end, half=_half(stand.hand))
                for stand in stands
            ),
        )


def stands_on(layout: Layout, beam: Bar) -> Iterator[Stand]:
    """Every piece that ends at a beam, in order along it, the right face of its axis first.

    Distances run along each face from the corner where it meets what the beam's first end meets.
    """
    axis, middle = Line.through(*beam.axis), beam.width / 2.0
    found: list[Stand] = []
    for piece in (*layout.pieces, *layout.beams):
        for end, met in enumerate(piece.meets):
            if met != beam.id:
                continue
            hand: Hand = "left" if axis.offset(piece.axis[1 - end]) > 0.0 else "right"
            (origin, _), side = _face(beam, hand), axis.shifted(middle if hand == "left" else -middle)
            own, half = Line.through(*piece.axis), piece.width / 2.0
            places = sorted(side.along(side.crossing(own.shifted(by))) for by in (half, -half))
            stretch = beam.bottom.stretch(axis.direction)
            start, finish = ((at - origin) * stretch for at in places)
            found.append(Stand(piece=piece.id, hand=hand, start=start, end=finish))
    yield from sorted(found, key=lambda stand: (stand.hand == "left", stand.start))


def _face(beam: Bar, hand: Hand) -> tuple[float, float]:
    """Along its axis: where a face begins, mm in the plan, and its true length."""
    axis = Line.through(*beam.axis)
    sign = 1.0 if hand == "left" else -1.0
    out = max(sign * axis.offset(point) for point in beam.outline)
    on = [axis.along(point) for point in beam.outline if sign * axis.offset(point) > out - 1.0]
    return min(on), (max(on) - min(on)) * beam.bottom.stretch(axis.direction)


def _half(hand: Hand) -> Half:
    """Seen from below the right face of an axis that runs to the right lies at the upper side."""
    return "upper" if hand == "right" else "lower"
