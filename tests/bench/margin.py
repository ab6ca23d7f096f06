"""Rooms in which every slat fits first time, by margin. Run by name: python tests/bench/margin.py [DRAWS [ROOM]].

Each draw is a true room: the survey's readings, each off as readings are. Its coffers are measured with the tape's
marks and errors, planned, and cut with the error of a cut against a stop; a slat fits where its length lies in the
interval of the true room. Never part of a test run: 500 draws of the inch room take some minutes.
"""

import sys
import time
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

import numpy as np
from true_rooms import readings, rows_of, slat_plan, true_layout

from lacunar.analysis import arrange
from lacunar.chance import errors_of
from lacunar.config import read_config
from lacunar.errors import LacunarError
from lacunar.survey import solve_survey
from lacunar.units import nearest_mark

ROOT = Path(__file__).resolve().parents[2]
MARGINS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "1/8 in": (("slats.margin", "1/8 in"),),
    "5 mm": (("slats.margin", "5 mm"),),
    "6 mm": (("slats.margin", "6 mm"),),
    "chosen": (),
}


@dataclass(slots=True)
class Tally:
    fits: list[bool]
    stops: list[int]
    costs: list[float]
    misfits: list[int]


def main(draws: int, path: Path) -> None:
    configs = {name: read_config(path, changes) for name, changes in MARGINS.items()}
    config = configs["chosen"]
    errors = errors_of(config.survey, config.tape)
    layout, parts = arrange(config, solve_survey(config))
    tallies = {name: Tally([], [], [], []) for name in configs}
    seconds = time.process_time()
    for draw in range(draws):
        rng = np.random.default_rng([1, draw])
        try:
            exact = readings(layout, true_layout(config, errors, rng))
        except LacunarError:
            continue
        true = rows_of(config, layout, parts, exact)
        lengths = {name: mm for name, mm in exact.items() if " length " in name}
        read = {name: mm + errors.sd(mm) * float(rng.standard_normal()) for name, mm in lengths.items()}
        rows = rows_of(config, layout, parts, {name: nearest_mark(mm, config.read_to) for name, mm in read.items()})
        slats = [name for name, row in true.items() if "shortest" in row]
        cut = dict(zip(slats, (errors.slat_cut * rng.standard_normal(len(slats))).tolist(), strict=True))
        for name, tally in tallies.items():
            plan = slat_plan(configs[name], parts, rows)
            misfits = sum(
                not true[slat]["shortest"] <= plan.lengths[slat] + cut[slat] <= true[slat]["longest"] for slat in slats
            )
            tally.fits.append(misfits == 0)
            tally.stops.append(plan.distinct_lengths)
            tally.costs.append(plan.cost or plan.board_length)
            tally.misfits.append(misfits)
    taken = len(tallies["chosen"].fits)
    print(f"{path.name}: {taken} of {draws} draws make a ceiling, {time.process_time() - seconds:.0f} s")  # noqa: T201
    for name, tally in tallies.items():
        print(  # noqa: T201
            f"{name:8} every slat fits in {100.0 * fmean(tally.fits):.1f} % of rooms, {fmean(tally.misfits):.2f} do not"
            f", stops {fmean(tally.stops):.1f}, cost {fmean(tally.costs):.2f}"
        )


if __name__ == "__main__":
    count, room = (*sys.argv[1:], *("500", str(ROOT / "configs" / "4-inch.toml"))[len(sys.argv) - 1 :])
    main(int(count), Path(room))
