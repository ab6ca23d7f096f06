"""The materials of a scene: woods with their finish, paint, floor boards, glass, metal."""

import itertools
from collections.abc import Iterable, Mapping
from functools import lru_cache

import numpy as np

from lacunar.config import CoatTable
from lacunar.parts import Part
from lacunar.scene.colour import RGB, Linear, colour, decode, encode, finished, sheen
from lacunar.scene.grain import SLATS, STRIPS, TIMBERS, BoardImage, Grey, grain
from lacunar.scene.look import Look
from lacunar.scene.noise import field
from lacunar.scene.prism import sheet_of
from lacunar.scene.species import figure_of
from lacunar.scene.types import Appearance, Picture, Quality, Vector, vector

# Source of all colours below: chosen for the pictures.
WALL = (216, 208, 192)
JOINERY = (243, 241, 235)
PLASTER = (232, 229, 221)
METAL = (62, 54, 44)
GLOBE = (246, 240, 228)
OLD_BEAM = (96, 64, 40)
FLOOR = (150, 108, 70)
BLOCK = (176, 174, 170)
MOUTH = (34, 24, 18)
JOINT = (84, 58, 40)
POCKET = (232, 84, 10)
PILOT = (40, 40, 40)

Coarse = tuple[int, int]

COARSE: Mapping[tuple[Quality, BoardImage], Coarse] = {
    ("draft", SLATS): (2, 2),
    ("draft", TIMBERS): (2, 2),
    ("fine", TIMBERS): (2, 1),
}
"""Rows along the grain, and columns across it, that become one: what is drawn need be no finer than the pixels of the
nearest view, which are 2 mm in a draft. A beam's grain hardly changes in 2 mm along it. Measured by looking."""

BEHIND = "old ceiling"
"""What is painted before the slats go up: the old ceiling, and furring on it."""


def even(name: str, rgb: tuple[int, int, int] | Linear, rough: float = 0.7, shine: float = 0.0) -> Appearance:
    """A material of one colour: sRGB codes as a tuple, or linear as an array."""
    linear = decode(rgb) if isinstance(rgb, tuple) else rgb
    return Appearance(name=name, albedo=encode(linear)[None, None, :], mean=vector(linear), rough=rough, shine=shine)


def _painted(image: Grey, ramp: Linear) -> tuple[Picture, Vector]:
    picture = np.take(encode(ramp), image, axis=0)
    counts = np.bincount(image[::7, ::5].ravel(), minlength=256)
    return picture, vector(counts @ ramp / counts.sum())


@lru_cache(maxsize=4)
def _painted_sheet(species: str, sheet: BoardImage, ramp: bytes, every: Coarse) -> tuple[Picture, Vector]:
    """Slats and trim of one wood, and those of alternatives, share one picture: it has some fifty megabytes."""
    return _painted(_thinned(grain(species, sheet), every), np.frombuffer(ramp).reshape(256, 3))


