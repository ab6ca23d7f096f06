"""Wood by numbers: it runs along, no two boards are alike, and it repeats without a seam."""

import numpy as np
import pytest

from lacunar.materials import SPECIES
from lacunar.scene.grain import SLATS, TIMBERS, BoardImage, Knot, grain, round_knots
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


def test_fibres_part_before_a_knot_and_close_behind_it() -> None:
    """Beside the knot none comes from where it stands; far along the board each lies where it always did."""
    knot = Knot(across=75.0, along=500.0, size=8.0, stretch=1.2)
    x, z = np.arange(150, dtype=np.float32)[None, :], np.arange(1000, dtype=np.float32)[:, None]
    way = round_knots([knot], x, z)
    assert way[500, 75 - 20] == pytest.approx(55 + 20 * 9.6**2 / 20**2, abs=1.0), "as a stream round a post"
    assert (np.diff(way[500, 87:]) > 0).all(), "no fibre crosses another"
    assert np.abs(way[:350] - x).max() < 0.05
    assert way[500, 75 - 20] - 55 == pytest.approx(75 + 20 - way[500, 75 + 20], abs=1e-3), "both sides alike"


def test_species_are_found_by_any_name_that_holds_theirs() -> None:
    assert figure_of("Eastern white pine") is FIGURES["pine"]
    assert figure_of("northern red oak") is FIGURES["red oak"]
    assert figure_of("white oak") is FIGURES["oak"]
    assert figure_of("unheard of") is FIGURES["pine"]


@pytest.mark.parametrize("species", SPECIES)
def test_every_species_has_a_figure_of_its_own(species: str) -> None:
    """None is drawn as pine for want of a name in the table."""
    assert any(name in species for name in FIGURES)
