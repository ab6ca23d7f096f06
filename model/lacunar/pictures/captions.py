"""Words on pictures: a strip at the foot, a headline, letters and labels that keep out of each other's way."""

from collections.abc import Iterable
from functools import lru_cache

import numpy as np
import numpy.typing as npt
from PIL import Image, ImageDraw, ImageFont

from lacunar.drawings import Outline, Stroke, Thing, cut_short, font_folders, simple, wrapped

Pixels = npt.NDArray[np.uint8]
Box = tuple[float, float, float, float]
RGB = tuple[int, int, int]

INK: RGB = (38, 36, 34)
PAPER: RGB = (250, 249, 246)
FAINT: RGB = (128, 124, 118)

FREETYPE = ImageFont.FreeTypeFont


@lru_cache(maxsize=32)
def font(size: int, bold: bool = False) -> FREETYPE | ImageFont.ImageFont:
    """A sans font of so many pixels: the one that comes with matplotlib, else Pillow's own."""
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    files = (folder / name for folder in font_folders())
    file = next((file for file in files if file.exists()), None)
    return ImageFont.truetype(str(file), size) if file else ImageFont.load_default(size)


def text_size(width: int) -> int:
    """Pixels of a text's height in a picture of this width: readable when the picture fills a page."""
    return max(11, round(width / 84))


def boxed(at: tuple[float, float], width: float, height: float) -> Box:
    """Round a middle; as wide as words take with their halo."""
    return at[0] - width / 2 - 3, at[1] - height / 2, at[0] + width / 2 + 3, at[1] + height / 2


def apart(one: Box, other: Box) -> bool:
    """Two boxes have nothing in common, not even an edge."""
    return one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]


def inside(box: Box, other: Box) -> bool:
    """The first lies in the other."""
    return other[0] <= box[0] and box[2] <= other[2] and other[1] <= box[1] and box[3] <= other[3]


class Canvas:
    """A picture being written on; remembers where words stand."""

    def __init__(self, image: Pixels) -> None:
        self.image = Image.fromarray(image).convert("RGB")
        self.draw = ImageDraw.Draw(self.image)
        self.size = text_size(self.image.width)
        self.taken: list[Box] = []

    @property
    def pixels(self) -> Pixels:
        """The picture with its words."""
        return np.asarray(self.image, dtype=np.uint8)

    def extent(self, text: str, bold: bool = False, scale: float = 1.0) -> tuple[float, float]:
        """Width and height of a text, pixels."""
        box = self.draw.textbbox((0, 0), text, font=font(round(self.size * scale), bold), anchor="ls")
        return box[2] - box[0], 1.25 * self.size * scale

    def free(self, box: Box) -> bool:
        """Whether a box lies in the picture and on no other words."""
        x0, y0, x1, y1 = box
        if x0 < 3 or y0 < 3 or x1 > self.image.width - 3 or y1 > self.image.height - 3:
            return False
        return all(apart(box, other) for other in self.taken)

    def text(
        self,
        at: tuple[float, float],
        text: str,
        *,
        bold: bool = False,
        scale: float = 1.0,
        ink: RGB = INK,
        halo: RGB | None = PAPER,
    ) -> Box:
        """Write a text with its middle at a point, whatever is there."""
        w, h = self.extent(text, bold, scale)
        box = boxed(at, w, h)
        self.draw.text(
            at,
            text,
            font=font(round(self.size * scale), bold),
            fill=ink,
            anchor="mm",
            stroke_width=0 if halo is None else max(1, round(self.size * 0.14)),
            stroke_fill=halo,
        )
        self.taken.append(box)
        return box

    def place(
        self, text: str, spots: Iterable[tuple[float, float]], *, bold: bool = False, scale: float = 1.0, ink: RGB = INK
    ) -> tuple[float, float] | None:
        """Write a text at the first spot where it is whole and alone; None where there is none."""
        w, h = self.extent(text, bold, scale)
        for x, y in spots:
            if self.free(boxed((x, y), w, h)):
                self.text((x, y), text, bold=bold, scale=scale, ink=ink)
                return x, y
        return None

    def replay(self, things: Iterable[Thing]) -> None:
        """Lines and areas of a drawing in pixels."""
        for thing in simple(things):
            if isinstance(thing, Outline):
                self.draw.polygon(thing.points, fill=thing.fill)
            elif isinstance(thing, Stroke):
                self.draw.line(thing.points, fill=thing.colour, width=round(thing.width))

    def headline(self, text: str) -> float:
        """A sentence across the top, in as many lines as it takes; returns its foot."""
        s, width = self.size, self.image.width
        face = font(round(1.1 * s), True)
        lines = wrapped(text.split(), width - 2 * s, face.getlength)
        foot = 0.8 * s + 1.6 * s * len(lines)
        self.draw.rectangle((0, 0, width, foot), fill=PAPER)
        for number, line in enumerate(lines):
            self.draw.text((s, 1.2 * s + 1.6 * s * number), line, font=face, fill=INK, anchor="lm")
        self.taken.append((0, 0, width, foot))
        return foot


def strip_height(width: int, remark: str = "") -> int:
    """Pixels of the strip at the foot of a picture; a long remark has lines of its own in it."""
    return round(2.0 * text_size(width)) * (1 + len(_own_lines(width, remark)))


def with_strip(image: Pixels, left: str, right: str = "") -> Pixels:
    """The picture with a strip under it: its name at the left, a remark at the right, or below where it is long."""
    height, width = image.shape[:2]
    s, line, below = text_size(width), strip_height(width), _own_lines(width, right)
    out = Image.new("RGB", (width, height + strip_height(width, right)), PAPER)
    out.paste(Image.fromarray(image), (0, 0))
    draw = ImageDraw.Draw(out)
    remark = "" if below else right
    draw.text((width - s, height + line / 2), remark, font=font(s), fill=FAINT, anchor="rm")
    room = width - 4 * s - draw.textlength(remark, font=font(s))
    name = cut_short(left, room, font(s, True).getlength)
    draw.text((s, height + line / 2), name, font=font(s, True), fill=INK, anchor="lm")
    for number, text in enumerate(below, 1):
        shown = cut_short(text, width - 2 * s, font(s).getlength)
        draw.text((s, height + (number + 0.4) * line), shown, font=font(s), fill=FAINT, anchor="lm")
    return np.asarray(out, dtype=np.uint8)


def _own_lines(width: int, remark: str) -> tuple[str, ...]:
    """Lines of a remark that is too long to stand beside a name; none where it is not."""
    face, space = font(text_size(width)), width - 2 * text_size(width)
    return tuple(wrapped(remark.split(), space, face.getlength)) if face.getlength(remark) > 0.55 * space else ()
