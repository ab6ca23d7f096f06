"""Pockets: wood left round them, room for the drill, share of them that is hidden."""

import math
import re
from dataclasses import replace
from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from checks.sample import (
    SKEWED,
    SQUARE,
    analysed,
    block,
    box,
    ceiling,
    edited,
    found,
    levels,
    one,
    part_of,
    rebuilt,
    remedied,
    spoiled,
)
from lacunar.analysis.bores import (
    mouth_half,
    segment_distance,
    shoulder,
    way_out,
    wood_between,
    wood_round,
)
from lacunar.config import FieldRow
from lacunar.parts import Part, Pocket

INCH = 25.4


def joint(words: str) -> str:
    return edited(SQUARE, ("low = 0, clearance = 1", f"low = 0, clearance = 1, {words}"))


def test_wood_left_of_the_usual_pocket() -> None:
    """Least is between the shoulder's rim and its own face: (total - screw / 2) sin 15 - 3/16 in cos 15."""
    finding = one("pocket-breakout", ceiling())
    total = 0.75 * INCH / math.sin(math.radians(15.0))
    expected = (total - 1.25 * INCH) * math.sin(math.radians(15.0)) - INCH * 3.0 / 16.0 * math.cos(math.radians(15.0))
    assert (finding.level, finding.limit) == ("pass", pytest.approx(INCH / 8.0))
    assert finding.value == pytest.approx(expected)


@pytest.mark.parametrize(
    ("words", "level", "value", "towards"),
    [
        ("drop = 5", "warn", 5.0 - INCH * 3 / 16, "the top"),
        ("drop = 2", "fail", 2.0 - INCH * 3 / 16, "the top"),
        ("drop = 137", "fail", 3.0 - INCH * 3 / 16, "the bottom"),
        # Two axes leave the end grain 100 - 2 x 48 = 4 mm apart, each pilot 1/8 in wide.
        ("offset = 48", "warn", 4.0 - INCH / 8, "the pocket beside it"),
    ],
)
def test_pockets_too_near_something(words: str, level: str, value: float, towards: str) -> None:
    subject = ceiling(joint(words))
    findings = found("pocket-breakout", subject)
    assert [f.level for f in findings] == [level] * 2
    assert all(f.value == pytest.approx(value, abs=0.02) for f in findings)
    assert all(towards in f.message for f in findings)
    # By the face that the mouth is in and what the end meets: no hand, no number.
    assert all(re.search(r"(high|low) pocket on the \S+ face, end at (E1|BC|DA)", f.message) for f in findings)


def _circle(centre: NDArray[np.float64], axis: NDArray[np.float64], radius: float) -> NDArray[np.float64]:
    """Many points of a circle square to an axis."""
    first = np.cross(axis, (0.3, 0.5, 0.81))
    first /= np.linalg.norm(first)
    second = np.cross(axis, first)
    turns = np.linspace(0.0, 2.0 * math.pi, 4001)
    return centre + radius * (np.cos(turns)[:, None] * first + np.sin(turns)[:, None] * second)


