"""Are beams and walls straight between their ends?

What: a beam's width half way against its width, and a width taken from the middle of one wall to the middle of
another against the room that the other distances make; what that does to the length of every piece beside them.
Why: a beam that bows by an eighth leaves the pieces that meet it half way too long or too short by a sixteenth.
Fix: measure those openings on the wood before cutting; the drawing takes every face as straight.
Source: a bowed face as a parabola, both faces of a beam alike: common practice, no source. Reading error as for
survey-fit.
"""

import math
from collections.abc import Iterator

from lacunar.analysis import Subject
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, settle
from lacunar.geometry import Line, Point
from lacunar.layout import Bar
from lacunar.survey import Bow, find_bows

BEAM_FACES = 2.0
"""Faces that share a beam's bow; each piece meets one of them."""


@check("bow", "a bowed face as a parabola, both faces of a beam alike; common practice, no source", __doc__)
def check_bow(voice: Voice) -> Found:
    """Findings on widths taken half way."""
    bows = find_bows(voice.config, voice.subject.room)
    found = [finding for bow in bows for finding in _bent(voice, bow)]
    return settle([*found, *_unknown(voice, bows)], _passed(voice, bows))


def _unknown(voice: Voice, bows: tuple[Bow, ...]) -> Iterator[Finding]:
    """Existing beams that pieces meet, and that nobody has measured half way."""
    met = {name for piece in _pieces(voice.subject) for name in piece.meets}
    unknown = met - {bow.name for bow in bows}
    names = [bar.id for bar in voice.subject.layout.beams if bar.kind == "existing beam" and bar.id in unknown]
    if names:
        message = f"taken as straight, since nobody measured {'its' if len(names) == 1 else 'their'} width half way"
        fix = "measure how wide each is half way and write it as its middle in [[beam]]"
        yield voice.say("ask", ", ".join(names), message, value=len(names), limit=0, unit="count", fix=fix)


def _bent(voice: Voice, bow: Bow) -> Iterator[Finding]:
    limit, off = _allowed(voice), shortened(voice.subject, bow)
    bent = sorted((piece for piece in off if abs(off[piece]) > limit), key=lambda piece: -abs(off[piece]))
    if bent and bow.surely:
        listed = ", ".join(f"{p} {voice.length(abs(off[p]))} {'shorter' if off[p] > 0.0 else 'longer'}" for p in bent)
        message = f"{_shape(voice, bow)}: if it bows evenly, {listed} than drawn"
        fix = "measure these openings on the wood before cutting"
        yield voice.say("warn", bow.name, message, value=abs(off[bent[0]]), limit=limit, fix=fix)


def _passed(voice: Voice, bows: tuple[Bow, ...]) -> Finding:
    if not bows:
        return voice.say("pass", "the ceiling", "no piece meets an existing beam")
    most = max(bows, key=lambda bow: abs(bow.amount))
    off = max((abs(by) for by in shortened(voice.subject, most).values()), default=0.0)
    end = "" if most.surely else ", within reading error"
    message = f"{_shape(voice, most)}{end}; that changes no piece by more than its joint takes up"
    return voice.say("pass", most.name, message, value=off, limit=_allowed(voice))


def _shape(voice: Voice, bow: Bow) -> str:
    what = "its width" if bow.between[0] == bow.between[1] else f"the width between {' and '.join(bow.between)}"
    if abs(bow.amount) < 1e-3:
        return f"{what} half way is {voice.length(bow.measured)}, straight"
    more = "more" if bow.amount > 0.0 else "less"
    return f"{what} half way is {voice.length(bow.measured)}, {voice.length(abs(bow.amount))} {more} than straight"


def _allowed(voice: Voice) -> float:
    """What a joint's clearance takes up, and no less than half a mark."""
    cross = voice.config.cross_beams
    return max(voice.config.read_to / 2.0, cross.joint.clearance if cross is not None else 0.0)


def shortened(subject: Subject, bow: Bow) -> dict[str, float]:
    """By how much each piece that meets the bowed faces must be shorter than drawn, mm; negative for longer."""
    found: dict[str, float] = {}
    for piece in _pieces(subject):
        shares = [_share(subject, bow, end, meets) for end, meets in zip(piece.axis, piece.meets, strict=True)]
        if any(shares):
            found[piece.id] = math.fsum(shares) * bow.amount / BEAM_FACES
    return found


def _pieces(subject: Subject) -> tuple[Bar, ...]:
    return (*subject.layout.pieces, *subject.layout.half_beams)


def _share(subject: Subject, bow: Bow, end: Point, meets: str) -> float:
    """How much of the bow half way one end of a piece meets: 1 half way, 0 at the ends; -1 where a wall bows out."""
    if meets not in bow.between:
        return 0.0
    if bow.between[0] != bow.between[1]:
        start, finish = subject.room.wall(meets)
        return -_parabola(start, finish, end)
    return next((_parabola(*bar.axis, end) for bar in subject.layout.beams if bar.id == meets), 0.0)


def _parabola(start: Point, finish: Point, point: Point) -> float:
    share = Line.through(start, finish).along(point) / math.dist(start, finish)
    return max(0.0, 4.0 * share * (1.0 - share))
