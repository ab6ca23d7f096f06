"""The ceiling cut open, drawn flat: one section across a coffer and two details at a larger scale."""

import zlib
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
from PIL import Image, ImageDraw

from lacunar.drawings import PlanView, arrowed, fitted
from lacunar.pictures.captions import INK, PAPER, RGB, Box, Canvas, Pixels, font
from lacunar.scene import Appearance, CutFace, CutView, Measure, Scene

FINER = 2
"""Drawn so many times larger and averaged down, for smooth edges."""

INK_CODE = "#{:02x}{:02x}{:02x}".format(*INK)

PLASTER: RGB = (222, 218, 208)
WALL: RGB = (236, 232, 222)
JOIST: RGB = (214, 196, 160)
LINE: RGB = (44, 38, 32)
PLAIN: dict[str, RGB] = {"old ceiling": PLASTER, "joist": JOIST, "wall": WALL, "beyond": JOIST}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Panel:
    """A part of the sheet with a cut in it, one scale both ways. `box`: left, top, right, bottom, pixels."""

    cut: CutView
    box: tuple[int, int, int, int]
    view: PlanView

    @staticmethod
    def of(cut: CutView, box: tuple[int, int, int, int]) -> "_Panel":
        (x0, y0, x1, y1), (u0, u1, z0, z1) = box, cut.window
        return _Panel(cut=cut, box=box, view=fitted(((u0, z0), (u1, z1)), (x0, y0), (x1 - x0, y1 - y0)))

    def bounds(self, face: CutFace) -> Box:
        """Of a face, as far as it lies in the panel; empty where right is left of left."""
        xs, ys = zip(*self.view.spots(face.ring), strict=True)
        x0, y0, x1, y1 = self.box
        return max(min(xs), x0), max(min(ys), y0), min(max(xs), x1), min(max(ys), y1)


def _wood(scale: float, face: CutFace, material: Appearance | None, size: tuple[int, int]) -> Image.Image:
    """A face's wood: end grain where the saw went across, long grain where it went along."""
    w, h = size
    if material is None or not material.size[0]:
        return Image.new("RGB", size, PLAIN.get(face.kind, JOIST))
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


def _fill(image: Image.Image, panel: _Panel, scene: Scene, face: CutFace) -> None:
    ring = panel.view.spots(face.ring)
    x0, y0, x1, y1 = panel.bounds(face)
    left, top, right, low = max(panel.box[0], int(x0)), max(panel.box[1], int(y0)), int(x1) + 1, int(y1) + 1
    right, low = min(panel.box[2], right), min(panel.box[3], low)
    if left >= right or top >= low:
        return
    mask = Image.new("L", (right - left, low - top), 0)
    ImageDraw.Draw(mask).polygon([(x - left, y - top) for x, y in ring], fill=255)
    image.paste(_wood(panel.view.scale, face, scene.materials.get(face.material), mask.size), (left, top), mask)
    draw = ImageDraw.Draw(image)
    if face.kind == "beyond":
        image.paste(Image.new("RGB", mask.size, PAPER), (left, top), mask.point(lambda v: v * 0.55))
        draw.line([*ring, ring[0]], fill=(150, 140, 128), width=FINER)
    else:
        draw.line([*ring, ring[0]], fill=LINE, width=2 * FINER, joint="curve")
    if face.kind == "joist":
        for pair in (ring[::2], ring[1::2]):
            draw.line(pair, fill=(150, 132, 100), width=FINER)


def _drawn(scene: Scene, cut: CutView, size: tuple[int, int]) -> Image.Image:
    """A panel without words."""
    big = Image.new("RGB", (size[0] * FINER, size[1] * FINER), PAPER)
    panel = _Panel.of(cut, (0, 0, *big.size))
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
    panels = [_Panel.of(cut, box) for cut, box in zip(scene.cuts, _boxes(scene, size, sheet.size), strict=True)]
    for panel in panels:
        x0, y0, x1, y1 = panel.box
        sheet.image.paste(_drawn(scene, panel.cut, (x1 - x0, y1 - y0)), (x0, y0))
    for panel in panels:
        _write(sheet, scene, panel)
    _legend(sheet, scene, panels[0].box)
    return sheet.pixels


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


def _legend(sheet: Canvas, scene: Scene, box: tuple[int, int, int, int]) -> None:
    """Swatches in one row over the first panel, from the right."""
    faces = [f for f in scene.cuts[0].faces if f.kind in ("slat", "beam")]
    mean = scene.materials[faces[0].material].mean if faces else (0.3, 0.2, 0.1)
    wood = (round(255 * mean[0] ** 0.45), round(255 * mean[1] ** 0.45), round(255 * mean[2] ** 0.45))
    pale = (round(0.45 * wood[0] + 138), round(0.45 * wood[1] + 137), round(0.45 * wood[2] + 135))
    kinds = {f.kind for f in scene.cuts[0].faces}
    rows = [(wood, "wood, cut")] + ([(pale, "beyond the cut")] if "beyond" in kinds else [])
    rows += [(PLASTER, "old ceiling, cut")] + ([(WALL, "wall, cut")] if "wall" in kinds else [])
    s = sheet.size
    x, y = float(box[2]), box[1] - 1.1 * s
    for colour, text in reversed(rows):
        x -= sheet.extent(text)[0]
        sheet.draw.text((x, y), text, font=font(s), fill=INK, anchor="lm")
        x -= 1.5 * s
        sheet.draw.rectangle((x, y - 0.5 * s, x + s, y + 0.5 * s), fill=colour, outline=LINE)
        x -= 1.4 * s


