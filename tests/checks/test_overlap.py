"""Overlap of parts: planted ones found with their depth, none found among touching ones, another library as referee."""

import math
import time
from dataclasses import replace
from itertools import product

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from shapely import Polygon

from checks.sample import SKEWED, SQUARE, block, box, ceiling, edited, moved, shared_volume, turned
from lacunar.analysis import Subject
from lacunar.analysis.overlap import Overlap, find_overlaps
from lacunar.analysis.shapes import polygons_of
from lacunar.geometry import Line, Plane, Ring
from lacunar.parts import Part
from lacunar.tolerances import CONTACT

DEPTHS = (0.05, 0.2, 1.0, 5.0)


def search(*parts: Part) -> tuple[Overlap, ...]:
    return find_overlaps(parts, polygons_of([p.outline for p in parts], [p.holes for p in parts]), CONTACT).found


def depth(one: Part, other: Part) -> float:
    found = search(one, other)
    return found[0].depth if found else 0.0


@pytest.fixture(scope="module")
def kinds() -> dict[str, Part]:
    """One real part of every kind and shape, out of a ceiling where nothing is parallel or level."""
    parts = ceiling(
        edited(SKEWED, ("[room]\n", '[room]\nmoulding = { out = "2 in", down = "3 in", keep = true }\n'))
    ).parts
    found: dict[str, Part] = {}
    for part in parts:
        found.setdefault(part.kind, part)
        if part.kind == "slat":
            found.setdefault(_shape(part), part)
    e1 = found["existing beam"]
    found["main beam"] = replace(e1, id="G1", kind="main beam")
    # Kinds that the layout does not make yet, shaped as strips are.
    for kind in ("furring", "ledger", "plug"):
        found[kind] = replace(found["trim"], id=kind, kind=kind)
    return found


def _shape(part: Part) -> str:
    if part.holes:
        return "holed slat"
    if len(part.outline) > 4:
        return "notched slat"
    return "tapered slat" if part.width_end is not None else "plain slat"


def test_every_kind_and_shape_is_there(kinds: dict[str, Part]) -> None:
    beams = {"existing beam", "main beam", "cross beam", "half beam", "moulding"}
    strips = {"trim", "furring", "ledger", "plug"}
    assert beams | strips | {"slat", "holed slat", "notched slat"} <= set(kinds)


def beside(one: Part, other: Part, by: float) -> Part:
    """The other part moved so that it stands `by` deep in the longest edge of the first, at half its height."""
    ring = one.outline
    edges = list(zip(ring, ring[1:] + ring[:1], strict=True))
    a, b = max(edges, key=lambda edge: math.dist(*edge))
    edge = Line.through(a, b)
    # Outside of a counter-clockwise ring lies to the right of its edges.
    foremost = max(other.outline, key=edge.offset)
    middle = edge.at(math.dist(a, b) / 2.0)
    here = edge.at(edge.along(foremost), edge.offset(foremost))
    goal = edge.at(edge.along(middle), by)
    there = moved(other, goal[0] - here[0], goal[1] - here[1])
    height = (one.bottom.at(goal) + one.top.at(goal)) / 2.0
    return moved(there, dz=height - (there.bottom.at(goal) + there.top.at(goal)) / 2.0)


def above(one: Part, other: Part, by: float) -> Part:
    """The other part moved over the first and sunk into its top by so much."""
    x, y = (sum(axis) / 2.0 for axis in zip(*one.axis, strict=True))
    u, v = (sum(axis) / 2.0 for axis in zip(*other.axis, strict=True))
    there = moved(other, x - u, y - v)
    bottom = one.top.lifted(-by)
    return replace(there, bottom=bottom, top=bottom.lifted(40.0))


@pytest.mark.parametrize("planted", DEPTHS)
def test_planted_beside_every_kind_of_part(kinds: dict[str, Part], planted: float) -> None:
    for one, other in product(kinds.values(), repeat=2):
        placed = replace(beside(one, other, planted), id="placed")
        assert depth(one, placed) == pytest.approx(planted, abs=1e-4), (one.id, other.id)


@pytest.mark.parametrize("planted", DEPTHS)
def test_planted_from_above_in_every_kind_of_part(kinds: dict[str, Part], planted: float) -> None:
    for one, other in product(kinds.values(), repeat=2):
        placed = replace(above(one, other, planted), id="placed")
        assert depth(one, placed) == pytest.approx(planted, abs=1e-4), (one.id, other.id)


