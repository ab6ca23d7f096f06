"""Knots: branches that grow out of the pith, and what a saw's cut through trunk and branches shows of them.

A branch is a cone from the pith outward and up. Cut square to it, on a face that looks away from the pith, it is round;
the nearer the pith lies to the face, the longer it is drawn, until a branch that runs along the face is a spike from
the pith towards the edge. Branches of one whorl leave the pith at one height.
"""

import math
from dataclasses import dataclass

import numpy as np

from lacunar.scene.noise import Floats, f32, smooth
from lacunar.scene.species import Figure

BENT = 2.0
"""How far wood is carried along a branch, in the branch's radii. Source: tuned by eye."""

AROUND = 2.1
"""How far from a branch, in its radii, that goes; along the grain LONGER times as far. Source: tuned by eye."""

LONGER = 1.8


@dataclass(frozen=True, slots=True, kw_only=True)
class Knot:
    """A branch, and the face that the saw left of it.

    Attributes:
        across: mm, where its middle crosses the face.
        along: mm, the same along the board.
        away: mm, from its start at the pith to there.
        way: unit vector of its growth: across, out of the face, along.
        size: its radius there, mm.
        end: mm from the pith, where it was broken off and grew over.
    """

    across: float
    along: float
    away: float
    way: tuple[float, float, float]
    size: float
    end: float


def knots_of(
    rng: np.random.Generator, figure: Figure, size: tuple[float, float], middle: Floats, depth: Floats
) -> list[Knot]:
    """The knots of one face, away from the seam.

    Args:
        rng: of the board.
        figure: of its wood.
        size: mm across and along.
        middle: where the pith lies, mm across, row by row along the board.
        depth: how far below the face, mm.
    """
    found: list[Knot] = []
    for _ in range(int(rng.poisson(figure.knots_per_m2 * size[0] * size[1] * 1e-6))):
        height = float(rng.uniform(0.08, 0.92))
        row = int(height * len(middle))
        aside, deep = float(middle[row]), max(abs(float(depth[row])), 3.0)
        first = math.atan2(float(rng.uniform(0.05, 0.95)) * size[0] - aside, deep)
        for k in range(figure.whorl):
            turn = first + (k + float(rng.normal(0.0, 0.12)) * (k > 0)) * 2 * math.pi / figure.whorl
            knot = _branch(rng, figure, turn, (aside, deep, height * size[1]))
            # Beyond the face, or looking away from it.
            if math.cos(turn) > 0.02 and -0.1 * size[0] < knot.across < 1.1 * size[0]:
                found.append(knot)
    return found


def _branch(rng: np.random.Generator, figure: Figure, turn: float, pith: tuple[float, float, float]) -> Knot:
    """The branch that leaves the pith in a direction round it, 0 square to the face."""
    rise = math.radians(figure.rise + float(rng.normal(0.0, 6.0)))
    way = (math.sin(turn) * math.cos(rise), math.cos(turn) * math.cos(rise), math.sin(rise))
    away = pith[1] / max(way[1], 0.01)
    size = min(max(figure.knot * float(rng.lognormal(0.0, 0.4)), 2.0), 2.4 * figure.knot)
    # It is thinner near the pith.
    size *= min(1.0, (away / 45.0) ** 0.5)
    end = max(away, 40.0) * float(rng.uniform(1.3, 3.5))
    return Knot(
        across=pith[0] + away * way[0], along=pith[2] + away * way[2], away=away, way=way, size=max(size, 1.5), end=end
    )


@dataclass(frozen=True, slots=True)
class Cut:
    """A knot on the rows that it reaches.

    Attributes:
        knot: it.
        rows: of the face.
        aside: mm across from its middle.
        off: mm from its middle.
        bent: how far wood was carried along it, mm.
        radius: of the branch, mm, 0 where there is none.
    """

    knot: Knot
    rows: slice
    aside: Floats
    off: Floats
    bent: Floats
    radius: Floats


