"""Boards against other ways, in one run: cost, proved gap, seconds. Run by name: python tests/bench/plan_boards.py.

First-fit decreasing from each stock, a compact model (a count of pieces for every single board) in HiGHS and, where it
is installed, in CP-SAT, and the bound of the linear program. Seconds are of this process's clock: compare within a run.
"""

import argparse
import importlib
import sys
import time
from collections.abc import Callable
from math import inf
from pathlib import Path
from typing import Any

import highspy
import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from lacunar.plan.cutting import BoardProblem, Effort, check_certificate, solve_boards
from lacunar.plan.cutting.budget import Budget
from lacunar.plan.cutting.greedy import cost, downsized, fill
from lacunar.plan.cutting.instance import make_instance
from lacunar.plan.cutting.relax import relax
from lacunar.plan.cutting.search import Search
from plan.cutting.sawbench import cases, open_instances, priced, published, saw_up

Result = tuple[float, float]
"""Cost and bound; infinite where there is none."""


def ours(problem: BoardProblem, _seconds: float) -> Result:
    """The solver, its plan sawn up and its proof checked."""
    solution = solve_boards(problem, Effort(tidy=False))
    assert saw_up(problem, solution.patterns)[0] == solution.cost
    assert check_certificate(problem, solution.certificate) == solution.bound
    return solution.cost, solution.bound


def first_fit(problem: BoardProblem, _seconds: float) -> Result:
    """Decreasing, from each stock in turn, every board then the cheapest that still holds it."""
    instance = make_instance(problem)
    best = inf
    for base in range(len(instance.prices)):
        boards, missing = fill(instance, instance.counts, instance.supply, base, best_fit=False)
        if not missing.any():
            best = min(best, cost(instance, downsized(instance, boards)))
    return best, -inf


def linear_bound(problem: BoardProblem, _seconds: float) -> Result:
    """The linear program over all patterns."""
    instance = make_instance(problem)
    search = Search(instance, Budget(Effort(work=30.0)))
    none = np.zeros_like(instance.supply)
    relaxed = relax(search.master, instance.counts, none, instance.supply, search.budget)
    return inf, relaxed.bound * instance.unit


def _slots(problem: BoardProblem) -> list[int]:
    """A stock for every board that a plan may use: as many of each as first-fit decreasing can need."""
    instance = make_instance(problem)
    total = int(instance.weights @ instance.counts)
    slots: list[int] = []
    for s, capacity in enumerate(instance.capacities.tolist()):
        slots += [s] * min(int(instance.supply[s]), 2 * -(-total // capacity))
    return slots


def compact_highs(problem: BoardProblem, seconds: float) -> Result:
    """x[i, b] pieces on board b, y[b] used; boards of a stock in order."""
    slots, pieces = _slots(problem), range(len(problem.demands))
    model: Any = highspy.Highs()
    model.setOptionValue("output_flag", False)
    model.setOptionValue("time_limit", seconds)
    model.setOptionValue("mip_rel_gap", 0.0)
    used = [model.addBinary(obj=problem.price(s)) for s in slots]
    give = [[model.addIntegral(0, problem.demands[i].count) for _ in slots] for i in pieces]
    for i in pieces:
        model.addConstr(sum(give[i]) == problem.demands[i].count)
    for b, s in enumerate(slots):
        model.addConstr(sum(problem.weight(i) * give[i][b] for i in pieces) <= problem.capacity(s) * used[b])
        if b and slots[b - 1] == s:
            model.addConstr(used[b] - used[b - 1] <= 0)
    model.minimize()
    info = model.getInfo()
    found = info.primal_solution_status == 2
    return info.objective_function_value if found else inf, info.mip_dual_bound


def compact_cp_sat(problem: BoardProblem, seconds: float) -> Result:
    """The same model."""
    cp_model: Any = importlib.import_module("ortools.sat.python.cp_model")
    slots, pieces = _slots(problem), range(len(problem.demands))
    model: Any = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in slots]
    give = [[model.new_int_var(0, problem.demands[i].count, "") for _ in slots] for i in pieces]
    for i in pieces:
        model.add(sum(give[i]) == problem.demands[i].count)
    for b, s in enumerate(slots):
        model.add(sum(problem.weight(i) * give[i][b] for i in pieces) <= problem.capacity(s) * used[b])
        if b and slots[b - 1] == s:
            model.add_implication(used[b], used[b - 1])
    model.minimize(sum(problem.price(s) * used[b] for b, s in enumerate(slots)))
    solver: Any = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = 2
    status = solver.solve(model)
    found = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    return solver.objective_value if found else inf, solver.best_objective_bound


def ways() -> dict[str, Callable[[BoardProblem, float], Result]]:
    """By name; CP-SAT only where it is installed and loads: some versions bring a HiGHS that clashes with ours."""
    found = {"ours": ours, "first-fit": first_fit, "LP bound": linear_bound, "HiGHS compact": compact_highs}
    try:
        importlib.import_module("ortools.sat.python.cp_model")
    except ImportError as error:
        print(f"without CP-SAT: {error}")  # noqa: T201
        return found
    return {**found, "CP-SAT compact": compact_cp_sat}


def main() -> None:
    """One line for each case and way."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=30.0, help="for each general model")
    parser.add_argument("--only", default="", help="cases whose name holds this")
    parser.add_argument("--open", action="store_true", help="the open instances instead")
    options = parser.parse_args()
    chosen = [(c["name"], published(c)) for c in open_instances()] if options.open else []
    chosen = chosen or [(c["name"], priced(c)) for c in cases("P1")]
    print(f"{'case':34}{'way':16}{'cost':>12}{'bound':>14}{'gap to our bound':>18}{'seconds':>9}")  # noqa: T201
    for name, problem in chosen:
        if options.only not in name:
            continue
        proved = -inf
        for way, solve in ways().items():
            start = time.perf_counter()
            money, bound = solve(problem, options.seconds)
            seconds = time.perf_counter() - start
            proved = bound if way == "ours" else proved
            gap = f"{100.0 * (money - proved) / proved:.3f} %" if money < inf else "-"
            print(f"{name:34}{way:16}{money:12.0f}{bound:14.2f}{gap:>18}{seconds:9.2f}", flush=True)  # noqa: T201


if __name__ == "__main__":
    main()
