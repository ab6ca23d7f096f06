"""Arrange a ceiling: beams, rows, coffers, slats, trim, cut-outs, joists."""

from dataclasses import dataclass

from lacunar.config import Config
from lacunar.geometry import Line, Ring
from lacunar.layout.astray import refuse_astray
from lacunar.layout.bars import Edge, edges_of, region_without, wall_edges
from lacunar.layout.beams import half_beams, hang, hung_beams, keep_mouldings
from lacunar.layout.cells import cut_cells, refuse_narrow
from lacunar.layout.cutouts import cut_outs
from lacunar.layout.furring import fasten
from lacunar.layout.grid import BeamGrid, make_grid
from lacunar.layout.ground import ground_of
from lacunar.layout.overhead import find_joists
from lacunar.layout.patterns import lay_slats
from lacunar.layout.rows import cut_rows, row_lines
from lacunar.layout.strips import lay_trim
from lacunar.layout.types import Bar, DressedStock, Layout
from lacunar.survey import Room


def arrange_layout(room: Room, config: Config) -> Layout:
    """Arrange the ceiling of a room.

    Raises:
        LayoutError: beams that do not fit the room, or leave no room for trim.
    """
    outline: Ring = tuple(reversed(room.points))
    slat, trim, cross = config.slats, config.trim, config.cross_beams
    placed = hung_beams(room, config.beam, config.beams, config.tape.text)
    grid = make_grid(room, tuple(beam.centre for beam in placed))
    beams = hang(room, placed, outline, cross, slat.species)
    refuse_astray(room, config.beam, beams, config.tape)
    bars = _bars(room, config, grid, beams)
    cells = cut_cells(room, grid, bars.free, beams, bars.rows, cross.width if cross else 0.0, bars.edges)
    refuse_narrow(cells, trim.width, config.tape.text)
    joists = find_joists(room, config.framing.joists)
    holes = cut_outs(room, config.fixture, cells)
    laid = [lay_slats(ground_of(room, config, cell, joists, holes)) for cell in cells]
    coffers = tuple(coffer for coffer, _ in laid)
    hung = [slat for _, slats in laid for slat in slats]
    furring, nailing, slats = fasten(room, config, coffers, hung, joists, holes)
    return Layout(
        face="F1",
        outline=outline,
        inner=tuple(reversed(bars.inner)),
        beams=beams,
        pieces=bars.pieces,
        half_beams=bars.halves,
        mouldings=bars.mouldings,
        coffers=coffers,
        slat=DressedStock(stock=slat.stock, species=slat.species, width=slat.width, thickness=slat.thickness),
        trim_strip=DressedStock(stock=trim.stock, species=trim.species, width=trim.width, thickness=trim.height),
        slats=slats,
        trim=tuple(strip for coffer in coffers for strip in lay_trim(coffer, trim.width, trim.corners, room.points[0])),
        cut_outs=holes,
        joists=joists,
        pocketing=cross.joint if cross else None,
        nailing=nailing,
        rows=bars.rows,
        furring=furring,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Bars:
    """Everything that divides the ceiling, beside the beams that hang there."""

    inner: Ring
    free: Ring
    mouldings: tuple[Bar, ...]
    halves: tuple[Bar, ...]
    rows: tuple[Line, ...]
    pieces: tuple[Bar, ...]
    edges: tuple[Edge, ...]


def _bars(room: Room, config: Config, grid: BeamGrid, beams: tuple[Bar, ...]) -> _Bars:
    cross = config.cross_beams
    inner, mouldings = keep_mouldings(room, config.room.moulding, beams)
    along = tuple(grid.along_beams(room.wall_line(wall)) for wall in room.walls)
    free, halves = half_beams(room, cross, inner, beams, along)
    rows = row_lines(room, config, grid, free)
    fixed = (*beams, *halves)
    edges = (*wall_edges(room, inner), *(e for bar in fixed for e in edges_of(bar.id, bar.outline)))
    region = region_without(tuple(reversed(free)), beams)
    pieces = cut_rows(room, cross, rows, region, edges, fixed, config.tape.text)
    edges = (*edges, *(e for bar in pieces for e in edges_of(bar.id, bar.outline)))
    return _Bars(inner=inner, free=free, mouldings=mouldings, halves=halves, rows=rows, pieces=pieces, edges=edges)
