"""Pieces that are cut already against what was measured of their places."""

from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.analysis.subject import Subject
from lacunar.config import DonePiece, FieldRow


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneFit:
    """One size of one piece, mm.

    Attributes:
        key: "length", "width" or "width_end".
        size: as cut.
        least: as little as its place allows.
        most: as much.
        up: it hangs there already.
    """

    part: str
    key: str
    size: float
    least: float
    most: float
    up: bool

    @property
    def off(self) -> float:
        """By how much it is too large; negative where it is too small, 0 where it fits."""
        return max(self.size - self.most, 0.0) + min(self.size - self.least, 0.0)


def done_fits(subject: Subject) -> tuple[DoneFit, ...]:
    """Of every piece that is cut, and whose place was measured."""
    cut, field = subject.config.done.cut, subject.config.field
    pairs = ((cut[part.id], field[part.id]) for part in subject.parts if part.id in cut and part.id in field)
    return tuple(fit for piece, row in pairs for fit in _fits(piece, row))


def _fits(piece: DonePiece, row: FieldRow) -> Iterator[DoneFit]:
    spans = {
        "length": (row.shortest, row.longest) if row.shortest is not None else (row.length, row.length),
        "width": (row.width, row.width),
        "width_end": (row.width_end, row.width_end),
    }
    for key, (least, most) in spans.items():
        size: float | None = getattr(piece, key)
        if size is not None and least is not None and most is not None:
            yield DoneFit(part=piece.part, key=key, size=size, least=least, most=most, up=piece.is_up)
