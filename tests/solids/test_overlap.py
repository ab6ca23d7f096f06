"""Planted overlaps between every two kinds of shape, seen by the referee on meshes and by the kernel on solids."""

import itertools
from dataclasses import replace

import pytest
import shapely

from lacunar.geometry import Plane
from lacunar.parts import Part, volume
from lacunar.solids import build_solids, solid_of
from solids.referee import NOISE, overlap, overlaps
from solids.sample_parts import LEVEL, holed_slat, notched_slat, part, slat, timber, trim

HEIGHT = 19.05


def moved(sample: Part, dx: float, dz: float) -> Part:
    """A part shifted along x and up."""

    def plane(old: Plane) -> Plane:
        return replace(old, z0=old.z0 + dz - old.sx * dx)

    return replace(
        sample,
        outline=tuple((x + dx, y) for x, y in sample.outline),
        holes=tuple(tuple((x + dx, y) for x, y in hole) for hole in sample.holes),
        axis=((sample.axis[0][0] + dx, sample.axis[0][1]), (sample.axis[1][0] + dx, sample.axis[1][1])),
        bottom=plane(sample.bottom),
        top=plane(sample.top),
        pockets=tuple(
            replace(pocket, mouth=(pocket.mouth[0] + dx, pocket.mouth[1], pocket.mouth[2] + dz))
            for pocket in sample.pockets
        ),
    )


def under(sample: Part) -> Part:
    """A block as large as a room whose top is the underside of a part, the whole of which rests on it."""
    far = ((-9000.0, -9000.0), (9000.0, -9000.0), (9000.0, 9000.0), (-9000.0, 9000.0))
    return part("FLOOR", far, sample.bottom.lifted(-400.0), sample.bottom, kind="ledger")


SAMPLES = (slat("C1-S01"), notched_slat("C1-S04"), holed_slat("C1-S05"), trim("C1-T1"), timber("X1-1"))


@pytest.mark.parametrize("depth", [0.05, 0.2, 1.0, 5.0])
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.id)
def test_a_part_sunk_into_a_block_shares_its_plan_area_times_the_depth(sample: Part, depth: float) -> None:
    thin = replace(sample, top=sample.bottom.lifted(1.0), pockets=())
    expected = volume(thin) * depth
    sunk = moved(sample, 0.0, -depth)
    assert overlap(sunk, under(sample)) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda sample: sample.id)
def test_a_part_that_rests_on_a_block_only_touches_it(sample: Part) -> None:
    assert overlap(sample, under(sample)) < NOISE


def squared(sample: Part) -> Part:
    """A part's outline turned so that its long straight edge lies along y = 0 from x = 0, at z 2600 to 2619.05."""
    length = 900.0
    bite = ((600.0, 60.0), (600.0, 30.0), (500.0, 30.0), (500.0, 60.0))
    outlines = {
        "C1-S01": ((0.0, 0.0), (length, 0.0), (length, 60.0), (0.0, 60.0)),
        "C1-S04": ((0.0, 0.0), (length, 0.0), (length, 60.0), *bite, (0.0, 60.0)),
        "C1-S05": ((0.0, 0.0), (length, 0.0), (length, 60.0), (0.0, 60.0)),
        "C1-T1": ((0.0, 0.0), (length, 0.0), (length - HEIGHT, HEIGHT), (HEIGHT, HEIGHT)),
        "X1-1": ((0.0, 0.0), (length, 0.0), (length - 3.0, 60.0), (2.0, 60.0)),
    }
    holes = (((300.0, 20.0), (340.0, 20.0), (340.0, 40.0), (300.0, 40.0)),) if sample.id == "C1-S05" else ()
    return replace(sample, outline=outlines[sample.id], holes=holes, bottom=LEVEL, top=LEVEL.lifted(HEIGHT), pockets=())


