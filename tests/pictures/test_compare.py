"""Pictures side by side."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from lacunar.pictures import side_by_side


def flat(colour: tuple[int, int, int]) -> np.ndarray:
    return np.full((100, 160, 3), colour, dtype=np.uint8)


RED, GREEN, BLUE = (200, 0, 0), (0, 160, 0), (0, 0, 220)


def test_each_variant_is_there_once_in_order(tmp_path: Path) -> None:
    Image.fromarray(flat(GREEN)).save(tmp_path / "green.png")
    path = side_by_side(
        [flat(RED), tmp_path / "green.png", flat(BLUE)], ["with", "across", "alternate"], tmp_path / "a.png"
    )
    image = np.asarray(Image.open(path)).astype(int)
    starts = [int(np.argwhere((np.abs(image - c).sum(axis=2) < 12).any(axis=0))[0, 0]) for c in (RED, GREEN, BLUE)]
    areas = [int((np.abs(image - c).sum(axis=2) < 12).sum()) for c in (RED, GREEN, BLUE)]
    assert starts == sorted(starts)
    assert max(areas) == min(areas) > 0


@pytest.mark.parametrize("n", [1, 2, 4, 5, 7])
def test_any_number_fits_the_sheet(n: int, tmp_path: Path) -> None:
    path = side_by_side([flat(RED)] * n, [f"variant {k}" for k in range(n)], tmp_path / "a.png", width=900)
    image = np.asarray(Image.open(path)).astype(int)
    assert image.shape[1] <= 900
    red = (np.abs(image - RED).sum(axis=2) < 12).sum()
    columns = n if n <= 3 else 2 if n == 4 else 3
    wide = (900 - 12 * (columns + 1)) // columns
    assert red == pytest.approx(n * wide * round(wide * 100 / 160), rel=0.02)


def test_a_caption_too_few_is_an_error(tmp_path: Path) -> None:
    with pytest.raises(ValueError, match="got 2 pictures and 1 captions"):
        side_by_side([flat(RED), flat(BLUE)], ["one"], tmp_path / "a.png")
