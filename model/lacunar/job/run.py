"""The run order, written once: a config becomes a job."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from lacunar.analysis import Analysis, analyse, arrange, make_subject, plan_parts
from lacunar.checks import Finding, doubts, run_checks
from lacunar.config import Config, Done, Trust, trust
from lacunar.cost import Cost, make_cost
from lacunar.done import done_so_far
from lacunar.errors import LayoutError
from lacunar.layout import Layout
from lacunar.parts import Part, apply_field, field_sheets, make_parts, shaped
from lacunar.plan import Plan, plan_code
from lacunar.reports import AlternativeRow, Report, changed, make_report
from lacunar.schedule import Calendar, make_calendar
from lacunar.survey import Room, distrust, solve_survey

Quality = Literal["draft", "fine", "large", "traced"]
"""Of pictures."""

OnStep = Callable[[str, float], None]
"""Told before each step: what is being done, and the share of the work that is done, 0 to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Alternative:
    """A design to choose from.

    Attributes:
        row: what the report says of it.
        job: None where it cannot be laid out.
    """

    row: AlternativeRow
    job: "Job | None"


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything that is known of one ceiling before any file is written.

    Attributes:
        parts: every part as it is cut.
        analysis: what is worked out of it, parts that were measured again on the wood as drawn.
        alternatives: this design first, then those to choose from beside it; empty where it is the only one.
    """

    config: Config
    room: Room
    layout: Layout
    parts: tuple[Part, ...]
    plan: Plan
    cost: Cost
    analysis: Analysis
    calendar: Calendar
    findings: tuple[Finding, ...]
    alternatives: tuple[Alternative, ...] = ()


def run_job(config: Config, on_step: OnStep | None = None, *, weighed: bool = True, advised: bool = True) -> Job:
    """Everything that needs no solids and no renderer.

    Args:
        config: as read.
        on_step: told before each step.
        weighed: the plan says what fewer stops would cost, where it takes many and no wood is cut.
        advised: changes of the config are tried for what findings say to do; no level hangs on that.

    Raises:
        LacunarError: a stage cannot go on.
    """
    step = on_step or silent
    step("survey", 0.0)
    room = solve_survey(config)
    step("layout", 0.1)
    layout, drawn = _arranged(room, config)
    step("parts", 0.4)
    measured = apply_field(drawn, config)
    step("plan", 0.5)
    plan, cut = plan_parts(measured, config, weighed=weighed)
    parts = shaped(cut)
    cost = make_cost(config, room, layout, parts, plan)
    step("checks", 0.6)
    # The beams and coffers of what was measured are those of the design, so it is looked at in the design's shapes.
    subject = make_subject(config, room, layout, cut, plan, cost)
    analysis = analyse(subject)
    findings = run_checks(subject, analysis, advised=advised)
    return Job(
        config=config,
        room=room,
        layout=layout,
        parts=parts,
        plan=plan,
        cost=cost,
        analysis=analysis,
        calendar=make_calendar(config, layout, parts, plan, cost),
        findings=findings,
    )


def _arranged(room: Room, config: Config) -> tuple[Layout, tuple[Part, ...]]:
    """Layout and parts; where there is none and the distances of the room disagree, that comes first."""
    try:
        return arrange(config, room)
    except LayoutError as error:
        raise LayoutError([*distrust(config, room), *error.problems]) from None


def as_designed(job: Job) -> tuple[Plan, tuple[Part, ...]]:
    """The plan of the design alone, and its parts: nothing measured on the wood, nothing done yet."""
    if not _goes_on(job):
        return job.plan, job.parts
    return plan_parts(make_parts(job.layout), job.config.model_copy(update={"field": {}, "done": Done()}))


def trust_of(job: Job) -> Trust:
    """How far a job can be trusted, sheet by sheet of its field measures; what fails lowers it.

    Every product says what this says.
    """
    return trust(job.config, field_sheets(job.parts), doubts(job.findings))


def code_of(job: Job) -> str:
    """The plan's code, the same on every product."""
    return plan_code(job.parts, job.plan)


def report_of(job: Job) -> Report:
    """The report, before any file is written."""
    report = make_report(
        job.config,
        job.room,
        job.layout,
        job.parts,
        job.plan,
        job.cost,
        job.analysis,
        job.calendar,
        job.findings,
        trust_of(job),
    )
    report = replace(report, alternatives=tuple(one.row for one in job.alternatives))
    if not _goes_on(job):
        return report
    change = changed(as_designed(job), (job.plan, job.parts), job.config)
    return replace(report, done=done_so_far(job.parts, job.config), change=change)


def _goes_on(job: Job) -> bool:
    """Whether anything was measured on the wood, or is done."""
    return bool(job.config.field) or job.config.done != Done()


def silent(_text: str, _share: float) -> None:
    """Where nobody wants to be told."""
