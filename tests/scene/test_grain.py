"""Wood by numbers: it runs along, no two boards are alike, and it repeats without a seam."""

import itertools
import math

import numpy as np
import pytest

from lacunar.materials import SPECIES
from lacunar.scene.grain import SLATS, TIMBERS, BoardImage, grain
from lacunar.scene.knots import Knot, cut_through, fibres, knots_of
from lacunar.scene.noise import f32
from lacunar.scene.species import FIGURES, figure_of


def board(species: str, k: int, sheet: BoardImage = SLATS) -> np.ndarray:
    return grain(species, sheet)[:, k * sheet.columns : (k + 1) * sheet.columns].astype(float)


def change(image: np.ndarray, mm: tuple[float, float]) -> tuple[float, float]:
    """Mean change of grey a millimetre, along and across."""
    along = np.abs(np.diff(image, axis=0)).mean() / mm[0]
    across = np.abs(np.diff(image, axis=1)).mean() / mm[1]
    return float(along), float(across)


@pytest.mark.parametrize("species", ["eastern white pine", "red oak"])
def test_grain_runs_along_the_board(species: str) -> None:
    pixel = (SLATS.length / SLATS.rows, SLATS.width / SLATS.columns)
    for k in range(0, SLATS.boards - 1, 3):
        along, across = change(board(species, k), pixel)
        assert across > 4 * along, f"board {k}"


def test_no_two_boards_are_alike() -> None:
    boards = [board("eastern white pine", k).ravel()[::31] for k in range(SLATS.boards - 1)]
    likeness = np.corrcoef(np.array(boards))
    assert np.abs(likeness - np.eye(len(boards))).max() < 0.5


@pytest.mark.parametrize("sheet", [SLATS, TIMBERS])
def test_a_board_goes_on_where_its_image_ends(sheet: BoardImage) -> None:
    for k in range(3):
        image = board("Douglas fir", k, sheet)
        inside = np.abs(np.diff(image, axis=0)).mean(axis=1)
        seam = np.abs(image[0] - image[-1]).mean()
        assert seam < 1.5 * inside.max()


def test_the_same_wood_comes_out_each_time() -> None:
    first = grain("red oak", SLATS).copy()
    grain.cache_clear()
    assert np.array_equal(first, grain("red oak", SLATS))


X, Z = np.arange(150, dtype=np.float32)[None, :], np.arange(1000, dtype=np.float32)[:, None]
"""A face of 150 by 1000 mm, a pixel a millimetre."""


def branch(turn: float, rise: float = 0.0) -> Knot:
    """Through the middle of the face, 8 mm thick there, the pith 400 mm away; radians off square, and upward."""
    way = (math.sin(turn) * math.cos(rise), math.cos(turn) * math.cos(rise), math.sin(rise))
    return Knot(across=75.0, along=500.0, away=400.0, way=way, size=8.0, end=1e4)


def test_fibres_part_before_a_knot_and_close_behind_it() -> None:
    """Beside the knot none comes from where it stands; far along the board each lies where it always did."""
    way = fibres([cut_through(branch(0.0), X, Z)], X, Z)
    assert way[500, 75 - 20] == pytest.approx(55 + 20 * 9.6**2 / 20**2, abs=1.0), "as a stream round a post"
    assert (np.diff(way[500, 87:]) > 0).all(), "no fibre crosses another"
    assert np.abs(way[:350] - X).max() < 0.05
    assert way[500, 75 - 20] - 55 == pytest.approx(75 + 20 - way[500, 75 + 20], abs=1e-3), "both sides alike"


@pytest.mark.parametrize("turn", [0.0, 0.6, 1.1, 1.35])
def test_a_branch_is_cut_as_a_round_thing_is(turn: float) -> None:
    """Square across it is a circle; at an angle an ellipse, longer by the sine, and thinner towards the pith."""
    cut = cut_through(branch(turn), X, Z)
    seen = cut.off < cut.radius
    long, wide = seen.any(axis=0).sum(), seen.any(axis=1).sum()
    assert wide == pytest.approx(16, abs=2 if turn < 1.2 else 4)
    assert long == pytest.approx(16 / math.cos(turn), rel=0.12)
    if turn > 1.0:
        assert seen[:, :60].sum(axis=0).max() < seen[:, 90:].sum(axis=0).max()


def test_a_branch_that_climbs_runs_up_the_face() -> None:
    cut = cut_through(branch(1.3, rise=0.4), X, Z)
    rows, columns = np.nonzero(cut.off < cut.radius)
    assert np.polyfit(columns, rows, 1)[0] == pytest.approx(math.tan(0.4) / math.sin(1.3), rel=0.1)


def test_rings_close_round_a_knot() -> None:
    """Wood beside a branch was nearer to the pith once, so its distance from there has a hollow at the knot."""
    cut = cut_through(branch(0.0), X, Z)
    ring = cut.bent[(Z[cut.rows, 0] == 500.0), :][0]
    assert ring.argmax() == 75
    assert (np.diff(ring[75:130]) < 0).all()
    assert (np.diff(ring[20:76]) > 0).all()


def faces(name: str, n: int) -> list[list[Knot]]:
    figure, pith = figure_of(name), np.full(2600, 75.0, dtype=np.float32)
    return [knots_of(np.random.default_rng(i), figure, (150.0, 2600.0), pith, f32(40.0 + 0.0 * pith)) for i in range(n)]


def test_branches_of_a_whorl_leave_the_pith_at_one_height_and_go_different_ways() -> None:
    pairs = 0
    for knots in faces("pine", 40):
        heights: dict[float, list[Knot]] = {}
        for knot in knots:
            assert knot.across - knot.away * knot.way[0] == pytest.approx(75.0, abs=1e-3), "out of the pith"
            heights.setdefault(round(knot.along - knot.away * knot.way[2], 2), []).append(knot)
        for whorl in heights.values():
            turns = sorted(math.atan2(*knot.way[:2]) for knot in whorl)
            assert all(later - before > 0.5 for before, later in itertools.pairwise(turns))
            pairs += len(turns) > 1
    assert pairs > 5


def test_knots_are_as_thick_and_as_many_as_their_species_has_them() -> None:
    sizes = {name: [k.size for knots in faces(name, 60) for k in knots] for name in ("yellow pine", "spruce", "maple")}
    assert np.median(sizes["yellow pine"]) > 1.4 * np.median(sizes["spruce"])
    assert len(sizes["spruce"]) > 2 * len(sizes["yellow pine"])
    assert not sizes["maple"]


def test_species_are_found_by_any_name_that_holds_theirs() -> None:
    assert figure_of("Eastern white pine") is FIGURES["pine"]
    assert figure_of("northern red oak") is FIGURES["red oak"]
    assert figure_of("white oak") is FIGURES["oak"]
    assert figure_of("unheard of") is FIGURES["pine"]


@pytest.mark.parametrize("species", SPECIES)
def test_every_species_has_a_figure_of_its_own(species: str) -> None:
    """None is drawn as pine for want of a name in the table."""
    assert any(name in species for name in FIGURES)
