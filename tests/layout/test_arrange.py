"""The rules of the layout in whole rooms, with worked numbers. Rooms here are square unless a rule is about skew."""

import math

import pytest
from shapely import Polygon

from lacunar.errors import LayoutError
from lacunar.geometry import Line
from lacunar.layout import Layout, arrange_layout
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quad, text_of

# 3 x 1000 + 2 x 88.9 each way
WIDE = DEEP = 3 * 1000.0 + 2 * 88.9
SQUARE = quad(WIDE, DEEP)
INCH = 25.4
LIGHT = """
[[fixture]]
name = "light"
kind = "ceiling box"
shape = "{shape}"
size = {size}
at = {{ AB = {ab}, DA = {da} }}
"""


def laid(wish: Wish = Wish(), more: str = "", room: Quad = SQUARE) -> Layout:  # noqa: B008 - frozen
    config = config_of(text_of(room, wish, more))
    return arrange_layout(solve_survey(config), config)


def middle(layout: Layout, coffer: str) -> tuple[float, float]:
    point = Polygon(next(c for c in layout.coffers if c.id == coffer).outline).centroid
    return (point.x, point.y)


class TestFrameAndNumbers:
    """Words of the trade: C1 at corner A, along AB first, then away from AB."""

    @pytest.mark.parametrize("between", ['["AB", "CD"]', '["BC", "DA"]'])
    def test_coffers_are_numbered_along_ab_first(self, between: str) -> None:
        layout = laid(Wish(between=between))
        for index, coffer in enumerate(layout.coffers):
            assert (coffer.row, coffer.column) == (index // 3, index % 3)
            x, y = middle(layout, coffer.id)
            assert x == pytest.approx(500.0 + coffer.column * 1088.9)
            assert DEEP - y == pytest.approx(500.0 + coffer.row * 1088.9)

    def test_trim_1_is_on_or_facing_ab_then_clockwise(self) -> None:
        layout = laid()
        for coffer in layout.coffers:
            angles = [side.line.angle_to(Line((0.0, 0.0), (1.0, 0.0))) for side in coffer.sides]
            assert angles == pytest.approx([0.0, math.pi / 2, math.pi, -math.pi / 2]) or angles[2] == pytest.approx(
                -math.pi
            )
        five = next(c for c in layout.coffers if c.id == "C5")
        assert [side.against for side in five.sides] == ["X1-2", "E2", "X2-2", "E1"]

    def test_pieces_are_numbered_from_a(self) -> None:
        layout = laid()
        assert [p.id for p in layout.pieces] == ["X1-1", "X1-2", "X1-3", "X2-1", "X2-2", "X2-3"]
        assert [p.meets for p in layout.pieces[:3]] == [("DA", "E1"), ("E1", "E2"), ("E2", "BC")]
        assert layout.pieces[0].axis[0][0] < layout.pieces[0].axis[1][0]
        assert layout.pieces[0].axis[0][1] > layout.pieces[3].axis[0][1]


class TestBeams:
    """Rule 2."""

    def beam(self, ends: str) -> Layout:
        more = f"""
[[beam]]
name = "E1"
width = 100
depth = 150
ends = [{ends}]
"""
        return laid(Wish(beams=0), more)

    def test_the_far_face_lies_further_from_the_from_corners(self) -> None:
        layout = self.beam('{wall="AB", from="A", at=1000}, {wall="CD", from="D", at=1200}')
        beam = layout.beams[0]
        near = Line.through((1000.0, DEEP), (1200.0, 0.0))
        offsets = sorted(abs(near.offset(p)) for p in beam.outline)
        assert offsets == pytest.approx([0.0, 0.0, 100.0, 100.0], abs=1e-6)
        assert all(p[0] >= 999.99 for p in beam.outline)

    def test_from_the_other_corners_it_lies_on_the_other_side(self) -> None:
        layout = self.beam('{wall="AB", from="B", at=1000}, {wall="CD", from="C", at=1200}')
        assert max(p[0] for p in layout.beams[0].outline) == pytest.approx(WIDE - 1000.0)
        assert min(p[0] for p in layout.beams[0].outline) < WIDE - 1200.0 - 99.0

    def test_from_corners_on_both_sides_is_refused(self) -> None:
        with pytest.raises(LayoutError, match=r"E1.*corners A and C"):
            self.beam('{wall="AB", from="A", at=1000}, {wall="CD", from="C", at=1200}')


class TestRows:
    """Rule 3."""

    def test_places_are_distances_from_the_wall_nearer_a(self) -> None:
        layout = laid(Wish(cross=False), '[cross_beams]\nstock = "4x6"\nat = [900, 2000]')
        assert [DEEP - p.axis[0][1] for p in layout.pieces if p.id.endswith("-1")] == pytest.approx([900.0, 2000.0])

    def test_no_rows(self) -> None:
        assert len(laid(Wish(rows=0)).coffers) == 3
        assert len(laid(Wish(cross=False)).coffers) == 3
        assert len(laid(Wish(cross=False, beams=0)).coffers) == 1

    def test_clearance_is_taken_off_half_at_each_end(self) -> None:
        piece = laid().pieces[1]
        clearance = INCH / 32
        assert piece.clear == pytest.approx((1000.0, 1000.0))
        xs = sorted({round(p[0], 6) for p in piece.outline})
        assert xs == pytest.approx([1088.9 + clearance / 2, 2088.9 - clearance / 2])

    def test_a_piece_between_leaning_beams_has_two_end_angles(self) -> None:
        more = """
[[beam]]
name = "E1"
width = 88.9
depth = 139.7
ends = [{wall="AB", from="A", at=1000}, {wall="CD", from="D", at=1100}]
[[beam]]
name = "E2"
width = 88.9
depth = 139.7
ends = [{wall="AB", from="A", at=2100}, {wall="CD", from="D", at=2050}]
"""
        piece = next(p for p in laid(Wish(beams=0), more).pieces if p.id == "X1-2")
        axis = Line.through(*piece.axis)
        left = sorted(axis.along(p) for p in piece.outline if axis.offset(p) > 0)
        right = sorted(axis.along(p) for p in piece.outline if axis.offset(p) < 0)
        # the walls of the opening close by 150 mm over the room's depth, so by 150 x 88.9 / depth over the width
        assert (left[1] - left[0]) - (right[1] - right[0]) == pytest.approx(150.0 * 88.9 / DEEP, abs=1e-6)
        assert piece.clear[1] - piece.clear[0] == pytest.approx(150.0 * 88.9 / DEEP, abs=1e-6)

    def test_rows_aligned_to_a_window(self) -> None:
        window = '[[window]]\nwall = "BC"\nfrom = "B"\nat = 1300\nwidth = 900\nsill = 800\nhead = 2100\n'
        aligned = laid(Wish(cross=False), window + '[cross_beams]\nstock = "4x6"\nrows = 2\nalign = "window"')
        assert DEEP - middle(aligned, "C5")[1] == pytest.approx(1750.0)
        # both rows move by the same: the middle coffers stay 1000 mm
        five = next(c for c in aligned.coffers if c.id == "C5")
        assert five.sides[1].line.along(five.sides[1].end) == pytest.approx(1000.0)

    def test_rows_aligned_to_a_fixture(self) -> None:
        light = LIGHT.format(shape="round", size=100, ab=1500, da=1600)
        aligned = laid(Wish(cross=False), light + '[cross_beams]\nstock = "4x6"\nrows = 2\nalign = "fixture"')
        assert DEEP - middle(aligned, "C5")[1] == pytest.approx(1500.0)

    def test_a_window_between_the_beams_cannot_align_rows(self) -> None:
        window = '[[window]]\nwall = "AB"\nfrom = "A"\nat = 1300\nwidth = 900\nsill = 800\nhead = 2100\n'
        with pytest.raises(LayoutError, match="no window in wall DA or BC"):
            laid(Wish(cross=False), window + '[cross_beams]\nstock = "4x6"\nrows = 2\nalign = "window"')

    def test_half_beams_leave_equal_clear_depths(self) -> None:
        layout = laid(Wish(walls="half beam"))
        # half beams are 44.45 wide: (depth - 2 x 44.45 - 2 x 88.9) / 3
        expected = (DEEP - 2 * 44.45 - 2 * 88.9) / 3
        for coffer in layout.coffers:
            assert coffer.sides[1].line.along(coffer.sides[1].end) == pytest.approx(expected)
        assert {bar.kind for bar in layout.half_beams} == {"half beam"}
        # along BC and DA whole; along AB and CD three pieces each between them and the two beams
        assert len(layout.half_beams) == 2 + 6
        assert [p.meets for p in layout.pieces[:1]] == [("H2", "E1")] or layout.pieces[0].meets[0].startswith("H")

    def test_a_moulding_that_stays_stops_pieces_and_coffers(self) -> None:
        layout = laid(Wish(moulding=True))
        first = layout.pieces[0]
        assert min(p[0] for p in first.outline) == pytest.approx(40.0 + INCH / 64)
        assert min(x for x, _ in layout.coffers[0].outline) == pytest.approx(40.0)
        assert sum(Polygon(m.outline).area for m in layout.mouldings) == pytest.approx(
            WIDE * DEEP - (WIDE - 80) * (DEEP - 80) - 4 * 88.9 * 40, rel=1e-9
        )


class TestRun:
    """Rule 5."""

    def direction(self, wish: Wish, coffer: str = "C1", more: str = "") -> tuple[float, float]:
        found = next(c for c in laid(wish, more).coffers if c.id == coffer)
        return (abs(found.direction[0]), abs(found.direction[1]))

    @pytest.mark.parametrize(
        ("between", "run", "coffer", "along_ab"),
        [
            ('["AB", "CD"]', "with", "C1", False),
            ('["AB", "CD"]', "across", "C1", True),
            ('["BC", "DA"]', "with", "C1", True),
            ('["BC", "DA"]', "across", "C1", False),
            ('["AB", "CD"]', "alternate", "C1", True),
            ('["AB", "CD"]', "alternate", "C2", False),
            ('["AB", "CD"]', "alternate", "C4", False),
            ('["AB", "CD"]', "alternate", "C5", True),
            ('["AB", "CD"]', "AB", "C1", True),
            ('["AB", "CD"]', "DA", "C1", False),
        ],
    )
    def test_which_way(self, between: str, run: str, coffer: str, along_ab: bool) -> None:
        dx, dy = self.direction(Wish(between=between, run=run), coffer)
        assert (dx > dy) == along_ab

    @pytest.mark.parametrize(("along", "along_ab"), [("DA", True), ("AB", False)])
    def test_slats_cross_the_joists(self, along: str, along_ab: bool) -> None:
        more = f'[framing.joists]\nalong = "{along}"\nfirst = 300\nspacing = 400\nstock = "2x8"'
        dx, dy = self.direction(Wish(run="joists"), more=more)
        assert (dx > dy) == along_ab

    def test_slats_across_lie_square_to_a_single_room_without_beams(self) -> None:
        # BC and DA are the first pair: across runs along AB
        assert self.direction(Wish(beams=0, cross=False))[0] == pytest.approx(1.0)

    @pytest.mark.parametrize(
        ("start", "first_y_from_top"), [('["AB", "DA"]', True), ('["CD", "DA"]', False), ('["BC", "CD"]', False)]
    )
    def test_the_start_side_is_the_one_nearest_the_named_wall(self, start: str, first_y_from_top: bool) -> None:
        layout = laid(Wish(start=start))
        slats = [s for s in layout.slats if s.coffer == "C5"]
        assert (slats[0].axis[0][1] > slats[-1].axis[0][1]) == first_y_from_top

    def test_slat_1_lies_an_edge_gap_from_its_side(self) -> None:
        layout = laid()
        first = next(s for s in layout.slats if s.id == "C1-S01")
        assert max(y for _, y in first.outline) == pytest.approx(DEEP - 0.25 * INCH)

    def test_one_coffer_may_differ(self) -> None:
        layout = laid(more="")
        other = laid(Wish(), "[slats.coffer]\nC5 = { run = 'with' }".replace("'", '"'))
        five, four = (next(c for c in other.coffers if c.id == i) for i in ("C5", "C4"))
        assert abs(five.direction[1]) == pytest.approx(1.0)
        assert four.direction == next(c for c in layout.coffers if c.id == "C4").direction

    def test_an_angle_follows_the_sides_at_both_ends(self) -> None:
        layout = laid(Wish(run="30 deg"))
        slats = [s for s in layout.slats if s.coffer == "C5"]
        inner = Polygon(next(c for c in layout.coffers if c.id == "C5").outline).buffer(
            -0.25 * INCH + 1e-6, join_style="mitre"
        )
        assert len(slats) > 12
        assert all(inner.buffer(1e-5).contains(Polygon(s.outline)) for s in slats)
        turn = Line.through(*slats[6].axis).lean_to(Line((0.0, 0.0), (1.0, 0.0)))
        assert math.degrees(turn) == pytest.approx(30.0)
        # across a square corner a slat is cut 30 degrees at one end and 60 at the other, else the same at both
        assert {round(abs(end.mitre_deg)) for s in slats if len(s.outline) == 4 for end in s.ends} <= {30, 60}

    def test_ten_boards_and_ten_spacers_give_the_pitch(self) -> None:
        text = text_of(SQUARE, Wish()).replace("gap = 6.35\n", "ten = 953\n", 1)
        config = config_of(text)
        layout = arrange_layout(solve_survey(config), config)
        ys = [s.axis[0][1] for s in layout.slats if s.coffer == "C1"]
        assert ys[1] - ys[2] == pytest.approx(95.3)


class TestCutOuts:
    """Rule 11."""

    def test_a_round_cut_out_is_a_sixteenth_larger_all_round(self) -> None:
        hole = laid(Wish(), LIGHT.format(shape="round", size=100, ab=1589, da=1589)).cut_outs[0]
        radii = [math.dist(hole.centre, p) for p in hole.outline]
        assert len(radii) == 64
        flats = [
            math.dist(hole.centre, ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2))
            for a, b in zip(hole.outline, hole.outline[1:], strict=False)
        ]
        assert min(flats) == pytest.approx(50 + INCH / 16)
        assert hole.coffer == "C5"

    def test_a_cut_out_that_severs_a_slat_makes_two(self) -> None:
        layout = laid(Wish(), LIGHT.format(shape="round", size=100, ab=1589, da=1589))
        names = [s.id for s in layout.slats if s.coffer == "C5"]
        severed = [n[:-1] for n in names if n.endswith("a")]
        assert len(severed) == 1
        assert severed[0] + "b" in names
        a, b = (next(s for s in layout.slats if s.id == severed[0] + x) for x in "ab")
        assert a.axis[0][0] < b.axis[0][0]
        assert (a.grow, b.grow) == ((1.0, 0.0), (0.0, 1.0))
        assert a.interval is not None
        assert a.interval[0] < a.length < a.interval[1]

    @pytest.mark.parametrize(("size", "ab", "touched"), [(60.0, 1588.9, 1), (80.0, 1541.0, 2), (100.0, 1588.9, 3)])
    def test_over_one_to_three_slats(self, size: float, ab: float, touched: int) -> None:
        layout = laid(Wish(), LIGHT.format(shape="square", size=size, ab=ab, da=1589))
        hole = Polygon(layout.cut_outs[0].outline)
        # C5 begins 1088.9 below AB; 987.3 between its edge gaps hold ten pitches of 95.25 and 34.8: two rips of 61.85
        # and nine full slats, the first of them at 1088.9 + 6.35 + 61.85 + 6.35 = 1163.45
        low, high = ab - size / 2 - 1.5875, ab + size / 2 + 1.5875
        expected = [i + 2 for i in range(9) if low < 1163.45 + i * 95.25 + 88.9 and high > 1163.45 + i * 95.25]
        assert len(expected) == touched
        assert sorted({s.number for s in layout.slats if s.notches}) == expected
        assert all(Polygon(s.outline, s.holes).intersection(hole).area < 1e-6 for s in layout.slats)

    def test_a_small_one_is_a_hole_in_its_slat(self) -> None:
        layout = laid(Wish(), LIGHT.format(shape="round", size=30, ab=1521.0, da=1589))
        (slat,) = [s for s in layout.slats if s.notches]
        assert len(slat.holes) == 1
        assert slat.notches[0].inside
        assert slat.grow == (0.5, 0.5)

    @pytest.mark.parametrize("da", [1119.9, 1123.9, 1133.9, 1143.9, 1589.0])
    def test_no_end_moves_up_to_it(self, da: float) -> None:
        """Slats of C5 start 6.35 beyond 1088.9; half an inch of wood stays before the hole, or the end stays put."""
        layout = laid(Wish(), LIGHT.format(shape="square", size=30, ab=1521.0, da=da))
        (slat,) = [s for s in layout.slats if s.notches]
        (free,) = [s for s in layout.slats if s.coffer == "C5" and s.number == slat.number + 1]
        assert slat.length == free.length
        assert slat.interval is not None
        assert free.interval is not None
        room = da - 15.0 - 1.5875 - (1588.9 - slat.length / 2.0)
        assert slat.notches[0].along[0] == pytest.approx(max(room, 0.0))
        if room <= 12.7:
            assert slat.interval == (slat.length, slat.length)
        else:
            shortest = max(free.interval[0], slat.length - 2.0 * (room - 12.7))
            assert slat.interval == pytest.approx((shortest, free.interval[1]))


