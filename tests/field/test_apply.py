"""Field measures change what they name, and nothing else."""

import math
from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from field.ceilings import PLAIN, as_rows, config, designed, field_text, layout, measured
from lacunar.errors import LayoutError
from lacunar.geometry import Line, area, extent
from lacunar.layout import arrange_layout
from lacunar.parts import Part, apply_field, cut_to, field_changes, field_sheets, make_parts, shaped
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quads, text_of, wishes

TAPERED = Wish(wedge="taper")
PARTS = {part.id: part for part in designed()}
FEW = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def first(kind: str, wish: Wish = PLAIN, **wanted: bool) -> Part:
    """The first bought part of a kind; ripped=, tapered=, notched= pick among slats."""
    for part in designed(wish):
        facts = {"ripped": part.ripped, "tapered": part.width_end is not None, "notched": bool(part.notches)}
        if part.kind == kind and part.bought and all(facts[name] == value for name, value in wanted.items()):
            return part
    raise AssertionError(f"no {kind} with {wanted}")


@pytest.mark.parametrize("wish", [Wish(), TAPERED, Wish(run="with", start='"centre"'), Wish(walls="half beam")])
def test_rows_equal_to_the_design_change_nothing(wish: Wish) -> None:
    parts = designed(wish)
    assert apply_field(parts, config(as_rows(parts), wish)) == parts


@FEW
@given(room=quads(), wish=wishes())
def test_rows_equal_to_the_design_change_nothing_in_any_room(room: Quad, wish: Wish) -> None:
    plain = config_of(text_of(room, wish))
    try:
        parts = make_parts(arrange_layout(solve_survey(plain), plain))
    except LayoutError:
        return
    rows = as_rows(parts)
    smallest = 25.4 / 16  # a section of less is no piece of wood
    again = config_of(text_of(room, wish, field_text({k: v for k, v in rows.items() if v.get("width", 9) > smallest})))
    assert apply_field(parts, again) == parts


def test_each_row_changes_its_own_part_only() -> None:
    changes = {first("slat").id: 3.0, first("trim").id: -2.0, first("cross beam").id: 1.5}
    made = measured({name: {"length": PARTS[name].length + by} for name, by in changes.items()})
    for name, part in made.items():
        if name in changes:
            assert part.length == pytest.approx(PARTS[name].length + changes[name], abs=1e-9)
        else:
            assert part == PARTS[name]
    found = field_changes(tuple(PARTS.values()), tuple(made.values()), 0.5)
    assert {change.part: round(change.lengths[1] - change.lengths[0], 9) for change in found} == changes


@pytest.mark.parametrize("kind", ["slat", "trim", "cross beam"])
@pytest.mark.parametrize("by", [-4.0, 2.5])
def test_the_outline_follows_the_length(kind: str, by: float) -> None:
    old = first(kind)
    new = measured({old.id: {"length": old.length + by}})[old.id]
    axis = Line.through(*old.axis)
    assert spread(new, axis) == pytest.approx(spread(old, axis) + by, abs=1e-9)
    assert area(new.outline) == pytest.approx(area(old.outline) + by * old.width, rel=1e-6)
    assert (new.ends, new.bottom, new.top, new.width) == (old.ends, old.bottom, old.top, old.width)


def spread(part: Part, axis: Line) -> float:
    low, high = extent(part.outline, axis)
    return high - low


def test_a_slats_interval_goes_with_its_length() -> None:
    old = first("slat")
    assert old.interval is not None
    new = measured({old.id: {"length": old.length + 4.0}})[old.id]
    assert new.interval == pytest.approx((old.interval[0] + 4.0, old.interval[1] + 4.0))


def test_a_slats_length_goes_with_its_interval() -> None:
    """As far below the longest as in the design, on a mark of 1/16 in."""
    old = first("slat")
    assert old.interval is not None
    row = {"shortest": old.interval[0] - 5.0, "longest": old.interval[1] - 5.0}
    new = measured({old.id: row})[old.id]
    assert new.interval == pytest.approx(tuple(row.values()))
    assert abs(new.length - (old.length - 5.0)) <= 25.4 / 32 + 1e-9
    assert new.length * 16 / 25.4 == pytest.approx(round(new.length * 16 / 25.4), abs=1e-6)


