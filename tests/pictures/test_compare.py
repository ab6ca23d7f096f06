"""Pictures side by side, and variants to choose from."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from lacunar.pictures import Variant, comparison, side_by_side
from lacunar.pictures.compare import BAD


def flat(colour: tuple[int, int, int]) -> np.ndarray:
    return np.full((100, 160, 3), colour, dtype=np.uint8)


RED, GREEN, BLUE, GOLD = (200, 0, 0), (0, 160, 0), (0, 0, 220), (200, 180, 20)


def places(image: np.ndarray, colour: tuple[int, int, int]) -> np.ndarray:
    """Rows and columns of a colour."""
    return np.argwhere(np.abs(image.astype(int) - colour).sum(axis=2) < 12)


def test_each_picture_is_there_once_in_order(tmp_path: Path) -> None:
    Image.fromarray(flat(GREEN)).save(tmp_path / "green.png")
    image = side_by_side([flat(RED), tmp_path / "green.png", flat(BLUE)], ["with", "across", "alternate"])
    starts = [int(places(image, c)[:, 1].min()) for c in (RED, GREEN, BLUE)]
    areas = [len(places(image, c)) for c in (RED, GREEN, BLUE)]
    assert starts == sorted(starts)
    assert max(areas) == min(areas) > 0


@pytest.mark.parametrize("n", [1, 2, 4, 5, 7])
def test_any_number_fits_the_sheet(n: int) -> None:
    image = side_by_side([flat(RED)] * n, [f"variant {k}" for k in range(n)], width=900)
    assert image.shape[1] <= 900
    columns = n if n <= 3 else 2 if n == 4 else 3
    wide = (900 - 12 * (columns + 1)) // columns
    assert len(places(image, RED)) == pytest.approx(n * wide * round(wide * 100 / 160), rel=0.02)


def test_a_caption_too_few_is_an_error() -> None:
    with pytest.raises(ValueError, match="got 2 pictures and 1 captions"):
        side_by_side([flat(RED), flat(BLUE)], ["one"])


def variant(name: str, colours: tuple[tuple[int, int, int], ...], fails: bool) -> Variant:
    words = "not buildable yet: nails or screws without enough wood: 3, first at C1-S01" if fails else "nothing fails"
    return Variant(
        name=name,
        trust="good for: look",
        pictures=[flat(colour) for colour in colours],
        facts=[("cost", "2,544"), ("boards", "312 ft"), ("rips", "3 of 90")],
        against=[words],
        fails=fails,
    )


def test_a_variant_has_both_views_beside_each_other_and_what_stands_against_it_under_them() -> None:
    wide, tall = comparison(
        "Study", ["from the door", "up"], [variant("with", (RED, GREEN), True), variant("across", (BLUE, GOLD), False)]
    )
    door, up, other = (places(wide, colour) for colour in (RED, GREEN, BLUE))
    assert door[:, 0].min() == up[:, 0].min()
    assert door[:, 1].max() < up[:, 1].min()
    assert other[:, 0].min() > door[:, 0].max()
    bad = places(wide, BAD)
    assert door[:, 0].max() < bad[:, 0].min() < bad[:, 0].max() < other[:, 0].min(), "of the first alone"
    order = [places(tall, colour)[:, 0].min() for colour in (RED, GREEN, BLUE, GOLD)]
    assert order == sorted(order)
    assert all(len(places(tall, colour)) > 0.9 * 160 * 100 for colour in (RED, GREEN, BLUE, GOLD))
    assert tall.shape[1] < wide.shape[1]


@pytest.mark.parametrize("words", ["short", "a long sentence about what is wrong " * 20])
def test_all_that_stands_against_it_is_in_the_sheet(words: str) -> None:
    one = Variant(name="a", trust="", pictures=[flat(RED)], facts=[("cost", "1")], against=[words, "last"], fails=False)
    for image in comparison("Study", ["door"], [one]):
        rows = np.flatnonzero((image < 120).any(axis=(1, 2)))
        assert 5 < image.shape[0] - rows.max() < 90
