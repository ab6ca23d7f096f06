"""Many boards: 1,000 lengths and 10,000 pieces. Limits: proved gap under 0.05 %, 60 s, 2 GB.

Run by name: python tests/bench/plan_large.py. Each case in a process of its own, so that the memory is its own.
"""

import random
import resource
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from lacunar.plan.cutting import BoardProblem, Demand, Effort, Stock, check_certificate, solve_boards
from plan.cutting.sawbench import saw_up

PRICES = {
    "prop": (450, 600, 750, 900, 1200),
    "long": (438, 598, 798, 1010, 1500),
    "odd": (487, 611, 817, 930, 1290),
}
CASES = (
    (100, 1000, 6, 90, "odd"),
    (1000, 10_000, 6, 90, "odd"),
    (1000, 10_000, 12, 60, "long"),
    (1000, 10_000, 20, 100, "prop"),
    (1000, 1500, 6, 90, "odd"),
)
WORK = 40.0


def large(kinds: int, pieces: int, shortest: int, longest: int, prices: str) -> BoardProblem:
    """Random lengths between so many inches, in 1/32 in; boards of 6 to 16 ft."""
    r = random.Random(1)
    lengths = sorted(r.sample(range(shortest * 32, longest * 32), kinds), reverse=True)
    counts = [1] * kinds
    for _ in range(pieces - kinds):
        counts[r.randrange(kinds)] += 1
    stocks = zip((2304, 3072, 3840, 4608, 6144), PRICES[prices], strict=True)
    return BoardProblem(
        stocks=tuple(Stock(length=length, price=price) for length, price in stocks),
        demands=tuple(Demand(length=length, count=n) for length, n in zip(lengths, counts, strict=True)),
        kerf=4,
        end_waste=8,
    )


def run(number: int) -> None:
    """One case, in this process."""
    kinds, pieces, shortest, longest, prices = CASES[number]
    problem = large(*CASES[number])
    start, cpu = time.perf_counter(), time.process_time()
    solution = solve_boards(problem, Effort(work=WORK, tidy=False))
    seconds, cpu = time.perf_counter() - start, time.process_time() - cpu
    assert saw_up(problem, solution.patterns)[0] == solution.cost
    assert check_certificate(problem, solution.certificate) == solution.bound
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0
    name = f"{kinds} lengths, {pieces} pieces, {shortest}-{longest} in, {prices}"
    figures = f"gap {100.0 * solution.gap:.4f} %  {seconds:5.1f} s  cpu {cpu:5.1f} s  {peak:5.0f} MB"
    print(f"{name:48} {figures}", flush=True)  # noqa: T201


if __name__ == "__main__":
    if len(sys.argv) > 1:
        run(int(sys.argv[1]))
    else:
        for i in range(len(CASES)):
            subprocess.run([sys.executable, __file__, str(i)], check=True)