def _thinned(image: Grey, every: Coarse) -> Grey:
    """So many rows along the grain and columns across it as one."""
    rows, columns = every
    if rows * columns == 1:
        return image
    mean = np.zeros((image.shape[0] // rows, image.shape[1] // columns), dtype=np.uint16)
    for row, column in itertools.product(range(rows), range(columns)):
        mean += image[row::rows, column::columns]
    return (mean // (rows * columns)).astype(np.uint8)


def wood(
    name: str,
    species: str,
    sheet: BoardImage,
    coats: tuple[CoatTable, ...],
    measured: Linear | None,
    quality: Quality = "fine",
) -> Appearance:
    """A species with its finish, as boards or timbers."""
    every = COARSE.get((quality, sheet), (1, 1))
    picture, mean = _painted_sheet(species, sheet, finished(figure_of(species), coats, measured).tobytes(), every)
    rough, shine = sheen(coats)
    size = (sheet.boards * sheet.width, sheet.length)
    return Appearance(name=name, albedo=picture, mean=mean, rough=rough, shine=shine, boards=sheet.boards, size=size)


def material_of(part: Part, look: Look) -> str:
    """Name of a part's material."""
    if part.kind == "existing beam" and part.id not in look.refinished:
        return "old beam"
    if part.kind == "moulding":
        return "joinery"
    if part.kind == "furring" and look.behind:
        return BEHIND
    size = "boards" if sheet_of(part) is SLATS else "timber"
    group = part.kind if part.kind in ("slat", "trim", "furring") else "beam"
    return f"{group} {part.species or 'pine'} {size}"


def _measured(look: Look, key: str) -> Linear | None:
    return colour(look.colours[key]) if key in look.colours else None


def _colour(look: Look, key: str, usual: RGB) -> Linear:
    measured = _measured(look, key)
    return decode(usual) if measured is None else measured


def wood_materials(parts: Iterable[Part], look: Look, quality: Quality = "fine") -> dict[str, Appearance]:
    """One material for each kind and species of wood among the parts."""
    out: dict[str, Appearance] = {}
    for part in parts:
        name = material_of(part, look)
        if name in out or name in ("joinery", BEHIND):
            continue
        if name == "old beam":
            coats = (CoatTable(kind="clear", sheen="satin"),)
            out[name] = wood(
                name, part.species or "douglas fir", TIMBERS, coats, _colour(look, "beams", OLD_BEAM), quality
            )
        else:
            key = {"slat": "slats", "trim": "trim"}.get(part.kind, "")
            coats = () if part.kind == "furring" else look.coats
            out[name] = wood(name, part.species or "pine", sheet_of(part), coats, _measured(look, key), quality)
    return out


def _floor(look: Look) -> Appearance:
    """Strip floor: boards 90 mm wide of all lengths, the joints a dark line; the image covers 2.6 m both ways."""
    image = grain("white oak", STRIPS)
    rng = np.random.default_rng(7)
    columns, rows = STRIPS.columns, STRIPS.rows
    strips: list[Grey] = []
    wide = 64  # pixels across a strip
    for _ in range(16):
        board = int(rng.integers(0, STRIPS.boards - 1))
        left = board * columns + int(rng.integers(0, columns - wide))
        turn = int(rng.integers(0, rows))
        cut = image[:, left : left + wide]
        strip = np.concatenate([cut[turn:], cut[:turn]]).astype(np.int16)
        first, second = (int(v) for v in np.cumsum(rng.integers(rows // 4, rows // 2, 2)))
        for a, b in ((0, first), (first, second), (second, rows)):
            strip[a:b] += int(rng.normal(0, 12))
            strip[max(a - 1, 0) : a + 1] += 90
        strip[:, 0] += 90
        strips.append(np.clip(strip, 0, 255).astype(np.uint8))
    floor = np.concatenate(strips, axis=1)
    picture, mean = _painted(floor, finished(figure_of("white oak"), (), _colour(look, "floor", FLOOR)))
    return Appearance(name="floor", albedo=picture, mean=mean, rough=0.35, shine=0.7)


FLOOR_SIZE = (16 * 90.0, 2600.0)
"""mm across and along that the floor's image covers."""


def _wall(look: Look) -> Appearance:
    base = _colour(look, "walls", WALL)
    rng = np.random.default_rng(5)
    rolled = 0.6 * field(rng, (256, 256), (90, 90)) + 0.7 * field(rng, (256, 256), (14, 14))
    picture = encode(base * (1.0 + 0.010 * rolled[:, :, None]))
    return Appearance(name="wall", albedo=picture, mean=vector(base), rough=0.8)


def room_materials(look: Look) -> Mapping[str, Appearance]:
    """What the room round the ceiling is made of."""
    behind = colour(look.behind) if look.behind else None
    glass = Appearance(name="glass", albedo=np.full((1, 1, 3), 255, np.uint8), mean=(0.0, 0.0, 0.0), pane=True)
    made = (
        _floor(look),
        _wall(look),
        glass,
        even("globe", GLOBE, 0.2, 0.6),
        even("joinery", JOINERY, 0.4, 0.35),
        even("plaster", PLASTER),
        even("joist", (206, 178, 134)),
        even(BEHIND, decode(PLASTER) if behind is None else behind),
        even("metal", METAL, 0.35, 0.8),
        even("plate", JOINERY),
        *(even(name, BLOCK) for name in ("sofa", "table", "person")),
        even("mouth", MOUTH),
        even("joint", JOINT),
        even("pocket", POCKET),
        even("pilot", PILOT),
    )
    return {m.name: m for m in made}
