"""All checks, in the order of the grief they save."""

from lacunar.analysis import Analysis, Subject
from lacunar.checks.beam_ends import check_beam_ends
from lacunar.checks.beam_fits import check_beam_fits
from lacunar.checks.bow import check_bow
from lacunar.checks.budget import check_budget
from lacunar.checks.bundle import check_bundle
from lacunar.checks.buy_flip import check_buy_flip
from lacunar.checks.cautions import CAUTIONS
from lacunar.checks.ceiling_level import check_ceiling_level
from lacunar.checks.clash import check_clash
from lacunar.checks.cut_fits import check_cut_fits
from lacunar.checks.driver_room import check_driver_room
from lacunar.checks.finding import Finding
from lacunar.checks.fit_chance import check_fit_chance
from lacunar.checks.fixture_clear import check_fixture_clear
from lacunar.checks.headroom import check_headroom
from lacunar.checks.nail_reach import check_nail_reach
from lacunar.checks.overlap import check_overlap_edge, check_overlap_end
from lacunar.checks.plan_served import check_plan_served
from lacunar.checks.pocket_breakout import check_pocket_breakout
from lacunar.checks.pocket_hidden import check_pocket_hidden
from lacunar.checks.survey_fit import check_survey_fit
from lacunar.checks.survey_misread import check_survey_misread
from lacunar.checks.voice import Check
from lacunar.checks.what_shows import check_what_shows

CHECKS: dict[str, Check] = {
    check.name: check
    for check in (
        check_nail_reach,
        check_beam_fits,
        check_beam_ends,
        check_overlap_end,
        check_overlap_edge,
        check_what_shows,
        check_bundle,
        check_fit_chance,
        check_buy_flip,
        check_plan_served,
        check_cut_fits,
        check_clash,
        check_pocket_hidden,
        check_pocket_breakout,
        check_driver_room,
        check_survey_fit,
        check_survey_misread,
        check_bow,
        check_ceiling_level,
        check_fixture_clear,
        check_headroom,
        check_budget,
        *CAUTIONS,
    )
}
"""Every check by its name. Each says something, but for cautions that do not concern the house."""


def run_checks(subject: Subject, analysis: Analysis, *, advised: bool = True) -> tuple[Finding, ...]:
    """What every check finds, check by check.

    Args:
        subject: the ceiling.
        analysis: of it.
        advised: changes of the config are tried until one helps; nothing but what a finding says to do hangs on it.
    """
    return tuple(finding for check in CHECKS.values() for finding in check(subject, analysis, advised=advised))


def explain(check: str) -> str:
    """What a check means, why, what to do and where its limits come from.

    Raises:
        KeyError: there is no such check.
    """
    return CHECKS[check].explanation
