"""A saw that cuts a plan piece by piece, and nothing of the code that planned.

Physics in whole nanometres, with the true kerf and the true board; what must add up exactly, in whole ticks.
"""

import itertools
import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import pytest

from lacunar.config import Config
from lacunar.parts import Part
from lacunar.plan import Board, Cut, Plan

INCH = 25.4
SHORTEST_BLANK = {"in": 24.0 * INCH, "mm": 610.0}
"""mm. No shorter board is ripped by machine."""

NM = 1_000_000
"""Nanometres in a millimetre."""

SLACK = 20
"""Nanometres: decimal fractions of an inch end somewhere."""


def nm(mm: float) -> int:
    """Whole nanometres."""
    return round(mm * NM)


@dataclass(frozen=True)
class Tape:
    """Ticks, mm, and how many lie between two marks that slats are cut to."""

    tick: float
    read: int

    def whole(self, mm: float) -> int:
        """A length that must be whole ticks."""
        ticks = round(mm / self.tick)
        assert abs(mm - ticks * self.tick) < 1e-6, f"{mm} mm is no whole number of ticks of {self.tick} mm"
        return ticks

    def up(self, mm: float) -> int:
        return math.ceil((mm - 1e-6) / self.tick)

    def down(self, mm: float) -> int:
        return math.floor((mm + 1e-6) / self.tick)


def tape_of(config: Config) -> Tape:
    """The mark slats are cut to, in as few equal ticks as are no longer than 1/64 in or 0.1 mm."""
    finest = INCH / 64.0 if config.units == "in" else 0.1
    read = 1
    while config.read_to / read > finest + 1e-9:
        read += 1
    return Tape(tick=config.read_to / read, read=read)


def fine(config: Config) -> float:
    """What beams, trim and rips are cut to, mm."""
    return min(config.read_to, INCH / 32.0 if config.units == "in" else 0.5)


def saw_up(plan: Plan, wanted: Sequence[Part], config: Config) -> None:
    """Cut every board, from one end to the other, and see that every part comes out once, whole and of its length."""
    by_id = {p.id: p for p in wanted if p.bought}
    cut = [cut.part for board in plan.boards for cut in board.cuts]
    twice = [name for name, n in Counter(cut).items() if n > 1]
    assert not twice, f"cut twice: {twice}"
    assert set(cut) | {item.part for item in plan.unserved} == set(by_id)
    assert len(cut) + len(plan.unserved) == len(by_id), "unserved, and cut all the same"
    assert [board.id for board in plan.boards] == [f"B{n}" for n in range(1, len(plan.boards) + 1)]
    assert set(plan.lengths) == set(by_id)
    for board in plan.boards:
        assert {(by_id[c.part].species) for c in board.cuts} == {board.species}
        for one in board.cuts:
            check_length(one, by_id[one.part], plan, config)
        _saw(board, by_id, config)
    _boards_there(plan, config)


