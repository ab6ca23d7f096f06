"""The run order, written once: a config becomes a job."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from lacunar.checks import Finding, doubts, run_checks
from lacunar.config import Config, Trust, trust
from lacunar.cost import Cost, make_cost
from lacunar.errors import LayoutError
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Part, apply_field, cut_to, field_sheets, make_parts
from lacunar.plan import Plan, make_plan
from lacunar.reports import Report, make_report
from lacunar.survey import Room, distrust, solve_survey

Quality = Literal["draft", "fine", "photo"]
"""Of pictures."""

OnStep = Callable[[str, float], None]
"""Told before each step: what is being done, and the share of the work that is done, 0 to 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """Everything that is known of one ceiling before any file is written.

    Attributes:
        designed: every part as it would be cut by the design alone.
        parts: every part as it is cut, with what was measured on the wood.
    """

    config: Config
    room: Room
    layout: Layout
    designed: tuple[Part, ...]
    parts: tuple[Part, ...]
    plan: Plan
    cost: Cost
    findings: tuple[Finding, ...]


def run_job(config: Config, on_step: OnStep | None = None) -> Job:
    """Everything that needs no solids and no renderer.

    Raises:
        LacunarError: a stage cannot go on.
    """
    step = on_step or silent
    step("survey", 0.0)
    room = solve_survey(config)
    step("layout", 0.1)
    layout = _arranged(room, config)
    step("parts", 0.4)
    drawn = make_parts(layout)
    measured = apply_field(drawn, config)
    step("plan", 0.5)
    plan = make_plan(drawn, config)
    designed = cut_to(drawn, plan.lengths)
    if config.field:
        plan = make_plan(measured, config, plan.lengths)
    parts = cut_to(measured, plan.lengths) if config.field else designed
    cost = make_cost(config, room, layout, parts, plan)
    step("checks", 0.6)
    findings = run_checks(config, room, layout, parts, plan, cost)
    return Job(
        config=config,
        room=room,
        layout=layout,
        designed=designed,
        parts=parts,
        plan=plan,
        cost=cost,
        findings=findings,
    )


def _arranged(room: Room, config: Config) -> Layout:
    """The layout; where there is none and the distances of the room disagree, that comes first."""
    try:
        return arrange_layout(room, config)
    except LayoutError as error:
        raise LayoutError([*distrust(config, room), *error.problems]) from None


def trust_of(job: Job) -> Trust:
    """How far a job can be trusted, sheet by sheet of its field measures; what fails lowers it.

    Every product says what this says.
    """
    return trust(job.config, field_sheets(job.parts), doubts(job.findings))


def report_of(job: Job) -> Report:
    """The report, before any file is written."""
    return make_report(job.config, job.room, job.layout, job.parts, job.plan, job.cost, job.findings, trust_of(job))


def silent(_text: str, _share: float) -> None:
    """Where nobody wants to be told."""