def cut_through(knot: Knot, x: Floats, z: Floats) -> Cut:
    """What a face shows of a branch. `x`: mm across, (1, columns), `z`: along, (rows, 1)."""
    ax, ay, az = knot.way
    # The branch climbs as it crosses the face: the rows from where it enters to where it leaves.
    climb = np.clip((np.array([x[0, 0], x[0, -1]]) - knot.across) * az / (ax or 1e-9), *_bounds(knot))
    reach = 12.0 * knot.size
    low, high = (float(v) for v in (knot.along + climb.min() - reach, knot.along + climb.max() + reach))
    first, last = np.searchsorted(z[:, 0], (low, high))
    rows = slice(int(first), int(last))
    dx, dz = f32(x - f32(knot.across)), f32(z[rows] - f32(knot.along))
    out = f32(dx * f32(ax) + dz * f32(az))
    # Each place less the nearest of the branch's middle.
    ex, ey, ez = (f32(part) for part in (dx - out * f32(ax), out * f32(-ay), dz - out * f32(az)))
    level = ex * ex + ey * ey
    out += f32(knot.away)
    taper = np.clip(out * f32(1 / knot.away), 0.0, 1.7) ** f32(0.6)
    radius = f32(f32(knot.size) * taper) * smooth(knot.end + 4.0, knot.end - 2.0, out)
    far = np.sqrt(level + ez * ez * f32(LONGER**-2)) * f32(1 / (AROUND * knot.size))
    edge = np.clip(np.minimum(z[rows] - f32(low), f32(high) - z[rows]) * f32(1 / (4.0 * knot.size)), 0.0, 1.0)
    bent = f32(BENT * knot.size) * np.exp(-far) * edge * smooth(0.0, 2.0 * knot.size, out)
    return Cut(knot, rows, ex, f32(np.sqrt(level + ez * ez)), f32(bent), radius)


def _bounds(knot: Knot) -> tuple[float, float]:
    """How far along the board from its crossing a branch may go: to its pith and to its end."""
    az = knot.way[2]
    ends = (-knot.away * az, (min(knot.end, 12 * knot.away) - knot.away) * az)
    return min(ends), max(ends)


def fibres(cuts: list[Cut], x: Floats, z: Floats) -> Floats:
    """Where the fibre at each place would lie if no knot stood in its way, mm across; shape (rows, columns).

    Fibres part before a knot and close behind it as a stream does round a post, and those beside a branch that lies
    in the face go along with it. Source: potential flow round a cylinder, stretched along the board; that wood grows
    so is from memory.
    """
    way = np.broadcast_to(x, (len(z), x.shape[1])).copy()
    for cut in cuts:
        knot, near = cut.knot, cut.rows
        aside, ahead = way[near] - f32(knot.across), f32((z[near] - knot.along) / 2.6)
        post = f32((1.2 * knot.size) ** 2)
        far = aside * aside + ahead * ahead
        held = np.minimum(post / np.maximum(far, 1e-3), 1.0) * np.exp(-far / (30.0 * post))
        way[near] -= aside * held * f32(knot.way[1] ** 4) + cut.bent * f32(knot.way[0])
    return way


def draw(grey: Floats, cuts: list[Cut], wobble: Floats) -> None:
    """Put knots into a face. `wobble`: unevenness, about unit spread."""
    for cut in cuts:
        knot, rough = cut.knot, wobble[cut.rows]
        radius = np.maximum(cut.radius, f32(0.3))
        # What runs along the face has straight sides.
        rho = f32(cut.off / radius + f32(0.02 + 0.08 * knot.way[1]) * rough)
        # The pith of the branch is dark, and its rings are finer than the stem's.
        rings = np.cos((cut.off + f32(0.25) * cut.aside + f32(0.3) * rough) * f32(2 * np.pi / 1.3))
        heart = 0.48 + 0.06 * rings + 0.20 * smooth(0.30, 0.0, rho) + 0.05 * rough
        # A dead branch leaves its bark, a live one grew on: farther out most have a dark edge for a part of the way.
        bark = 0.36 * smooth(0.78, 0.97, rho) * smooth(-0.7, 0.7, f32(rough + cut.aside / radius))
        inside = smooth(1.08, 0.94, rho) * smooth(0.2, 1.0, cut.radius)
        # Wood about it is darker, and the more so along the grain.
        dark = 0.16 * cut.bent * f32(1 / (BENT * knot.size))
        grey[cut.rows] = (grey[cut.rows] + dark) * (1 - inside) + (heart + bark) * inside