def _write(sheet: Canvas, scene: Scene, panel: _Panel) -> None:
    x0, y0, x1, y1 = panel.box
    s = sheet.size
    sheet.draw.rectangle((x0, y0, x1, y1), outline=(190, 185, 176))
    sheet.draw.text((x0, y0 - 1.1 * s), panel.cut.title, font=font(s, True), fill=INK, anchor="lm")
    sheet.taken.append((x0, y0 - 1.8 * s, x1, y0 - 0.4 * s))
    for measure in panel.cut.measures:
        _dimension(sheet, scene, panel, measure)
    _names(sheet, panel)


def _dimension(sheet: Canvas, scene: Scene, panel: _Panel, measure: Measure) -> None:
    """Extension lines, a line with arrows, and the number where there is room for it."""
    text = f"{measure.name} {scene.tape.text(measure.size)}"
    (w, h), s = sheet.extent(text), sheet.size
    level = measure.side in ("above", "below")
    sign = -1.0 if measure.side in ("above", "left") else 1.0
    p, q = sorted(panel.view.spots((measure.start, measure.end)), key=lambda spot: spot[0 if level else 1])
    for step in range(8):
        off = sign * s * (0.9 + 1.55 * step)
        if level:
            y = (min if sign < 0 else max)(p[1], q[1]) + off
            a, b = (p[0], y), (q[0], y)
            spots = [((a[0] + b[0]) / 2, y)] if b[0] - a[0] > w + 2 * s else []
            spots += [(b[0] + w / 2 + 0.9 * s, y), (a[0] - w / 2 - 0.9 * s, y)]
        else:
            x = (min if sign < 0 else max)(p[0], q[0]) + off
            a, b = (x, p[1]), (x, q[1])
            spots = [(x + t * sign * (w / 2 + 0.6 * s), (a[1] + b[1]) / 2) for t in (1.0, -1.0)]
        own = (a[0] - 2, a[1] - 2, b[0] + 2, b[1] + 2)
        at = sheet.place(text, [t for t in spots if _within(panel.box, t, w, h)]) if sheet.free(own) else None
        if at is not None:
            gap = (at[0] - w / 2 - 3, at[0] + w / 2 + 3) if level and a[0] < at[0] < b[0] else None
            sheet.replay(arrowed((p, q), (a, b), s, (max(1, s // 14), INK_CODE), gap))
            sheet.taken.append(own)
            return


def _within(box: Box, at: tuple[float, float], w: float, h: float) -> bool:
    (x0, y0, x1, y1), (x, y) = box, at
    return x0 + 4 < x - w / 2 and x + w / 2 < x1 - 4 and y0 + 2 < y - h / 2 and y + h / 2 < y1 - 2


LEAST_ROOM = 0.7
"""Of a name's height: a name on a thing that is so thin or thicker may stand over it by a little."""


def _names(sheet: Canvas, panel: _Panel) -> None:
    """One label for each kind of thing cut, on it if there is room, else near it."""
    # Furring is thin, and a dimension has its name already.
    seen = {measure.name for measure in panel.cut.measures if measure.name == "furring"}
    for face in _by_size(panel):
        word = face.word or face.kind
        word = "beam " + face.name if face.kind == "beam" else "joist" if face.name.startswith("joist") else word
        if word in seen or word == "beyond":
            continue
        x0, y0, x1, y1 = panel.bounds(face)
        if x1 - x0 < 3 or y1 - y0 < 3:
            continue
        w, h = sheet.extent(word, scale=0.92)
        cx, cy = (x0 + x1) / 2, (y0 + y1) / 2
        spots = (
            [(x0 + t * (x1 - x0), cy) for t in (0.5, 0.3, 0.7, 0.15, 0.85)]
            if y1 - y0 > LEAST_ROOM * h and x1 - x0 > w + 8
            else []
        )
        level = [(x, y) for y in (y0 - 0.9 * h, y1 + 0.9 * h) for x in (cx, x0 + 0.3 * (x1 - x0), x0 + 0.7 * (x1 - x0))]
        beside = [(x1 + w / 2 + 8, cy), (x0 - w / 2 - 8, cy)]
        level = level if face.kind == "old ceiling" else level[::-1]
        # Below a joist lies what is fixed to it; above and below a strip of trim lie slat and gap.
        spots += [*beside, *level] if face.kind in ("joist", "trim") else [*level, *beside]
        if face.kind == "trim":
            spots = [t for t in spots if not _on_another(panel, face, t)]
        at = sheet.place(word, [t for t in spots if _within(panel.box, t, w, h)], scale=0.92)
        if at is None:
            continue
        seen.add(word)
        if face.kind != "joist" and not y0 <= at[1] <= y1 and x0 <= at[0] <= x1:
            foot = at[1] + (0.45 * h if at[1] < cy else -0.45 * h)
            sheet.draw.line((at[0], foot, at[0], cy), fill=INK, width=max(1, sheet.size // 14))


def _on_another(panel: _Panel, face: CutFace, spot: tuple[float, float]) -> bool:
    """A name there would be read as that of another piece of wood."""
    for other in panel.cut.faces:
        if other is face or other.kind not in ("beam", "slat", "moulding", "wall"):
            continue
        xs, ys = zip(*panel.view.spots(other.ring), strict=True)
        if min(xs) <= spot[0] <= max(xs) and min(ys) <= spot[1] <= max(ys):
            return True
    return False


def _by_size(panel: _Panel) -> Iterable[CutFace]:
    u0, u1, _, _ = panel.cut.window

    def visible(face: CutFace) -> float:
        us = [u for u, _ in face.ring]
        return max(0.0, min(max(us), u1) - max(min(us), u0))

    return sorted(panel.cut.faces, key=visible, reverse=True)
