"""Does every pocket stay inside the wood?

What: bore, shoulder and pilot of each pocket against top, bottom, both sides and the end of its piece, the mouth's
ellipse against the corners of its side face, and the pockets of a piece against each other.
Why: a bore that breaks out shows or splits off when the screw draws; two that meet leave the screw nothing to pull
on.
Fix: another offset, drop or angle (cross_beams.joint), fewer pockets, or deeper and wider stock.
Source: geometry; 1/8 in of wood left is common practice, no source.
"""

from lacunar.analysis import PocketFit
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, least_each, settle, tell_once
from lacunar.parts import pocket_name
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

LEAST_WOOD = INCH / 8.0
"""Wood left round a hole so that it does not split off. Source: common practice, no source."""


FIXES = {
    "the top": "a greater cross_beams.joint.drop",
    "the bottom": "a smaller cross_beams.joint.drop or deeper stock",
    "the opposite side": "a smaller cross_beams.joint.offset or wider stock",
    "the pocket beside it": "fewer pockets, another offset or drop, or wider stock",
    "the end grain": "a shorter bore: a longer screw (cross_beams.joint.screw)",
    "its own side": "a longer bore: a shorter screw (cross_beams.joint.screw) or a smaller bore",
}
"""By what lies where least wood is left."""


@check("pocket-breakout", "geometry; 1/8 in of wood left: common practice, no source", __doc__)
def check_pocket_breakout(voice: Voice) -> Found:
    """Findings on pockets and the wood round them."""
    pockets = voice.analysis.pockets
    if not pockets:
        return (voice.say("pass", "the ceiling", "no piece has a pocket"),)
    thinnest = least_each(pockets, lambda one: one.part, lambda one: one.wood)
    found = [_finding(voice, one) for one in thinnest if wood_level(one)]
    least = min(thinnest, key=lambda one: one.wood)
    message = f"at least {voice.length(least.wood)} of wood is left round every pocket ({_place(voice, least)})"
    passed = voice.say("pass", least.part, message, value=least.wood, limit=LEAST_WOOD)
    return settle(tell_once(found, "pieces"), passed)


def wood_level(pocket: PocketFit) -> int:
    """How bad it is: 0 for good, 1 for a warning, 2 for a failure."""
    return 2 if pocket.wood < -CONTACT else int(pocket.wood < LEAST_WOOD - CONTACT)


def named(voice: Voice, pocket: PocketFit) -> str:
    """A pocket in words."""
    part = voice.part(pocket.part)
    return pocket_name(part, part.pockets[pocket.index])


def _place(voice: Voice, pocket: PocketFit) -> str:
    return f"{named(voice, pocket)}, towards {pocket.towards}"


def _finding(voice: Voice, pocket: PocketFit) -> Finding:
    wood, place, out = pocket.wood, _place(voice, pocket), wood_level(pocket) == 2
    message = f"only {voice.length(wood)} of wood is left at a pocket ({place})"
    if out:
        message = f"a pocket breaks out by {voice.length(-wood)} ({place})"
    fix = FIXES.get(pocket.towards, "another angle or offset (cross_beams.joint)")
    return voice.say("fail" if out else "warn", pocket.part, message, value=wood, limit=LEAST_WOOD, fix=fix)
