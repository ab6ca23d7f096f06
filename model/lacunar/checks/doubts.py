"""What a fail makes doubtful: what is bought, what is cut, or neither. Decided here, check by check."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from lacunar.checks.finding import Finding
from lacunar.checks.voice import grouped
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
    "nail-reach": Touch(words="nails or screws without enough wood: {}", sheets=("slats", "rips")),
    # Deeper stock, or a piece of another length.
    "beam-fits": Touch(words="beams that do not fit: {}", sheets=("beam pieces",)),
    # Blocking in a box, or rows that hang from the joists: other goods, and pieces that end elsewhere.
    "beam-ends": Touch(words="beams' ends that nothing holds: {}", sheets=("beam pieces",)),
    # Wider trim, or slats of another length or rip.
    "overlap-end": Touch(words="slat ends that show or jam: {}", sheets=("slats", "trim")),
    "overlap-edge": Touch(words="slat edges that show or jam: {}", sheets=("rips", "trim")),
    # The list of boards lacks the wood for them.
    "plan-served": Touch(words="parts without a board: {}"),
    # What is wrong is cut already; what is still to be cut is right.
    "cut-fits": Touch(words="cut pieces that do not fit: {}", buying=False, sheets=()),
    # One of two parts goes elsewhere, and with it rows and coffers.
    "clash": Touch(words="parts that collide: {}"),
    # Other stock or another joint.
    "pocket-breakout": Touch(words="pockets that break out: {}", sheets=("beam pieces",)),
    # Bored from the other side the same wood does.
    "driver-room": Touch(words="pockets that no drill reaches: {}", buying=False, sheets=("beam pieces",)),
    # Every length that is not measured again rests on the distances; one that is does not.
    "survey-fit": Touch(words="the distances disagree", sheets=()),
    "survey-misread": Touch(words="{} is misread", sheets=()),
    # Rows that move make other coffers.
    "fixture-clear": Touch(words="lamps without room: {}"),
    "headroom": Touch(words="doors that meet the wood: {}"),
}
"""Checks whose fail makes something doubtful."""

HARMLESS: Final = frozenset(
    {
        "budget",  # what it costs is right, and too much
        # These never fail: they warn of what will be seen or felt, and ask.
        "bow",
        "bundle",
        "buy-flip",
        "ceiling-level",
        "fit-chance",
        "pocket-hidden",
        "what-shows",
        # These are for others to decide, and make no length wrong.
        "caution-asbestos",
        "caution-electrical",
        "caution-fire",
        "caution-lead",
        "caution-overhead",
    }
)
"""Checks that make nothing doubtful."""

_WHERE: Final = {"room.measured": "a distance"}


def doubts(findings: Sequence[Finding]) -> tuple[Doubt, ...]:
    """What failed and makes a result good for less: one a check, in the order of the findings."""
    failed = (finding for finding in findings if finding.level == "fail" and finding.check not in HARMLESS)
    return tuple(_doubt(TOUCHES[check], found) for check, found in grouped(failed, lambda one: one.check).items())


def _doubt(touch: Touch, found: Sequence[Finding]) -> Doubt:
    first, count = _WHERE.get(found[0].where, found[0].where), sum(finding.alike for finding in found)
    where = first if count == 1 else f"{count:,}, first at {first}"
    return Doubt(words=touch.words.format(where), buying=touch.buying, sheets=touch.sheets)
