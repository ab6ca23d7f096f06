"""What to measure before anyone has: sets that name any one misread distance."""

import math
from collections.abc import Sequence
from pathlib import Path

import pytest

from lacunar.config import read_config_text
from lacunar.survey import Advice, Room, recommend, solve_survey
from lacunar.survey.chance import W_CRITICAL
from survey.crew import Crew
from survey.measuring import BAY_ROOM, L_ROOM, U_ROOM, Corners, config_from, distances, framed, walls

SKETCHES = [
    (5200.0, 4100.0),
    (3600.0, 3000.0),
    (4600.0, 3700.0),
    (6000.0, 4500.0),
    (3000.0, 3000.0),
    (7000.0, 3600.0),
    (5000.0, 5000.0),
    (4200.0, 6100.0),
]
"""Width and depth of rooms before they are measured."""


def _rectangle(width: float, depth: float) -> Corners:
    return {"A": (0.0, depth), "B": (width, depth), "C": (width, 0.0), "D": (0.0, 0.0)}


def _advised(corners: Corners, names: Sequence[str] = ()) -> tuple[Advice, ...]:
    return recommend(config_from(distances(corners, [*walls(corners), *names]), corners="".join(corners)))


def _marks(advice: Sequence[Advice]) -> dict[str, tuple[str, float]]:
    return {one.between.partition("-")[2]: (one.wall, one.expected) for one in advice if one.kind == "mark"}


def _tapes(advice: Sequence[Advice]) -> list[str]:
    return [one.between for one in advice if one.kind != "mark"]


def _suspects(room: Room) -> list[str]:
    return [one.between for one in room.measured if one.suspect]


def _is_found(room: Room) -> bool:
    return max(abs(one.w or 0.0) for one in room.measured) > W_CRITICAL


def test_a_single_misreading_is_found_and_named_in_400_rooms() -> None:
    crew = Crew(4)
    found = named = wrongly = 0
    for size in SKETCHES:
        sketch = _rectangle(*size)
        advice = _advised(sketch)
        for _ in range(50):
            name, room = crew.survey(crew.true_room(sketch), _tapes(advice), _marks(advice))
            found += _is_found(room)
            named += _suspects(room) == [name]
            wrongly += _suspects(room) not in ([], [name])
    assert found >= 0.98 * 400
    assert named >= 0.95 * 400
    assert wrongly <= 0.01 * 400


def test_four_walls_and_two_diagonals_never_name_one() -> None:
    crew = Crew(5)
    rooms = [
        crew.survey(crew.true_room(_rectangle(*size)), [*walls("ABCD"), "AC", "BD"], {})[1]
        for size in SKETCHES
        for _ in range(50)
    ]
    assert len(rooms) == 400
    assert all(_suspects(room) == [] for room in rooms)
    # It is not for want of finding something.
    assert sum(_is_found(room) for room in rooms) > 100


def test_honest_readings_are_seldom_blamed() -> None:
    crew = Crew(6)
    advice = _advised(_rectangle(5200.0, 4100.0))
    rooms = [
        crew.survey(crew.true_room(_rectangle(5200.0, 4100.0)), _tapes(advice), _marks(advice), wrong=False)[1]
        for _ in range(100)
    ]
    # One |w| of a thousand passes by chance, and there are about twenty in a room.
    assert sum(bool(_suspects(room)) for room in rooms) <= 6


@pytest.mark.parametrize(
    ("corners", "known"),
    [(_rectangle(5200.0, 4100.0), []), (_rectangle(3000.0, 3000.0), []), (L_ROOM, []), (BAY_ROOM, ["AC", "AD"])],
)
def test_the_set_keeps_its_promise(corners: Corners, known: list[str]) -> None:
    advice = _advised(corners, known)
    assert advice[-1].names is not None
    assert advice[-1].names <= 20.0
    marks = _marks(advice)
    room = solve_survey(config_from(distances(corners, _tapes(advice), marks), corners="".join(corners), marks=marks))
    assert max(one.names or math.inf for one in room.measured) == pytest.approx(advice[-1].names, rel=0.05)


