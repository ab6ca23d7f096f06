"""End gaps and edge gaps behind the trim: closed forms in a square ceiling, spoiled slats, and random rooms."""

import math
from dataclasses import replace

import pytest
from hypothesis import reject
from hypothesis import strategies as st

from checks.sample import (
    SQUARE,
    analysed,
    block,
    ceiling,
    edited,
    found,
    longer,
    moved,
    one,
    part_of,
    rebuilt,
    spoiled,
    turned,
)
from lacunar.analysis import Subject, arrange, end_fits, make_subject, plan_parts, side_edge_fits
from lacunar.analysis.fixtures import fixture_fits
from lacunar.analysis.overlap import find_overlaps
from lacunar.analysis.slat_gaps import bare_places
from lacunar.analysis.standing import beyond_walls, into_ceiling
from lacunar.checks import CHECKS, Finding
from lacunar.config import Config
from lacunar.errors import LacunarError
from lacunar.layout import Layout
from lacunar.parts import Part, cut_to
from lacunar.survey import Room, solve_survey
from lacunar.tolerances import CONTACT
from strategies import Quad, Wish, config_of, quads, sampled, text_of, wishes


def test_square_ceiling_passes_with_trim_less_gap() -> None:
    ends, edges = one("overlap-end", ceiling()), one("overlap-edge", ceiling())
    # 15 slats of 90 and 14 gaps of 6 in 1450 leave 16 mm: 8 at each edge.
    assert (ends.level, ends.value, ends.limit) == ("pass", pytest.approx(20.0 - 6.0), 6.0)
    assert (edges.level, edges.value, edges.limit) == ("pass", pytest.approx(20.0 - 8.0), 6.0)


@pytest.mark.parametrize(("short", "overlap"), [(8.001, None), (10.0, 4.0), (14.0, 0.0), (25.0, -11.0)])
def test_a_slat_cut_short_at_one_end(short: float, overlap: float | None) -> None:
    finding = one("overlap-end", spoiled(ceiling(), "C2-S05", lambda part: longer(part, 0.0, -short)))
    if overlap is None:
        assert finding.level == "pass"
        return
    assert (finding.level, finding.where) == ("fail", "C2-S05")
    assert finding.value == pytest.approx(overlap)
    assert finding.message == f"end gap {6 + short:.0f} mm at BC, trim hides 14 mm"
    # It hangs centred: both ends take half of what is added.
    assert finding.fix.startswith(f"cut the slat {2.0 * (6.0 - overlap):.0f} mm longer")


def test_a_slat_that_cannot_be_longer_is_not_told_to_be() -> None:
    def change(part: Part) -> Part:
        return replace(longer(part, 0.0, -10.0), interval=(1900.0, 1930.0))

    finding = one("overlap-end", spoiled(ceiling(), "C2-S05", change))
    assert "longer" not in finding.fix
    assert finding.fix == "use trim 2 mm wider, or cut the end at BC to the angle of the side"


@pytest.mark.parametrize(
    ("more", "gap", "said"),
    [
        (5.0, 1.0, "end gap only 1 mm at E1, 2 mm is the least gap"),
        (6.0, 0.0, "end gap only 0 mm at E1, 2 mm is the least gap"),
        (9.0, -3.0, "its end is 3 mm inside E1, 2 mm is the least gap"),
    ],
)
def test_a_slat_too_long_jams(more: float, gap: float, said: str) -> None:
    finding = one("overlap-end", spoiled(ceiling(), "C1-S03", lambda part: longer(part, 0.0, more)))
    assert (finding.level, finding.where, finding.limit) == ("fail", "C1-S03", 1.5)
    assert finding.value == pytest.approx(gap)
    assert finding.message == said


def test_a_coffer_of_short_slats_is_told_once_with_the_worst() -> None:
    subject = ceiling()
    parts = tuple(
        longer(p, -10.0 - i / 100.0, 0.0) if p.coffer == "C3" and p.kind == "slat" else p
        for i, p in enumerate(subject.parts)
    )
    finding = one("overlap-end", rebuilt(subject, parts=parts))
    assert (finding.level, finding.where) == ("fail", "C3")
    assert "15 parts alike, the worst is C3-S15" in finding.message


