"""Rooms followed to the end: every slat fits first time, every gap is hidden. Never part of a test run.

Run by name: python tests/bench/to_the_end.py [SHARE OF DRAWS [ROOM]]. All draws take some minutes,
each of the reading-room three seconds.

Each draw is a true room: the survey's readings, each off as readings are. Its boards are wider than sold, or narrower,
by one amount. What the sheets ask for is read in the order of the work, each reading off as those of the survey and on
a mark; the wood is cut as the project fits and plans it, each cut off as cuts are:

- openings where the pieces of cross beams will hang; pieces, cut to them, go up 1 mm off at each end;
- coffers between them; slats, planned from these, are cut against a stop;
- last holes beside the full slats, put up with the gap as the spacer, the last of them 1 mm off at each end; rips are
  cut against a fence;
- sides; trim is cut to a pencil mark.

Of the truth nothing is known to what is fitted but these readings.
"""

import math
import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path
from statistics import fmean

import numpy as np
from true_rooms import readings, rows_of, slat_plan, true_layout

from lacunar.analysis import arrange
from lacunar.chance import JOINT, SPRING, Errors, errors_of
from lacunar.chance.trim import closing, trim_rings
from lacunar.checks.beam_fits import OPEN_JOINT
from lacunar.config import Config, read_config
from lacunar.errors import LacunarError
from lacunar.field.coffer_frame import Frame, frames
from lacunar.field.coffers import width_rows
from lacunar.field.holes import Hole, fit_last, holes
from lacunar.field.openings import fit_openings, opening_rows
from lacunar.field.trim import fit_trim, trim_rows
from lacunar.geometry import Line, Point, moved
from lacunar.layout import Coffer, Layout, Slat
from lacunar.parts import Part, face_lengths
from lacunar.survey import solve_survey
from lacunar.tolerances import CONTACT
from lacunar.units import nearest_mark

ROOT = Path(__file__).resolve().parents[2]
ROOMS: Mapping[str, int] = {
    "configs/4-inch.toml": 500,
    "configs/5-metric.toml": 100,
    "configs/6-sagging.toml": 100,
    "tests/plan/reading-room.toml": 100,
}
"""Draws of each."""

READ: Mapping[str, int] = {"reading-room.toml": 2}
"""How often each length of a coffer is read, where not once: the remedy that `check` proposes for it (fit-chance)."""

BOARDS = 0.4
"""mm. Standard deviation of what the boards of a bundle are wider than sold, 1/64 in: common practice, no source."""

NOT_OF_SLATS = ("piece too long", "piece too short", "trim joint")
"""Misses that are told apart: pieces and trim are fitted by hand."""

TIGHT = "edge gap tight"
"""A rip that goes in, and leaves less than the least edge gap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Miss:
    """What did not fit first time, by how many mm."""

    kind: str
    part: str
    by: float


@dataclass(frozen=True)
class Room:
    """A room as its config draws it."""

    config: Config

    @cached_property
    def layout(self) -> Layout:
        return self._arranged[0]

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        return self._arranged[1]

    @cached_property
    def by_id(self) -> Mapping[str, Part]:
        return {part.id: part for part in self.parts}

    @cached_property
    def errors(self) -> Errors:
        return errors_of(self.config.survey, self.config.tape)

    @cached_property
    def _arranged(self) -> tuple[Layout, tuple[Part, ...]]:
        return arrange(self.config, solve_survey(self.config))


@dataclass(frozen=True, slots=True)
class Hands:
    """Those that read and cut: never quite right."""

    errors: Errors
    rng: np.random.Generator

    def off(self, sd: float) -> float:
        return sd * float(self.rng.standard_normal())

    def hung(self) -> float:
        """How far from its place an end comes to hang."""
        return self.off(self.errors.put_up)

    def read(self, mm: float, mark: float, times: int = 1) -> float:
        """A reading, or the mean of several."""
        return fmean(nearest_mark(mm + self.off(self.errors.sd(mm)), mark) for _ in range(times))

    def read_all(self, lengths: Mapping[str, float], mark: float, times: int = 1) -> dict[str, float]:
        return {name: self.read(mm, mark, times) for name, mm in lengths.items()}


def put_up(drawn: Layout, true: Layout, hands: Hands) -> Layout:
    """The design's coffers with the sides that they truly have, pieces a little off where they were marked."""
    axes = {bar.id: bar.axis for bar in true.pieces}
    off = {id: (hands.hung(), hands.hung()) for id in axes}

    def hung(against: str, point: Point) -> Point:
        if against not in axes:
            return point
        axis, (first, second) = Line.through(*axes[against]), off[against]
        return moved(point, axis.left, first + (second - first) * axis.along(point) / math.dist(*axes[against]))

    def coffer(drawn: Coffer, true: Coffer) -> Coffer:
        lines = [Line.through(*(hung(side.against, p) for p in (side.start, side.end))) for side in true.sides]
        corners = [before.crossing(line) for before, line in zip((lines[-1], *lines), lines, strict=False)]
        ends = zip(corners, (*corners[1:], corners[0]), strict=True)
        sides = tuple(replace(side, start=a, end=b) for side, (a, b) in zip(true.sides, ends, strict=True))
        return replace(drawn, sides=sides, ceiling=true.ceiling)

    return replace(drawn, coffers=tuple(map(coffer, drawn.coffers, true.coffers)))


