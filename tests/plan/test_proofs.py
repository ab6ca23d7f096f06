"""Every room's plan carries proof of its bound, and is the same wherever it is made."""

import hashlib
import math
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

from lacunar.config import Config
from lacunar.errors import PlanError
from lacunar.plan import Plan, Section, forget, make_plan
from lacunar.plan.cutting import check_certificate
from plan.planning import CONFIGS, planned
from plan.proofs import proved_bound
from plan.sawing import tape_of

every = pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)


def paid(section: Section, plan: Plan, config: Config) -> int:
    """Cents, spares included; ticks of board length without prices."""
    if section.cost is not None:
        return round(section.cost * 100)
    mine = [b.length for b in plan.boards if (b.stock, b.species) == (section.stock, section.species) and not b.on_hand]
    return sum(tape_of(config).down(length) for length in mine)


@every
def test_the_bound_follows_from_the_certificates(path: Path) -> None:
    _, shop, plan = planned(path)
    assert plan.sections
    percent = round(shop.shop.cull * 100)
    assert abs(percent - shop.shop.cull * 100) < 1e-9
    for section in plan.sections:
        cost = paid(section, plan, shop)
        assert section.proofs
        claimed = cost if section.lower_bound is None else round(section.lower_bound * 100)
        bound = min(proved_bound(one, claimed, percent if section.cost is not None else 0) for one in section.proofs)
        if section.lower_bound is not None:
            assert bound == claimed
        assert section.gap == pytest.approx((cost - bound) / bound)
        assert section.proven == (cost == bound)
        assert not section.by_clock
    assert plan.proven == all(section.proven for section in plan.sections)
    if plan.cost is not None:
        assert plan.cost == pytest.approx(math.fsum(s.cost or 0.0 for s in plan.sections))
        assert plan.lower_bound == pytest.approx(math.fsum(s.lower_bound or 0.0 for s in plan.sections))


@every
def test_rooms_are_proved(path: Path) -> None:
    """All of ours, at the time of writing; a plan that is no longer proved has become worse."""
    _, _, plan = planned(path)
    assert plan.proven


@every
def test_a_certificate_that_was_tampered_with_is_refused(path: Path) -> None:
    _, _, plan = planned(path)
    for section in plan.sections:
        assert section.proofs
        problem, good = section.proofs[0].problem, section.proofs[0].certificate
        assert check_certificate(problem, good) == good.bound
        # The cheapest plan there is costs no more than that, so that no proof of this can hold.
        unit = math.gcd(*(problem.price(s) for s in range(len(problem.stocks))))
        worst = sum(problem.price(s) for s in range(len(problem.stocks))) * problem.pieces + unit
        nothing = tuple(tuple(0 for _ in values) for values in good.values)
        for bad in (
            replace(good, bound=worst),
            replace(good, values=nothing),
            replace(good, nodes=good.nodes[:-1]),
            replace(good, nodes=(*good.nodes, good.nodes[-1])),
            replace(good, scale=0),
        ):
            with pytest.raises(PlanError):
                check_certificate(problem, bad)


SCRIPT = """
import hashlib, sys
from lacunar.config import read_config
from lacunar.layout import arrange_layout
from lacunar.parts import make_parts
from lacunar.plan import make_plan
from lacunar.survey import solve_survey
for path in sys.argv[1:]:
    shop = read_config(path)
    plan = make_plan(make_parts(arrange_layout(solve_survey(shop), shop)), shop)
    print(hashlib.sha256(repr(plan).encode()).hexdigest())
"""


def test_the_same_plan_twice_and_in_another_process() -> None:
    """Another process hashes names in another way, and so walks sets in another order."""
    mine: list[str] = []
    for path in CONFIGS:
        wanted, shop, plan = planned(path)
        forget()
        assert make_plan(wanted, shop) == plan
        mine.append(hashlib.sha256(repr(plan).encode()).hexdigest())
    seed = "1" if os.environ.get("PYTHONHASHSEED") != "1" else "2"
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT, *map(str, CONFIGS)],
        env={**os.environ, "PYTHONHASHSEED": seed},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    assert done.stdout.split() == mine
