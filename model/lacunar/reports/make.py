"""The report, out of what every stage has made."""

import math
from collections.abc import Callable, Sequence
from dataclasses import fields
from importlib.metadata import version
from typing import Any, TypeVar, cast, get_args

from lacunar.analysis import Analysis
from lacunar.checks import Finding
from lacunar.config import Config, Trust
from lacunar.cost import ESTIMATE, Cost, FinishItem, Group, part_prices
from lacunar.geometry import area
from lacunar.layout import Coffer, Layout, OpenGap, PlaneStep, Running, running_dimensions
from lacunar.materials import find_species
from lacunar.parts import Part, rings, volume
from lacunar.plan import Plan, plan_code
from lacunar.reports.rows import CofferRow, MoneyRow, PartRow, PlanRow, Report, SheetRow, StepRow, SurveyRow
from lacunar.schedule import Calendar
from lacunar.survey import W_CRITICAL, Room, ceiling_rim, chi_square_limit, describe_heights

T = TypeVar("T")


def make_report(
    config: Config,
    room: Room,
    layout: Layout,
    parts: Sequence[Part],
    plan: Plan,
    cost: Cost,
    analysis: Analysis,
    calendar: Calendar,
    findings: Sequence[Finding],
    trust: Trust,
) -> Report:
    """Everything that is known, before any file is written."""
    stops = {part: s.id for s in plan.settings if s.stop is not None for part in s.parts}
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    prices = part_prices(parts, plan)
    return Report(
        lacunar=version("lacunar"),
        title=config.title,
        units=config.units,
        good_for=trust.good_for,
        missing=trust.missing,
        sheets=tuple(_taken(SheetRow, sheet) for sheet in trust.sheets),
        assumed=config.assumed,
        survey=_survey(room),
        coffers=_coffers(layout, analysis),
        parts=tuple(_part(part, stops.get(part.id), boards.get(part.id), prices.get(part.id)) for part in parts),
        checks=tuple(findings),
        analysis=analysis,
        plan=_plan(parts, plan, cost, calendar),
    )


def _taken(row: Callable[..., T], source: object, **different: object) -> T:
    """A row of a class: what its source has by the same names, and what is different there."""
    names = {field.name for field in fields(cast("Any", row))}
    return row(**{name: getattr(source, name) for name in names - set(different)}, **different)


def _survey(room: Room) -> SurveyRow:
    return _taken(
        SurveyRow,
        room,
        corners=dict(zip(room.corners, room.points, strict=True)),
        heights={**{name: z for name, (_, _, z) in ceiling_rim(room).items()}, "centre": room.centre[2]},
        chi2_limit=chi_square_limit(room.dof, 0.95) if room.dof else None,
        w_limit=W_CRITICAL,
        ceiling=describe_heights(room),
    )


def _coffers(layout: Layout, analysis: Analysis) -> tuple[CofferRow, ...]:
    rows = zip(layout.coffers, running_dimensions(layout), analysis.gaps, strict=True)
    return tuple(_coffer(coffer, layout, running, gap, analysis.steps) for coffer, running, gap in rows)


def _coffer(coffer: Coffer, layout: Layout, running: Running, gap: OpenGap, steps: Sequence[PlaneStep]) -> CofferRow:
    slats = [slat for slat in layout.slats if slat.coffer == coffer.id]
    return CofferRow(
        id=coffer.id,
        outline=coffer.outline,
        sides=tuple(math.dist(side.start, side.end) for side in coffer.sides),
        area=area(coffer.outline) / 1e6,
        run=coffer.run,
        slats=len(slats),
        ripped=sum(slat.ripped for slat in slats),
        gap=coffer.gap,
        plane=(coffer.ceiling.z0, coffer.ceiling.sx, coffer.ceiling.sy),
        above=gap,
        steps=tuple(
            StepRow(bar=step.bar, coffer=other, lower=size)
            for step in steps
            for other, mine, size in ((step.higher, step.lower, step.size), (step.lower, step.higher, -step.size))
            if mine == coffer.id
        ),
        running=running.marks,
    )


def _part(part: Part, setting: str | None, board: str | None, price: float | None) -> PartRow:
    size, species = volume(part), find_species(part.species)
    bottom, top = rings(part)
    heights = [z for _, _, z in (*bottom, *top)]
    is_level = not any((part.bottom.sx, part.bottom.sy, part.top.sx, part.top.sy))
    return _taken(
        PartRow,
        part,
        z=(min(heights), max(heights)),
        rings=None if is_level else (bottom, top),
        volume=size,
        mass=None if species is None else size * 1e-9 * species.density,
        setting=setting,
        board=board,
        price=price,
    )


def _plan(parts: Sequence[Part], plan: Plan, cost: Cost, calendar: Calendar) -> PlanRow:
    return _taken(
        PlanRow,
        plan,
        code=plan_code(parts, plan),
        sheets=cost.sheets,
        fasteners=tuple(item for item in cost.items if item.group == "fasteners"),
        finish=tuple(item for item in cost.items if isinstance(item, FinishItem)),
        money=_taken(
            MoneyRow,
            cost,
            **{group: cost.of(group) for group in get_args(Group)},
            ceiling_area=cost.ceiling_m2,
            notes=(ESTIMATE, *cost.notes),
        ),
        calendar=calendar,
    )
