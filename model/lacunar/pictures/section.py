"""The ceiling cut open, drawn flat: one section across a coffer and two details at a larger scale."""

import zlib
from collections.abc import Iterable

import numpy as np
from PIL import Image, ImageDraw

from lacunar.pictures.captions import INK, PAPER, RGB, Pixels, Sheet, font
from lacunar.scene import Cut, CutFace, Material, Measure, Scene
from lacunar.units import format_length

FINER = 2
"""Drawn so many times larger and averaged down, for smooth edges."""

PLASTER: RGB = (222, 218, 208)
WALL: RGB = (236, 232, 222)
JOIST: RGB = (214, 196, 160)
LINE: RGB = (44, 38, 32)
PLAIN: dict[str, RGB] = {"old ceiling": PLASTER, "joist": JOIST, "wall": WALL, "beyond": JOIST}


class _Panel:
    """A part of the sheet with a cut in it, one scale both ways."""

    def __init__(self, image: Image.Image, box: tuple[int, int, int, int], cut: Cut) -> None:
        self.image, self.box, self.cut = image, box, cut
        x0, y0, x1, y1 = box
        u0, u1, z0, z1 = cut.window
        self.scale = min((x1 - x0) / (u1 - u0), (y1 - y0) / (z1 - z0))
        self.u, self.z = (u0 + u1) / 2, (z0 + z1) / 2
        self.x, self.y = (x0 + x1) / 2, (y0 + y1) / 2

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        """Pixels of a place of the cut."""
        return self.x + (point[0] - self.u) * self.scale, self.y - (point[1] - self.z) * self.scale