@pytest.mark.parametrize("apart", [0.0, -0.001, -0.05, -2.0])
def test_touching_and_near_parts_of_every_kind_do_not_overlap(kinds: dict[str, Part], apart: float) -> None:
    for one, other in product(kinds.values(), repeat=2):
        for place in (beside, above):
            assert search(one, replace(place(one, other, apart), id="placed")) == (), (one.id, other.id, place)


def test_another_library_agrees_about_every_planted_pair(kinds: dict[str, Part]) -> None:
    for one, other in product(kinds.values(), repeat=2):
        for place, planted in product((beside, above), (-0.05, 0.05, 1.0)):
            placed = replace(place(one, other, planted), id="placed")
            volume = shared_volume(one, placed)
            # One corner of a mitred or leaning part may be all that reaches in, 0.05 mm deep.
            assert (volume > 1e-4) == (planted > 0.0), (one.id, other.id, place, planted, volume)


def _rotated(x: float, y: float, width: float, depth: float, angle: float) -> Ring:
    return turned(box(x, y, width, depth), angle, (x + width / 2.0, y + depth / 2.0))


blocks = st.builds(
    _rotated,
    st.floats(-60.0, 60.0),
    st.floats(-60.0, 60.0),
    st.floats(20.0, 120.0),
    st.floats(20.0, 120.0),
    st.floats(0.0, math.pi),
)
tilts = st.builds(Plane, z0=st.floats(-10.0, 10.0), sx=st.floats(-0.2, 0.2), sy=st.floats(-0.2, 0.2))


@settings(max_examples=300, deadline=None)
@given(a=blocks, b=blocks, low=tilts, high=tilts)
@example(a=box(0, 0, 100, 100), b=box(50, 0, 100, 100), low=Plane(z0=0.0), high=Plane(z0=0.0))
@example(a=box(0, 0, 100, 100), b=box(0, 0, 100, 100), low=Plane(z0=0.0, sx=0.1), high=Plane(z0=5.0, sx=-0.1))
def test_random_pairs_with_any_planes_as_another_library(a: Ring, b: Ring, low: Plane, high: Plane) -> None:
    """Faces may cross over the common region: overlap is then only beyond the crossing."""
    one = block("one", a, low.lifted(-40.0), low)
    other = block("other", b, high, high.lifted(40.0))
    volume = shared_volume(one, other)
    found = depth(one, other)
    # Nothing less than CONTACT high counts, however wide.
    if volume > 1.5 * CONTACT * Polygon(a).intersection(Polygon(b)).area + 0.01:
        assert found > 0.0
    if found > 0.05:
        assert volume > 0.0
    if volume <= 1e-6:
        assert found <= 0.05


@settings(max_examples=200, deadline=None)
@given(a=blocks, b=blocks, turn=st.floats(0.0, math.pi))
def test_depth_is_the_shortest_way_out(a: Ring, b: Ring, turn: float) -> None:
    """Moved by less than the depth any way, two parts still overlap; by the depth the best way, they touch."""
    one, other = block("one", a, 0.0, 1000.0), block("other", b, 0.0, 1000.0)
    deep = depth(one, other)
    if deep < 1.0:
        return
    for k in range(36):
        angle = turn + 2.0 * math.pi * k / 36.0
        by = 0.98 * deep
        assert depth(one, moved(other, by * math.cos(angle), by * math.sin(angle))) > 0.0
    normals = [
        (y1 - y0, x0 - x1) for ring in (a, b) for (x0, y0), (x1, y1) in zip(ring, ring[1:] + ring[:1], strict=True)
    ]
    ways = [(sign * x / math.hypot(x, y), sign * y / math.hypot(x, y)) for x, y in normals for sign in (1.0, -1.0)]
    assert any(search(one, moved(other, (deep + 1e-6) * x, (deep + 1e-6) * y)) == () for x, y in ways)


