"""What holds of every ceiling in every out-of-square room."""

import itertools
from collections.abc import Sequence
from dataclasses import replace

import pytest
from hypothesis import example
from shapely import Polygon

from lacunar.config import Config
from lacunar.errors import LayoutError
from lacunar.geometry import Line, area
from lacunar.layout import Coffer, Layout, Slat, arrange_layout
from lacunar.survey import Room, solve_survey
from strategies import Quad, Wish, config_of, quad, quads, sampled, text_of, wishes

INCH = 25.4


def arranged(room: Quad, wish: Wish, more: str = "") -> tuple[Config, Room, Layout]:
    config = config_of(text_of(room, wish, more))
    solved = solve_survey(config)
    return config, solved, arrange_layout(solved, config)


def arranged_or_refused(room: Quad, wish: Wish) -> tuple[Config, Room, Layout] | None:
    """None where the wish cannot be met in the room: coffers too narrow for trim, or a wall full of beams."""
    try:
        return arranged(room, wish)
    except LayoutError:
        return None


TOUCHING = Quad(
    (0.0, 2895.5100159749136),
    (2895.5100159749136, 2895.5100159749136),
    (2817.3916535107633, 0.0),
    (0.0, -78.1183624641502),
)
"""A room in which an overlay leaves an area and a line that only touches it."""


@sampled(75, 300, room=quads(), wish=wishes())
@example(room=TOUCHING, wish=Wish(beams=1, rows=1, gap=0.5, board=2.5, walls="half beam", moulding=True))
def test_every_ceiling(room: Quad, wish: Wish) -> None:
    made = arranged_or_refused(room, wish)
    if made is not None:
        config, _, layout = made
        fills_the_room(config, layout)
        for coffer in layout.coffers:
            slats = [slat for slat in layout.slats if slat.coffer == coffer.id]
            hang_inside_and_hide_their_ends(config, coffer, slats)
            are_a_gap_apart(config, coffer, slats)
            hides_its_edge_gaps(config, coffer, wish)
            if wish.corners == "mitre":
                closes_its_ring_of_trim(coffer, layout)
    has_the_lengths_of_its_mirror_image(room, wish, made)


def fills_the_room(config: Config, layout: Layout) -> None:
    """Coffers, beams and clearance together."""
    clearance = config.cross_beams.joint.clearance if config.cross_beams else 0.0
    total = sum(area(coffer.outline) for coffer in layout.coffers)
    total += sum(area(bar.outline) for bar in (*layout.beams, *layout.half_beams, *layout.mouldings, *layout.pieces))
    total += sum(clearance * bar.width for bar in (*layout.pieces, *layout.half_beams))
    assert total == pytest.approx(area(layout.outline), rel=1e-9)


def hang_inside_and_hide_their_ends(config: Config, coffer: Coffer, slats: Sequence[Slat]) -> None:
    outline = Polygon(coffer.outline)
    for slat in slats:
        assert Polygon(slat.outline).difference(outline.buffer(1e-4)).area < 1e-3
        if slat.interval is None:
            continue
        gaps = end_gaps(coffer, slat)
        assert min(gaps) >= config.slats.least_end_gap - 1e-6
        assert max(gaps) <= config.trim.width - config.trim.least_overlap + 1e-6
        assert slat.interval[0] - 1e-6 <= slat.length <= slat.interval[1] + 1e-6


def end_gaps(coffer: Coffer, slat: Slat) -> list[float]:
    """Along the slat, from each corner of its ends to the coffer's side behind it."""
    axis = Line.through(*slat.axis)
    found: list[float] = []
    for sign in (1.0, -1.0):
        ray = Line(axis.point, (sign * axis.direction[0], sign * axis.direction[1]))
        far = max(ray.along(p) for p in slat.outline)
        for corner in (p for p in slat.outline if ray.along(p) > far - 1e-6):
            hits = [Line(corner, ray.direction).along(hit) for hit in crossings(coffer, Line(corner, ray.direction))]
            found.append(min(hit for hit in hits if hit > -1e-6))
    return found


def crossings(coffer: Coffer, line: Line) -> list[tuple[float, float]]:
    found: list[tuple[float, float]] = []
    for side in coffer.sides:
        if side.line.lean_to(line) > 0.1:
            hit = side.line.crossing(line)
            if -1e-6 <= side.line.along(hit) <= side.line.along(side.end) + 1e-6:
                found.append(hit)
    return found