def piece_misses(room: Room, true: Layout, hung: Layout, hands: Hands) -> Iterator[Miss]:
    """Pieces that do not go in, or leave a joint open."""
    fine, cross = room.config.tape.fine, room.config.cross_beams
    assert cross is not None
    exact = {row.name: row.design for row in opening_rows(true)}
    rows = fit_openings(room.layout, room.by_id, hands.read_all(exact, fine)).rows
    for bar in room.layout.pieces:
        part, row, cut = room.by_id[bar.id], rows[bar.id], hands.off(hands.errors.trim_cut)
        given, length = row.get("faces"), row.get("length")
        if isinstance(given, Mapping):
            faces = [given[name] for name in part.beside]
        else:
            assert isinstance(length, float)
            faces = [mm + length - part.length for mm in face_lengths(part)]
        plays = [clear - face - cut for clear, face in zip(_clear(room.layout, hung, bar.id), faces, strict=True)]
        if min(plays) < 0.0:
            yield Miss(kind="piece too long", part=bar.id, by=-min(plays))
        elif max(plays) > cross.joint.clearance + OPEN_JOINT:
            yield Miss(kind="piece too short", part=bar.id, by=max(plays) - cross.joint.clearance - OPEN_JOINT)


def _clear(drawn: Layout, hung: Layout, id: str) -> tuple[float, float]:
    """True lengths of the sides along a piece, to the left and to the right of it."""
    axis = Line.through(*next(bar.axis for bar in drawn.pieces if bar.id == id))
    found: dict[bool, float] = {}
    for before, coffer in zip(drawn.coffers, hung.coffers, strict=True):
        for old, side in zip(before.sides, coffer.sides, strict=True):
            if side.against == id:
                found[axis.offset(old.start) > 0.0] = side.length * coffer.ceiling.stretch(side.line.direction)
    return found[True], found[False]


def slat_misses(room: Room, hung: Layout, lengths: Mapping[str, float], over: float, hands: Hands) -> Iterator[Miss]:
    """Slats that are too long for their true place, or too short to hide their ends."""
    for frame, real in zip(frames(room.layout), frames(hung), strict=True):
        full = {slat.number for slat in frame.slats if not _is_rip(slat)}
        for slat in frame.slats:
            if slat.interval is None or not any(slat.grow):
                continue
            before = sum(number < slat.number for number in full)
            places = [frame.place(p) for p in slat.outline]
            low, high = (pick(across for _, across in places) for pick in (min, max))
            along = fmean(along for along, _ in places)
            drawn = _reach(frame, along, low, high)
            true = _reach(real, along, low + before * over, high + (before + (slat.number in full)) * over)
            share = 1.0 if all(slat.grow) else sum(slat.grow) / 2.0
            longest = slat.interval[1] + share * (true[0] - drawn[0])
            shortest = slat.interval[0] + share * (true[0] - drawn[0] + 2.0 * (true[1] - drawn[1]))
            length = lengths[slat.id] + hands.off(hands.errors.slat_cut)
            if length > longest:
                yield Miss(kind="slat too long", part=slat.id, by=length - longest)
            elif length < shortest:
                yield Miss(kind="slat too short", part=slat.id, by=shortest - length)


