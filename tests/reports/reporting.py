"""A small ceiling, with everything a report can hold, out of the real stages and two parts made by hand."""

import json
from dataclasses import replace
from functools import cache
from typing import Any

from lacunar.analysis import Analysis, analyse, make_subject, plan_parts
from lacunar.checks import Finding
from lacunar.config import Config, Trust, read_config_text
from lacunar.cost import Cost, make_cost
from lacunar.geometry import Plane
from lacunar.job import Job
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Cutaway, End, Part, cut_to, make_parts
from lacunar.plan import Plan, make_plan
from lacunar.reports import Report, make_report, report_text
from lacunar.schedule import Calendar, make_calendar
from lacunar.survey import Room, solve_survey
from lacunar.told import Told
from lacunar.units import INCH
from samples import slat

TEXT = """
title = "Bücherei"
[room]
height = "8 ft 7 in"
[room.measured]
AB = "12 ft 2 in"
BC = "11 ft 5 in"
CD = "12 ft 1 1/2 in"
DA = "11 ft 4 in"
[beams]
count   = 2
between = ["AB", "CD"]
width   = "3 1/2 in"
depth   = "5 1/2 in"
[cross_beams]
stock = "4x6"
rows = 2
"""

FINDINGS = (
    Finding(
        check="overlap-end",
        level="warn",
        where="C1-S01",
        value=4.0,
        limit=6.35,
        unit="mm",
        message=Told("trim reaches 5/32 in past the gap, 1/4 in is wanted"),
        fix=Told("cut the slat longer"),
        source="common practice, no source",
    ),
    Finding(
        check="clash",
        level="pass",
        where="",
        value=None,
        limit=None,
        unit="",
        message=Told("none"),
        fix=Told(""),
        source="",
    ),
)

TRUST = Trust(good_for="look", missing=("a diagonal",))


LONG = 630.0 * INCH / 16.0
"""mm, on a mark: what has no interval is cut to the nearest one."""


@cache
def config() -> Config:
    return read_config_text(TEXT, "study.toml")


@cache
def room() -> Room:
    return solve_survey(config())


@cache
def layout() -> Layout:
    return arrange_layout(room(), config())


@cache
def designed() -> tuple[Part, ...]:
    """The ceiling's own, a slat that is tapered, mitred, notched and hangs askew, and one too long for any board."""
    odd = replace(
        slat(),
        id="C9-S99",
        outline=((0.0, -40.0), (LONG, -40.0), (LONG, 40.0), (0.0, 40.0)),
        axis=((0.0, 0.0), (LONG, 0.0)),
        length=LONG,
        ripped=True,
        sawn_edges=(True, True),
        width=60.0,
        width_end=70.0,
        interval=None,
        ends=(End(mitre_deg=30.0), End(mitre_deg=-20.0, bevel_deg=1.25)),
        notches=(
            Cutaway(
                fixture="light",
                outline=((101.6, -40.0), (203.2, -40.0), (203.2, -10.0), (101.6, -10.0)),
                along=(101.6, 203.2),
                inside=False,
            ),
        ),
        bottom=Plane(z0=2680.0, sx=0.001),
        top=Plane(z0=2700.0, sx=0.001),
    )
    return (*make_parts(layout()), odd, replace(slat(), id="C9-S100", length=9000.0, interval=None))


@cache
def plan() -> Plan:
    return make_plan(designed(), config())


@cache
def parts() -> tuple[Part, ...]:
    """As cut."""
    return cut_to(designed(), plan().lengths)


@cache
def cost() -> Cost:
    return make_cost(config(), room(), layout(), make_parts(layout()), plan())


@cache
def analysis() -> Analysis:
    """Of the ceiling without the odd pieces, which hang nowhere."""
    plan, cut = plan_parts(make_parts(layout()), config())
    return analyse(make_subject(config(), room(), layout(), cut, plan, cost()))


@cache
def calendar() -> Calendar:
    return make_calendar(config(), layout(), parts(), plan(), cost())


@cache
def job() -> Job:
    return Job(
        config=config(),
        room=room(),
        layout=layout(),
        parts=parts(),
        plan=plan(),
        cost=cost(),
        analysis=analysis(),
        calendar=calendar(),
        findings=FINDINGS,
    )


def told(of: Report | None = None) -> dict[str, Any]:
    """A report as it is read from its JSON."""
    return json.loads(report_text(of or report()))


def report() -> Report:
    return make_report(config(), room(), layout(), parts(), plan(), cost(), analysis(), calendar(), FINDINGS, TRUST)
