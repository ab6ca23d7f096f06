"""A page as DXF, for CAD: at true size, distances as dimensions. The same page gives the same text."""

# pyright: basic
# What ezdxf takes and gives is partly untyped.

import io
import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any, Final

from lacunar.drawings.drawing import WHITE, Dimension, Disc, Hatch, Layer, Outline, Page, Spot, Stroke, Text, Thing
from lacunar.drawings.lettering import POINT, folded
from lacunar.drawings.svg import CAPITALS, LEADING
from lacunar.units import INCH, Units

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.layout import Modelspace

COLOURS: Final[dict[Layer, int]] = {"sheet": 7, "room": 7, "wood": 30, "waste": 8, "measures": 5, "boxes": 7}
"""AutoCAD colour of each layer. Own choice; nothing is told by colour alone."""
PENS: Final = (0, 5, 9, 13, 15, 18, 20, 25, 30, 35, 40, 50, 53, 60, 70, 80, 90, 100, 106, 120, 140, 158, 200, 211)
"""Hundredths of a mm that a line may be wide. Source: DXF reference, group code 370."""
STYLE: Final = "LACUNAR"
MOST_LETTERS: Final = 250
"""Of one text; older readers take no more. Source: DXF reference, group code 1."""


def dxf_text(page: Page, units: Units) -> str:
    """The page as a DXF document, R2010; what is drawn is at true size, from the page's lower left corner.

    Args:
        page: its scale says how small its things are.
        units: of the document: "in" or "mm".
    """
    from ezdxf import options  # pyright: ignore[reportPrivateImportUsage]
    from ezdxf.filemanagement import new

    meta, options.write_fixed_meta_data_for_testing = options.write_fixed_meta_data_for_testing, True
    try:
        document = new("R2010")
        _Writer(document, page, units).write()
        out = io.StringIO(newline="\n")
        document.write(out)
    finally:
        options.write_fixed_meta_data_for_testing = meta
    return out.getvalue()