def _slid(
    points: NDArray[np.float64], axis: NDArray[np.float64], on: NDArray[np.float64], normal: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Points moved along the axis until they lie on a plane."""
    return points - ((points - on) @ normal / (axis @ normal))[:, None] * axis


@pytest.mark.parametrize("name", ["X1-1", "X1-2", "X1-3", "X2-2"])
def test_wood_by_points_on_every_curve(name: str) -> None:
    """Mitred ends, sloping tops and bottoms: the closed forms against thousands of points on rims and ovals."""
    part = part_of(ceiling(SKEWED), name)
    assert abs(part.ends[0].mitre_deg) + abs(part.ends[1].mitre_deg) > 0.1
    for pocket in part.pockets:
        woods = wood_round(part, pocket)
        axis = np.array(pocket.direction)
        rim = _circle(np.array(shoulder(pocket)), axis, pocket.bore / 2.0)
        mouth = _slid(rim, axis, np.array(pocket.mouth), np.array((*pocket.normal, 0.0)))
        end, outward = _end_plane(part, pocket)
        leaving = _slid(_circle(np.array(shoulder(pocket)), axis, pocket.pilot / 2.0), axis, end, outward)
        points = np.concatenate((rim, mouth, leaving))
        for plane, up, towards in ((part.top, 1.0, "the top"), (part.bottom, -1.0, "the bottom")):
            heights = plane.z0 + plane.sx * points[:, 0] + plane.sy * points[:, 1]
            assert woods[towards] == pytest.approx((up * (heights - points[:, 2])).min() / plane.plumb, abs=1e-4)
        assert woods["the end grain"] == pytest.approx(-((rim - end) @ outward).max(), abs=1e-4)
        side = -((rim - np.array(pocket.mouth)) @ np.array((*pocket.normal, 0.0))).max()
        assert woods["its own side"] == pytest.approx(side, abs=1e-4)
        inward = -np.array((*pocket.normal, 0.0))
        deep = np.concatenate((rim, _circle(np.array(way_out(pocket)), axis, pocket.pilot / 2.0)))
        reach = ((deep - np.array(pocket.mouth)) @ inward).max()
        assert woods["the opposite side"] == pytest.approx(part.width - reach, abs=1e-4)
        assert np.abs(leaving[:, :2] - np.array(way_out(pocket))[:2]).max() < 5.0
        half = (np.ptp(np.hypot(*(mouth[:, :2] - mouth[0, :2]).T)), np.ptp(mouth[:, 2]) / 2.0)
        assert mouth_half(pocket)[1] == pytest.approx(half[1], abs=1e-4)


def _end_plane(part: Part, pocket: Pocket) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """A point of the end cut and its outward normal, from the two outermost corners along the axis."""
    a, b = np.array(part.axis[0]), np.array(part.axis[1])
    way = (b - a) / np.linalg.norm(b - a) * (1.0 if pocket.end else -1.0)
    ring = sorted((np.array(p) for p in part.outline), key=lambda p: float(p @ way))[-2:]
    along = ring[1] - ring[0]
    normal = np.array((along[1], -along[0])) / np.linalg.norm(along)
    normal *= np.sign(normal @ way)
    return np.array((*ring[0], 0.0)), np.array((*normal, 0.0))


points = st.tuples(*[st.floats(-50.0, 50.0)] * 3)


@settings(max_examples=200, deadline=None)
@given(a=points, b=points, c=points, d=points)
def test_distance_of_two_axes_by_brute_force(
    a: tuple[float, ...], b: tuple[float, ...], c: tuple[float, ...], d: tuple[float, ...]
) -> None:
    p, q, r, s = (np.array(x) for x in (a, b, c, d))
    if np.linalg.norm(q - p) < 1.0 or np.linalg.norm(s - r) < 1.0:
        return
    steps = np.linspace(0.0, 1.0, 201)[:, None]
    first, second = p + steps * (q - p), r + steps * (s - r)
    brute = np.linalg.norm(first[:, None, :] - second[None, :, :], axis=2).min()
    measured = segment_distance((tuple(p), tuple(q), 0.0), (tuple(r), tuple(s), 0.0))  # type: ignore[arg-type]
    assert measured <= brute + 1e-9
    assert measured >= brute - 0.005 * (np.linalg.norm(q - p) + np.linalg.norm(s - r))


def test_pockets_in_a_thin_piece_meet() -> None:
    thin = edited(
        SQUARE,
        ("100x140", "38x140"),
        ("[cross_beams]\nstock", "[cross_beams]\nstock"),
        ("width = 100\ndepth = 140\nrows", "width = 38\ndepth = 140\nrows"),
    )
    part = part_of(ceiling(thin), "X1-1")
    woods = [wood_between(one, other) for one, other in combinations(part.pockets, 2)]
    # Both axes leave the end grain 19.05 mm from their own faces: on the same line, in a piece of 38.
    assert min(woods) == pytest.approx(-INCH / 8.0, abs=0.11)
    assert set(levels("pocket-breakout", ceiling(thin))) == {"fail"}


def test_every_face_has_its_words() -> None:
    part = part_of(ceiling(), "X1-1")
    assert len(wood_round(part, part.pockets[0])) == 7


@pytest.mark.parametrize(
    ("row", "level", "value"), [(300.0, "pass", 254.0), (120.0, "warn", None), (100.0, "fail", None)]
)
def test_room_beside_a_wall(row: float, level: str, value: float | None) -> None:
    """A row so far from AB leaves row - 50 before its face; a chuck stops the axis 1 in short of the wall."""
    subject = ceiling(edited(SQUARE, ("rows = 1", f"at = [{row}]"), ("AB = 725", "AB = 2000")))
    finding = found("driver-room", subject)[0]
    assert finding.level == level
    expected = value or (row - 50.0 - INCH) / math.sin(math.radians(15.0))
    assert finding.value == pytest.approx(expected)


def test_room_under_the_ceiling() -> None:
    findings = found("driver-room", ceiling(joint("drop = 10")))
    assert [f.level for f in findings] == ["warn", "warn"]
    assert findings[0].value == pytest.approx(10.0)


@pytest.mark.parametrize(("low", "high", "level"), [(2000.0, 2400.0, "pass"), (2430.0, 2450.0, "fail")])
def test_only_what_hangs_at_a_pocket_s_height_is_in_the_way(low: float, high: float, level: str) -> None:
    """The axes lie at 2500 - 28.6 mm; a chuck reaches 25.4 mm below them."""
    subject = ceiling()
    beside = block("M9", box(100.0, 1400.0, 400.0, 40.0), low, high, kind="moulding")
    findings = found("driver-room", rebuilt(subject, parts=(*subject.parts, beside)))
    assert [f.level for f in findings] == [level]


def test_a_short_piece_leaves_no_room_between_its_beams() -> None:
    """Pockets of both ends of a piece of 200 mm point at the other beam along a way of 200 - 71 mm."""
    ends = 'ends = [{ wall = "AB", from = "A", at = 2250 }, { wall = "CD", from = "D", at = 2250 }]'
    second = f'[[beam]]\nname = "E2"\nwidth = 100\ndepth = 140\nmade = "solid"\n{ends}\n[cross_beams]\n'
    subject = ceiling(edited(SQUARE, ("[cross_beams]\n", second)))
    told = {f.where: f for f in found("driver-room", subject)}
    assert set(told) == {"X1-2"}
    along = 0.75 * INCH / math.tan(math.radians(15.0))
    assert told["X1-2"].value == pytest.approx((200.0 - 0.5 - along - INCH) / math.cos(math.radians(15.0)), abs=0.05)


def share(t: float) -> float:
    """Part of a unit circle below the level t, by counting."""
    y = np.linspace(-1.0, 1.0, 400001)
    width = np.sqrt(1.0 - y * y)
    return float(width[y <= t].sum() / width.sum())


@pytest.mark.parametrize("drop", [30.0, 35.2, 37.0, 40.0, 42.5, 44.7, 60.0])
def test_share_of_a_mouth_above_the_trim(drop: float) -> None:
    """The axis lies `drop` below 2500, the trim ends at 2460, the mouth is 3/8 in high."""
    subject = ceiling(joint(f"drop = {drop}"))
    radius = INCH * 3.0 / 16.0
    expected = share(max(-1.0, min(1.0, (40.0 - drop) / radius)))
    pockets = [pocket for pocket in analysed(subject).pockets if pocket.part == "X1-1"]
    assert len(pockets) == len(part_of(subject, "X1-1").pockets)
    for pocket in pockets:
        assert pocket.hidden == pytest.approx(expected, abs=1e-5)
    assert set(levels("pocket-hidden", subject)) == ({"pass"} if drop + radius <= 40.0 else {"warn"})


def test_low_pockets_are_counted_not_hidden() -> None:
    finding = one("pocket-hidden", ceiling(edited(SQUARE, ("low = 0", "low = 2"))))
    assert (finding.level, finding.value, finding.unit) == ("pass", 1.0, "share")
    assert "8 low ones are plugged" in finding.message


def test_without_trim_a_pocket_shows() -> None:
    subject = ceiling()
    parts = tuple(part for part in subject.parts if part.kind != "trim")
    findings = found("pocket-hidden", rebuilt(subject, parts=parts))
    assert [f.value for f in findings] == [0.0, 0.0]


def test_a_pocket_moved_down_by_hand() -> None:
    def lower(part: Part) -> Part:
        pockets = tuple(replace(p, mouth=(p.mouth[0], p.mouth[1], p.mouth[2] - 20.0)) for p in part.pockets)
        return replace(part, pockets=pockets)

    finding = one("pocket-hidden", spoiled(ceiling(), "X1-2", lower))
    assert (finding.level, finding.where) == ("warn", "X1-2")
    # 28.575 + 20 + 4.7625 - 40 = 13.3 mm of it stand below the trim: all of it, it is 9.5 mm high.
    assert finding.value == 0.0
    assert "100 %" in finding.message


INCHES = """
units = "in"
[room]
height = "8 ft 9 in"
[room.measured]
AB = "13 ft 4 in"
BC = "10 ft 6 in"
CD = "13 ft 4 in"
DA = "10 ft 6 in"
AC = "16 ft 11 5/8 in"
[[beam]]
name = "E1"
width = "3 1/2 in"
depth = "7 1/4 in"
made = "solid"
ends = [{ wall = "AB", from = "A", at = "6 ft" }, { wall = "CD", from = "D", at = "6 ft" }]
[cross_beams]
stock = "4x8"
rows = 1
joint = { low = 0 }
[slats]
stock = "1x4"
[framing]
joists = { along = "DA", first = "8 in", spacing = "16 in" }
"""


@pytest.mark.parametrize(
    ("text", "keys"),
    [
        # The axis 38 mm down, 40 of slats and trim: higher by the mouth's lower half, and 32 leave a chuck its inch.
        (joint("drop = 38"), {"cross_beams.joint.drop"}),
        # Trim of 5 mm: an axis that is 20 mm down leaves a chuck no room; 15 mm more of trim hide it.
        (joint("drop = 28").replace("height = 20\n", "height = 5\n"), {"trim.height"}),
        # A bore of 60 mm reaches 30 above the axis: no drop of that size keeps it in the wood.
        (joint("bore = 60, drop = 45"), {"cross_beams.joint.high", "cross_beams.joint.low"}),
        # Beams of 90 mm with their bottoms in line with 140: their tops hang 50 mm down, below the trim.
        (
            edited(SQUARE, ("100x140", "100x90"), ("depth = 140\nrows", "depth = 90\nrows")),
            {"cross_beams.depth", "cross_beams.stock"},
        ),
        # The same in inches: 3 9/16 in below the trim, where the drop is 1 1/8 in.
        (edited(INCHES, ('stock = "4x8"', 'stock = "4x4"')), {"cross_beams.stock"}),
        (edited(INCHES, ("low = 0", 'low = 0, drop = "1 1/2 in"')), {"cross_beams.joint.drop"}),
        (
            edited(SKEWED, ("rows = 2", 'rows = 2\njoint = { drop = "1 5/8 in" }')),
            {"cross_beams.joint.drop"},
        ),
    ],
)
def test_what_hides_them_applies_and_hides_them(text: str, keys: set[str]) -> None:
    before = ceiling(text)
    findings = found("pocket-hidden", before)
    assert {f.level for f in findings} == {"warn"}
    (fix,) = {f.fix for f in findings}
    assert set(re.findall(r"([a-z_]+(?:\.[a-z_]+)+) = ", fix)) == keys
    after = remedied(text, fix)
    assert levels("pocket-hidden", after) == ["pass"]
    for other in ("pocket-breakout", "driver-room"):
        order = ("pass", "ask", "warn", "fail").index
        assert max(map(order, levels(other, after))) <= max(map(order, levels(other, before)))


def test_nothing_is_tried_once_wood_is_cut() -> None:
    subject = ceiling(joint("drop = 38"))
    cut = subject.config.model_copy(update={"field": {"C1-S01": FieldRow()}})
    assert {f.fix for f in found("pocket-hidden", rebuilt(subject, config=cut))} == {"plug and stain it"}


def test_no_length_is_negative_where_pockets_lie_above_the_ceiling_of_a_shallow_beam() -> None:
    shallow = ceiling(edited(SQUARE, ("depth = 140\nmiddle", "depth = 18\nmiddle"), ("low = 0", "low = 1")))
    above = [f.message for f in found("driver-room", shallow) if "old ceiling" in f.message]
    assert above
    assert all(message.startswith("only 0 mm is free between") for message in above)
