"""The ceiling cut open, drawn flat: one section across a coffer and two details at a larger scale."""

import zlib
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
from PIL import Image, ImageDraw

from lacunar.drawings import PlanView, arrowed, fitted
from lacunar.pictures.captions import INK, PAPER, RGB, Box, Canvas, Pixels, apart, boxed, font, inside, text_size
from lacunar.scene import Appearance, CutFace, CutView, FaceKind, Measure, Scene, encode

FINER = 2
"""Drawn so many times larger and averaged down, for smooth edges."""

INK_CODE = "#{:02x}{:02x}{:02x}".format(*INK)

LINE: RGB = (44, 38, 32)

PLAIN: frozenset[FaceKind] = frozenset({"old ceiling", "joist", "wall"})
"""Kinds without a grain that words would be lost on."""

_Place = tuple[tuple[float, float], tuple[float, float], tuple[float, float]]
"""Of a dimension: both ends of its line, and the middle of its number."""

VEIL = 0.55
"""Share of paper in what lies beyond the cut."""

ALIKE = 12
"""Codes. Colours that differ by no more have one swatch."""

ORDER: tuple[FaceKind, ...] = ("beam", "moulding", "slat", "trim", "furring", "old ceiling", "joist", "wall", "beyond")


@dataclass(frozen=True, slots=True, kw_only=True)
class Panel:
    """A part of the sheet with a cut in it, one scale both ways. `box`: left, top, right, bottom, pixels."""

    cut: CutView
    box: tuple[int, int, int, int]
    view: PlanView

    @staticmethod
    def of(cut: CutView, box: tuple[int, int, int, int]) -> "Panel":
        """As large as goes."""
        (x0, y0, x1, y1), (u0, u1, z0, z1) = box, cut.window
        return Panel(cut=cut, box=box, view=fitted(((u0, z0), (u1, z1)), (x0, y0), (x1 - x0, y1 - y0)))

    def bounds(self, face: CutFace) -> Box:
        """Of a face, as far as it lies in the panel; empty where right is left of left."""
        xs, ys = zip(*self.view.spots(face.ring), strict=True)
        x0, y0, x1, y1 = self.box
        return max(min(xs), x0), max(min(ys), y0), min(max(xs), x1), min(max(ys), y1)

    def holds(self, box: Box) -> bool:
        """A box of words lies in the panel."""
        x0, y0, x1, y1 = self.box
        return inside(box, (x0 + 4, y0 + 2, x1 - 4, y1 - 2))

    def is_even(self, box: Box) -> bool:
        """A box of words lies on nothing that is cut but what is plain and holds it whole."""
        return all(
            apart(box, own) or (face.kind in PLAIN and inside(box, own))
            for face in self.cut.faces
            if face.kind != "beyond" and not _is_nothing(own := self.bounds(face))
        )

    def is_bare(self, box: Box) -> bool:
        """And on no edge of what lies beyond."""
        beyond = [own for face in self.cut.faces if face.kind == "beyond" and not _is_nothing(own := self.bounds(face))]
        return self.is_even(box) and all(apart(box, own) or inside(box, own) for own in beyond)


def _is_nothing(box: Box) -> bool:
    return box[2] <= box[0] or box[3] <= box[1]


