"""The ceiling as a plan: wood, pockets and gaps, each with what was worked out of it."""

from collections.abc import Iterator

from lacunar.analysis import Analysis, EdgeFit
from lacunar.config import Config
from lacunar.geometry import Line, Point, centroid, dot, middle
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.scene.types import Flat, FlatShape, GapMark, Hiding, PocketMark, vector
from lacunar.tolerances import CONTACT


def flat_of(parts: tuple[Part, ...], layout: Layout, analysis: Analysis, config: Config) -> Flat:
    """The plan of a job's parts, with what its checks count."""
    least = config.trim.least_overlap
    return Flat(
        shapes=tuple(_shapes(parts, layout)),
        pockets=tuple(_pockets(parts, analysis)),
        gaps=(*_gaps(parts, (*analysis.ends, *analysis.edges), least), *_holes(layout, analysis)),
        least_overlap=least,
    )


def _shapes(parts: tuple[Part, ...], layout: Layout) -> Iterator[FlatShape]:
    """Trim hides slats, and beams stand out."""
    yield from (FlatShape(name=part.id, kind="slat", ring=part.outline) for part in parts if part.kind == "slat")
    yield from (FlatShape(name=hole.name, kind="hole", ring=hole.outline) for hole in layout.cut_outs if hole.coffer)
    yield from (FlatShape(name=part.id, kind="trim", ring=part.outline) for part in parts if part.kind == "trim")
    other = (part for part in parts if part.kind not in ("slat", "trim", "furring", "ledger", "plug"))
    yield from (FlatShape(name=part.id, kind="beam", ring=part.outline) for part in other)
    yield from (FlatShape(name=coffer.id, kind="coffer", ring=coffer.outline) for coffer in layout.coffers)


def _pockets(parts: tuple[Part, ...], analysis: Analysis) -> Iterator[PocketMark]:
    by_id = {part.id: part for part in parts}
    for fit in analysis.pockets:
        part = by_id[fit.part]
        pocket = part.pockets[fit.index]
        inward = Line.through(part.axis[pocket.end], part.axis[1 - pocket.end]).direction
        yield PocketMark(
            body=f"{part.id} pocket {fit.index + 1}",
            part=part.id,
            joint=f"{part.id.partition('-')[0]} at {part.meets[pocket.end]}",
            fate=fit.fate,
            mouth=vector(pocket.mouth, 1000.0),
            end=part.axis[pocket.end],
            inward=inward,
            out=pocket.normal,
        )


def _gaps(parts: tuple[Part, ...], fits: tuple[EdgeFit, ...], least: float) -> Iterator[GapMark]:
    centres = {part.id: centroid(part.outline) for part in parts if part.kind == "slat"}
    for fit in fits:
        yield GapMark(
            part=fit.part,
            against=fit.against,
            kind="edge" if fit.end is None else "end",
            line=fit.line,
            out=_way_out(fit.line, centres[fit.part]),
            overlap=fit.overlap,
            hiding=_hiding(fit.overlap, least),
        )


def _hiding(overlap: float, least: float) -> Hiding:
    if overlap >= least - CONTACT:
        return "trim"
    return "short trim" if overlap > CONTACT else "nothing"


def _way_out(line: tuple[Point, ...], inside: Point) -> Point:
    """Square to an edge, away from the slat's middle."""
    start, end = line
    left = Line.through(start, end).left
    at = middle(start, end)
    outwards = dot(left, (at[0] - inside[0], at[1] - inside[1])) > 0.0
    return left if outwards else (-left[0], -left[1])


def _holes(layout: Layout, analysis: Analysis) -> Iterator[GapMark]:
    hides = {fixture.name: fixture.hides for fixture in analysis.fixtures}
    for hole in layout.cut_outs:
        by = hides[hole.name]
        if hole.coffer is not None:
            yield GapMark(
                part=hole.name,
                against=hole.coffer,
                kind="hole",
                line=hole.outline,
                out=(0.0, 0.0),
                overlap=by or 0.0,
                hiding="unknown" if by is None else "canopy" if by > CONTACT else "nothing",
            )