@pytest.mark.parametrize("angle", [0.004, -0.004])
def test_a_leaning_slat_is_measured_at_its_worse_corner(angle: float) -> None:
    """Turned about its middle, the corners of a slat of 2a by 2b come to a cos -/+ b sin along the coffer."""

    def change(part: Part) -> Part:
        middle = tuple(sum(axis) / 2.0 for axis in zip(*part.axis, strict=True))
        about = (middle[0], middle[1])
        a, b = turned(part.axis, angle, about)
        return replace(part, outline=turned(part.outline, angle, about), axis=(a, b))

    subject = spoiled(ceiling(), "C2-S08", change)
    ends = [end for end in end_fits(subject) if end.part == "C2-S08"]
    cosine, sine = math.cos(angle), abs(math.sin(angle))
    worse = 969.0 * cosine - 45.0 * sine
    better = 969.0 * cosine + 45.0 * sine
    assert [end.overlap for end in ends] == pytest.approx([20.0 - (975.0 - worse)] * 2)
    assert [end.gap for end in ends] == pytest.approx([(975.0 - better) / cosine] * 2)


@pytest.mark.parametrize(("down", "overlap"), [(5.9, None), (7.0, 5.0), (15.0, -3.0)])
def test_a_first_slat_too_far_from_its_side(down: float, overlap: float | None) -> None:
    finding = one("overlap-edge", spoiled(ceiling(), "C1-S01", lambda part: moved(part, dy=-down)))
    if overlap is None:
        assert finding.level == "pass"
        return
    assert (finding.level, finding.where) == ("fail", "C1-S01")
    assert finding.value == pytest.approx(overlap)
    assert finding.message == f"edge gap {8 + down:.0f} mm beside AB, trim hides 14 mm"


def test_a_last_slat_too_near_its_side() -> None:
    finding = one("overlap-edge", spoiled(ceiling(), "C1-S15", lambda part: moved(part, dy=-7.0)))
    assert (finding.level, finding.where, finding.limit) == ("fail", "C1-S15", 1.5)
    assert finding.value == pytest.approx(1.0)
    assert (finding.message, finding.fix) == (
        "edge gap only 1 mm beside X1-1, 2 mm is the least gap", "rip 1 mm off its edge to X1-1"
    )  # fmt: skip


def test_a_leaning_edge_is_too_near_at_one_end() -> None:
    """One corner of the first slat stands 7 mm out: 1 mm before the side, where the other keeps its 8."""

    def change(part: Part) -> Part:
        top, left = max(y for _, y in part.outline), min(x for x, _ in part.outline)
        return replace(part, outline=tuple((x, y + 7.0 if (x, y) == (left, top) else y) for x, y in part.outline))

    finding = one("overlap-edge", spoiled(ceiling(), "C1-S01", change))
    assert (finding.level, finding.where, finding.value) == ("fail", "C1-S01", pytest.approx(1.0))


def test_a_wedge_is_measured_at_its_wider_end() -> None:
    """The last slat's outer edge leans away by 8 mm over its length: 16 mm at one end, behind the other trim."""

    def change(part: Part) -> Part:
        low = min(y for _, y in part.outline)
        right = max(x for x, _ in part.outline)
        return replace(part, outline=tuple((x, y + 8.0 if (x, y) == (right, low) else y) for x, y in part.outline))

    subject = spoiled(ceiling(), "C1-S15", change)
    finding = one("overlap-edge", subject)
    # The trim across the end hides the last 14 mm of the slat's 1938.
    seen = 8.0 + 8.0 * (1938.0 - 14.0) / 1938.0
    assert finding.level == "fail"
    assert finding.value == pytest.approx(20.0 - seen, abs=0.01)


def test_inner_slats_are_none_of_its_business() -> None:
    assert one("overlap-edge", spoiled(ceiling(), "C1-S07", lambda part: moved(part, dy=3.0))).level == "pass"


def test_missing_trim_shows_the_whole_gap() -> None:
    subject = ceiling()
    parts = tuple(part for part in subject.parts if part.id != "C4-T4")
    (finding,) = found("overlap-end", rebuilt(subject, parts=parts))
    assert (finding.level, finding.where, finding.value) == ("fail", "C4", pytest.approx(-6.0))


@pytest.mark.parametrize("by", [1e-12, 1e-9, 1e-6, 0.005])
def test_a_crack_between_two_strips_is_no_opening(by: float) -> None:
    """A strip that ends a hair short of its neighbour leaves a crack as long as the strip is wide."""
    subject = spoiled(ceiling(), "C1-T1", lambda part: longer_strip(part, -by))
    assert one("overlap-end", subject).value == pytest.approx(14.0)
    assert one("overlap-edge", subject).value == pytest.approx(12.0)


