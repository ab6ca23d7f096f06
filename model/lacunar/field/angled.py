"""Stage coffers where slats lie at an angle: each slat's own line, side to side; from it the slat's length."""

from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.config import Slats
from lacunar.field.coffer_frame import Frame
from lacunar.field.fitted import Fitted
from lacunar.field.sheet_row import Parts, Row, Values
from lacunar.field.slat_ends import Ends, new_lengths
from lacunar.geometry import Line, Point
from lacunar.layout import Slat

NOTE = "along its middle line, side to side"


@dataclass(frozen=True, slots=True, kw_only=True)
class Chord:
    """The middle line of one slat, from side to side of its coffer.

    Attributes:
        name: of the slat.
        ids: of its parts, where a cut-out severs it.
        ends: plan points on the two sides.
        length: true length.
    """

    name: str
    ids: tuple[str, ...]
    ends: tuple[Point, Point]
    length: float


def chords(frame: Frame) -> tuple[Chord, ...]:
    """One of each slat, in order; parts of a number that lie in two arms of a coffer have one each."""
    found: dict[tuple[int, int, int], list[tuple[str, tuple[Point, Point]]]] = {}
    for slat in frame.slats:
        ends = _chord(frame, slat)
        if ends is not None:
            sides, points = ends
            found.setdefault((slat.number, *sides), []).append((slat.id, points))
    numbers = [number for number, *_ in found]
    return tuple(
        Chord(
            name=parts[0][0] if numbers.count(number) > 1 else f"{frame.coffer.id}-S{number:02d}",
            ids=tuple(id for id, _ in parts),
            ends=parts[0][1],
            length=frame.true_length(*parts[0][1]),
        )
        for (number, *_), parts in found.items()
    )


def _chord(frame: Frame, slat: Slat) -> tuple[tuple[int, int], tuple[Point, Point]] | None:
    """Where a slat's middle line meets the coffer's sides, on either side of the slat."""
    line = Line.through(*slat.axis)
    sides = frame.chord(line, line.along(slat.axis[1]) / 2.0)
    if sides is None:
        return None
    first, second = (line.at(line.along(line.crossing(frame.coffer.sides[side].line))) for side in sides)
    return sides, (first, second)


def angled_rows(frame: Frame) -> Iterator[Row]:
    """One of each slat."""
    for chord in chords(frame):
        card, called = frame.coffer.id, f"{chord.name} middle line"
        short, mm = chord.name.removeprefix(f"{card}-"), chord.length
        yield Row(stage="coffers", card=card, short=short, design=mm, ends=chord.ends, note=NOTE, called=called)


def fit_angled(slats: Slats, mark: float, frame: Frame, parts: Parts, values: Values) -> Fitted:
    """Lengths of the slats whose line is known: as much longer as the line is, long point to long point.

    The ends keep the angles that they are drawn at: where a side stands a little otherwise, the end gap is as wished
    in the middle of the slat.
    """
    fitted = Fitted()
    for chord in chords(frame):
        measured = values.get(f"{chord.name} middle line")
        if measured is None:
            continue
        before, after = (Ends(tight=mm, wide=mm, lean=(0.0, 0.0)) for mm in (chord.length, measured))
        for id in chord.ids:
            fitted = fitted.with_row(id, new_lengths(slats, mark, parts[id], before, after))
    return fitted
