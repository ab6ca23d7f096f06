"""What must hold for every room: recovery, turning, mirroring, scaling, order."""

import itertools
import math
import random

from hypothesis import example, given, settings
from hypothesis import strategies as st

from lacunar.survey import solve_survey
from survey.measuring import Corners, assert_points, config_from, distances, framed, l_rooms, quads, walls

ALL_SIX = ["AB", "BC", "CD", "DA", "AC", "BD"]


@given(quads(), st.sampled_from([["AC"], ["BD"], ["AC", "BD"]]))
@settings(max_examples=100, deadline=None)
@example({"A": (0.0, 1200.0), "B": (9000.0, 1380.0), "C": (8820.0, 0.0), "D": (180.0, 180.0)}, ["BD"])
def test_true_distances_give_back_the_corners(corners: Corners, diagonals: list[str]) -> None:
    room = solve_survey(config_from(distances(corners, [*walls("ABCD"), *diagonals])))
    assert_points(room.points, framed(corners))
    assert room.dof == len(diagonals) - 1
    assert room.chi2 < 1e-12
    assert not any(m.suspect for m in room.measured)


@given(quads(), st.floats(0.2, 0.8), st.floats(0.2, 0.8))
@settings(max_examples=40, deadline=None)
def test_marks_give_back_the_corners(corners: Corners, top: float, low: float) -> None:
    marks = {
        "top": ("AB", top * math.dist(corners["A"], corners["B"])),
        "low": ("CD", low * math.dist(corners["C"], corners["D"])),
    }
    names = [*walls("ABCD"), "top-C", "top-D", "low-A", "low-B"]
    room = solve_survey(config_from(distances(corners, names, marks), marks=marks))
    assert_points(room.points, framed(corners))
    assert room.dof == 3


@given(l_rooms(), st.sampled_from(["all", "walls and three"]))
@settings(max_examples=40, deadline=None)
def test_l_rooms_come_out_neither_folded_nor_mirrored(corners: Corners, which: str) -> None:
    reflex = next(name for name in corners if _turns_left(corners, name))
    rest = [name for name in corners if name != reflex]
    # From the reflex corner a tape reaches every other corner.
    from_reflex = ["".join(sorted((reflex, name))) for name in rest]
    names = list(dict.fromkeys([*_sorted_walls(corners), *from_reflex]))
    if which == "all":
        names += [a + b for a, b in itertools.combinations(rest, 2) if a + b not in names and _clear(corners, a, b)]
    room = solve_survey(config_from(distances(corners, names), corners="ABCDEF"))
    assert_points(room.points, framed(corners), within=1e-5)


def _turns_left(corners: Corners, name: str) -> bool:
    names = list(corners)
    i = names.index(name)
    (ax, ay), (bx, by), (cx, cy) = (corners[names[k % 6]] for k in (i - 1, i, i + 1))
    return (bx - ax) * (cy - by) - (by - ay) * (cx - bx) > 0.0


def _sorted_walls(corners: Corners) -> list[str]:
    return ["".join(sorted(wall)) for wall in walls(corners)]


def _clear(corners: Corners, a: str, b: str) -> bool:
    """The straight line stays a hand's width inside: sampled against the ring by winding."""
    ring = list(corners.values())
    (xa, ya), (xb, yb) = corners[a], corners[b]
    points = [(xa + (xb - xa) * k / 40.0, ya + (yb - ya) * k / 40.0) for k in range(1, 40)]
    return all(abs(_winding(ring, point)) > 6.0 for point in points)


def _winding(ring: list[tuple[float, float]], point: tuple[float, float]) -> float:
    total = 0.0
    for (xa, ya), (xb, yb) in zip(ring, ring[1:] + ring[:1], strict=True):
        turn = math.atan2(yb - point[1], xb - point[0]) - math.atan2(ya - point[1], xa - point[0])
        total += math.remainder(turn, 2.0 * math.pi)
    return total


@given(quads(), st.integers(1, 3), st.floats(0.75, 2.5))
@settings(max_examples=25, deadline=None)
def test_lettering_and_scale_change_nothing_but_names_and_lengths(corners: Corners, shift: int, factor: float) -> None:
    measured = _read(distances(corners, ALL_SIX))
    plain = solve_survey(config_from(measured))

    turned = solve_survey(config_from(measured, corners="ABCD"[shift:] + "ABCD"[:shift]))
    for a, b in ALL_SIX:
        assert math.isclose(
            math.dist(plain.corner(a), plain.corner(b)), math.dist(turned.corner(a), turned.corner(b)), abs_tol=1e-6
        )
    assert math.isclose(plain.chi2, turned.chi2, rel_tol=1e-6, abs_tol=1e-12)
    assert [m.suspect for m in plain.measured] == [m.suspect for m in turned.measured]

    mirrored = solve_survey(config_from(measured, corners="DCBA"))
    seen = {name: (-x, y) for name, (x, y) in zip("ABCD", plain.points, strict=True)}
    assert_points(mirrored.points, framed({name: seen[name] for name in "DCBA"}))

    sd = f"[survey]\nsd = {1.5 * factor!r}"
    large = solve_survey(config_from({name: factor * value for name, value in measured.items()}, more=sd))
    assert_points(large.points, [(factor * x, factor * y) for x, y in plain.points])
    for small, big in zip(plain.measured, large.measured, strict=True):
        assert small.w is not None
        assert big.w is not None
        assert math.isclose(small.w, big.w, abs_tol=1e-6)


@given(quads(), st.randoms(use_true_random=False))
@settings(max_examples=25, deadline=None)
def test_order_of_measuring_does_not_change_a_digit(corners: Corners, shuffler: random.Random) -> None:
    marks = {"top": ("AB", 500.0), "low": ("CD", 700.0)}
    measured = _read(distances(corners, [*ALL_SIX, "top-C", "low-B", "top-low"], marks))
    rows = list(measured.items())
    shuffler.shuffle(rows)
    plain = solve_survey(config_from(measured, marks=marks))
    other = solve_survey(config_from(dict(rows), marks=dict(reversed(marks.items()))))
    assert other.points == plain.points
    assert other.chi2 == plain.chi2
    assert {m.between: m for m in other.measured} == {m.between: m for m in plain.measured}
    assert [m.between for m in other.measured][: len(rows)] == [name for name, _ in rows]


def _read(measured: dict[str, float]) -> dict[str, float]:
    """As read on a tape of 1/16 in: nothing fits to the last digit."""
    return {name: round(value / 1.5875) * 1.5875 for name, value in measured.items()}
