"""Growth rings, pores, rays and knots of sawn boards: one grey image per species, coloured later.

The image holds for every point where it stands between the palest earlywood (0) and the bark of a knot (1).
A log is a stack of cones: on a face sawn at a distance from the pith, rings make cathedrals where the pith
wanders nearer and farther, and straight lines where it lies well to the side.
"""

import zlib
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import lru_cache, partial
from importlib import resources

import numpy as np
import numpy.typing as npt

from lacunar.scene.kept import kept
from lacunar.scene.knots import Cut, cut_through, draw, fibres, knots_of
from lacunar.scene.noise import Floats, f32, field, smooth, wander
from lacunar.scene.species import Figure, figure_of

Grey = npt.NDArray[np.uint8]


@dataclass(frozen=True, slots=True)
class BoardImage:
    """How boards lie in the image: side by side, the grain running down, seamless down.

    Attributes:
        boards: how many.
        width: mm of each.
        length: mm, after which the grain repeats.
        columns: pixels across one board.
        rows: pixels along.
    """

    boards: int
    width: float
    length: float
    columns: int
    rows: int


SLATS = BoardImage(boards=25, width=150.0, length=2600.0, columns=256, rows=2600)
"""Boards to 6 in wide, a millimetre to a pixel along: what a picture from under a coffer can show."""

TIMBERS = BoardImage(boards=9, width=300.0, length=3600.0, columns=384, rows=3600)
"""Faces of beams; the last is end grain, which repeats down the sheet."""

STRIPS = BoardImage(boards=7, width=150.0, length=2600.0, columns=256, rows=1300)
"""Boards that a strip floor is laid of, seen from an eye's height."""


def _warped(image: Floats, way: Floats, sheet: BoardImage) -> Floats:
    """An image of straight fibres with each place taken from where its fibre comes from."""
    columns = np.clip(way * f32(sheet.columns / sheet.width), 0, sheet.columns - 1).astype(np.intp)
    return np.take_along_axis(image, columns, axis=1)


def _pith(rng: np.random.Generator, figure: Figure, sheet: BoardImage) -> tuple[Floats, Floats]:
    """Where the pith lies across one face and how deep below it, mm, row by row."""
    rift = rng.random() < figure.rift
    aside = rng.uniform(90, 220) if rift else rng.uniform(0, 0.45) * sheet.width
    deep = rng.uniform(5, 60) if rift else rng.uniform(18, 85)
    centre = sheet.width / 2 + aside * rng.choice((-1.0, 1.0))
    # The pith of a tree wanders by about a centimetre in a metre: cathedrals come from nothing else.
    depth = f32(deep + figure.ring * 3.2 * wander(rng, sheet.rows, int(sheet.length / 520)))
    return f32(centre + 5.0 * wander(rng, sheet.rows, int(sheet.length / 700))), depth


def _radius(
    rng: np.random.Generator, sheet: BoardImage, way: Floats, pith: tuple[Floats, Floats], cuts: list[Cut]
) -> Floats:
    """Distance from the pith over one face, mm, with the tree's own unevenness; wood at a branch was nearer to it."""
    rows, columns = sheet.rows, sheet.columns
    middle, depth = (line[:, None] for line in pith)
    deep = np.broadcast_to(depth, way.shape).copy() if cuts else depth
    for cut in cuts:
        deep[cut.rows] -= cut.bent * f32(cut.knot.way[1])
    radius = np.sqrt((way - middle) ** 2 + deep**2)
    radius += 1.3 * field(rng, (rows, columns), (int(sheet.length / 260), int(sheet.width / 34)))
    radius += 0.32 * field(rng, (rows, columns), (int(sheet.length / 90), int(sheet.width / 9)))
    return radius


def _rings(rng: np.random.Generator, figure: Figure, radius: Floats, pixel: float) -> tuple[Floats, Floats]:
    """Latewood of the rings, and where earlywood is richest in pores, both 0 to 1; `pixel` in mm."""
    ring = figure.ring * rng.lognormal(0.0, 0.22)
    count = radius * f32(1 / ring)
    # Good and bad years: the rings' widths vary by a third.
    phases = rng.uniform(0, 6.28, 3).astype(np.float32)
    count += 0.30 * np.sin(count * f32(0.71) + phases[0]) + 0.22 * np.sin(count * f32(1.93) + phases[1])
    share = count - np.floor(count)
    # Latewood ends within a cell's width; drawn no sharper than a pixel, or lines break into dashes.
    drop = 1.0 - min(0.3, max(0.03, 1.1 * pixel / ring))
    late = smooth(1 - 1.6 * figure.late, 1 - 0.25 * figure.late, share) * smooth(1.0, drop, share)
    late *= 0.82 + 0.18 * np.sin(count * f32(0.93) + phases[2])
    return late, smooth(0.42, 0.04, share)


