"""Colours: published values, and what coats do."""

import numpy as np
import pytest

from lacunar.scene.colour import CoatTable, colour, decode, encode, finished, sheen
from lacunar.scene.species import FIGURES

PINE = FIGURES["pine"]
STAIN = CoatTable(kind="gel stain", colour="tobacco brown")


def luma(colours: np.ndarray) -> np.ndarray:
    return colours @ np.array([0.2126, 0.7152, 0.0722])


def test_half_of_the_light_is_code_188() -> None:
    """IEC 61966-2-1: 0.5 linear is 0.7354 encoded, 187.5 of 255."""
    assert encode(0.5).tolist() in (187, 188)
    assert float(decode(187.5)) == pytest.approx(0.5, abs=1e-4)


def test_every_code_survives() -> None:
    codes = np.arange(256)
    assert np.array_equal(encode(decode(codes)), codes)


def test_lab_of_the_primaries() -> None:
    """Lab under D50 of the corners of sRGB, as colour handbooks and ICC profiles give them, to a code or two."""
    table = {
        "lab(54.29, 80.81, 69.89)": (255, 0, 0),
        "lab(87.82, -79.27, 80.99)": (0, 255, 0),
        "lab(29.57, 68.30, -112.03)": (0, 0, 255),
        "lab(100, 0, 0)": (255, 255, 255),
    }
    for text, rgb in table.items():
        found = colour(text)
        assert found is not None
        assert np.abs(encode(found).astype(int) - rgb).max() <= 2, text


def known(text: str) -> np.ndarray:
    found = colour(text)
    assert found is not None, text
    return found


def test_names_and_codes() -> None:
    assert np.allclose(known("#4a3020"), decode((0x4A, 0x30, 0x20)))
    assert np.allclose(known("flat black"), known("black"))
    assert np.allclose(known("dark walnut"), known("satin dark walnut"))
    assert not np.allclose(known("dark walnut"), known("walnut"))
    assert colour("no such hue") is None


def test_a_measured_colour_is_what_the_wood_has_on_the_whole() -> None:
    wanted = decode((74, 48, 32))
    ramp = finished(PINE, (STAIN,), wanted)
    assert np.abs(ramp - wanted).sum(axis=1).min() < 1e-3


def test_stain_darkens_and_leaves_the_figure() -> None:
    bare, stained = finished(PINE, (), None), finished(PINE, (STAIN,), None)
    assert (luma(stained)[:200] < luma(bare)[:200]).all()
    early, late = 30, 30 + int(255 * PINE.contrast)
    assert luma(stained)[early] > 1.15 * luma(stained)[late]


def test_paint_hides_the_figure() -> None:
    painted = luma(finished(PINE, (CoatTable(kind="paint", colour="white"),), None))
    assert painted[:200].max() < 1.05 * painted[:200].min()


def test_the_last_sheen_counts() -> None:
    matt, gloss = CoatTable(kind="clear", sheen="matt"), CoatTable(kind="clear", sheen="high gloss")
    assert sheen((matt, gloss)) == sheen((gloss,))
    assert sheen((gloss,))[0] < sheen((matt,))[0], "gloss is less rough"
