"""Does every pocket stay inside the wood?

What: bore, shoulder and pilot of each pocket against top, bottom, both sides and the end of its piece, the mouth's
ellipse against the corners of its side face, and the pockets of a piece against each other.
Why: a bore that breaks out shows or splits off when the screw draws; two that meet leave the screw nothing to pull
on.
Fix: another offset, drop or angle (cross_beams.joint), fewer pockets, or deeper and wider stock.
Source: geometry; 1/8 in of wood left is common practice, no source.
"""

from lacunar.checks.bores import Wood, wood_between, wood_round
from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, settle, tell_once
from lacunar.parts import Part, pocket_name
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

NAME = "pocket-breakout"
SOURCE = "geometry; 1/8 in of wood left: common practice, no source"

LEAST_WOOD = INCH / 8.0
"""Wood left round a hole so that it does not split off. Source: common practice, no source."""


def check_pocket_breakout(subject: Subject) -> tuple[Finding, ...]:
    """Findings on pockets and the wood round them."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    bored = [part for part in subject.parts if part.pockets]
    if not bored:
        return (voice.say("pass", "the ceiling", "no piece has a pocket"),)
    thinnest = [(part, _thinnest(part)) for part in bored]
    found = [_finding(voice, part, wood) for part, wood in thinnest if wood.thickness < LEAST_WOOD - CONTACT]
    part, wood = min(thinnest, key=lambda item: item[1].thickness)
    message = f"at least {voice.length(wood.thickness)} of wood is left round every pocket ({_place(part, wood)})"
    passed = voice.say("pass", part.id, message, value=wood.thickness, limit=LEAST_WOOD)
    return settle(tell_once(found, "pieces"), passed)


def _thinnest(part: Part) -> Wood:
    woods = [wood for pocket in part.pockets for wood in wood_round(part, pocket)]
    return min([*woods, *(wood for wood, _ in wood_between(part))], key=lambda wood: wood.thickness)


def _place(part: Part, wood: Wood) -> str:
    return f"{pocket_name(part, wood.pocket)}, towards {wood.towards}"


def _finding(voice: Voice, part: Part, wood: Wood) -> Finding:
    out = wood.thickness < -CONTACT
    if out:
        message = f"a pocket breaks out by {voice.length(-wood.thickness)} ({_place(part, wood)})"
    else:
        message = f"only {voice.length(wood.thickness)} of wood is left at a pocket ({_place(part, wood)})"
    return voice.say(
        "fail" if out else "warn", part.id, message, value=wood.thickness, limit=LEAST_WOOD, fix=_fix(wood)
    )


def _fix(wood: Wood) -> str:
    fixes = {
        "the top": "a greater cross_beams.joint.drop",
        "the bottom": "a smaller cross_beams.joint.drop or deeper stock",
        "the opposite side": "a smaller cross_beams.joint.offset or wider stock",
        "the pocket beside it": "fewer pockets, another offset or drop, or wider stock",
        "the end grain": "a shorter bore: a longer screw (cross_beams.joint.screw)",
        "its own side": "a longer bore: a shorter screw (cross_beams.joint.screw) or a smaller bore",
    }
    return fixes.get(wood.towards, "another angle or offset (cross_beams.joint)")