def test_pockets_go_with_their_end() -> None:
    """Each stays as far from the end that its screw leaves."""
    old = first("cross beam")
    new = measured({old.id: {"length": old.length + 6.0}})[old.id]
    assert len(old.pockets) == len(new.pockets) > 0
    for part in (old, new):
        axis = Line.through(*part.axis)
        ends = (0.0, axis.along(part.axis[1]))
        away = [abs(axis.along(p.mouth[:2]) - ends[p.end]) for p in part.pockets]
        assert away == pytest.approx([abs(a) for a in pocket_places(old)], abs=1e-9)
        assert [p.mouth[2] for p in part.pockets] == pytest.approx([p.mouth[2] for p in old.pockets], abs=1e-9)


def pocket_places(part: Part) -> list[float]:
    axis = Line.through(*part.axis)
    ends = (0.0, axis.along(part.axis[1]))
    return [axis.along(p.mouth[:2]) - ends[p.end] for p in part.pockets]


def test_a_cut_out_stays_under_its_fixture() -> None:
    """Where a notch begins is told from the slat's end, which has moved."""
    old = next(part for part in designed() if part.notches and part.grow == (0.5, 0.5))
    new = measured({old.id: {"length": old.length - 3.0}})[old.id]
    assert hole_in(new).symmetric_difference(hole_in(old)).area < 1e-6
    for before, after in zip(old.notches, new.notches, strict=True):
        assert after.along == pytest.approx((before.along[0] - 1.5, before.along[1] - 1.5))


def hole_in(part: Part) -> BaseGeometry:
    body = Polygon(part.outline, part.holes)
    return body.convex_hull.difference(body)


def test_a_severed_slat_changes_at_its_outer_end_only() -> None:
    old = next(part for part in designed() if part.kind == "slat" and part.grow in ((1.0, 0.0), (0.0, 1.0)))
    new = measured({old.id: {"length": old.length + 2.0}})[old.id]
    kept = 1 if old.grow[0] else 0
    assert new.axis[kept] == pytest.approx(old.axis[kept])
    assert math.dist(new.axis[1 - kept], old.axis[1 - kept]) == pytest.approx(2.0)


@pytest.mark.parametrize("by", [-5.0, 0.5])
def test_a_rip_moves_its_sawn_edge(by: float) -> None:
    old = first("slat", ripped=True, tapered=False)
    new = measured({old.id: {"width": old.width + by}})[old.id]
    axis = Line.through(*old.axis)
    sides = [tuple(extent([(axis.offset(p), 0.0) for p in part.outline], Line((0, 0), (1, 0)))) for part in (old, new)]
    sawn = 1 if old.sawn_edges[0] else 0
    assert sides[1][1 - sawn] == pytest.approx(sides[0][1 - sawn], abs=1e-9)
    assert sides[1][1] - sides[1][0] == pytest.approx(old.width + by, abs=1e-9)
    assert (new.length, new.interval, new.sawn_edges) == (old.length, old.interval, old.sawn_edges)
    assert area(new.outline) == pytest.approx((old.width + by) * old.length, rel=1e-9)


def test_a_rip_may_come_out_tapered_or_straight() -> None:
    straight = first("slat", ripped=True, tapered=False)
    tapered = measured({straight.id: {"width": 50.0, "width_end": 53.0}})[straight.id]
    assert (tapered.width, tapered.width_end) == (50.0, 53.0)
    assert area(tapered.outline) == pytest.approx(51.5 * straight.length, rel=1e-6)
    old = first("slat", TAPERED, tapered=True)
    new = measured({old.id: {"width": 60.0, "width_end": 60.0}}, TAPERED)[old.id]
    assert (new.width, new.width_end) == (60.0, None)
    assert area(new.outline) == pytest.approx(60.0 * old.length, rel=1e-4)


def test_the_last_full_slat_may_have_to_be_ripped_and_a_rip_may_be_full() -> None:
    slats = [part for part in designed() if part.coffer == "C3" and part.kind == "slat"]
    old = slats[0]
    assert not old.ripped
    new = measured({old.id: {"width": 80.0}})[old.id]
    assert new.ripped
    assert sum(new.sawn_edges) == 1
    others = Polygon(slats[1].outline)
    assert Polygon(new.outline).distance(others) == pytest.approx(Polygon(old.outline).distance(others), abs=1e-6)
    rip = slats[-1]
    assert rip.ripped
    full = measured({rip.id: {"width": layout().slat.width}})[rip.id]
    assert (full.ripped, full.sawn_edges) == (False, (False, False))