def are_a_gap_apart(config: Config, coffer: Coffer, slats: Sequence[Slat]) -> None:
    """And never overlap."""
    for one, other in itertools.pairwise(slats):
        distance = Polygon(one.outline).distance(Polygon(other.outline))
        lap = Polygon(one.outline).intersection(Polygon(other.outline)).area
        assert lap < 1e-3
        # fanned gaps are set at the two corners of the far side; where the other sides lean (here up to 160 mm in
        # 2400, over coffers up to three times as deep as slats are long) slats reach up to a fifth further
        slack = (coffer.gap_end - coffer.gap) * 0.2 + 1e-6
        assert config.slats.gap - slack <= distance <= max(coffer.gap_end, config.slats.gap) + 1e-3


def hides_its_edge_gaps(config: Config, coffer: Coffer, wish: Wish) -> None:
    """Unless it was forced not to."""
    hidden = config.trim.width - config.trim.least_overlap
    if wish.wedge != "leave" and coffer.wedge == "leave" and coffer.change > 1e-6:
        assert coffer.edge_gaps[1] + coffer.change <= hidden + 1e-6 or wish.wedge != "auto" or few(coffer)


def few(coffer: Coffer) -> bool:
    """So narrow a coffer that no whole number of slats can take its change of width."""
    return coffer.n_full + len(coffer.rips) <= 3


def closes_its_ring_of_trim(coffer: Coffer, layout: Layout) -> None:
    strips = [strip for strip in layout.trim if strip.coffer == coffer.id]
    n = len(strips)
    # each corner is cut twice at the same angle a, and 90 - a is half its interior angle
    halves = sum(90.0 - end.mitre_deg for strip in strips for end in strip.ends) / 2.0
    assert halves == pytest.approx((n - 2) * 90.0, abs=1e-7)
    ring = sum(area(strip.outline) for strip in strips)
    inside = Polygon(coffer.outline).buffer(-layout.trim_strip.width, join_style="mitre")
    assert ring == pytest.approx(area(coffer.outline) - inside.area, rel=1e-9)


def has_the_lengths_of_its_mirror_image(room: Quad, wish: Wish, made: tuple[Config, Room, Layout] | None) -> None:
    flip = {"AB": "AB", "BC": "DA", "CD": "CD", "DA": "BC"}
    start = wish.start
    if start != '"centre"':
        start = "[" + ", ".join(f'"{flip[w.strip().strip(chr(34))]}"' for w in start[1:-1].split(",")) + "]"
    run = "DA" if wish.run == "BC" else wish.run
    swapped = replace(wish, start=start, run=run)
    x = max(p[0] for p in (room.a, room.b, room.c, room.d))
    mirrored = Quad(*((x - p[0], p[1]) for p in (room.b, room.a, room.d, room.c)))
    other = arranged_or_refused(mirrored, swapped)
    assert (made is None) == (other is None)
    if made is None or other is None or wish.start == '"centre"' or wish.run == "alternate" or wish.run == "joists":
        return
    for kind in ("slats", "trim"):
        lengths = [sorted(x.length for x in getattr(m[2], kind)) for m in (made, other)]
        assert lengths[0] == pytest.approx(lengths[1], abs=INCH / 16 + 1e-6 if kind == "slats" else 1e-5)


def test_skew_of_nothing_gives_the_closed_form() -> None:
    # 148 in by 137 in, two beams and two rows of 3 1/2: coffers 47 by 43 1/3 in
    _, _, layout = arranged(quad(148 * INCH, 137 * INCH + 3.5 * INCH), Wish())
    assert len(layout.coffers) == 9
    for coffer in layout.coffers:
        assert area(coffer.outline) == pytest.approx(47 * INCH * (133.5 / 3) * INCH, rel=1e-9)
    # 44 1/2 less 1/2 is 44 in between: 11 slats with 10 gaps take 41, last = 44 - 11 x 3 3/4 = 2 3/4
    assert {(coffer.n_full, *(round(r / INCH, 9) for r in coffer.rips)) for coffer in layout.coffers} == {(11, 2.75)}
    # 47 in less two end gaps of 1/4
    assert {round(slat.length / INCH, 9) for slat in layout.slats} == {46.5}
    assert {round(strip.length / INCH, 9) for strip in layout.trim} == {47.0, 44.5}


def test_nine_equal_coffers_of_ten_full_and_one_ripped_make_99_slats() -> None:
    # 40 1/2 in across the slats: ten full ones and one of 2 1/2 (common practice, no source)
    _, _, layout = arranged(quad((3 * 40.0 + 7.0) * INCH, (3 * 40.5 + 7.0) * INCH), Wish())
    assert len(layout.slats) == 99
    assert sum(slat.ripped for slat in layout.slats) == 9
