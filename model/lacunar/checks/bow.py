"""Are beams and walls straight between their ends?

What: a beam's width half way against its width, and a width taken from the middle of one wall to the middle of
another against the room that the other distances make; what that does to the length of every piece beside them.
Why: a beam that bows by an eighth leaves the pieces that meet it half way too long or too short by a sixteenth.
Fix: measure those openings on the wood before cutting; the drawing takes every face as straight.
Source: a bowed face as a parabola, both faces of a beam alike: common practice, no source. Reading error as for
survey-fit.
"""

from collections.abc import Iterator

from lacunar.analysis import BowFit
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, settle
from lacunar.survey import Bow


@check("bow", "a bowed face as a parabola, both faces of a beam alike; common practice, no source", __doc__)
def check_bow(voice: Voice) -> Found:
    """Findings on widths taken half way."""
    bows = voice.analysis.bows
    found = [finding for one in bows for finding in _bent(voice, one)]
    return settle([*found, *_unknown(voice)], _passed(voice, bows))


def _unknown(voice: Voice) -> Iterator[Finding]:
    """Existing beams that pieces meet, and that nobody has measured half way."""
    layout, known = voice.subject.layout, {one.bow.name for one in voice.analysis.bows}
    unknown = {name for piece in (*layout.pieces, *layout.half_beams) for name in piece.meets} - known
    names = [bar.id for bar in layout.beams if bar.kind == "existing beam" and bar.id in unknown]
    if names:
        message = f"taken as straight, since nobody measured {'its' if len(names) == 1 else 'their'} width half way"
        fix = "measure how wide each is half way and write it as its middle in [[beam]]"
        yield voice.say("ask", ", ".join(names), message, value=len(names), limit=0, unit="count", fix=fix)


def _bent(voice: Voice, one: BowFit) -> Iterator[Finding]:
    bow, limit = one.bow, _allowed(voice)
    bent = sorted((piece for piece in one.pieces if abs(piece.by) > limit), key=lambda piece: -abs(piece.by))
    if bent and bow.surely:
        listed = ", ".join(f"{p.part} {voice.length(abs(p.by))} {'shorter' if p.by > 0.0 else 'longer'}" for p in bent)
        message = f"{_shape(voice, bow)}: if it bows evenly, {listed} than drawn"
        fix = "measure these openings on the wood before cutting"
        yield voice.say("warn", bow.name, message, value=abs(bent[0].by), limit=limit, fix=fix)


def _passed(voice: Voice, bows: tuple[BowFit, ...]) -> Finding:
    if not bows:
        return voice.say("pass", "the ceiling", "no piece meets an existing beam")
    one = max(bows, key=lambda one: abs(one.bow.amount))
    most, off = one.bow, max((abs(piece.by) for piece in one.pieces), default=0.0)
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