class _Writer:
    """One document: the place of things on the page turned into places of the model."""

    def __init__(self, document: "Drawing", page: Page, units: Units) -> None:
        self.document, self.page = document, page
        self.size = 1.0 / page.scale / (INCH if units == "in" else 1.0)
        """Units of the document for one mm of paper."""
        document.header["$INSUNITS"] = 1 if units == "in" else 4
        document.header["$MEASUREMENT"] = 0 if units == "in" else 1
        for layer, colour in COLOURS.items():
            document.layers.add(layer, color=colour)
        document.styles.add(STYLE, font="DejaVuSans.ttf")
        document.linetypes.add("DASHED", pattern=[2.7 * self.size, 1.6 * self.size, -1.1 * self.size])
        style = document.dimstyles.add(STYLE)
        style.dxf.dimtxsty = STYLE
        self.space: Modelspace = document.modelspace()

    def write(self) -> None:
        """Every thing, in order."""
        for thing in self.page.things:
            self._thing(thing)

    def _thing(self, thing: Thing) -> None:
        if isinstance(thing, Text):
            self._text(thing)
        elif isinstance(thing, Disc):
            self._disc(thing)
        elif isinstance(thing, Dimension) and math.dist(*thing.points) > 0.0:
            self._dimension(thing)
        elif isinstance(thing, Hatch):
            hatch = self.space.add_hatch(dxfattribs={"layer": thing.layer})
            hatch.set_pattern_fill("ANSI31", scale=thing.pitch * self.size / math.sqrt(2.0) / 3.175)
            hatch.paths.add_polyline_path([self._spot(spot) for spot in thing.points], is_closed=True)
            self._line(thing)
        elif not isinstance(thing, Dimension):
            self._line(thing)

    def _spot(self, spot: Spot) -> Spot:
        return spot[0] * self.size, (self.page.size[1] - spot[1]) * self.size

    def _pen(self, thing: Stroke | Disc) -> dict[str, Any]:
        width = min(PENS, key=lambda pen: abs(pen - 100.0 * thing.width))
        dashed = isinstance(thing, Stroke) and thing.dashed
        return {"layer": thing.layer, "lineweight": width} | ({"linetype": "DASHED"} if dashed else {})

    def _line(self, thing: Stroke) -> None:
        spots, closed = [self._spot(spot) for spot in thing.points], isinstance(thing, Outline)
        if isinstance(thing, Outline) and thing.fill not in ("", WHITE):
            self._fill(thing.fill, thing.layer).paths.add_polyline_path(spots, is_closed=True)
        if thing.width:
            self.space.add_lwpolyline(spots, close=closed, dxfattribs=self._pen(thing))

    def _fill(self, colour: str, layer: str) -> Any:
        hatch = self.space.add_hatch(dxfattribs={"layer": layer})
        hatch.rgb = (int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))
        return hatch

    def _disc(self, disc: Disc) -> None:
        x, y = self._spot(disc.at)
        radius = disc.radius * self.size
        self.space.add_circle((x, y), radius, dxfattribs=self._pen(disc))  # a filled one would be as dear as a sheet

    def _text(self, text: Text) -> None:
        from ezdxf.enums import TextEntityAlignment

        em = text.size * POINT
        lines, top = [text.text], text.at[1]
        if text.measure is not None:
            lines = folded(text.text.split(), text.measure, text.size, bold=text.bold)
            top += CAPITALS * em / 2.0
        anchors = {
            "left": TextEntityAlignment.MIDDLE_LEFT,
            "centre": TextEntityAlignment.MIDDLE_CENTER,
            "right": TextEntityAlignment.MIDDLE_RIGHT,
        }
        for i, line in enumerate(lines):
            at = self._spot((text.at[0], top + i * (CAPITALS + LEADING) * em))
            attribs = {"layer": text.layer, "style": STYLE, "rotation": math.degrees(text.turn)}
            entity = self.space.add_text(plain(line), height=CAPITALS * em * self.size, dxfattribs=attribs)
            entity.set_placement(at, align=anchors[text.anchor])

    def _dimension(self, line: Dimension) -> None:
        first, second = (self._spot(spot) for spot in line.points)
        label, size = line.label, self.size
        height = CAPITALS * (label.size if label else 8.0) * POINT * size
        override = {
            "dimtxt": height,
            "dimtsz": line.tick * size,
            "dimasz": max(line.tick, 0.5) * size,
            "dimgap": 0.3 * size,
            "dimexo": 0.0,
            "dimexe": 0.0,
            "dimse1": 1,
            "dimse2": 1,
        }
        made = self.space.add_aligned_dim(
            p1=first,
            p2=second,
            distance=0.0,
            dimstyle=STYLE,
            text=plain(label.text) if label else " ",
            override=override,
            dxfattribs={"layer": line.layer, "text_rotation": math.degrees(label.turn) if label else 0.0},
        )
        if label is not None:
            shift = {"left": 0.5, "centre": 0.0, "right": -0.5}[label.anchor] * _wide(label)
            c, s = math.cos(label.turn), math.sin(label.turn)
            made.set_location(self._spot((label.at[0] + c * shift, label.at[1] - s * shift)))
        made.render()


def _wide(label: Text) -> float:
    from lacunar.drawings.lettering import text_width

    return text_width(label.text, label.size, bold=label.bold)


def plain(text: str) -> str:
    """A text that no reader takes for codes of the format: what begins them is set apart or replaced."""
    said = "".join(_letters(text))
    return said if len(said) <= MOST_LETTERS else said[: MOST_LETTERS - 3] + "..."


def _letters(text: str) -> Iterator[str]:
    before = ""
    for letter in text:
        if letter == "%" == before:
            yield " "
        yield {"\\": "/", "{": "(", "}": ")", "^": "'"}.get(letter, letter if letter.isprintable() else " ")
        before = letter
