"""Signs for what is seen and what is hidden, told apart by shape and by colour, and how they are stamped."""

from collections.abc import Callable
from typing import Final

from PIL import Image, ImageDraw

from lacunar.analysis import Fate
from lacunar.pictures.captions import PAPER, RGB, Canvas

FINER: Final = 4
"""Drawn so many times larger and averaged down, for smooth edges."""

FATES: Final[dict[Fate, RGB]] = {"seen": (205, 38, 38), "plugged": (226, 146, 16), "hidden": (20, 92, 160)}
"""Told apart with any eyes. Source: after the colours of Okabe and Ito, 2008, from memory."""

DARK: Final = (28, 26, 24)

Sign = Callable[[ImageDraw.ImageDraw, float], None]
"""Draws itself round the middle of a square of so many pixels."""


def _seen(draw: ImageDraw.ImageDraw, s: float) -> None:
    """A triangle with a hole: it warns."""
    draw.polygon([(0.50 * s, 0.02 * s), (0.99 * s, 0.92 * s), (0.01 * s, 0.92 * s)], fill=FATES["seen"], outline=DARK)
    draw.ellipse((0.38 * s, 0.46 * s, 0.62 * s, 0.70 * s), fill=PAPER)


def _plugged(draw: ImageDraw.ImageDraw, s: float) -> None:
    """A round plug in a ring."""
    draw.ellipse((0.04 * s, 0.04 * s, 0.96 * s, 0.96 * s), fill=DARK)
    draw.ellipse((0.12 * s, 0.12 * s, 0.88 * s, 0.88 * s), fill=PAPER)
    draw.ellipse((0.24 * s, 0.24 * s, 0.76 * s, 0.76 * s), fill=FATES["plugged"])


def _hidden(draw: ImageDraw.ImageDraw, s: float) -> None:
    """A closed square."""
    draw.rectangle((0.13 * s, 0.13 * s, 0.87 * s, 0.87 * s), fill=FATES["hidden"], outline=DARK)


SIGNS: Final[dict[Fate, Sign]] = {"seen": _seen, "plugged": _plugged, "hidden": _hidden}


def stamp(sheet: Canvas, at: tuple[float, float], radius: float, fate: Fate) -> None:
    """A sign with its middle at a point, whatever is there."""
    size = max(5, round(2 * radius))
    tile = Image.new("RGBA", (size * FINER, size * FINER), (0, 0, 0, 0))
    SIGNS[fate](ImageDraw.Draw(tile), size * FINER)
    tile = tile.resize((size, size), Image.Resampling.BOX)
    sheet.image.paste(tile, (round(at[0] - size / 2), round(at[1] - size / 2)), tile)
