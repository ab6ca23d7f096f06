"""All checks, in the order of the grief they save."""

import sys
from collections.abc import Callable

from lacunar.checks import (
    beam_ends,
    beam_fits,
    bow,
    budget,
    bundle,
    buy_flip,
    caution_asbestos,
    caution_electrical,
    caution_fire,
    caution_lead,
    caution_overhead,
    ceiling_level,
    clash,
    driver_room,
    fit_chance,
    fixture_clear,
    headroom,
    nail_reach,
    overlap_edge,
    overlap_end,
    plan_served,
    pocket_breakout,
    pocket_hidden,
    survey_fit,
    survey_misread,
    what_shows,
)
from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject, make_subject
from lacunar.config import Config
from lacunar.cost import Cost
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.survey import Room

Check = Callable[[Subject], tuple[Finding, ...]]

CHECKS: dict[str, Check] = {
    nail_reach.NAME: nail_reach.check_nail_reach,
    beam_fits.NAME: beam_fits.check_beam_fits,
    beam_ends.NAME: beam_ends.check_beam_ends,
    overlap_end.NAME: overlap_end.check_overlap_end,
    overlap_edge.NAME: overlap_edge.check_overlap_edge,
    what_shows.NAME: what_shows.check_what_shows,
    bundle.NAME: bundle.check_bundle,
    fit_chance.NAME: fit_chance.check_fit_chance,
    buy_flip.NAME: buy_flip.check_buy_flip,
    plan_served.NAME: plan_served.check_plan_served,
    clash.NAME: clash.check_clash,
    pocket_hidden.NAME: pocket_hidden.check_pocket_hidden,
    pocket_breakout.NAME: pocket_breakout.check_pocket_breakout,
    driver_room.NAME: driver_room.check_driver_room,
    survey_fit.NAME: survey_fit.check_survey_fit,
    survey_misread.NAME: survey_misread.check_survey_misread,
    bow.NAME: bow.check_bow,
    ceiling_level.NAME: ceiling_level.check_ceiling_level,
    fixture_clear.NAME: fixture_clear.check_fixture_clear,
    headroom.NAME: headroom.check_headroom,
    budget.NAME: budget.check_budget,
    caution_lead.NAME: caution_lead.check_caution_lead,
    caution_asbestos.NAME: caution_asbestos.check_caution_asbestos,
    caution_electrical.NAME: caution_electrical.check_caution_electrical,
    caution_fire.NAME: caution_fire.check_caution_fire,
    caution_overhead.NAME: caution_overhead.check_caution_overhead,
}
"""Every check by its name. Each says something, but for cautions that do not concern the house."""


def run_checks(
    config: Config, room: Room, layout: Layout, parts: tuple[Part, ...], plan: Plan, cost: Cost
) -> tuple[Finding, ...]:
    """What every check finds, check by check.

    Parts that were measured again on the wood keep the shapes of the design, as their beams and coffers do.

    Args:
        config: as read.
        room: as adjusted.
        layout: as arranged.
        parts: at the lengths of the plan.
        plan: boards and cuts.
        cost: of the whole job.
    """
    subject = make_subject(config, room, layout, parts, plan, cost)
    return tuple(finding for check in CHECKS.values() for finding in check(subject))


def explain(check: str) -> str:
    """What a check means, why, what to do and where its limits come from.

    Raises:
        KeyError: there is no such check.
    """
    return (sys.modules[CHECKS[check].__module__].__doc__ or "").strip()
