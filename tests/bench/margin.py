"""Rooms in which every slat fits first time, by margin. Run by name: python tests/bench/margin.py [DRAWS [ROOM]].

Each draw is a true room: the survey's readings, each off as readings are. Its coffers are measured with the tape's
marks and errors, planned, and cut with the error of a cut against a stop; a slat fits where its length lies in the
interval of the true room. Never part of a test run: 500 draws of the inch room take some minutes.
"""

import math
import sys
import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import fmean

import numpy as np

from lacunar.analysis import arrange, plan_parts
from lacunar.chance import Errors, errors_of
from lacunar.config import Config, FieldRow, read_config
from lacunar.errors import LacunarError
from lacunar.field.coffer_fit import fit_coffers
from lacunar.field.coffer_frame import frames
from lacunar.field.coffers import chord_ends, diagonals, length_names, stations
from lacunar.layout import Layout
from lacunar.parts import Part, apply_field
from lacunar.survey import solve_survey
from lacunar.units import nearest_mark

ROOT = Path(__file__).resolve().parents[2]
MARGINS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "1/8 in": (("slats.margin", "1/8 in"),),
    "5 mm": (("slats.margin", "5 mm"),),
    "6 mm": (("slats.margin", "6 mm"),),
    "chosen": (),
}
Rows = Mapping[str, Mapping[str, float]]


@dataclass(slots=True)
class Tally:
    fits: list[bool]
    stops: list[int]
    costs: list[float]
    misfits: list[int]


def true_layout(config: Config, errors: Errors, rng: np.random.Generator) -> Layout:
    """The ceiling in a room whose distances are off what was read."""

    def off(mm: float) -> float:
        return mm + errors.sd(mm) * float(rng.standard_normal())

    measured = {name: off(mm) for name, mm in config.room.measured.items()}
    beams = tuple(
        beam.model_copy(update={"ends": tuple(e.model_copy(update={"at": off(e.at)}) for e in beam.ends or ())})
        for beam in config.beam
    )
    room = config.room.model_copy(update={"measured": measured})
    other = config.model_copy(update={"room": room, "beam": beams})
    return arrange(other, solve_survey(other))[0]


def readings(drawn: Layout, true: Layout) -> dict[str, float]:
    """What a tape without error reads in the true coffers, where the design has its rows."""
    found: dict[str, float] = {}
    for frame, real in zip(frames(drawn), frames(true), strict=True):
        for name, across in zip(length_names(frame), stations(frame), strict=True):
            ends = chord_ends(real, across)
            assert ends is not None
            found[f"{frame.coffer.id} {name}"] = math.dist(*ends) * real.stretch[0]
        for name, ends in diagonals(real):
            found[f"{frame.coffer.id} {name}"] = real.true_length(*ends)
    return found


def rows_of(config: Config, layout: Layout, parts: Sequence[Part], values: Mapping[str, float]) -> Rows:
    by_id = {part.id: part for part in parts}
    return fit_coffers(config.slats, config.read_to, layout, by_id, values).rows


def lengths_of(config: Config, parts: tuple[Part, ...], rows: Rows) -> tuple[Mapping[str, float], int, float]:
    """Planned lengths of slats, stops, cost."""
    measured = config.model_copy(
        update={"field": {name: FieldRow().model_copy(update=row) for name, row in rows.items()}}
    )
    plan, _ = plan_parts(apply_field(parts, measured), measured, stock=config.slats.stock)
    return plan.lengths, plan.distinct_lengths, plan.cost or plan.board_length


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
            planned, stops, cost = lengths_of(configs[name], parts, rows)
            misfits = sum(
                not true[slat]["shortest"] <= planned[slat] + cut[slat] <= true[slat]["longest"] for slat in slats
            )
            tally.fits.append(misfits == 0)
            tally.stops.append(stops)
            tally.costs.append(cost)
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