class TestTrim:
    """Rules 9 and 10."""

    def test_butted_trim_runs_through_at_t1_and_t3(self) -> None:
        layout = laid(Wish(corners="butt"))
        lengths = [t.length for t in layout.trim if t.coffer == "C5"]
        assert lengths == pytest.approx([1000.0, 1000.0 - 2 * 19.05, 1000.0, 1000.0 - 2 * 19.05])

    def test_mitred_trim_is_measured_long_point_to_long_point(self) -> None:
        layout = laid()
        assert [t.length for t in layout.trim if t.coffer == "C5"] == pytest.approx([1000.0] * 4)
        assert {round(end.mitre_deg, 9) for t in layout.trim for end in t.ends} == {45.0}

    @pytest.mark.parametrize(
        ("corner_deg", "mitre_deg"), [(88.0, 46.0), (89.0, 45.5), (91.0, 44.5), (92.0, 44.0), (93.5, 43.25)]
    )
    def test_mitres_are_half_of_what_the_corner_leaves(self, corner_deg: float, mitre_deg: float) -> None:
        # 90 - corner / 2 (plane geometry; expected values written from memory): a room whose corner A is that wide
        a = math.radians(corner_deg)
        room = quad(4000.0, 3000.0, (0.0, 0.0, 0.0, 0.0, 0.0))
        tilt = a - math.pi / 2
        room = type(room)(
            room.a,
            room.b,
            (room.c[0] - 3000.0 * math.sin(tilt), room.c[1]),
            (-3000.0 * math.sin(tilt), 3000.0 - 3000.0 * math.cos(tilt)),
        )
        layout = laid(Wish(beams=0, cross=False), room=room)
        first = layout.trim[0]
        assert first.ends[0].mitre_deg == pytest.approx(mitre_deg, abs=1e-6)


def test_beams_too_near_for_trim_are_refused_by_name() -> None:
    more = """
[[beam]]
name = "E1"
width = 100
depth = 150
ends = [{wall="AB", from="A", at=1000}, {wall="CD", from="D", at=1000}]
[[beam]]
name = "E2"
width = 100
depth = 150
ends = [{wall="AB", from="A", at=1120}, {wall="CD", from="D", at=1120}]
"""
    with pytest.raises(LayoutError, match=r"coffer C2: it is narrower than its two strips of trim.*move .*E1"):
        laid(Wish(beams=0, rows=0), more)
