"""Rooms, coffers, parts and findings as plain JSON values. Lengths in mm, unrounded."""

import math
from collections.abc import Mapping, Sequence
from typing import Any

from lacunar.checks import Finding
from lacunar.geometry import Plane, area
from lacunar.layout import Coffer, Layout, OpenGap, PlaneStep, Running, ceiling_gaps, ceiling_steps, running_dimensions
from lacunar.materials import find_species
from lacunar.parts import Cutaway, Part, Pocket, rings, volume
from lacunar.plan import Plan
from lacunar.survey import W_CRITICAL, Room, ceiling_rim, chi_square_limit, describe_heights

Row = dict[str, Any]


def survey_row(room: Room) -> Row:
    """Corners, heights, and every measurement with its misfit."""
    return {
        "corners": {name: list(point) for name, point in zip(room.corners, room.points, strict=True)},
        "heights": {**{name: z for name, (_, _, z) in ceiling_rim(room).items()}, "centre": room.centre[2]},
        "dof": room.dof,
        "chi2": room.chi2,
        "chi2_limit": chi_square_limit(room.dof, 0.95) if room.dof else None,
        "w_limit": W_CRITICAL,
        "sd": {name: list(sd) for name, sd in room.sd.items()},
        "ceiling": _ceiling_row(room),
        "measured": [
            {
                "between": m.between,
                "read": m.read,
                "adjusted": m.adjusted,
                "residual": m.residual,
                "w": m.w,
                "suspect": m.suspect,
                "redundancy": m.redundancy,
                "sd": m.sd,
                "finds": m.finds,
                "names": m.names,
            }
            for m in room.measured
        ],
    }


def _ceiling_row(room: Room) -> Row:
    heights = describe_heights(room)
    return {
        "slope_mm_per_m": heights.slope,
        "falls": heights.falls,
        "highest": heights.highest,
        "lowest": heights.lowest,
        "fall": heights.fall,
        "sag": heights.sag,
        "twist": heights.twist,
        "rms": heights.rms,
        "shim": heights.shim,
        "points": [{"at": point.name, "residual": point.residual, "shim": point.shim} for point in heights.points],
    }


def coffer_rows(room: Room, layout: Layout) -> list[Row]:
    """One row a coffer; `sides` are lengths, in the order of its trim."""
    rows = zip(layout.coffers, running_dimensions(layout), ceiling_gaps(room, layout), strict=True)
    steps = ceiling_steps(layout)
    return [_coffer_row(coffer, layout, marks, gap, steps) for coffer, marks, gap in rows]


def _coffer_row(coffer: Coffer, layout: Layout, running: Running, gap: OpenGap, steps: Sequence[PlaneStep]) -> Row:
    slats = [slat for slat in layout.slats if slat.coffer == coffer.id]
    return {
        "id": coffer.id,
        "outline": _points(coffer.outline),
        "sides": [math.dist(side.start, side.end) for side in coffer.sides],
        "area": area(coffer.outline) / 1e6,
        "run": coffer.run,
        "slats": len(slats),
        "ripped": sum(slat.ripped for slat in slats),
        "gap": coffer.gap,
        "plane": [coffer.ceiling.z0, coffer.ceiling.sx, coffer.ceiling.sy],
        "above": {"mean": gap.mean, "largest": gap.largest, "at": list(gap.at), "shim": gap.shim},
        "steps": [
            {"bar": step.bar, "coffer": other, "lower": sign * step.size}
            for step in steps
            for other, mine, sign in ((step.higher, step.lower, 1.0), (step.lower, step.higher, -1.0))
            if mine == coffer.id
        ],
        "running": [{"slat": mark.number, "start": mark.start, "end": mark.end} for mark in running.marks],
    }


def part_rows(parts: Sequence[Part], plan: Plan) -> list[Row]:
    """One row a part; `setting` is its stop, fences and mitres are found in the plan's settings."""
    stops = {part: s.id for s in plan.settings if s.stop is not None for part in s.parts}
    boards = {cut.part: board.id for board in plan.boards for cut in board.cuts}
    return [_part_row(part, stops.get(part.id), boards.get(part.id)) for part in parts]


def _part_row(part: Part, setting: str | None, board: str | None) -> Row:
    size = volume(part)
    species = find_species(part.species)
    return {
        "id": part.id,
        "kind": part.kind,
        "coffer": part.coffer,
        "stock": part.stock,
        "species": part.species,
        "outline": _points(part.outline),
        **({"holes": [_points(hole) for hole in part.holes]} if part.holes else {}),
        **_heights(part),
        "length": part.length,
        "width": part.width,
        "width_end": part.width_end,
        "thickness": part.thickness,
        "ends": [{"mitre_deg": end.mitre_deg, "bevel_deg": end.bevel_deg} for end in part.ends],
        "ripped": part.ripped,
        "interval": None if part.interval is None else list(part.interval),
        "nails": _points(part.nails),
        "joists": list(part.joists),
        "furring": list(part.furring),
        "notches": [_notch_row(notch) for notch in part.notches],
        "pockets": [_pocket_row(pocket) for pocket in part.pockets],
        "volume": size,
        "mass": None if species is None else size * 1e-9 * species.density,
        "setting": setting,
        "board": board,
    }


def _heights(part: Part) -> Row:
    """Lowest and highest z; both rings too where a face is not level."""
    bottom, top = rings(part)
    heights = [z for _, _, z in (*bottom, *top)]
    sloping = not (_is_level(part.bottom) and _is_level(part.top))
    shape = {"rings": [_points(bottom), _points(top)]} if sloping else {}
    return {"z": [min(heights), max(heights)], **shape}


def _is_level(plane: Plane) -> bool:
    return plane.sx == 0.0 and plane.sy == 0.0


def _notch_row(notch: Cutaway) -> Row:
    return {
        "fixture": notch.fixture,
        "outline": _points(notch.outline),
        "along": list(notch.along),
        "inside": notch.inside,
    }


def _pocket_row(pocket: Pocket) -> Row:
    return {
        "end": pocket.end,
        "side": pocket.side,
        "level": pocket.level,
        "mouth": list(pocket.mouth),
        "direction": list(pocket.direction),
        "bore": pocket.bore,
        "pilot": pocket.pilot,
        "bore_length": pocket.bore_length,
        "pilot_length": pocket.pilot_length,
        "screw": pocket.screw,
    }


def finding_rows(findings: Sequence[Finding]) -> list[Row]:
    """One row a finding, in the order of the checks."""
    return [
        {
            "check": f.check,
            "level": f.level,
            "where": f.where,
            "value": f.value,
            "limit": f.limit,
            "unit": f.unit,
            "trials": f.trials,
            "message": f.message,
            "fix": f.fix,
            "source": f.source,
            "assumed": list(f.assumed),
        }
        for f in findings
    ]


def levels(findings: Sequence[Mapping[str, Any]]) -> dict[str, int]:
    """How many findings there are of each level, the gravest first."""
    return {level: sum(f["level"] == level for f in findings) for level in ("fail", "warn", "ask", "pass")}


def _points(points: Sequence[Sequence[float]]) -> list[list[float]]:
    return [list(point) for point in points]
