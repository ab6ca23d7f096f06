"""How far the lengths of slats that were measured are kept from the ends of their intervals."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import sqrt

from lacunar.chance import errors_of, slat_sds
from lacunar.config import Config
from lacunar.parts import Part

SAFE = 3.0
"""Standard deviations of what may be off that both ends are kept clear by. Measured with tests/bench/margin.py: every
slat of the inch room fits first time in 99.4 % of 500 rooms. Source: common practice, no source."""


def wished_margins(parts: Sequence[Part], config: Config, *, readings: int = 1) -> Mapping[str, float]:
    """Of each slat whose interval was measured, mm, by part id: `slats.margin` where somebody gave it.

    Args:
        parts: slats of whole coffers.
        config: what was measured, and how well a tape is read.
        readings: of every coffer. Source: the mean of n readings is off by 1 / sqrt(n), standard formula.
    """
    rows = config.field.items()
    measured = {name for name, row in rows if row.shortest is not None and row.longest is not None}
    if not measured:
        return {}
    once, by = errors_of(config.survey, config.tape), 1.0 / sqrt(readings)
    errors = replace(once, **{name: by * getattr(once, name) for name in ("reading", "per_length", "slat_mark")})
    is_given = config.is_given("slats.margin")
    sds = slat_sds(parts, errors).items()
    return {name: config.slats.margin if is_given else SAFE * sd for name, sd in sds if name in measured}


def safe_margins(parts: Sequence[Part], config: Config) -> Mapping[str, float]:
    """Those that the plan chooses; where somebody gave `slats.margin` it holds for all slats, and there are none."""
    return {} if config.is_given("slats.margin") else wished_margins(parts, config)
