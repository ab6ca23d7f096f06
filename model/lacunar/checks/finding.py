"""What a check says."""

from dataclasses import dataclass, field
from typing import Literal

from lacunar.told import Told

Level = Literal["pass", "warn", "fail", "ask"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """One thing a check found.

    Attributes:
        check: name of the check.
        level: "ask" where it rests on an assumed input or on a licensed trade's word.
        where: part, coffer, wall or key.
        value: what was found, in `unit`; None where it is no number.
        limit: what is allowed, in `unit`.
        unit: "mm", "deg", "count", "share", a currency ("USD") or "".
        message: one sentence for a carpenter, value and limit in it with units as the config writes them.
        fix: what to do; "" where it passes.
        source: where the limit comes from.
        trials: how many a share of trials comes from; None where the value is no such share.
        alike: how many things say the same, where one finding stands for several.
        worst: which of them the message names as the worst; "" where it stands for itself.
        assumed: what a pass rests on that nobody has looked at; then its level is "ask".
    """

    check: str
    level: Level
    where: str
    value: float | None
    limit: float | None
    unit: str
    trials: int | None = None
    message: Told
    fix: Told
    source: str
    assumed: tuple[str, ...] = ()
    alike: int = field(default=1, metadata={"exclude": True})
    worst: str = field(default="", metadata={"exclude": True})

    @property
    def excess(self) -> float:
        """How far the value is from the limit; 0 where one of them is missing."""
        return 0.0 if self.value is None or self.limit is None else abs(self.value - self.limit)

    @property
    def told(self) -> str:
        """What it says, and where, unless that is everywhere or a key of the config."""
        everywhere = self.where.startswith("the ") or "." in self.where
        return self.message if everywhere else f"{self.where}: {self.message}"