def longer_strip(part: Part, by: float) -> Part:
    left = min(x for x, _ in part.outline)
    return replace(part, outline=tuple((x - by if abs(x - left) < 30.0 else x, y) for x, y in part.outline))


def test_butted_corners_hide_as_much_as_mitred_ones() -> None:
    butted = ceiling(edited(SQUARE, ("[trim]", '[trim]\ncorners = "butt"')))
    assert one("overlap-end", butted).value == pytest.approx(14.0)
    assert one("overlap-edge", butted).value == pytest.approx(12.0)


def test_severed_ends_look_at_the_fixture_not_at_the_trim() -> None:
    subject = ceiling()
    severed = [part.id for part in subject.parts if part.id.startswith("C1-") and part.id[-1] in "ab"]
    assert severed
    looking = [end.part for end in end_fits(subject)]
    assert [looking.count(name) for name in severed] == [1] * len(severed)


def test_assumed_shape_is_a_question() -> None:
    subject = ceiling(edited(SQUARE, ("AC = 5000\nBD = 5000\n", "")))
    for check in ("overlap-end", "overlap-edge", "clash", "beam-fits"):
        finding = one(check, subject)
        assert finding.level == "ask"
        assert "corner A is square" in finding.assumed
        assert "diagonals" in finding.fix


def wrong(subject: Subject) -> list[Finding]:
    """What fails of gaps and overlaps, and bare places; no more is worked out, since that takes ten times as long."""
    judged = replace(
        analysed(ceiling()),
        ends=end_fits(subject),
        edges=side_edge_fits(subject),
        overlaps=find_overlaps(subject.parts, subject.polygons, CONTACT),
        outside=beyond_walls(subject),
        risen=into_ceiling(subject),
        fixtures=fixture_fits(subject),
        bare=bare_places(subject),
        **dict.fromkeys(("rips", "slat_gaps", "beams", "pockets"), ()),
    )
    checks = ("overlap-end", "overlap-edge", "clash", "what-shows")
    findings = [finding for check in checks for finding in CHECKS[check](subject, judged)]
    return [finding for finding in findings if finding.level == "fail" or "bare place" in finding.message]


def arranged(room: Quad, wish: Wish, skew: float) -> tuple[Config, Room, Layout, tuple[Part, ...]]:
    """A room with its beams askew, where it can be arranged."""
    config = config_of(text_of(room, replace(wish, beam_skew=skew)))
    try:
        solved = solve_survey(config)
        return config, solved, *arrange(config, solved)
    except LacunarError:
        reject()


@sampled(60, 300, room=quads(), wish=wishes(), skew=st.floats(-40.0, 40.0))
def test_random_rooms_hide_every_gap_and_overlap_nowhere(room: Quad, wish: Wish, skew: float) -> None:
    """Every slat as short as its interval allows shows no gap, as long as it allows jams nowhere and overlaps nothing.

    So whatever lengths a plan chooses, they will do.
    """
    config, solved, layout, parts = arranged(room, wish, skew)
    plan, cost = ceiling().plan, ceiling().cost
    for way in (0, 1):
        lengths = {part.id: part.length if part.interval is None else part.interval[way] for part in parts}
        subject = make_subject(config, solved, layout, cut_to(parts, lengths), plan, cost)
        assert not wrong(subject), (way, wrong(subject))


@sampled(12, 40, room=quads(), wish=wishes(), skew=st.floats(-40.0, 40.0))
def test_random_rooms_as_they_are_cut(room: Quad, wish: Wish, skew: float) -> None:
    """At the lengths that a plan chose, what follows the sides of its coffer too."""
    config, solved, layout, parts = arranged(room, wish, skew)
    plan, cut = plan_parts(parts, config)
    subject = make_subject(config, solved, layout, cut, plan, ceiling().cost)
    assert not wrong(subject), wrong(subject)


def test_a_block_is_not_a_slat_of_any_coffer() -> None:
    subject = ceiling()
    stray = block("stray", part_of(subject, "C1-S02").outline, 100.0, 120.0)
    assert one("overlap-end", rebuilt(subject, parts=(*subject.parts, stray))).level == "pass"
