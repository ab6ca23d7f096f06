"""Furring: whether there is any, and what then catches what."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from lacunar.config import Config
from lacunar.layout.furring_places import SPACING
from lacunar.layout.furring_strips import Above, lay_strips, runs_along, with_intervals
from lacunar.layout.gaps import gap_at
from lacunar.layout.nails import ENOUGH, Bearer, joist_bearers, nail_slat, strip_bearers
from lacunar.layout.types import Coffer, CutOut, DressedStock, FurringLayer, FurringStrip, JoistLines, Nailing, Slat
from lacunar.materials import (
    DEFAULT_OLD_CEILING,
    LEAST_IN_JOIST,
    NAIL_FROM_END,
    longest_nail_within,
    shortest_screw_over,
)
from lacunar.survey import Room
from lacunar.units import Units


def fasten(
    room: Room,
    config: Config,
    coffers: Sequence[Coffer],
    slats: Sequence[Slat],
    joists: JoistLines,
    holes: tuple[CutOut, ...],
) -> tuple[FurringLayer | None, Nailing, tuple[Slat, ...]]:
    """Whether the ceiling gets furring; how slats are then nailed; slats with their nails.

    Furring helps slats that run along the joists. Slats that cross them are nailed to strips under the same joists, and
    catch no more of those, so "auto" chooses none for their sake; nor for joists that are only assumed.
    """
    nail, use = config.fasteners.slat, config.furring.use
    rule = Nailing(per_joist=nail.per_joist, from_end=NAIL_FROM_END, length=nail.length)
    on_joists = tuple(_on_joists(slat, joist_bearers(joists), rule) for slat in slats)
    missed = () if use is not True and joists.assumed else _missed(coffers, on_joists, joists)
    if use is False or (use == "auto" and not missed):
        return None, rule, on_joists
    wood = config.furring
    strip = DressedStock(stock=wood.stock, species=wood.species, width=wood.width, thickness=wood.thickness)
    above = Above(
        joists=joists,
        corner=room.points[0],
        holes=holes,
        strip=strip,
        rule=rule,
        spacing=SPACING[config.units],
        hidden=config.trim.width - config.trim.least_overlap,
        mark=config.read_to,
        per_joist=config.fasteners.furring.per_joist,
    )
    strips: list[FurringStrip] = []
    nailed: dict[str, Slat] = {}
    for coffer in coffers:
        hung = [slat for slat in slats if slat.coffer == coffer.id]
        laid = tuple(lay_strips(coffer, above)) if hung else ()
        bearers = strip_bearers(laid, strip.width)
        mine = [_on_strips(slat, laid, bearers, rule) for slat in hung]
        nailed.update({slat.id: slat for slat in mine})
        strips += with_intervals(coffer, laid, mine, above)
    if not config.is_given("fasteners.slat.length"):
        within = config.slats.thickness + strip.thickness
        rule = replace(rule, length=longest_nail_within(within, config.units))
    screw = config.fasteners.furring.length
    if not config.is_given("fasteners.furring.length"):
        old = (config.framing.old_ceiling or DEFAULT_OLD_CEILING).thickness
        screw = max(screw, _screw_over(strip.thickness + old, room, coffers, strips, config.units))
    missed = () if use is True else missed
    layer = FurringLayer(strip=strip, strips=tuple(strips), screw=screw, missed=missed)
    return layer, rule, tuple(nailed[slat.id] for slat in slats)


def _screw_over(
    layers: float, room: Room, coffers: Iterable[Coffer], strips: Sequence[FurringStrip], units: Units
) -> float:
    """Length of a screw through strip and old ceiling: an inch is in the joist where the gap above is largest too."""
    gaps = [
        gap_at(room, coffer.ceiling, strip.nails) for coffer in coffers for strip in strips if strip.coffer == coffer.id
    ]
    return shortest_screw_over(layers + LEAST_IN_JOIST + max(gaps, default=0.0), units)


def _on_joists(slat: Slat, bearers: Sequence[Bearer], rule: Nailing) -> Slat:
    nails, caught = nail_slat(slat, bearers, rule)
    return replace(slat, nails=nails, joists=tuple(index + 1 for index in caught))


def _on_strips(slat: Slat, strips: Sequence[FurringStrip], bearers: Sequence[Bearer], rule: Nailing) -> Slat:
    nails, caught = nail_slat(slat, bearers, rule)
    return replace(slat, nails=nails, furring=tuple(strips[index].id for index in caught))


def _missed(coffers: Iterable[Coffer], slats: Sequence[Slat], joists: JoistLines) -> tuple[str, ...]:
    """Coffers whose slats run along the joists and catch too few."""
    too_few = {slat.coffer for slat in slats if len(slat.joists) < ENOUGH}
    if not joists.lines:
        return ()
    return tuple(coffer.id for coffer in coffers if coffer.id in too_few and runs_along(coffer, joists))
