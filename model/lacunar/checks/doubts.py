"""What a fail makes doubtful: what is bought, what is cut, or neither. Decided here, check by check."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.checks import (
    beam_ends,
    beam_fits,
    bow,
    budget,
    bundle,
    buy_flip,
    caution_asbestos,
    caution_electrical,
    caution_fire,
    caution_lead,
    caution_overhead,
    ceiling_level,
    clash,
    driver_room,
    fit_chance,
    fixture_clear,
    headroom,
    nail_reach,
    overlap_edge,
    overlap_end,
    plan_served,
    pocket_breakout,
    pocket_hidden,
    survey_fit,
    survey_misread,
    what_shows,
)
from lacunar.checks.finding import Finding
from lacunar.config import Doubt, Sheet

ALL: Final[tuple[Sheet, ...]] = ("beam pieces", "slats", "rips", "trim")


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """What a fail of one check makes doubtful.

    Attributes:
        words: what is wrong; {} stands for where.
        buying: whether what would be bought may be wrong.
        sheets: whose parts may be cut wrong, though each was measured on the wood.
    """

    words: str
    buying: bool = True
    sheets: tuple[Sheet, ...] = ALL


TOUCHES: Final[Mapping[str, Touch]] = {
    # Furring, other nails or another run: other goods and other slats; beams and trim stay as long as they are.
    nail_reach.NAME: Touch(words="nails or screws without enough wood: {}", sheets=("slats", "rips")),
    # Deeper stock, or a piece of another length.
    beam_fits.NAME: Touch(words="beams that do not fit: {}", sheets=("beam pieces",)),
    # Blocking in a box, or rows that hang from the joists: other goods, and pieces that end elsewhere.
    beam_ends.NAME: Touch(words="beams' ends that nothing holds: {}", sheets=("beam pieces",)),
    # Wider trim, or slats of another length or rip.
    overlap_end.NAME: Touch(words="slat ends that show or jam: {}", sheets=("slats", "trim")),
    overlap_edge.NAME: Touch(words="slat edges that show or jam: {}", sheets=("rips", "trim")),
    # The list of boards lacks the wood for them.
    plan_served.NAME: Touch(words="parts without a board: {}"),
    # One of two parts goes elsewhere, and with it rows and coffers.
    clash.NAME: Touch(words="parts that collide: {}"),
    # Other stock or another joint.
    pocket_breakout.NAME: Touch(words="pockets that break out: {}", sheets=("beam pieces",)),
    # Bored from the other side the same wood does.
    driver_room.NAME: Touch(words="pockets that no drill reaches: {}", buying=False, sheets=("beam pieces",)),
    # Every length that is not measured again rests on the distances; one that is does not.
    survey_fit.NAME: Touch(words="the distances disagree", sheets=()),
    survey_misread.NAME: Touch(words="{} is misread", sheets=()),
    # Rows that move make other coffers.
    fixture_clear.NAME: Touch(words="lamps without room: {}"),
    headroom.NAME: Touch(words="doors that meet the wood: {}"),
}
"""Checks whose fail makes something doubtful."""

HARMLESS: Final = frozenset(
    {
        budget.NAME,  # what it costs is right, and too much
        # These never fail: they warn of what will be seen or felt, and ask.
        bow.NAME,
        bundle.NAME,
        buy_flip.NAME,
        ceiling_level.NAME,
        fit_chance.NAME,
        pocket_hidden.NAME,
        what_shows.NAME,
        # These are for others to decide, and make no length wrong.
        caution_asbestos.NAME,
        caution_electrical.NAME,
        caution_fire.NAME,
        caution_lead.NAME,
        caution_overhead.NAME,
    }
)
"""Checks that make nothing doubtful."""

_WHERE: Final = {"room.measured": "a distance"}


def doubts(findings: Sequence[Finding]) -> tuple[Doubt, ...]:
    """What failed and makes a result good for less: one a check, in the order of the findings."""
    failed: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.level == "fail" and finding.check not in HARMLESS:
            failed.setdefault(finding.check, []).append(finding)
    return tuple(_doubt(TOUCHES[check], found) for check, found in failed.items())


def _doubt(touch: Touch, found: Sequence[Finding]) -> Doubt:
    first, count = _WHERE.get(found[0].where, found[0].where), sum(finding.alike for finding in found)
    where = first if count == 1 else f"{count:,}, first at {first}"
    return Doubt(words=touch.words.format(where), buying=touch.buying, sheets=touch.sheets)
