"""A saw stand on which the stops are set turn by turn."""

from collections.abc import Sequence

from lacunar.config import Config
from lacunar.plan import Plan
from plan.sawing import tape_of


def stand_at_the_saw(plan: Plan, config: Config) -> None:
    """Follow the turns: every board once, alike in a turn, and stops set where none stands."""
    names = [name for turn in plan.turns for name in turn.boards]
    assert names == [board.id for board in plan.boards]
    assert [turn.number for turn in plan.turns] == list(range(1, len(plan.turns) + 1))
    boards = {board.id: board for board in plan.boards}
    stops = {s.id: s for s in plan.settings if s.stop is not None}
    of_part = {name: s.id for s in stops.values() for name in s.parts}
    tape = tape_of(config)
    for turn in plan.turns:
        mine = [boards[name] for name in turn.boards]
        assert 1 <= len(mine) <= config.shop.stack
        assert {board.turn for board in mine} == {turn.number}
        assert len({(b.stock, b.species, b.length, b.on_hand) for b in mine}) == 1
        alike = {tuple(sorted(of_part[cut.part] for cut in board.cuts)) for board in mine}
        assert len(alike) == 1, f"turn {turn.number}: boards of a stack are cut to different stops"
        assert set(turn.stops) == set(alike.pop())
        assert turn.stops == tuple(dict.fromkeys(of_part[cut.part] for cut in mine[0].cuts))
        assert set(turn.placed) <= set(turn.stops)
        for board in mine:
            for cut in board.cuts:
                stop = stops[of_part[cut.part]].stop
                assert stop is not None
                assert tape.whole(cut.end - cut.start) == tape.up(stop), f"{cut.part}: stop at {stop}"
    for section in plan.sections:
        mine = {b.turn for b in plan.boards if (b.stock, b.species) == (section.stock, section.species)}
        turns = [turn for turn in plan.turns if turn.number in mine]
        assert section.placements == sum(len(turn.placed) for turn in turns)
        assert section.least_placements <= section.placements
        assert section.pulls == len(turns)
        assert section.pulls_by_stop == sum(len({of_part[c.part] for c in boards[t.boards[0]].cuts}) for t in turns)
        replay([(turn.stops, turn.placed) for turn in turns], config.shop.flip_stops)


def replay(turns: Sequence[tuple[Sequence[str], Sequence[str]]], most: int) -> None:
    """A stop that is not set anew must have stood since it was used last; no more stand at once than there are.

    And none is set anew that could have stood: with one stop on the stand, exactly what differs from the one before.
    """
    uses = [(name, name in placed) for stops, placed in turns for name in stops]
    last: dict[str, int] = {}
    held: list[tuple[int, int, str]] = []
    for at, (name, placed) in enumerate(uses):
        if not placed:
            assert name in last, f"{name} was never set"
            held.append((last[name], at, name))
        last[name] = at
    for at, (name, _) in enumerate(uses):
        standing = {other for a, b, other in held if a <= at <= b and (a, b) != (at, at)} | {name}
        assert len(standing) <= most, f"{sorted(standing)} would stand at once"
    assert sum(placed for _, placed in uses) == least_sets([name for name, _ in uses], most)


def least_sets(uses: Sequence[str], most: int) -> int:
    """How often a stop must be set for uses in this order: by all sets of stops that could stand."""
    states: dict[frozenset[str], int] = {frozenset(): 0}
    for name in uses:
        after: dict[frozenset[str], int] = {}
        for state, cost in states.items():
            if name in state:
                options = [(state, cost)]
            elif len(state) < most:
                options = [(state | {name}, cost + 1)]
            else:
                options = [(state - {out} | {name}, cost + 1) for out in state]
            for new, value in options:
                after[new] = min(value, after.get(new, value))
        least = min(after.values())
        # A worse state than the cheapest by as many sets as there are stops is never better later.
        states = {state: value for state, value in after.items() if value <= least + most}
    return min(states.values())