def _pores(rng: np.random.Generator, figure: Figure, sheet: BoardImage, early: Floats) -> Floats:
    """Open pores: short dark dashes along the grain, thickest in the earlywood of ring-porous woods."""
    dashes = field(rng, (sheet.rows, sheet.columns), (int(sheet.length / figure.pore_length), sheet.columns))
    crowd = early if figure.ring_porous else f32(0.35 + 0.3 * early)
    return smooth(1.25, 0.3, f32(dashes + 1.9 * (1 - crowd))) * crowd


def _board(figure: Figure, sheet: BoardImage, seed: int) -> Grey:
    rng = np.random.default_rng(seed)
    x = ((np.arange(sheet.columns) + 0.5) * (sheet.width / sheet.columns)).astype(np.float32)[None, :]
    z = ((np.arange(sheet.rows) + 0.5) * (sheet.length / sheet.rows)).astype(np.float32)[:, None]
    shape = (sheet.rows, sheet.columns)
    pith = _pith(rng, figure, sheet)
    knots = knots_of(rng, figure, (sheet.width, sheet.length), *pith)
    cuts = [cut_through(knot, x, z) for knot in knots]
    way = fibres(cuts, x, z)
    radius = _radius(rng, sheet, way, pith, cuts)
    late, early = _rings(rng, figure, radius, sheet.width / sheet.columns)
    grey = figure.contrast * late
    fibre = field(rng, shape, (int(sheet.length / 130), sheet.columns))
    cloud = field(rng, shape, (int(sheet.length / 600), int(sheet.width / 45)))
    grey += figure.fibre * (_warped(fibre, way, sheet) if cuts else fibre) + figure.cloud * cloud
    if figure.pores:
        grey += figure.pores * _pores(rng, figure, sheet, early)
    if figure.streaks:
        grey += figure.streaks * smooth(0.5, 1.9, field(rng, shape, (int(sheet.length / 900), int(sheet.width / 16))))
    grey += f32(0.12 + figure.spread * rng.normal())
    wobble = field(rng, shape, (int(sheet.length / 12), int(sheet.width / 7)))
    draw(grey, cuts, wobble)
    return (np.clip(grey, 0, 1) * 255 + 0.5).astype(np.uint8)


def _end_grain(figure: Figure, sheet: BoardImage, seed: int) -> Grey:
    """Rings about the pith as a crosscut shows them; a square of the board's width, repeated down."""
    rng = np.random.default_rng(seed)
    x = (np.arange(sheet.columns) + 0.5) * (sheet.width / sheet.columns)
    y = (np.arange(sheet.rows) + 0.5) * (sheet.length / sheet.rows) % (2 * sheet.width)
    y = sheet.width - np.abs(y - sheet.width)
    radius = np.hypot(x[None, :] - 0.42 * sheet.width, y[:, None] - 0.3 * sheet.width).astype(np.float32)
    radius += 1.2 * field(rng, radius.shape, (int(sheet.length / 60), int(sheet.width / 60)))
    late, early = _rings(rng, figure, radius, sheet.length / sheet.rows)
    grey = 0.24 + figure.contrast * late + 0.5 * figure.pores * early
    grey += 0.05 * rng.standard_normal(radius.shape).astype(np.float32)
    return (np.clip(grey, 0, 1) * 255 + 0.5).astype(np.uint8)


@lru_cache(maxsize=1)
def grain(species: str, sheet: BoardImage) -> Grey:
    """The grey image of a sheet of boards, shape (rows, boards * columns); the last board is end grain."""
    own = resources.files(__package__ or "")
    made_of = (
        species,
        sheet,
        figure_of(species),
        *((own / name).read_text("utf-8") for name in ("grain.py", "knots.py", "noise.py")),
    )
    return kept(made_of, (sheet.rows, sheet.boards * sheet.columns), partial(_drawn, species, sheet))


def _drawn(species: str, sheet: BoardImage) -> Grey:
    figure = figure_of(species)
    seed = zlib.crc32(f"{species} {sheet.width}".encode())
    seeds = [seed + 7919 * i for i in range(sheet.boards)]
    with ThreadPoolExecutor(2) as pool:
        boards = list(pool.map(partial(_board, figure, sheet), seeds[:-1]))
    boards.append(_end_grain(figure, sheet, seeds[-1]))
    return np.ascontiguousarray(np.concatenate(boards, axis=1))
