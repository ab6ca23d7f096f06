"""The few numbers that tell one alternative from another."""

from collections.abc import Mapping
from dataclasses import dataclass

from lacunar.checks import Level
from lacunar.job.run import Job


@dataclass(frozen=True, slots=True, kw_only=True)
class Summary:
    """What tells one alternative from another.

    Attributes:
        lengths: that the saw is set to, of all stocks.
        board_length: bought, without spares, mm.
        waste: share of it that ends in no part.
        overlap: the least by which trim reaches past a gap, mm; None where nothing says so.
        joists: the fewest joists, or strips of furring, that any slat catches.
        cost: of the whole job, an estimate; None where nothing has a price.
        is_complete: everything in the cost has a price.
        per_m2: cost for each m2 of ceiling.
        cost_range: lowest and highest cost with what was assumed.
        levels: number of findings at each level.
    """

    full: int
    ripped: int
    lengths: int
    board_length: float
    waste: float
    overlap: float | None
    joists: int
    cost: float | None
    is_complete: bool
    per_m2: float | None
    cost_range: tuple[float, float] | None
    levels: Mapping[Level, int]


def summarise(job: Job) -> Summary:
    """The few numbers that a person compares alternatives by."""
    slats = [part for part in job.parts if part.kind == "slat"]
    ripped = sum(part.ripped for part in slats)
    least = job.config.trim.least_overlap
    overlaps = [f.value for f in job.findings if f.check.startswith("overlap") and f.limit == least]
    cost = job.cost if job.cost.has_price else None
    levels: tuple[Level, ...] = ("fail", "warn", "ask", "pass")
    return Summary(
        full=len(slats) - ripped,
        ripped=ripped,
        lengths=job.plan.distinct_lengths,
        board_length=job.plan.board_length,
        waste=job.plan.waste,
        overlap=min((value for value in overlaps if value is not None), default=None),
        joists=min((len(set(part.furring or part.joists)) for part in slats), default=0),
        cost=cost.total if cost else None,
        is_complete=job.cost.is_complete,
        per_m2=cost.per_m2 if cost else None,
        cost_range=(cost.low, cost.high) if cost else None,
        levels={level: sum(finding.level == level for finding in job.findings) for level in levels},
    )