def _wood(
    panel: _Panel, face: CutFace, material: Material | None, mask: Image.Image, bounds: tuple[int, int, int, int]
) -> None:
    """Fill a face with its wood: end grain where the saw went across, long grain where it went along."""
    x0, y0, x1, y1 = bounds
    w, h = max(1, x1 - x0), max(1, y1 - y0)
    if material is None or not material.size[0]:
        panel.image.paste(Image.new("RGB", (w, h), PLAIN.get(face.kind, JOIST)), (x0, y0), mask)
        return
    rows, columns = material.albedo.shape[:2]
    board = columns // material.boards
    across, along = material.size[0] / columns, material.size[1] / rows  # mm to a pixel
    if face.end_grain:
        tile = material.albedo[: round(board * across / along), -board:]
        high, wide = round(h / panel.scale / along) + 1, round(w / panel.scale / across) + 1
    else:
        k = zlib.crc32(face.name.encode()) % (material.boards - 1) * board
        tile = material.albedo[:, k : k + board].transpose(1, 0, 2)
        high, wide = round(h / panel.scale / across) + 1, round(w / panel.scale / along) + 1
    tile = np.tile(tile, (high // tile.shape[0] + 1, wide // tile.shape[1] + 1, 1))[:high, :wide]
    wood = Image.fromarray(np.ascontiguousarray(tile)).resize((w, h), Image.Resampling.BICUBIC)
    panel.image.paste(wood, (x0, y0), mask)


def _fill(panel: _Panel, scene: Scene, face: CutFace) -> None:
    x0, y0, x1, y1 = panel.box
    ring = [panel.at(p) for p in face.ring]
    xs, ys = [p[0] for p in ring], [p[1] for p in ring]
    bounds = (max(x0, int(min(xs))), max(y0, int(min(ys))), min(x1, int(max(xs)) + 1), min(y1, int(max(ys)) + 1))
    if bounds[0] >= bounds[2] or bounds[1] >= bounds[3]:
        return
    mask = Image.new("L", (bounds[2] - bounds[0], bounds[3] - bounds[1]), 0)
    local = [(x - bounds[0], y - bounds[1]) for x, y in ring]
    ImageDraw.Draw(mask).polygon(local, fill=255)
    _wood(panel, face, scene.materials.get(face.material), mask, bounds)
    draw = ImageDraw.Draw(panel.image)
    if face.kind == "beyond":
        veil = Image.new("RGB", mask.size, PAPER)
        panel.image.paste(veil, bounds[:2], mask.point(lambda v: v * 0.55))
        draw.line([*ring, ring[0]], fill=(150, 140, 128), width=FINER)
    else:
        draw.line([*ring, ring[0]], fill=LINE, width=2 * FINER, joint="curve")
    if face.kind == "joist":
        draw.line([ring[0], ring[2]], fill=(150, 132, 100), width=FINER)
        draw.line([ring[1], ring[3]], fill=(150, 132, 100), width=FINER)


def _drawn(scene: Scene, cut: Cut, size: tuple[int, int]) -> tuple[Pixels, _Panel]:
    """A panel without words, at its final size, and the places in it."""
    big = Image.new("RGB", (size[0] * FINER, size[1] * FINER), PAPER)
    panel = _Panel(big, (0, 0, size[0] * FINER, size[1] * FINER), cut)
    for face in cut.faces:
        _fill(panel, scene, face)
    small = big.resize(size, Image.Resampling.BOX)
    return np.asarray(small, dtype=np.uint8), _Panel(small, (0, 0, *size), cut)


def section(scene: Scene, size: tuple[int, int]) -> Pixels:
    """The picture."""
    width, height = size
    canvas = np.full((height, width, 3), PAPER, dtype=np.uint8)
    if not scene.cuts:
        sheet = Sheet(canvas)
        sheet.text((width / 2, height / 2), "No coffer to cut through.")
        return sheet.pixels
    s = Sheet(canvas).size
    head = round(2.4 * s)
    whole = scene.cuts[0]
    u0, u1, z0, z1 = whole.window
    top = min(round(0.50 * height), round((z1 - z0) * (width - 4 * s) / (u1 - u0)))
    boxes = [(2 * s, head, width - 2 * s, head + top)]
    lower = head + top + round(4.6 * s)
    details = scene.cuts[1:3]
    for k in range(len(details)):
        wide = (width - 6 * s) // 2
        boxes.append((2 * s + k * (wide + 2 * s), lower, 2 * s + k * (wide + 2 * s) + wide, height - round(1.2 * s)))
    panels: list[_Panel] = []
    for cut, (x0, y0, x1, y1) in zip((whole, *details), boxes, strict=True):
        pixels, panel = _drawn(scene, cut, (x1 - x0, y1 - y0))
        canvas[y0:y1, x0:x1] = pixels
        panel.x, panel.y, panel.box = panel.x + x0, panel.y + y0, (x0, y0, x1, y1)
        panels.append(panel)
    sheet = Sheet(canvas)
    for panel in panels:
        _write(sheet, scene, panel)
    _legend(sheet, scene, boxes[0])
    return sheet.pixels


def _legend(sheet: Sheet, scene: Scene, box: tuple[int, int, int, int]) -> None:
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


def _write(sheet: Sheet, scene: Scene, panel: _Panel) -> None:
    x0, y0, x1, y1 = panel.box
    s = sheet.size
    sheet.draw.rectangle((x0, y0, x1, y1), outline=(190, 185, 176))
    sheet.draw.text((x0, y0 - 1.1 * s), panel.cut.title, font=font(s, True), fill=INK, anchor="lm")
    sheet.taken.append((x0, y0 - 1.8 * s, x1, y0 - 0.4 * s))
    for measure in panel.cut.measures:
        _dimension(sheet, scene, panel, measure)
    _names(sheet, panel)


def _number(scene: Scene, size: float) -> str:
    units = "in" if scene.units == "in" else "mm"
    return format_length(size, units, scene.read_to)


def _arrow(sheet: Sheet, tip: tuple[float, float], away: tuple[float, float]) -> None:
    k = 0.42 * sheet.size
    x, y = tip
    ax, ay = away
    sheet.draw.polygon(
        [
            (x, y),
            (x + k * ax - 0.3 * k * ay, y + k * ay + 0.3 * k * ax),
            (x + k * ax + 0.3 * k * ay, y + k * ay - 0.3 * k * ax),
        ],
        fill=INK,
    )


def _dimension(sheet: Sheet, scene: Scene, panel: _Panel, measure: Measure) -> None:
    """Extension lines, a line with arrows, and the number where there is room for it."""
    p, q = panel.at(measure.start), panel.at(measure.end)
    text = f"{measure.name} {_number(scene, measure.size)}"
    w, h = sheet.extent(text)
    s = sheet.size
    level = measure.side in ("above", "below")
    sign = -1.0 if measure.side in ("above", "left") else 1.0
    for step in range(1, 9):
        off = sign * s * (0.9 + 1.55 * (step - 1))
        if level:
            base = min(p[1], q[1]) if sign < 0 else max(p[1], q[1])
            y = base + off
            a, b = (min(p[0], q[0]), y), (max(p[0], q[0]), y)
            spots = [((a[0] + b[0]) / 2, y)] if b[0] - a[0] > w + 2 * s else []
            spots += [(b[0] + w / 2 + 0.9 * s, y), (a[0] - w / 2 - 0.9 * s, y)]
        else:
            base = min(p[0], q[0]) if sign < 0 else max(p[0], q[0])
            x = base + off
            a, b = (x, min(p[1], q[1])), (x, max(p[1], q[1]))
            spots = [(x + t * sign * (w / 2 + 0.6 * s), (a[1] + b[1]) / 2) for t in (1.0, -1.0)]
        own = (a[0] - 2, a[1] - 2, b[0] + 2, b[1] + 2)
        if not sheet.free(own):
            continue
        at = sheet.place(text, [t for t in spots if _within(panel.box, t, w, h)])
        if at is not None:
            _draw_dimension(sheet, (p, q), (a, b), at, level, w)
            sheet.taken.append(own)
            return


def _within(box: tuple[int, int, int, int], at: tuple[float, float], w: float, h: float) -> bool:
    return (
        box[0] + 4 < at[0] - w / 2
        and at[0] + w / 2 < box[2] - 4
        and box[1] + 2 < at[1] - h / 2
        and at[1] + h / 2 < box[3] - 2
    )


def _draw_dimension(
    sheet: Sheet,
    ends: tuple[tuple[float, float], tuple[float, float]],
    line: tuple[tuple[float, float], tuple[float, float]],
    text: tuple[float, float],
    level: bool,
    wide: float,
) -> None:
    (p, q), (a, b) = ends, line
    thin = max(1, sheet.size // 14)
    first, second = sorted((p, q), key=lambda t: t[0] if level else t[1])
    for point, end in ((first, a), (second, b)):
        sheet.draw.line((*point, *end), fill=(120, 112, 104), width=thin)
    long = (b[0] - a[0] if level else b[1] - a[1]) > 1.6 * sheet.size
    out = 1.0 if long else -1.0
    unit = (1.0, 0.0) if level else (0.0, 1.0)
    if long:
        gaps = (text[0] - wide / 2 - 3, text[0] + wide / 2 + 3) if level and a[0] < text[0] < b[0] else None
        if gaps:
            sheet.draw.line((*a, gaps[0], a[1]), fill=INK, width=thin)
            sheet.draw.line((gaps[1], b[1], *b), fill=INK, width=thin)
        else:
            sheet.draw.line((*a, *b), fill=INK, width=thin)
    else:
        k = 0.8 * sheet.size
        sheet.draw.line((a[0] - k * unit[0], a[1] - k * unit[1], *a), fill=INK, width=thin)
        sheet.draw.line((*b, b[0] + k * unit[0], b[1] + k * unit[1]), fill=INK, width=thin)
    _arrow(sheet, a, (out * unit[0], out * unit[1]))
    _arrow(sheet, b, (-out * unit[0], -out * unit[1]))


LEAST_ROOM = 0.7
"""Of a name's height: a name on a thing that is so thin or thicker may stand over it by a little."""


def _names(sheet: Sheet, panel: _Panel) -> None:
    """One label for each kind of thing cut, on it if there is room, else near it."""
    # Furring is thin, and a dimension has its name already.
    seen = {measure.name for measure in panel.cut.measures if measure.name == "furring"}
    for face in _by_size(panel):
        word = face.word or face.kind
        word = "beam " + face.name if face.kind == "beam" else "joist" if face.name.startswith("joist") else word
        if word in seen or word == "beyond":
            continue
        ring = [panel.at(p) for p in face.ring]
        x0, x1 = max(min(p[0] for p in ring), panel.box[0]), min(max(p[0] for p in ring), panel.box[2])
        y0, y1 = max(min(p[1] for p in ring), panel.box[1]), min(max(p[1] for p in ring), panel.box[3])
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
        (xs, ys) = zip(*(panel.at(p) for p in other.ring), strict=True)
        if min(xs) <= spot[0] <= max(xs) and min(ys) <= spot[1] <= max(ys):
            return True
    return False


def _by_size(panel: _Panel) -> Iterable[CutFace]:
    u0, u1, _, _ = panel.cut.window

    def visible(face: CutFace) -> float:
        us = [u for u, _ in face.ring]
        return max(0.0, min(max(us), u1) - max(min(us), u0))

    return sorted(panel.cut.faces, key=visible, reverse=True)
