"""How deep nails and screws go: slats' nails into joists or furring, furring's screws into joists."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.layout import Layout, OpenGap
from lacunar.materials import (
    DEFAULT_OLD_CEILING,
    FURRING_SCREW,
    LEAST_IN_JOIST,
    LEAST_PENETRATION,
    nail_diameter,
    screw_diameter,
)
from lacunar.units import INCH

LEAST_DEPTH = 0.75 * INCH
"""Of a finish nail in a joist overhead. Source: common practice, no source."""

LEAST_IN_FURRING = 0.5 * INCH
"""Of a finish nail in furring, which is thinner than a nail could use. Source: common practice, no source."""


@dataclass(frozen=True, slots=True)
class Depth:
    """What of one kind of nail or screw is left for what holds it, where the old ceiling stands highest above it.

    Attributes:
        fastener: "nail" or "screw".
        into: "joist" or "furring".
        length: of the fastener.
        through: thickness of the slat, or the strip of furring, that it fastens.
        shims: largest gap that it bridges.
        past: thickness of the old ceiling that it goes through; 0 where it stays below.
        depth: what is left; negative where it ends before.
        least: what must be left.
    """

    fastener: str
    into: str
    length: float
    through: float
    shims: float
    past: float
    depth: float
    least: float


def fastener_depths(config: Config, layout: Layout, gaps: Sequence[OpenGap]) -> tuple[Depth, ...]:
    """The slats' nail, and where there is furring its screw."""
    shims = max((gap.shim for gap in gaps), default=0.0)
    past = (config.framing.old_ceiling or DEFAULT_OLD_CEILING).thickness
    nail, slat, furring = layout.nailing.length, layout.slat.thickness, layout.furring
    least = LEAST_PENETRATION * nail_diameter(config.fasteners.slat.gauge)

    def into_joists(fastener: str, length: float, through: float, least: float) -> Depth:
        left = length - through - past - shims
        return Depth(fastener, "joist", length, through, shims, past, depth=left, least=least)

    if furring is None:
        return (into_joists("nail", nail, slat, max(LEAST_DEPTH, least)),)
    left = min(nail - slat, furring.strip.thickness)
    in_screw = max(LEAST_IN_JOIST, LEAST_PENETRATION * screw_diameter(FURRING_SCREW))
    return (
        Depth("nail", "furring", nail, slat, shims=0.0, past=0.0, depth=left, least=max(LEAST_IN_FURRING, least)),
        into_joists("screw", furring.screw, furring.strip.thickness, in_screw),
    )