def check_length(cut: Cut, part: Part, plan: Plan, config: Config) -> None:
    """Whole ticks; within the interval on its mark; without a choice, what the part has, rounded up."""
    tape = tape_of(config)
    ticks = tape.whole(cut.end - cut.start)
    if part.interval is None or part.interval[1] - part.interval[0] < 1e-6:
        mark = config.read_to if part.kind == "slat" else fine(config)
        length = part.length if part.interval else math.floor(part.length / mark + 0.5) * mark
        assert ticks == tape.up(length), f"{part.id}: {ticks} ticks for {length} mm"
        one_number = part.kind == "slat" and part.interval is None
        assert plan.lengths[part.id] == pytest.approx(length if one_number else part.length, abs=1e-9)
        return
    assert abs(plan.lengths[part.id] - (cut.end - cut.start)) < 1e-6
    shortest, longest = part.interval
    first = -(-tape.up(shortest) // tape.read) * tape.read
    if first <= tape.down(longest):
        assert ticks % tape.read == 0, f"{part.id}: {ticks} ticks are on no mark, though one lies in its interval"
        assert shortest - 1e-6 <= cut.end - cut.start <= longest + 1e-6, f"{part.id}: outside its interval"
    else:
        least = tape.up(shortest)
        assert least <= ticks <= max(least, tape.down(longest)), f"{part.id}: {ticks} ticks, cut to measure"


def _saw(board: Board, by_id: dict[str, Part], config: Config) -> None:
    """The board as it measures, ends squared, a kerf at every cut."""
    length = _actual(board, config)
    if any(cut.slants != (0.0, 0.0) for cut in board.cuts):
        _saw_strips(board, [by_id[cut.part] for cut in board.cuts], length, config)
        return
    steps = _steps(board.cuts)
    kerf, waste = nm(config.shop.kerf), nm(config.shop.end_waste)
    at = waste
    for n, (start, end) in enumerate(steps):
        assert nm(start) >= at - SLACK, f"{board.id}: a piece starts at {start} mm, the saw is at {at / NM} mm"
        at = nm(end) + (kerf if n + 1 < len(steps) else 0)
    assert at <= nm(length) - waste + SLACK, f"{board.id}: cut up to {at / NM} mm of {length} mm"
    for cut in board.cuts:
        if cut.across is not None:
            _check_rip(cut, by_id[cut.part], board, config)
    for one, other in itertools.combinations([cut for cut in board.cuts if cut.across is not None], 2):
        if one.blank == other.blank:
            _check_beside(one, other, config)
    _adds_up(board, [tape_of(config).whole(end - start) for start, end in steps], length, 1.0, 0.0, config)


def _steps(cuts: Sequence[Cut]) -> list[tuple[float, float]]:
    """What is crosscut at full width, in order: parts, and sections that are ripped."""
    steps: list[tuple[float, float]] = []
    for cut in cuts:
        assert (cut.across is None) == (cut.blank is None) == (cut.across_end is None)
        step = cut.blank or (cut.start, cut.end)
        if not steps or step != steps[-1]:
            steps.append(step)
    return steps


def board_width(part: Part, config: Config) -> float:
    """What it is ripped from, as it lies under the saw: a slat's board flat, a beam's as the beam hangs."""
    if part.kind == "half beam":
        assert config.cross_beams is not None
        return config.cross_beams.width
    return config.slats.width


def _check_rip(cut: Cut, part: Part, board: Board, config: Config) -> None:
    """Inside its section, which is long enough to be ripped, against one of its edges, as wide as its part."""
    assert part.ripped
    assert cut.blank is not None
    assert cut.across is not None
    assert cut.across_end is not None
    assert nm(cut.blank[1]) - nm(cut.blank[0]) >= nm(SHORTEST_BLANK[config.units]) - SLACK, f"{board.id}: short section"
    assert nm(cut.blank[0]) <= nm(cut.start) + SLACK
    assert nm(cut.end) <= nm(cut.blank[1]) + SLACK, f"{board.id}: {part.id} runs over its section"
    width = board_width(part, config)
    ends = (part.width, part.width if part.width_end is None else part.width_end)
    far = tape_of(config).down(width) * tape_of(config).tick
    is_near = cut.across[0] == 0.0
    for (low, high), wish in zip((cut.across, cut.across_end), reversed(ends) if cut.turned else ends, strict=True):
        assert -1e-6 <= low < high <= width + 1e-6, f"{part.id}: {low} to {high} across {width}"
        assert abs(high - low - wish) <= fine(config) / 2.0 + tape_of(config).tick, f"{part.id}: {high - low} wide"
        # Its other edge is the board's own, else two edges would have to be sawn.
        assert low == 0.0 if is_near else abs(high - far) < 1e-6, f"{part.id}: {low} to {high} across {width}"


def _check_beside(one: Cut, other: Cut, config: Config) -> None:
    """A kerf apart: one behind the other, or side by side wherever both are."""
    first, last = max(one.start, other.start), min(one.end, other.end)
    if nm(first) >= nm(last):
        assert nm(first) - nm(last) >= nm(config.shop.kerf) - SLACK, f"{one.part}, {other.part}: no room for the blade"
        return
    for place in (first, last):
        low, high = sorted((_across(one, place), _across(other, place)))
        apart = nm(high[0]) - nm(low[1])
        assert apart >= nm(config.shop.kerf) - SLACK, f"{one.part}, {other.part}: {apart / NM} mm apart at {place}"


def _across(cut: Cut, place: float) -> tuple[float, float]:
    """From and to across the board at a place along it: straight between both ends."""
    assert cut.across is not None
    assert cut.across_end is not None
    share = (place - cut.start) / (cut.end - cut.start)
    low, high = (a + share * (b - a) for a, b in zip(cut.across, cut.across_end, strict=True))
    return low, high


def _saw_strips(board: Board, strips: Sequence[Part], length: float, config: Config) -> None:
    """Both edges of each pair of neighbours at least a kerf apart, square to the cut of either."""
    waste, kerf = config.shop.end_waste, config.shop.kerf
    edges = [_edges(cut, part) for cut, part in zip(board.cuts, strips, strict=True)]
    for cut, part in zip(board.cuts, strips, strict=True):
        first, second = (end.mitre_deg for end in part.ends)
        # As it lies, or rolled over: a rectangular section is the same both ways.
        assert cut.slants in ((-first, second), (first, -second)), f"{part.id} has other ends than that: {cut.slants}"
        assert nm(cut.start) >= nm(waste) - SLACK, f"{board.id}: {part.id} starts in the end waste"
        assert nm(cut.end) <= nm(length) - nm(waste) + SLACK, f"{board.id}: {part.id} ends in the end waste"
    for (a, one), (b, other) in itertools.pairwise(zip(board.cuts, edges, strict=True)):
        steepest = max(abs(a.slants[1]), abs(b.slants[0]))
        for side in (0, 1):
            apart = (other[0][side] - one[1][side]) * math.cos(math.radians(steepest))
            assert nm(apart) >= nm(kerf) - SLACK, f"{board.id}: {a.part} and {b.part} are {apart} mm apart"


def _edges(cut: Cut, part: Part) -> tuple[tuple[float, float], tuple[float, float]]:
    """Where both cuts meet the near and the far edge; long points at start and end."""
    first, second = (part.width * math.tan(math.radians(angle)) for angle in cut.slants)
    start = (cut.start + max(-first, 0.0), cut.start + max(first, 0.0))
    end = (cut.end - max(second, 0.0), cut.end + min(second, 0.0))
    return start, end


def _actual(board: Board, config: Config) -> float:
    rows = [row for row in config.shop.board if row.stock == board.stock and row.length == board.length]
    return rows[0].actual if rows and rows[0].actual is not None else board.length


def _adds_up(board: Board, taken: Sequence[int], length: float, kerf_factor: float, end: float, config: Config) -> None:
    """Pieces, kerfs, both ends and the offcut are the whole board, in ticks."""
    tape = tape_of(config)
    kerf, waste = tape.up(config.shop.kerf * kerf_factor), tape.up(config.shop.end_waste + end)
    used = sum(taken) + len(taken) * kerf + 2 * waste
    rest = tape.down(length) - used
    offcut = tape.whole(board.offcut)
    assert offcut == max(rest, 0), f"{board.id}: {offcut} ticks left over, {rest} by adding up"
    assert rest >= -kerf, f"{board.id} is overrun"


def check_strips_add_up(board: Board, strips: Sequence[Part], config: Config) -> None:
    """Strips of 45 degrees that share cuts take their middles, and of each end of the board half a width more."""
    width = strips[0].width
    assert all(abs(abs(end.mitre_deg) - 45.0) < 1e-9 and p.width == width for p in strips for end in p.ends)
    tape = tape_of(config)
    middles: list[int] = []
    for cut, part in zip(board.cuts, strips, strict=True):
        (a, b), (c, d) = _edges(cut, part)
        middles.append(tape.up((c + d) / 2.0 - (a + b) / 2.0))
    _adds_up(board, middles, _actual(board, config), math.sqrt(2.0), width / 2.0, config)


def _boards_there(plan: Plan, config: Config) -> None:
    """No more boards than lie there or are sold, none that the car does not take; money as on the price list."""
    bought = Counter((b.stock, b.length) for b in plan.boards if not b.on_hand)
    used = Counter((b.stock, b.length) for b in plan.boards if b.on_hand)
    rows = {(row.stock, row.length): row for row in config.shop.board}
    for key, count in used.items():
        assert count <= rows[key].on_hand, f"{count} boards {key} on hand"
    for key, count in bought.items():
        if rows:
            supply = rows[key].supply
            assert supply is None or count <= supply, f"{count} boards {key} of {supply} that are sold"
            assert rows[key].price is not None or rows[key].on_hand == 0
        assert config.shop.longest is None or key[1] <= config.shop.longest + 1e-6
    assert all(b.price == 0.0 for b in plan.boards if b.on_hand)
    lines = Counter[tuple[str, float]]()
    for line in plan.buy:
        lines[line.stock, line.length] += line.count
        assert line.spare == math.ceil(round(line.count * config.shop.cull, 9))
        if line.price is not None:
            assert line.total is not None
            assert abs(line.total - (line.count + line.spare) * line.price) < 1e-9
            assert abs(line.price - (rows[line.stock, line.length].price or 0.0)) <= 0.005 + 1e-9, "to the cent"
    assert lines == bought
    total = [line.total for line in plan.buy]
    assert plan.cost is None if None in total else plan.cost is not None
    if plan.cost is not None:
        assert abs(plan.cost - sum(t or 0.0 for t in total)) < 1e-6
        assert plan.lower_bound is None or plan.lower_bound <= plan.cost + 1e-9
    for section in plan.sections:
        assert section.gap is None or section.gap >= -1e-12, f"{section.stock}: bound above cost"
        assert section.proven == (section.gap == 0.0 or section.cost == section.lower_bound == 0.0)
