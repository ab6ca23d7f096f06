"""Colours as people write them, and what stain, clear coats and paint do to the colour of wood."""

import re

import numpy as np
import numpy.typing as npt

from lacunar.config import CoatTable
from lacunar.scene.species import Figure, figure_of

RGB = tuple[int, int, int]
Linear = npt.NDArray[np.float64]

# Source: own matches by eye of stain samples on pine; no measurement.
STAINS: dict[str, RGB] = {
    "tobacco brown": (100, 65, 40),
    "tobacco": (100, 65, 40),
    "dark walnut": (72, 46, 30),
    "walnut": (100, 66, 42),
    "ebony": (38, 32, 29),
    "black": (24, 23, 23),
    "espresso": (52, 36, 28),
    "mahogany": (98, 46, 32),
    "cherry": (134, 72, 44),
    "chestnut": (110, 66, 38),
    "golden oak": (176, 122, 64),
    "dark oak": (88, 58, 36),
    "oak": (156, 110, 62),
    "honey": (190, 134, 70),
    "amber": (196, 138, 70),
    "maple": (200, 152, 94),
    "pine": (214, 172, 116),
    "natural": (222, 190, 142),
    "brown": (104, 68, 44),
    "red": (130, 44, 34),
    "white": (238, 236, 230),
    "cream": (238, 228, 206),
    "ivory": (240, 234, 216),
    "grey": (140, 136, 130),
    "gray": (140, 136, 130),
    "slate": (84, 92, 100),
    "green": (84, 104, 80),
    "sage": (150, 160, 138),
    "navy": (36, 48, 74),
    "blue": (74, 98, 130),
}

_LAB_TO_XYZ = np.array([[1, 1 / 500, 0], [1, 0, 0], [1, 0, -1 / 200]])
_XYZ_TO_LINEAR = np.array(  # D50 to linear sRGB, Bradford. Source: IEC 61966-2-1 with the ICC profile's adaptation.
    [[3.1338561, -1.6168667, -0.4906146], [-0.9787684, 1.9161415, 0.0334540], [0.0719453, -0.2289914, 1.4052427]]
)
_D50 = np.array([0.96422, 1.0, 0.82521])


def decode(srgb: npt.ArrayLike) -> Linear:
    """Linear light from sRGB codes 0 to 255. Source: IEC 61966-2-1."""
    c = np.asarray(srgb, dtype=float) / 255.0
    return np.where(c <= 0.04045, c / 12.92, ((c + 0.055) / 1.055) ** 2.4)


def encode(linear: npt.ArrayLike) -> npt.NDArray[np.uint8]:
    """SRGB codes from linear light, clipped to 0 to 1. Source: IEC 61966-2-1."""
    c = np.clip(np.asarray(linear, dtype=float), 0.0, 1.0)
    out = np.where(c <= 0.0031308, 12.92 * c, 1.055 * c ** (1 / 2.4) - 0.055)
    return (out * 255.0 + 0.5).astype(np.uint8)


def _lab(lightness: float, a: float, b: float) -> Linear:
    f = _LAB_TO_XYZ @ np.array([(lightness + 16) / 116, a, b])
    xyz = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * _D50
    return np.clip(_XYZ_TO_LINEAR @ xyz, 0.0, 1.0)


def _hex(text: str) -> Linear:
    return decode([*bytes.fromhex(text.removeprefix("#"))])


def colour(text: str) -> Linear | None:
    """Linear colour of "#4a3020", "lab(38, 12, 20)" or a name ("tobacco brown"); None where nobody knows it."""
    words = text.strip().lower()
    if re.fullmatch(r"#[0-9a-f]{6}", words):
        return _hex(words)
    numbers = re.findall(r"-?\d+(?:\.\d+)?", words)
    if words.startswith("lab") and len(numbers) == 3:
        return _lab(*map(float, numbers))
    known = [name for name in STAINS if re.search(rf"\b{name}\b", words)]
    return decode(STAINS[max(known, key=len)]) if known else None


def _stained(ramp: Linear, body: Linear, target: Linear, hide: float) -> Linear:
    """A stain is a filter: it multiplies, so the figure stays; `hide` is the share of pigment lying on top."""
    filtered = ramp * np.minimum(target / body, 1.0)
    return (1 - hide) * filtered + hide * target


def _bare(figure: Figure) -> tuple[Linear, int]:
    """Colours of a wood's grey image, shape (256, 3), and the grey that most of it has."""
    at = np.linspace(0.0, 1.0, 256)
    knots = [_hex(text) for text in (figure.pale, figure.deep, figure.dark)]
    ramp = np.stack([np.interp(at, (0.1, 0.1 + figure.contrast, 1.0), [k[c] for k in knots]) for c in range(3)], axis=1)
    return ramp, int(255 * (0.12 + 0.35 * figure.contrast))


def wood_colour(species: str) -> Linear:
    """Linear colour of a species, bare and planed, as a whole."""
    ramp, usual = _bare(figure_of(species))
    return ramp[usual]


def finished(figure: Figure, coats: tuple[CoatTable, ...], measured: Linear | None) -> Linear:
    """Linear colours of a wood's grey image from 0 to 255, shape (256, 3), with its finish on.

    Args:
        figure: of the wood.
        coats: in order.
        measured: colour of the finished surface, as a whole; overrules the coats.
    """
    ramp, usual = _bare(figure)
    if measured is not None:
        return np.minimum(ramp * (measured / ramp[usual]), 1.0)
    for coat in coats:
        target = colour(coat.colour) if coat.colour else None
        if target is None:
            # Oil and varnish deepen bare wood a little and warm it.
            ramp = ramp**1.06 * np.array([0.97, 0.93, 0.85])
        elif "paint" in coat.kind or "enamel" in coat.kind:
            ramp = 0.97 * target + 0.03 * target * ramp / ramp[usual]
        else:
            hide = 0.5 if "wash" in coat.kind else 0.22 if "gel" in coat.kind else 0.08
            ramp = _stained(ramp, ramp[usual], target, hide)
    return ramp


# How far a window's reflection is smeared and how strong it is. Source: tuned by eye.
SHEENS: dict[str, tuple[float, float]] = {
    "matt": (0.75, 0.25),
    "matte": (0.75, 0.25),
    "flat": (0.8, 0.2),
    "eggshell": (0.6, 0.5),
    "satin": (0.45, 0.6),
    "semi-gloss": (0.25, 1.0),
    "gloss": (0.12, 1.1),
}


def sheen(coats: tuple[CoatTable, ...]) -> tuple[float, float]:
    """Roughness and strength of the reflection of the last coat that has a sheen; bare wood is dull."""
    for coat in reversed(coats):
        words = (coat.sheen or "").lower().replace("semigloss", "semi-gloss")
        known = [name for name in SHEENS if name in words]
        if known:
            return SHEENS[max(known, key=len)]
    return (0.6, 0.45) if coats else (0.7, 0.25)
