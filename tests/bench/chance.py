"""Seconds of fit by chance, beside a plain loop over trials and a limit. Run by name: python tests/bench/chance.py.

Never part of a test run: a shared machine's seconds prove nothing. Quote medians and ratios.
"""

import random
import statistics
import time
from collections.abc import Callable, Sequence
from pathlib import Path

from lacunar.chance import Errors, Windows, chance, errors_of, slat_windows
from lacunar.config import read_config
from lacunar.layout import arrange_layout
from lacunar.parts import make_parts
from lacunar.survey import solve_survey

ROOT = Path(__file__).resolve().parents[2]
NINE = "1-first-look.toml"
LIMITS = {NINE: 2.0, "4-inch.toml": 3.0, "7-hall.toml": 10.0}
TRIALS = 10_000
LOOP_TRIALS = 200


def median_seconds(work: Callable[[], object], rounds: int = 5) -> float:
    """Processor seconds."""
    taken: list[float] = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def loop(windows: Sequence[Windows], errors: Errors) -> int:
    """The slats alone, one number at a time."""
    rng, good = random.Random(1), 0
    for _ in range(LOOP_TRIALS):
        fits = True
        for coffer in windows:
            read = [rng.gauss(0.0, errors.sd(length)) for length in coffer.lengths.tolist()]
            for i, weights in enumerate(coffer.weights.tolist()):
                off = sum(w * r for w, r in zip(weights, read, strict=True)) + rng.gauss(0.0, errors.slat_cut)
                fits &= bool(coffer.shorter[i] <= off <= coffer.longer[i])
        good += fits
    return good


def measure(name: str, limit: float) -> str:
    config = read_config(ROOT / "configs" / name)
    layout = arrange_layout(solve_survey(config), config)
    parts = make_parts(layout)
    seconds = median_seconds(lambda: chance(config, layout, parts, TRIALS))
    windows, errors = slat_windows(config.slats, config.trim, layout, parts), errors_of(config.survey, config.tape)
    peer = median_seconds(lambda: loop(windows, errors), 3) * TRIALS / LOOP_TRIALS
    return (
        f"{name:20} {len(layout.coffers):3} coffers {len(layout.slats):4} slats {TRIALS} trials: {seconds:.3f} s, "
        f"limit {limit} s; plain loop {peer:.1f} s, {peer / seconds:.0f} times"
    )


def main() -> None:
    for name, limit in LIMITS.items():
        print(measure(name, limit))  # noqa: T201


if __name__ == "__main__":
    main()