@pytest.mark.parametrize("corners", [_rectangle(5200.0, 4100.0), L_ROOM])
def test_no_tape_of_the_set_is_idle(corners: Corners) -> None:
    advice = _advised(corners)
    marks = _marks(advice)
    for left_out in [one.between for one in advice if one.kind == "across"]:
        tapes = [name for name in _tapes(advice) if name != left_out]
        read = distances(corners, tapes, marks)
        room = solve_survey(config_from(read, corners="".join(corners), marks=marks))
        assert max(one.names or math.inf for one in room.measured) > 20.0


def test_walls_come_first_and_a_mark_before_its_tapes() -> None:
    advice = _advised(_rectangle(5200.0, 4100.0))
    assert [one.between for one in advice[:4]] == ["AB", "BC", "CD", "DA"]
    made: set[str] = set()
    for one in advice:
        ends = one.between.split("-") if "-" in one.between else list(one.between)
        if one.kind == "mark":
            made.add(ends[1])
        assert all(len(end) == 1 or end in made for end in ends)
    assert {"mAB-C", "mAB-D"} <= {one.between for one in advice}
    mark = next(one for one in advice if one.between == "A-mAB")
    assert (mark.kind, mark.wall, mark.expected) == ("mark", "AB", 2600.0)
    assert mark.start == (0.0, 4100.0)
    assert mark.end == (2600.0, 4100.0)
    assert all(one.expected == pytest.approx(math.dist(one.start, one.end)) for one in advice)


def _marked(mark: str, at: float) -> tuple[Advice, ...]:
    text = [
        'units = "mm"',
        "[room]",
        "height = 2500",
        "measured = { AB = 5200, BC = 4100, CD = 5200, DA = 4100 }",
        f'marks = {{ {mark} = {{ wall = "AB", from = "B", at = {at} }} }}',
        "[cross_beams]",
        "rows = 1",
    ]
    return recommend(read_config_text("\n".join(text), Path("room.toml")))


def test_a_mark_that_is_there_is_used_and_measured_from_its_own_corner() -> None:
    """No second mark beside it, and the sketch has it where it was read: 150 mm off the middle."""
    marks = _marks(_marked("m1", 2450.0))
    assert [name for name, (wall, _) in marks.items() if {*wall} == {*"AB"}] == ["m1"]
    assert marks["m1"][1] == pytest.approx(2450.0)
    assert "B-m1" in [one.between for one in _marked("m1", 2450.0)]


def test_a_new_mark_takes_no_name_that_is_another_places() -> None:
    marks = _marks(_marked("mAB", 600.0))
    assert "mAB" not in marks
    assert "mABm" in marks


def test_two_walls_are_sketch_enough() -> None:
    full = _advised(_rectangle(5200.0, 4100.0))
    two = recommend(config_from({"AB": 5200.0, "BC": 4100.0}))
    assert [one.between for one in two] == [one.between for one in full]


def test_tapes_stay_in_the_room() -> None:
    # From the walls alone a U could be another shape of right angles: a tape from the reflex corners settles it.
    advice = _advised(U_ROOM, ["AE", "AF", "BE", "BF", "CE", "FH"])
    ring = framed(U_ROOM)
    dent = [ring[4], ring[5]]
    assert advice
    for one in advice:
        if one.kind != "across":
            continue
        for k in range(1, 20):
            x = one.start[0] + (one.end[0] - one.start[0]) * k / 20.0
            y = one.start[1] + (one.end[1] - one.start[1]) * k / 20.0
            inside_dent = dent[1][0] + 60.0 < x < dent[0][0] - 60.0 and y < min(dent[0][1], dent[1][1]) - 60.0
            assert not inside_dent, one.between


def test_a_large_room_gets_repeats_and_says_what_they_are() -> None:
    advice = _advised(_rectangle(7000.0, 7100.0))
    seen: set[frozenset[str]] = set()
    for one in advice:
        ends = frozenset(one.between.split("-") if "-" in one.between else one.between)
        assert one.again == (ends in seen), one.between
        seen.add(ends)
    assert any(one.again for one in advice)