def _is_rip(slat: Slat) -> bool:
    return slat.ripped and any(slat.sawn_edges)


def _reach(frame: Frame, along: float, low: float, high: float) -> tuple[float, float]:
    """Between the innermost points of a coffer's sides along a slat, and how far the steeper of them leans there."""
    sides = frame.chord(frame.line((low + high) / 2.0), along)
    assert sides is not None
    first, second = ([frame.reach(side, across) for across in (low, high)] for side in sides)
    lean = max(max(first) - min(first), max(second) - min(second))
    return (min(second) - max(first)) * frame.stretch[0], lean * frame.stretch[0]


def _widths(hung: Layout) -> dict[str, float]:
    """The true widths of coffers, by the rows of the sheet."""
    return {row.name: row.design for frame in frames(hung) if not frame.is_angled for row in width_rows(frame)}


def rip_misses(room: Room, hung: Layout, widths: Mapping[str, float], over: float, hands: Hands) -> Iterator[Miss]:
    """Rips that do not go in, and edge gaps past the trim."""
    config, fine, real = room.config, room.config.tape.fine, {frame.coffer.id: frame for frame in frames(hung)}
    found = [(hole, _depths(hole, real[hole.frame.coffer.id], over, hands)) for hole in holes(room.layout)]
    exact = {
        f"{hole.frame.coffer.id} {name}": depth
        for hole, depths in found
        for name, depth in zip(hole.names, depths, strict=True)
    }
    read = {**widths, **hands.read_all(exact, fine)}
    rows = fit_last(config, room.layout, room.by_id, read).rows
    least, hidden = (
        min(config.slats.edge_gap, config.slats.least_edge_gap),
        config.trim.width - config.trim.least_overlap,
    )

    def width(mm: float, cut: float) -> float:
        is_board = mm > config.slats.width - CONTACT
        return config.slats.width + over if is_board else nearest_mark(mm, fine) + cut

    for hole, depths in found:
        left = [
            depth - gap - (len(hole.ids) - 1) * between
            for depth, gap, between in zip(depths, hole.first_gap, hole.gap, strict=True)
        ]
        last = room.by_id[hole.ids[-1][0]]
        a, b = (hole.front.along(corner) for corner in hole.corners)
        shares = [(hole.front.along(p) - a) / (b - a) for p in last.axis]
        gaps = [left[0] + share * (left[1] - left[0]) for share in shares]
        for ids in hole.ids:
            row, cut = rows[ids[0]], hands.off(hands.errors.slat_cut)
            first = row["width"]
            second = row.get("width_end", first)
            assert isinstance(first, float)
            assert isinstance(second, float)
            other = cut if "width_end" not in row else hands.off(hands.errors.slat_cut)
            gaps = [gaps[0] - width(first, cut), gaps[1] - width(second, other)]
        if min(gaps) < least:
            yield Miss(kind=TIGHT if min(gaps) > 0.0 else "rip jams", part=last.id, by=least - min(gaps))
        if max(gaps) > hidden:
            yield Miss(kind="edge gap shows", part=last.id, by=max(gaps) - hidden)


def _depths(hole: Hole, real: Frame, over: float, hands: Hands) -> tuple[float, float]:
    """True, across a hole at its two corners: full slats stand as drawn from the start side, but for their width."""
    more = over * hole.frame.coffer.n_full if hole.which == "last" else 0.0
    ends = [hole.frame.place(hole.front.at(hole.front.along(corner))) for corner in hole.corners]
    front = Line.through(*(real.point(along, across + more + hands.hung()) for along, across in ends))
    first, second = real.far_corners if hole.which == "last" else real.near_corners
    return abs(front.offset(first)) * real.stretch[1], abs(front.offset(second)) * real.stretch[1]


