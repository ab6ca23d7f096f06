"""Arrange a ceiling: beams, rows, coffers, slats, trim, cut-outs, joists."""

from dataclasses import dataclass, replace

from shapely import Polygon

from lacunar.config import Config, SlatsOfCoffer
from lacunar.errors import LayoutError, Problem
from lacunar.geometry import Line, Ring
from lacunar.layout.bars import Edge, edges_of, region_without, wall_edges
from lacunar.layout.beams import half_beams, hang, hung_beams, keep_mouldings
from lacunar.layout.cells import cut_cells, refuse_short_sides
from lacunar.layout.cutouts import cut_outs
from lacunar.layout.faces import coffer_plane
from lacunar.layout.fill import Rule
from lacunar.layout.furring import fasten, furring_material
from lacunar.layout.furring_strips import Above
from lacunar.layout.grid import Grid, make_grid
from lacunar.layout.ground import Ground
from lacunar.layout.overhead import find_joists
from lacunar.layout.patterns import lay_slats
from lacunar.layout.rows import cut_rows, row_lines
from lacunar.layout.saying import saying
from lacunar.layout.squaring import EndRule
from lacunar.layout.strips import lay_trim
from lacunar.layout.types import Bar, Cell, CutOut, Joists, Layout, Material, Nailing, Pocketing
from lacunar.materials import NAIL_FROM_END
from lacunar.survey import Room


def arrange_layout(room: Room, config: Config) -> Layout:
    """Arrange the ceiling of a room.

    Raises:
        LayoutError: beams that do not fit the room, or leave no room for trim.
    """
    outline: Ring = tuple(reversed(room.points))
    hung = hung_beams(room, config)
    grid = make_grid(room, tuple(beam.centre for beam in hung))
    beams = hang(room, config, hung, outline)
    bars = _bars(room, config, grid, beams)
    cells = cut_cells(room, grid, bars.free, beams, bars.rows, _cross_width(config), bars.edges)
    _wide_enough(cells, config)
    joists = find_joists(room, config)
    holes = cut_outs(room, config, cells)
    laid = [lay_slats(_ground(room, config, cell, joists, holes)) for cell in cells]
    coffers = tuple(coffer for coffer, _ in laid)
    above = _above(room, config, joists, holes)
    furring, nailing, slats = fasten(room, config, coffers, [slat for _, slats in laid for slat in slats], above)
    return Layout(
        face="F1",
        outline=outline,
        inner=tuple(reversed(bars.inner)),
        beams=beams,
        pieces=bars.pieces,
        half_beams=bars.halves,
        mouldings=bars.mouldings,
        coffers=coffers,
        slat=Material(
            stock=config.slats.stock,
            species=config.slats.species,
            width=config.slats.width,
            thickness=config.slats.thickness,
        ),
        trim_strip=Material(
            stock=config.trim.stock, species=config.trim.species, width=config.trim.width, thickness=config.trim.height
        ),
        slats=slats,
        trim=tuple(
            strip
            for coffer in coffers
            for strip in lay_trim(coffer, config.trim.width, config.trim.corners, room.points[0])
        ),
        cut_outs=holes,
        joists=joists,
        pocketing=_pocketing(config),
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


def _bars(room: Room, config: Config, grid: Grid, beams: tuple[Bar, ...]) -> _Bars:
    inner, mouldings = keep_mouldings(room, config, beams)
    along = tuple(grid.along_beams(room.wall_line(wall)) for wall in room.walls)
    free, halves = half_beams(room, config, inner, beams, along)
    rows = row_lines(room, config, grid, free)
    fixed = (*beams, *halves)
    edges = (*wall_edges(room, inner), *(e for bar in fixed for e in edges_of(bar.id, bar.outline)))
    region = region_without(tuple(reversed(free)), beams)
    pieces = cut_rows(room, config, rows, region, edges, fixed)
    edges = (*edges, *(e for bar in pieces for e in edges_of(bar.id, bar.outline)))
    return _Bars(inner=inner, free=free, mouldings=mouldings, halves=halves, rows=rows, pieces=pieces, edges=edges)


def _cross_width(config: Config) -> float:
    return config.cross_beams.width if config.cross_beams else 0.0


def _wide_enough(cells: tuple[Cell, ...], config: Config) -> None:
    """A coffer must be wider than two strips of trim, else nothing of it is left to cover; each side must hold one."""
    width = config.trim.width
    narrow = [cell for cell in cells if Polygon(cell.outline).buffer(-width, join_style="mitre").is_empty]
    if narrow:
        two = saying(config)(2.0 * width)
        raise LayoutError(
            [
                Problem(
                    where=f"coffer {cell.id}",
                    what=f"it is narrower than its two strips of trim, {two} together",
                    fix=f"move {' or '.join(sorted({side.against for side in cell.sides}))} or take fewer",
                )
                for cell in narrow
            ]
        )
    refuse_short_sides(cells, width, saying(config))


def _rules(config: Config) -> tuple[Rule, EndRule]:
    slats, trim = config.slats, config.trim
    hidden = trim.width - trim.least_overlap
    rule = Rule(
        width=slats.width,
        gap=slats.gap,
        edge_gap=slats.edge_gap,
        least_edge_gap=slats.least_edge_gap,
        narrowest_rip=min(slats.narrowest_rip, slats.width / 2.0),
        kerf=config.shop.kerf,
        hidden=hidden,
        wedge=slats.wedge,
        centred=False,
    )
    ends = EndRule(end_gap=slats.end_gap, least_end_gap=slats.least_end_gap, hidden=hidden, mark=config.read_to)
    return rule, ends


def _ground(room: Room, config: Config, cell: Cell, joists: Joists, holes: tuple[CutOut, ...]) -> Ground:
    slats = config.slats
    own = slats.coffer.get(cell.id, SlatsOfCoffer())
    run, angle = (slats.run, slats.run_angle) if own.run is None else (own.run, own.run_angle)
    start = slats.from_ if own.from_ is None else own.from_
    rule, ends = _rules(config)
    return Ground(
        room=room,
        cell=cell,
        run=run,
        run_angle=angle,
        start=start,
        joists=room.wall_line(joists.along),
        rule=replace(rule, centred=start == ("centre",)),
        ends=ends,
        ceiling=coffer_plane(room, cell.outline),
        trim_width=config.trim.width,
        holes=holes,
    )


def _above(room: Room, config: Config, joists: Joists, holes: tuple[CutOut, ...]) -> Above:
    nail = config.fasteners.slat
    return Above(
        joists=joists,
        corner=room.points[0],
        holes=holes,
        strip=furring_material(config),
        units=config.units,
        mark=config.read_to,
        per_joist=config.fasteners.furring.per_joist,
        hidden=config.trim.width - config.trim.least_overlap,
        rule=Nailing(per_joist=nail.per_joist, from_end=NAIL_FROM_END, length=nail.length),
    )


def _pocketing(config: Config) -> Pocketing | None:
    if config.cross_beams is None:
        return None
    joint = config.cross_beams.joint
    return Pocketing(
        high=joint.high,
        low=joint.low,
        angle=joint.angle,
        clearance=joint.clearance,
        bore=joint.bore,
        pilot=joint.pilot,
        offset=joint.offset,
        drop=joint.drop,
        screw=joint.screw,
    )