def across(sample: Part, depth: float) -> Part:
    """The mirror image of a squared part on the other side of y = 0, overlapping by a depth."""
    flipped = squared(sample)
    return replace(
        flipped,
        id="OTHER",
        outline=tuple((x, depth - y) for x, y in reversed(flipped.outline)),
        holes=tuple(tuple((x, depth - y) for x, y in reversed(hole)) for hole in flipped.holes),
    )


PAIRS = list(itertools.combinations_with_replacement(SAMPLES, 2))
NAMES = [f"{one.id}-{other.id}" for one, other in PAIRS]


def shared_area(one: Part, other: Part) -> float:
    """Plan area that two parts share, by shapely."""
    plans = [shapely.Polygon(sample.outline, sample.holes) for sample in (one, other)]
    return float(plans[0].intersection(plans[1]).area)


@pytest.mark.parametrize("depth", [0.05, 0.2, 1.0, 5.0])
@pytest.mark.parametrize("pair", PAIRS, ids=NAMES)
def test_an_overlap_along_an_edge_is_the_plan_s_shared_area_times_the_height(
    pair: tuple[Part, Part], depth: float
) -> None:
    one, other = squared(pair[0]), across(pair[1], depth)
    expected = shared_area(one, other) * HEIGHT
    assert expected > 800.0 * depth * HEIGHT
    assert overlap(one, other) == pytest.approx(expected, rel=1e-6)


@pytest.mark.parametrize("pair", PAIRS, ids=NAMES)
def test_contact_along_an_edge_is_no_overlap(pair: tuple[Part, Part]) -> None:
    assert overlap(squared(pair[0]), across(pair[1], 0.0)) < NOISE
    assert overlap(squared(pair[0]), across(pair[1], -0.001)) == 0.0


def test_one_bad_pair_among_many_that_touch() -> None:
    """A field of boards edge to edge and a second layer on it; one board is sunk by 0.05 mm into those under it."""
    lower = [slat(f"C1-S{k:02}", origin=(0.0, 88.9 * k)) for k in range(12)]
    upper = [slat(f"C2-S{k:02}", origin=(0.0, 88.9 * k + 40.0), bottom=LEVEL.lifted(HEIGHT)) for k in range(12)]
    assert overlaps([*lower, *upper]) == {}
    upper[5] = moved(upper[5], 0.0, -0.05)
    found = overlaps([*lower, *upper])
    assert set(found) == {("C1-S05", "C2-S05"), ("C1-S06", "C2-S05")}
    assert sum(found.values()) == pytest.approx(1000.0 * 88.9 * 0.05, rel=1e-6)


@pytest.mark.parametrize("depth", [0.05, 5.0])
def test_the_kernel_finds_the_same_in_solids(depth: float) -> None:
    """Solids and meshes are made by different code from the same part."""
    import cadquery

    one, other = timber("X1-1"), moved(under(timber("X1-1")), 0.0, depth)
    solids = build_solids([one, other])
    bodies = [cadquery.Solid(solid_of(solids, sample.id)) for sample in (one, other)]
    assert bodies[0].intersect(bodies[1]).Volume() == pytest.approx(overlap(one, other), rel=1e-6)


def test_a_block_that_reaches_into_a_bore_does_not_touch_wood() -> None:
    """A dowel thinner than the bore, laid along its axis, meets no wood: pockets are holes in the mesh."""
    piece = timber("X1-1", origin=(0.0, 0.0), angle=0.0)
    pocket = piece.pockets[3]
    (x, y, z), (dx, dy, _) = pocket.mouth, pocket.direction
    reach, half = 0.9 * pocket.bore_length, 2.0
    ends = [(x + t * dx, y + t * dy) for t in (-10.0, reach)]
    ring = tuple(
        (ends[k][0] - side * half * dy, ends[k][1] + side * half * dx) for k, side in ((0, -1), (1, -1), (1, 1), (0, 1))
    )
    dowel = part("PLUG", ring, Plane(z0=z - half), Plane(z0=z + half), kind="plug")
    assert overlap(piece, dowel) == 0.0
    assert overlap(replace(piece, pockets=()), dowel) > 3.0 * half * half * reach
