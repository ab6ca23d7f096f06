"""What measures make of the parts: rows for the file, what is not measured yet, what to know."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from lacunar.config import Measures


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something that a person should know before cutting.

    Attributes:
        where: a part, piece or coffer.
        what: a sentence, ending where a length follows it.
        by: that length, mm; None where the sentence is complete.
    """

    where: str
    what: str
    by: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Fitted:
    """What the measures of one stage give.

    Attributes:
        rows: mm by part id and key.
        waiting: what is begun but not complete: coffer or piece, and what is missing.
        remarks: in order.
    """

    rows: Mapping[str, Measures] = field(default_factory=dict[str, Measures])
    waiting: tuple[tuple[str, tuple[str, ...]], ...] = ()
    remarks: tuple[Remark, ...] = ()

    def with_row(self, part: str, row: Measures, *remarks: Remark) -> "Fitted":
        """And one more part."""
        return replace(self, rows={**self.rows, part: row}, remarks=(*self.remarks, *remarks))

    def waits(self, where: str, missing: Sequence[str]) -> "Fitted":
        """And one thing that is begun and waits for the rest."""
        return replace(self, waiting=(*self.waiting, (where, tuple(missing))))

    def and_(self, other: "Fitted") -> "Fitted":
        """Both; a slat may have its length from one and its width from the other."""
        rows = {part: {**self.rows.get(part, {}), **other.rows.get(part, {})} for part in (*self.rows, *other.rows)}
        return Fitted(
            rows=rows,
            waiting=(*self.waiting, *other.waiting),
            remarks=(*self.remarks, *other.remarks),
        )