def _wood(scale: float, face: CutFace, material: Appearance, size: tuple[int, int]) -> Image.Image:
    """A face's wood: end grain where the saw went across, long grain where it went along; paint is even."""
    w, h = size
    if material.boards == 1:
        r, g, b = (int(v) for v in encode(material.mean))
        return Image.new("RGB", size, (r, g, b))
    rows, columns = material.albedo.shape[:2]
    board = columns // material.boards
    across, along = material.size[0] / columns, material.size[1] / rows  # mm to a pixel
    if face.end_grain:
        tile, down, right = material.albedo[: round(board * across / along), -board:], along, across
    else:
        k = zlib.crc32(face.name.encode()) % (material.boards - 1) * board
        tile, down, right = material.albedo[:, k : k + board].transpose(1, 0, 2), across, along
    high, wide = round(h / scale / down) + 1, round(w / scale / right) + 1
    tile = np.tile(tile, (high // tile.shape[0] + 1, wide // tile.shape[1] + 1, 1))[:high, :wide]
    return Image.fromarray(np.ascontiguousarray(tile)).resize(size, Image.Resampling.BICUBIC)


def _fill(image: Image.Image, panel: Panel, scene: Scene, face: CutFace) -> None:
    ring = panel.view.spots(face.ring)
    x0, y0, x1, y1 = panel.bounds(face)
    left, top, right, low = max(panel.box[0], int(x0)), max(panel.box[1], int(y0)), int(x1) + 1, int(y1) + 1
    right, low = min(panel.box[2], right), min(panel.box[3], low)
    if left >= right or top >= low:
        return
    mask = Image.new("L", (right - left, low - top), 0)
    ImageDraw.Draw(mask).polygon([(x - left, y - top) for x, y in ring], fill=255)
    image.paste(_wood(panel.view.scale, face, scene.materials[face.material], mask.size), (left, top), mask)
    draw = ImageDraw.Draw(image)
    if face.kind == "beyond":
        image.paste(Image.new("RGB", mask.size, PAPER), (left, top), mask.point(lambda v: v * VEIL))
        draw.line([*ring, ring[0]], fill=(150, 140, 128), width=FINER)
    else:
        draw.line([*ring, ring[0]], fill=LINE, width=2 * FINER, joint="curve")
    if face.kind == "joist":
        for pair in (ring[::2], ring[1::2]):
            draw.line(pair, fill=(150, 132, 100), width=FINER)
    if face.name.startswith("joist") and min(y for _, y in ring) < panel.box[1] - 1:
        _break(draw, (left, right), panel.box[1])


def _break(draw: ImageDraw.ImageDraw, across: tuple[int, int], top: int) -> None:
    """A ragged edge where something goes on out of the panel."""
    step = 9 * FINER
    xs = [*range(across[0], across[1] - 1, step), across[1] - 1]
    ragged = [(x, top + (2 if k % 2 else 7) * FINER) for k, x in enumerate(xs)]
    draw.polygon([(xs[0], top - 1), *ragged, (xs[-1], top - 1)], fill=PAPER)
    draw.line(ragged, fill=(150, 140, 128), width=FINER)


def _drawn(scene: Scene, cut: CutView, size: tuple[int, int]) -> Image.Image:
    """A panel without words."""
    big = Image.new("RGB", (size[0] * FINER, size[1] * FINER), PAPER)
    panel = Panel.of(cut, (0, 0, *big.size))
    for face in cut.faces:
        _fill(big, panel, scene, face)
    return big.resize(size, Image.Resampling.BOX)


def section(scene: Scene, size: tuple[int, int]) -> Pixels:
    """The picture."""
    width, height = size
    sheet = Canvas(np.full((height, width, 3), PAPER, dtype=np.uint8))
    if not scene.cuts:
        sheet.text((width / 2, height / 2), "No coffer to cut through.")
        return sheet.pixels
    panels = panels_of(scene, size)
    for panel in panels:
        x0, y0, x1, y1 = panel.box
        sheet.image.paste(_drawn(scene, panel.cut, (x1 - x0, y1 - y0)), (x0, y0))
    for panel in panels:
        _write(sheet, scene, panel)
    _legend(sheet, scene, panels[0].box)
    return sheet.pixels


def panels_of(scene: Scene, size: tuple[int, int]) -> list[Panel]:
    """Where each cut stands on a sheet of a size."""
    return [Panel.of(cut, box) for cut, box in zip(scene.cuts, _boxes(scene, size, text_size(size[0])), strict=True)]


def _boxes(scene: Scene, size: tuple[int, int], s: int) -> Iterator[tuple[int, int, int, int]]:
    """Where the whole stands, and two details below it; `s` is the size of text."""
    width, height = size
    head = round(2.4 * s)
    u0, u1, z0, z1 = scene.cuts[0].window
    foot = head + min(round(0.50 * height), round((z1 - z0) * (width - 4 * s) / (u1 - u0)))
    yield 2 * s, head, width - 2 * s, foot
    wide = (width - 6 * s) // 2
    for k in range(len(scene.cuts) - 1):
        left = 2 * s + k * (wide + 2 * s)
        yield left, foot + round(4.6 * s), left + wide, height - round(1.2 * s)


def _legend(sheet: Canvas, scene: Scene, box: Box) -> None:
    """Swatches in the colours of what is drawn, in one row over the first panel, from the right."""
    s = sheet.size
    x, y = box[2], box[1] - 1.1 * s
    for colours, text in reversed(_swatches(scene, scene.cuts[0])):
        x -= sheet.extent(text)[0]
        sheet.draw.text((x, y), text, font=font(s), fill=INK, anchor="lm")
        x -= 1.5 * s
        for k, colour in enumerate(colours):
            left = x + k * s / len(colours)
            sheet.draw.rectangle((left, y - 0.5 * s, x + s, y + 0.5 * s), fill=colour)
        sheet.draw.rectangle((x, y - 0.5 * s, x + s, y + 0.5 * s), outline=LINE)
        x -= 1.2 * s


def _swatches(scene: Scene, cut: CutView) -> list[tuple[list[RGB], str]]:
    """Each colour once, with all that has it; then those that are seen beyond the cut."""
    words: dict[RGB, dict[str, None]] = {}
    beyond: dict[RGB, dict[str, None]] = {}
    for face in sorted(cut.faces, key=lambda f: ORDER.index(f.kind)):
        known, colour = (
            (beyond, _pale(_colour(scene, face))) if face.kind == "beyond" else (words, _colour(scene, face))
        )
        alike = next((one for one in known if np.abs(np.subtract(one, colour)).max() <= ALIKE), colour)
        known.setdefault(alike, {})[face.kind] = None
    rows = [([colour], ", ".join(told)) for colour, told in words.items()]
    return [*rows, (list(beyond), "beyond the cut")] if beyond else rows


def _colour(scene: Scene, face: CutFace) -> RGB:
    """The mean of what a face is made of."""
    r, g, b = (int(v) for v in encode(scene.materials[face.material].mean))
    return r, g, b


def _pale(rgb: RGB) -> RGB:
    """As what lies beyond the cut is drawn."""
    r, g, b = (round((1.0 - VEIL) * v + VEIL * p) for v, p in zip(rgb, PAPER, strict=True))
    return r, g, b


def _write(sheet: Canvas, scene: Scene, panel: Panel) -> None:
    x0, y0, x1, y1 = panel.box
    s = sheet.size
    sheet.draw.rectangle((x0, y0, x1, y1), outline=(190, 185, 176))
    sheet.draw.text((x0, y0 - 1.1 * s), panel.cut.title, font=font(s, True), fill=INK, anchor="lm")
    sheet.taken.append((x0, y0 - 1.8 * s, x1, y0 - 0.4 * s))
    lines: list[Box] = []
    for measure in panel.cut.measures:
        lines += _dimension(sheet, scene, panel, measure, lines)
    _names(sheet, panel)


def _dimension(sheet: Canvas, scene: Scene, panel: Panel, measure: Measure, lines: Sequence[Box]) -> tuple[Box, ...]:
    """A line with arrows, the number where there is room for it and nothing under it, and lines that lead there.

    Returns:
        Where the lines that lead there are: no number stands on one.
    """
    text = f"{measure.name} {scene.tape.text(measure.size)}"
    (w, h), s = sheet.extent(text), sheet.size
    places = [spot for step in range(8) for spot in _spots(panel, measure, step, (w, s))]
    for is_free in (panel.is_bare, panel.is_even):
        for a, b, at in places:
            level = a[1] == b[1]
            # A short one has its arrows outside.
            tail = 0.9 * s if b[0] - a[0] + b[1] - a[1] <= 1.6 * s else 2
            across, along = (tail, 2) if level else (2, tail)
            own, box = (a[0] - across, a[1] - along, b[0] + across, b[1] + along), boxed(at, w, h)
            if not (panel.holds(box) and is_free(box) and sheet.free(own) and sheet.free(box)):
                continue
            if not all(apart(box, line) for line in lines):
                continue
            sheet.text(at, text)
            gap = (box[0], box[2]) if level and a[0] < at[0] < b[0] else None
            ends = sorted(panel.view.spots((measure.start, measure.end)), key=lambda p: p[0 if level else 1])
            sheet.replay(arrowed((ends[0], ends[1]), (a, b), s, (max(1, s // 14), INK_CODE), gap))
            sheet.taken.append(own)
            return tuple(
                (min(p[0], q[0]) - 1, min(p[1], q[1]) - 1, max(p[0], q[0]) + 1, max(p[1], q[1]) + 1)
                for p, q in zip(ends, (a, b), strict=True)
            )
    return ()


def _spots(panel: Panel, measure: Measure, step: int, size: tuple[float, float]) -> Iterator[_Place]:
    """A dimension line so many steps off, and where its number may stand on it or beside it."""
    (w, s), level = size, measure.side in ("above", "below")
    sign = -1.0 if measure.side in ("above", "left") else 1.0
    off = sign * s * (0.9 + 1.55 * step)
    p, q = sorted(panel.view.spots((measure.start, measure.end)), key=lambda spot: spot[0 if level else 1])
    if level:
        y = (min if sign < 0 else max)(p[1], q[1]) + off
        a, b = (p[0], y), (q[0], y)
        on = [(a[0] + b[0]) / 2] if b[0] - a[0] > w + 2 * s else []
        for x in (*on, b[0] + w / 2 + 0.9 * s, a[0] - w / 2 - 0.9 * s):
            yield a, b, (x, y)
    else:
        x = (min if sign < 0 else max)(p[0], q[0]) + off
        a, b = (x, p[1]), (x, q[1])
        short = b[1] - a[1] <= 1.5 * s
        for y in ((a[1] + b[1]) / 2, b[1] - 0.6 * s, a[1] + 0.6 * s, *((a[1] - 0.8 * s,) if short else ())):
            # Between the two lines that lead to it there must be room.
            for way in (1.0, -1.0) if not short else (1.0,):
                yield a, b, (x + way * sign * (w / 2 + 0.6 * s), y)


NAME = 0.92
"""Size of a name among sizes of text."""


def _names(sheet: Canvas, panel: Panel) -> None:
    """One name for each kind of thing cut, on it if there is room, else near it with a line to it."""
    # Furring is thin, and a dimension has its name already.
    seen = {measure.name for measure in panel.cut.measures if measure.name == "furring"}
    # The old ceiling has its name over it, all else under it, and the other way round where there is no room.
    for first in (True, False):
        for face in _by_size(panel):
            word = face.word or face.kind
            word = "beam " + face.name if face.kind == "beam" else "joist" if face.name.startswith("joist") else word
            x0, y0, x1, y1 = panel.bounds(face)
            if word in seen or word == "beyond" or x1 - x0 < 3 or y1 - y0 < 3:
                continue
            if _named(sheet, panel, face, word, over=first == (face.kind == "old ceiling")):
                seen.add(word)


def _named(sheet: Canvas, panel: Panel, face: CutFace, word: str, *, over: bool) -> bool:
    """Write a face's name on it or under it, or over it, if there is a place for it."""
    x0, y0, x1, y1 = own = panel.bounds(face)
    (w, h), cx, cy = sheet.extent(word, scale=NAME), (x0 + x1) / 2, (y0 + y1) / 2
    for share in (0.5, 0.3, 0.7, 0.15, 0.85):
        box = boxed((x0 + share * (x1 - x0), cy), w, 0.9 * h)
        if inside(box, own) and panel.holds(box) and sheet.free(box):
            sheet.text((x0 + share * (x1 - x0), cy), word, scale=NAME)
            return True
    if face.name.startswith("joist"):
        return False
    s, thin = sheet.size, min(0.5 * (y1 - y0), 0.5 * sheet.size)
    for by in (0.9 * h, 1.8 * h, 2.7 * h):
        y, end = (y0 - by, y0 + thin) if over else (y1 + by, y1 - thin)
        for x, shift in product((cx, x0 + 0.3 * (x1 - x0), x0 + 0.7 * (x1 - x0)), (0.0, 0.4 * w, -0.4 * w)):
            box = boxed((x + shift, y), w, 0.8 * h)
            foot = y - 0.45 * h if y > end else y + 0.45 * h
            line = (x - 2, min(foot, end), x + 2, max(foot, end))
            if panel.holds(box) and panel.is_even(box) and sheet.free(box) and sheet.free(line):
                sheet.text((x + shift, y), word, scale=NAME)
                sheet.draw.line((x, foot, x, end), fill=INK, width=max(1, s // 14))
                sheet.draw.ellipse((x - 2, end - 2, x + 2, end + 2), fill=INK)
                sheet.taken.append(line)
                return True
    return False


def _by_size(panel: Panel) -> Iterable[CutFace]:
    u0, u1, _, _ = panel.cut.window

    def visible(face: CutFace) -> float:
        us = [u for u, _ in face.ring]
        return max(0.0, min(max(us), u1) - max(min(us), u0))

    return sorted(panel.cut.faces, key=visible, reverse=True)
