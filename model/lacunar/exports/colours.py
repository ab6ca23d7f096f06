"""Colours of parts in model files: the wood of their species, lighter or darker by kind. sRGB, 0 to 1."""

from lacunar.parts import Part, PartKind
from lacunar.scene import encode, vector, wood_colour

Colour = tuple[float, float, float]

_SHADES: dict[PartKind, float] = {
    "existing beam": 0.45,
    "main beam": 0.62,
    "cross beam": 0.70,
    "half beam": 0.66,
    "moulding": 0.92,
    "slat": 1.0,
    "trim": 0.82,
    "furring": 0.88,
    "ledger": 0.76,
    "plug": 0.55,
}
"""Share of the wood's own colour. Chosen by eye, so that the kinds tell apart in a bare viewer; no source."""


def colour_of(part: Part) -> Colour:
    """The colour of a part's species, as in pictures, in the shade of its kind."""
    return vector(encode(wood_colour(part.species)) / 255.0 * _SHADES[part.kind])
