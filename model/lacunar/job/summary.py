"""The few numbers that tell one alternative from another, and how a terminal says them."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass

from lacunar.checks import HARMLESS, Level, doubts
from lacunar.cost import ESTIMATE, Cost, money_text
from lacunar.job.run import Job
from lacunar.units import FOOT, Units

MOST_LETTERS = 44
"""Of names in one row: what a line of 80 columns leaves."""

WORST_FIRST: tuple[Level, ...] = ("fail", "warn", "ask", "pass")


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
        cost_complete: everything in the cost has a price.
        cost_range: lowest and highest cost with what was assumed.
        findings: number of findings at each level, the gravest first.
    """

    full: int
    ripped: int
    lengths: int
    board_length: float
    waste: float
    overlap: float | None
    joists: int
    cost: float | None
    cost_complete: bool
    cost_per_m2: float | None
    cost_range: tuple[float, float] | None
    findings: Mapping[Level, int]


def summarise(job: Job) -> Summary:
    """The few numbers that a person compares alternatives by."""
    slats = [part for part in job.parts if part.kind == "slat"]
    ripped = sum(part.ripped for part in slats)
    least = job.config.trim.least_overlap
    overlaps = [f.value for f in job.findings if f.check.startswith("overlap") and f.limit == least]
    cost = job.cost if job.cost.has_price else None
    return Summary(
        full=len(slats) - ripped,
        ripped=ripped,
        lengths=job.plan.distinct_lengths,
        board_length=job.plan.board_length,
        waste=job.plan.waste,
        overlap=min((value for value in overlaps if value is not None), default=None),
        joists=min((len(set(part.furring or part.joists)) for part in slats), default=0),
        cost=cost.total if cost else None,
        cost_complete=job.cost.is_complete,
        cost_per_m2=cost.per_m2 if cost else None,
        cost_range=(cost.low, cost.high) if cost else None,
        findings={level: sum(finding.level == level for finding in job.findings) for level in WORST_FIRST},
    )


def board_text(one: Summary, units: Units) -> str:
    """Length of boards to be cut."""
    return f"{one.board_length / FOOT:,.0f} ft" if units == "in" else f"{one.board_length / 1000.0:,.1f} m"


def cost_text(one: Summary) -> str:
    """What it costs, with a plus where something in it has no price; a dash where nothing has."""
    return "-" if one.cost is None else f"{one.cost:,.0f}{'' if one.cost_complete else '+'}"


def choice_facts(job: Job) -> tuple[tuple[str, str], ...]:
    """What one chooses by: what is counted, and how much."""
    one, strips = summarise(job), job.layout.furring is not None
    return (
        ("cost: no prices given" if one.cost is None else f"cost, {job.config.currency}, estimated", cost_text(one)),
        ("boards to cut", f"{board_text(one, job.config.units)}, {100.0 * one.waste:.0f} % waste"),
        ("slats to rip", f"{one.ripped} of {one.full + one.ripped}"),
        ("stops of the saw", str(one.lengths)),
        (
            "strips of furring caught" if strips else "joists caught",
            f"{one.joists} or more a slat" if one.joists else "none by some slats",
        ),
    )


def against(job: Job, untold: Collection[str] = ()) -> tuple[str, ...]:
    """What stands against a ceiling, in words: what fails, then the first warning of each check that is told."""
    failed = [finding for finding in job.findings if finding.level == "fail"]
    wrong = [doubt.words for doubt in doubts(job.findings)]
    wrong += [finding.told for finding in failed if finding.check in HARMLESS]
    warned = [finding for finding in job.findings if finding.level == "warn" and finding.check not in untold]
    firsts = list({finding.check: finding for finding in reversed(warned)}.values())[::-1]
    more = f"; and {len(warned) - len(firsts)} more" if len(warned) > len(firsts) else ""
    lines = [f"not buildable yet: {'; '.join(wrong)}" if wrong else "nothing fails", *_other_wood(job)]
    return (*lines, f"to know: {'; '.join(one.told for one in firsts)}{more}") if warned else tuple(lines)


def _other_wood(job: Job) -> tuple[str, ...]:
    """That prices hang on the section alone, where a design is of a wood that the file does not name."""
    keys = [key for key, _ in job.config.overrides]
    if not job.cost.has_price or any(key.startswith("shop.") for key in keys):
        return ()
    kinds = {"slats.species": "slat", "trim.species": "trim", "cross_beams.species": "cross beam"}
    asked = {kinds[key] for key in keys if key in kinds}
    woods = dict.fromkeys(part.species for part in job.parts if part.kind in asked)
    return (f"prices are told by section, not by wood: ask what {' and '.join(woods)} costs",) if woods else ()


def summary_lines(job: Job) -> tuple[str, ...]:
    """What to say first of a ceiling: phrases of a word and its value.

    Distinct lengths are stops of the saw; waste is the share of bought board length that ends in no part.
    """
    one, units = summarise(job), job.config.units
    counts = [f"{count} {level}" for level, count in one.findings.items() if count]
    return (
        f"coffers {len(job.layout.coffers)}",
        f"full slats {one.full}",
        f"ripped slats {one.ripped}",
        f"distinct lengths {one.lengths}",
        f"board length {board_text(one, units)}",
        f"waste {100.0 * one.waste:.1f} %",
        *_about_money(job.cost, units),
        *([f"parts without a board {len(job.plan.unserved)}"] if job.plan.unserved else []),
        f"findings {', '.join(counts) or 'none'}",
    )


def _about_money(cost: Cost, units: Units) -> list[str]:
    """The whole cost, for each unit of area, its range, and what it lacks."""
    if not cost.has_price:
        return ["cost no prices given ([[shop.board]], [[shop.pack]])"]
    total, low, high = (money_text(amount, cost.currency) for amount in (cost.total, cost.low, cost.high))
    area, name = ((FOOT / 1000.0) ** 2, "sq ft") if units == "in" else (1.0, "m2")
    lines = [f"cost {total}, {ESTIMATE}", f"cost per {name} {money_text(cost.per_m2 * area, cost.currency)}"]
    lines += [f"cost range {low} to {high}"] if cost.movers else []
    return lines + ([f"cost lacks {_listed(cost.lacking)}"] if cost.lacking else [])


def _listed(names: Sequence[str]) -> str:
    """Names on one line of a terminal, as many as fit it."""
    shown = names[0]
    for number, name in enumerate(names[1:], 2):
        if len(shown) + len(name) > MOST_LETTERS:
            return f"{shown} and {len(names) - number + 1} more"
        shown += f", {name}"
    return shown
