"""Colours of parts in model files: the wood of their species, lighter or darker by kind. sRGB, 0 to 1."""

from lacunar.materials import find_species
from lacunar.parts import Part, PartKind

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

_UNKNOWN: Colour = (0.80, 0.68, 0.50)
"""A pale softwood, where the species is not known. No source."""


def colour_of(part: Part) -> Colour:
    """The colour of a part's species in the shade of its kind."""
    species, shade = find_species(part.species), _SHADES[part.kind]
    r, g, b = _UNKNOWN if species is None else _of_hex(species.colour)
    return (r * shade, g * shade, b * shade)


def linear(colour: Colour) -> Colour:
    """The same colour as shares of light.

    Source: IEC 61966-2-1 (sRGB), the transfer function, from memory.
    """
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in colour)
    return (r, g, b)


def _of_hex(text: str) -> Colour:
    r, g, b = (int(text[k : k + 2], 16) / 255.0 for k in (1, 3, 5))
    return (r, g, b)
