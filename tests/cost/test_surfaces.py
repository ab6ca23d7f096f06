"""Areas in closed form: blocks, one coffer, a beam that stays and one that does not."""

import math
from dataclasses import replace

import pytest

from cost.costing import BEAM, DEPTH, HEIGHT, ROOM, WIDTH, Case, item
from lacunar.cost.surfaces import (
    behind_surface,
    ceiling_surface,
    masked_length,
    surface_after,
    surface_before,
    wall_surface,
    whole_surface,
)
from lacunar.geometry import Plane
from lacunar.parts import mesh
from samples import slat

M2 = 1e-6


def test_a_block_has_six_faces() -> None:
    sides = 2 * (1000 * 80 + 1000 * 20 + 80 * 20)
    assert whole_surface(slat()) == pytest.approx(sides * M2, rel=1e-12)


def test_a_hole_takes_two_faces_and_gives_four() -> None:
    hole = ((400.0, -10.0), (460.0, -10.0), (460.0, 10.0), (400.0, 10.0))
    sides = 2 * (1000 * 80 + 1000 * 20 + 80 * 20) - 2 * 60 * 20 + 2 * (60 + 20) * 20
    assert whole_surface(replace(slat(), holes=(hole,))) == pytest.approx(sides * M2, rel=1e-12)


def test_a_sloping_block_is_longer_along_the_slope() -> None:
    """Top and bottom grow by the slope; plumb edges keep their plan length times their plumb height."""
    tilted = replace(slat(), bottom=Plane(z0=2680.0, sx=0.75), top=Plane(z0=2700.0, sx=0.75))
    sides = 2 * (1000 * 80 * 1.25 + 1000 * 20 + 80 * 20)
    assert whole_surface(tilted) == pytest.approx(sides * M2, rel=1e-12)


def test_the_mesh_has_the_same_surface() -> None:
    """Another way to the number: the triangles of what is drawn."""
    case = Case(BEAM.format(keep="true"))
    for part in [part for part in case.parts if part.bought][::7]:
        made = mesh(part)
        corners = made.vertices[made.faces]
        total = 0.0
        for a, b, c in corners:
            u, v = b - a, c - a
            cross = (u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0])
            total += math.hypot(*cross) / 2.0
        assert whole_surface(part) == pytest.approx(total * M2, rel=1e-9)


def test_one_coffer_is_the_ceiling() -> None:
    case = Case()
    assert behind_surface(case.room, case.layout, case.parts) == pytest.approx(WIDTH * DEPTH * M2)
    assert ceiling_surface(case.room, case.layout) == pytest.approx(WIDTH * DEPTH * M2)
    assert masked_length(case.layout) == pytest.approx(2 * (WIDTH + DEPTH))


def test_what_shows_of_one_coffer() -> None:
    """Slats inside the trim, trim from below and from inside; gaps 6 mm wide show no wood."""
    case = Case()
    inside = (WIDTH - 40.0) * (DEPTH - 40.0)
    slats = [part for part in case.parts if part.kind == "slat"]
    # Each gap is 6 mm wide and runs the length of the opening, whichever way the slats run.
    along_x = abs(slats[0].axis[0][1] - slats[0].axis[1][1]) < 1.0
    run = WIDTH - 40.0 if along_x else DEPTH - 40.0
    wood = inside - (len(slats) - 1) * 6.0 * run
    trim = WIDTH * DEPTH - inside + 2 * (WIDTH + DEPTH - 80.0) * 20.0
    assert surface_after(case.layout, case.parts) == pytest.approx((wood + trim) * M2, rel=1e-9)


def test_all_sides_before() -> None:
    case = Case()
    assert surface_before(case.layout, case.parts) == pytest.approx(sum(map(whole_surface, case.parts)))


@pytest.mark.parametrize("keep", ["true", "false"])
def test_a_beam_that_stays_is_masked_and_one_that_does_not_is_coated(keep: str) -> None:
    case = Case(BEAM.format(keep=keep))
    wood = [part for part in case.parts if part.bought]
    beam = (100.0 * DEPTH + 2 * (140.0 - 40.0) * DEPTH) * M2  # below 20 mm of slat and 20 mm of trim
    coated = 0.0 if keep == "true" else beam
    assert surface_before(case.layout, case.parts) == pytest.approx(sum(map(whole_surface, wood)) + coated)
    around = 2 * (WIDTH + DEPTH)
    assert masked_length(case.layout) == pytest.approx(around + (2 * DEPTH if keep == "true" else 0.0))


def test_a_fixture_is_masked_round_its_cover() -> None:
    box = '[[fixture]]\nname = "lamp"\nshape = "square"\nsize = 100\nat = { AB = 725, DA = 900 }\n'
    assert masked_length(Case(box).layout) == pytest.approx(2 * (WIDTH + DEPTH) + 400.0)


def test_walls_less_openings() -> None:
    openings = (
        '[[window]]\nwall = "BC"\nat = 500\nwidth = 1200\nsill = 800\nhead = 2100\n'
        '[[door]]\nwall = "DA"\nat = 300\nwidth = 900\nheight = 2000\n'
    )
    case = Case(openings)
    walls = 2 * (WIDTH + DEPTH) * HEIGHT - 1200 * 1300 - 900 * 2000
    assert wall_surface(case.room, case.config.window, case.config.door) == pytest.approx(walls * M2)


def test_walls_under_a_ceiling_that_falls() -> None:
    """Each wall is a trapezium."""
    falling = "heights = { A = 2500, B = 2400, C = 2300, D = 2450, centre = 2420 }"

    case = Case(room=ROOM.replace("height = 2500", falling))
    walls = WIDTH * 2450 + DEPTH * 2350 + WIDTH * 2375 + DEPTH * 2475
    assert wall_surface(case.room, case.config.window, case.config.door) == pytest.approx(walls * M2)


def test_the_paint_behind_takes_its_coats() -> None:
    cost = Case('[finish]\nbehind = "black"\nbehind_coats = 3\n').cost()
    assert item(cost, "behind paint").need == pytest.approx(3 * WIDTH * DEPTH * M2)