def test_a_shallow_crossing_of_faces_counts_only_beyond_it() -> None:
    """10 mm apart at one end, 10 mm into each other at the other: 10 mm is the way out, over half the length."""
    lower = block("lower", box(0, 0, 1000, 50), 0.0, Plane(z0=-10.0, sx=0.02))
    upper = block("upper", box(0, 0, 1000, 50), 0.0, 100.0)
    assert depth(lower, upper) == pytest.approx(10.0)
    # Over the first half alone the lower one stays under the upper one's bottom.
    assert depth(lower, block("upper", box(0, 0, 500, 50), 0.0, 100.0)) == 0.0


def test_a_block_in_a_hole_overlaps_nothing_and_in_its_edge_by_as_much_as_it_stands_in_it() -> None:
    holed = replace(block("holed", box(0, 0, 300, 200), 0.0, 20.0), holes=(box(100, 50, 100, 100),))
    assert search(holed, block("free", box(110, 60, 80, 80), 0.0, 20.0)) == ()
    assert search(holed, block("tight", box(100, 50, 100, 100), 0.0, 20.0)) == ()
    assert depth(holed, block("in", box(110, 60, 95, 80), 0.0, 20.0)) == pytest.approx(5.0)


@pytest.mark.parametrize(
    "text",
    [
        SQUARE,
        SKEWED,
        edited(SQUARE, ("[trim]", '[trim]\ncorners = "butt"'), ('run = "across"', 'run = "with"')),
        edited(SQUARE, ("gap = 6\nend_gap", "gap = 0\nend_gap")),
        edited(SKEWED, ('stock = "1x4"\nrun = "alternate"', 'stock = "1x8"\nrun = "30 deg"')),
    ],
    ids=["square", "skewed", "butt", "no gap", "angle"],
)
def test_no_part_of_a_good_ceiling_overlaps_another(text: str) -> None:
    subject = ceiling(text)
    overlaps = find_overlaps(subject.parts, subject.polygons, CONTACT)
    assert overlaps.found == ()
    assert overlaps.closest is not None
    assert abs(overlaps.closest.depth) < 1e-6


def test_another_library_finds_no_overlap_in_the_skewed_ceiling() -> None:
    subject = ceiling(SKEWED)
    touching = [(a, b) for a, b in _neighbours(subject) if a < b]
    assert len(touching) > 300
    assert max(shared_volume(subject.parts[a], subject.parts[b]) for a, b in touching) < 0.1


def _neighbours(subject: Subject) -> list[tuple[int, int]]:
    import shapely

    first, second = shapely.STRtree(subject.polygons).query(list(subject.polygons), predicate="dwithin", distance=1.0)
    return [(int(a), int(b)) for a, b in zip(first, second, strict=True)]


def test_a_thousand_parts_are_searched_in_far_less_than_half_a_second() -> None:
    """A tilted floor of 40 by 25 blocks that touch, five of them grown into their neighbours."""
    parts = [
        block(f"B{i}-{j}", turned(box(i * 100.0, j * 60.0, 100.0, 60.0), 0.3), 0.0, 20.0)
        for i in range(40)
        for j in range(25)
    ]
    for index, by in zip((30, 212, 418, 640, 871), (0.02, 0.05, 0.2, 1.0, 5.0), strict=True):
        i, j = divmod(index, 25)
        parts[index] = block(f"B{i}-{j}", turned(box(i * 100.0, j * 60.0, 100.0 + by, 60.0), 0.3), 0.0, 20.0)
    polygons = polygons_of([p.outline for p in parts], [p.holes for p in parts])
    found = find_overlaps(parts, polygons, CONTACT).found
    times: list[float] = []
    for _ in range(3):
        start = time.perf_counter()
        find_overlaps(parts, polygons, CONTACT)
        times.append(time.perf_counter() - start)
    # Each grown block reaches its right neighbour along 60 mm; at corners it only touches.
    assert [round(one.depth, 9) for one in found] == [0.02, 0.05, 0.2, 1.0, 5.0]
    assert [one.first for one in found] == [parts[i].id for i in (30, 212, 418, 640, 871)]
    assert min(times) < 0.25, times


def test_order_of_findings_follows_the_parts() -> None:
    parts = [block(f"B{i}", box(i * 90.0, 0.0, 100.0, 50.0), 0.0, 20.0) for i in range(6)]
    found = search(*parts)
    assert [(one.first, one.second) for one in found] == [(f"B{i}", f"B{i + 1}") for i in range(5)]
    assert np.allclose([one.depth for one in found], 10.0)