REFUSED = [
    ("C9-S99", {"length": 900.0}, "field.C9-S99: there is no part C9-S99; did you mean C9-S09?"),
    ("E1", {"length": 900.0}, "field.E1.length: E1 hangs there already: nothing of it is cut"),
    ("X1-1", {"width": 80.0}, "field.X1-1.width: a cross beam takes a length, or those of its two faces, only"),
    ("C1-T1", {"shortest": 800.0}, "field.C1-T1.shortest: a trim takes a length only"),
    ("C3-S04", {"width": 80.0}, "field.C3-S04.width: only the first and the last slat of a coffer are ripped"),
    ("C3-S01", {"width": 99.0}, "field.C3-S01.width: got 99.0 mm, the board is only 88.9 mm wide"),
    ("C3-S01", {"length": 1100.0, "longest": 1090.0}, "the length is 1100.0 mm, must be from"),
]


@pytest.mark.parametrize(("part", "row", "message"), REFUSED)
def test_rows_that_no_part_can_take(part: str, row: dict[str, float], message: str) -> None:
    with pytest.raises(LayoutError) as caught:
        measured({part: row})
    assert message in str(caught.value)
    assert str(caught.value).startswith("room.toml field.")


def test_all_refusals_at_once() -> None:
    with pytest.raises(LayoutError) as caught:
        measured({"C9-S99": {"length": 1.0}, "E1": {"length": 900.0}, "C1-T1": {"width": 20.0}})
    assert len(caught.value.problems) == 3


def test_a_measure_replaces_the_size_and_no_shape() -> None:
    old, other = first("slat", ripped=True), first("trim")
    rows = {old.id: {"length": old.length + 3.0, "width": old.width - 4.0}}
    made = {part.id: part for part in apply_field(designed(), config(rows))}
    assert made[other.id] == other
    new = made[old.id]
    assert (new.length, new.width) == (old.length + 3.0, old.width - 4.0)
    assert replace(new, length=old.length, width=old.width, interval=old.interval, drawn=None) == old
    # What the plan adds, the shape of the design has too.
    (planned,) = cut_to((new,), {old.id: new.length - 1.0})
    assert planned.length == old.length + 2.0
    assert spread(planned, Line.through(*old.axis)) == pytest.approx(old.length - 1.0)
    (cut,) = shaped((planned,))
    assert spread(cut, Line.through(*old.axis)) == pytest.approx(old.length + 2.0)
    assert area(cut.outline) == pytest.approx((old.length + 2.0) * (old.width - 4.0))


def test_a_measured_taper_goes_on_along_its_edges() -> None:
    """Longer by 60 mm it is narrower at one end and wider at the other; half of that at each."""
    old = first("slat", TAPERED, tapered=True)
    more = (old.widths[1] - old.widths[0]) / old.length * 30.0
    longer = measured({old.id: {"length": old.length + 60.0, "longest": old.length + 60.0}}, TAPERED)[old.id]
    assert longer.widths == pytest.approx((old.widths[0] - more, old.widths[1] + more), abs=1e-4)
    assert area(longer.outline) == pytest.approx(sum(old.widths) / 2.0 * longer.length, rel=1e-4)
    both = {"length": old.length + 60.0, "longest": old.length + 60.0, "width": 60.0, "width_end": 66.0}
    cut = measured({old.id: both}, TAPERED)[old.id]
    assert cut.widths == pytest.approx((60.0 - 180.0 / old.length, 66.0 + 180.0 / old.length), abs=1e-3)
    assert area(cut.outline) == pytest.approx(63.0 * cut.length, rel=1e-4)


def test_sheets_name_every_bought_part_once() -> None:
    sheets = field_sheets(designed())
    assert list(sheets) == ["beam pieces", "slats", "rips", "trim"]
    bought = {part.id for part in designed() if part.bought}
    assert set(sheets["beam pieces"]) | set(sheets["slats"]) | set(sheets["trim"]) == bought
    assert set(sheets["rips"]) == {part.id for part in designed() if part.kind == "slat" and part.ripped}


def test_both_rips_of_a_coffer_are_cut_to_their_holes() -> None:
    """Full slats go up first; what they leave at the start side is measured like what they leave at the other."""
    centred = Wish(start='"centre"')
    rips = [part.id for part in designed(centred) if part.kind == "slat" and part.ripped]
    assert len(rips) == 18
    assert list(field_sheets(designed(centred))["rips"]) == rips
    first = next(rip for rip in rips if rip.endswith("-S01"))
    made = measured({first: {"width": 60.0}}, centred)
    old = next(part for part in designed(centred) if part.id == first)
    assert made[first].width == 60.0
    assert made[first].sawn_edges == old.sawn_edges
    assert all(part == made[part.id] for part in designed(centred) if part.id != first)