def trim_misses(room: Room, hung: Layout, hands: Hands) -> Iterator[Miss]:
    """Strips that do not go in, or leave a joint open."""
    drawn, true = ({row.name: row.design for row in trim_rows(layout)} for layout in (room.layout, hung))
    rows = fit_trim(room.layout, room.by_id, hands.read_all(true, room.config.tape.fine)).rows
    for ring in trim_rings(room.layout, room.parts, mitred=room.config.trim.is_mitred):
        off: list[float] = []
        for id in ring.parts:
            length = rows[id]["length"]
            assert isinstance(length, float)
            off.append(length + hands.off(hands.errors.trim_cut) - room.by_id[id].length - true[id] + drawn[id])
        for id, mm, fits in zip(ring.parts, off, closing(ring, np.array(off)[:, None])[:, 0], strict=True):
            if not fits:
                yield Miss(kind="trim joint", part=id, by=max(mm - SPRING, -mm / 2.0 - JOINT, 0.0))


def follow(room: Room, times: int, rng: np.random.Generator) -> tuple[list[Miss], int]:
    """One draw: what does not fit, and stops for slats.

    Raises:
        LacunarError: the room makes no ceiling.
    """
    hands, config = Hands(room.errors, rng), room.config
    true, over = true_layout(config, room.errors, rng), hands.off(BOARDS)
    hung = put_up(room.layout, true, hands)
    misses = list(piece_misses(room, true, hung, hands))
    lengths = {name: mm for name, mm in readings(room.layout, hung).items() if " length " in name}
    widths = hands.read_all(_widths(hung), config.read_to)
    plan = slat_plan(
        config, room.parts, rows_of(config, room.layout, room.parts, hands.read_all(lengths, config.read_to, times))
    )
    misses += slat_misses(room, hung, plan.lengths, over, hands)
    misses += rip_misses(room, hung, widths, over, hands)
    misses += trim_misses(room, hung, hands)
    return misses, plan.distinct_lengths


def main(share: float, path: Path, draws: int) -> None:
    """Follow a share of a room's draws, and tell."""
    room, stops, found = Room(read_config(path)), list[int](), list[list[Miss]]()
    seconds, count = time.process_time(), max(1, round(share * draws))
    for draw in range(count):
        try:
            misses, marks = follow(room, READ.get(path.name, 1), np.random.default_rng([1, draw]))
        except LacunarError:
            continue
        found.append(misses)
        stops.append(marks)
        if draw % 10 == 9:
            print(f"\r{draw + 1} of {count}", end="", file=sys.stderr, flush=True)  # noqa: T201
    good, hidden = (
        100.0 * fmean(all(miss.kind in apart for miss in misses) for misses in found)
        for apart in (NOT_OF_SLATS, (*NOT_OF_SLATS, TIGHT))
    )
    print(  # noqa: T201
        f"\r{path.name}: {len(found)} of {count} draws make a ceiling; every slat fits first time and every gap is"
        f" hidden in {good:.1f} % ({hidden:.1f} % with edge gaps below the least, rips going in),"
        f" stops {fmean(stops):.1f}, {time.process_time() - seconds:.0f} s"
    )
    kinds = Counter(miss.kind for misses in found for miss in misses)
    for kind, number in kinds.most_common():
        rooms = fmean(any(miss.kind == kind for miss in misses) for misses in found)
        worst = max((miss for misses in found for miss in misses if miss.kind == kind), key=lambda miss: miss.by)
        print(  # noqa: T201
            f"  {kind:15} in {100.0 * rooms:5.1f} % of rooms, {number / len(found):6.3f} a room,"
            f" at the worst {worst.by:.2f} mm ({worst.part})"
        )


if __name__ == "__main__":
    part, wanted = (*sys.argv[1:], *("1", "")[len(sys.argv) - 1 :])
    for name, number in ROOMS.items():
        if wanted in name:
            main(float(part), ROOT / name, number)
