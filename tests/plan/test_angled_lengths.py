"""Slats at an angle have one length: of the part, its shape, its stop and its place on a board."""

import random

import pytest

from lacunar.analysis import analyse, make_subject
from lacunar.checks import run_checks
from lacunar.config import Config
from lacunar.cost import make_cost
from lacunar.geometry import Line, extent
from lacunar.layout import arrange_layout
from lacunar.parts import Part, cut_to, make_parts
from lacunar.plan import Plan, make_plan
from lacunar.reports import cut_list_rows
from lacunar.survey import solve_survey
from lacunar.units import INCH, nearest_mark
from strategies import Wish, config_of, parts_of, quad, skewed_quad, text_of


def rooms(count: int) -> list[str]:
    draw = random.Random(9)
    texts: list[str] = []
    for _ in range(count):
        angle = draw.choice([-1.0, 1.0]) * draw.uniform(10.0, 80.0)
        wish = Wish(
            beams=draw.randint(0, 1), rows=draw.randint(0, 1), run=f"{angle} deg", board=draw.choice([2.5, 5.5])
        )
        texts.append(text_of(skewed_quad(draw, 4000.0, 4000.0), wish).replace(f"read_to = {INCH / 16}", "read_to = 1"))
    return texts


def check_lengths(parts: tuple[Part, ...], plan: Plan, config: Config) -> None:
    stops = {name: one.stop for one in plan.settings if one.stop is not None for name in one.parts}
    cuts = {cut.part: cut.end - cut.start for board in plan.boards for cut in board.cuts}
    listed = {row.id: float(row.length_mm) for row in cut_list_rows(parts, plan, config)}
    for part in parts:
        if part.kind != "slat":
            continue
        axis = Line.through(*part.axis)
        low, high = extent(part.outline, axis)
        assert (high - low) * part.top.stretch(axis.direction) == pytest.approx(part.length, abs=1e-6), part.id
        assert stops[part.id] == part.length == plan.lengths[part.id]
        assert listed[part.id] == pytest.approx(part.length, abs=0.0051)
        assert cuts[part.id] == pytest.approx(part.length, abs=1e-6)


@pytest.mark.parametrize("text", rooms(6))
def test_one_number_everywhere(text: str) -> None:
    config = config_of(text)
    solved = solve_survey(config)
    layout = arrange_layout(solved, config)
    designed = make_parts(layout)
    plan = make_plan(designed, config)
    parts = cut_to(designed, plan.lengths)
    slats = [part for part in parts if part.kind == "slat"]
    assert any(part.interval is None for part in slats)
    check_lengths(parts, plan, config)
    before = {part.id: part.length for part in designed}
    for part in slats:
        assert part.length == pytest.approx(nearest_mark(part.length, 1.0), abs=1e-6)
        if part.interval is None:
            assert abs(part.length - before[part.id]) <= 0.5 + 1e-6
    cost = make_cost(config, solved, layout, parts, plan)
    subject = make_subject(config, solved, layout, parts, plan, cost)
    findings = run_checks(subject, analyse(subject), advised=False)
    assert not [f for f in findings if f.level == "fail" and f.check in ("overlap-end", "overlap-edge", "plan-served")]


def test_an_end_gap_that_may_not_shrink_gives_shorter_slats() -> None:
    """With the end gap at its least no slat may be longer than designed."""
    text = text_of(quad(3000.0, 2600.0), Wish(beams=0, cross=False, run="35 deg"))
    config = config_of(text.replace(f"least_end_gap = {INCH / 16}", f"least_end_gap = {INCH / 4}"))
    designed = parts_of(config)
    plan = make_plan(designed, config)
    parts = cut_to(designed, plan.lengths)
    check_lengths(parts, plan, config)
    longer = [plan.lengths[part.id] - part.length for part in designed if part.kind == "slat"]
    assert max(longer) <= 1e-6
    assert min(longer) < -INCH / 32.0
