"""Does every beam fit its opening, and can it be got in?

What: length of both sides against the opening between what the ends come up to; the piece corner to corner against
that opening; nothing below its place; the bought section deep enough for it; how much of its top is scribed away;
the gap above it hidden by slats and trim; slats and trim not lower than any beam's bottom.
Why: a piece a sixteenth too long splits the joint or does not go in at all; one that is longer corner to corner
than its opening cannot be swung up one end first; a beam that ends above the trim beside it makes no coffer.
Fix: measure the opening again on both faces and cut to the shorter; lift level with both ends together; take deeper
stock, or higher trim to hide the gap.
Source: geometry; joint clearance is the config's cross_beams.joint.clearance. A joint open by more than 1/16 in
beyond that shows, and 1 3/4 in is the step from one dressed depth to the next (PS 20): common practice, no source.
"""

from collections.abc import Iterator, Sequence

from lacunar.analysis import BeamFit
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, assumed_shape, check, settle, tell_once
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

SOURCE = "geometry of the opening; cross_beams.joint.clearance of the config; common practice, no source"

OPEN_JOINT = INCH / 16.0
"""A joint open by more than its clearance and this shows. Source: common practice, no source."""

NEXT_DEPTH = 1.75 * INCH
"""From one dressed depth to the next shallower: 7 1/4 to 5 1/2 in. Source: PS 20, Table 3."""


@check("beam-fits", SOURCE, __doc__)
def check_beam_fits(voice: Voice) -> Found:
    """Findings on beams and pieces that still go up."""
    beams = [beam for beam in voice.analysis.beams if beam.sides]
    sunk = tell_once(_sunk(voice), "beams")
    if not beams:
        return settle(sunk, voice.say("pass", "the ceiling", "no beam goes up"))
    found = [finding for beam in beams for said in (_length, _depth, _place) for finding in said(voice, beam)]
    return settle([*found, *sunk], _passed(voice, beams), assumed_shape(voice.subject))


def _clearance(voice: Voice, name: str) -> float:
    cross = voice.config.cross_beams
    return cross.joint.clearance if cross is not None and voice.part(name).kind == "cross beam" else 0.0


def _length(voice: Voice, beam: BeamFit) -> Iterator[Finding]:
    fit, clearance = beam.tighter, _clearance(voice, beam.part)
    if fit.play < -CONTACT:
        message = (
            f"its {fit.side} side is {voice.length(fit.length)} long, the opening there {voice.length(fit.clear)}:"
            f" {voice.length(-fit.play)} too long"
        )
        fix = f"cut it {voice.at_least(clearance - fit.play)} shorter"
        yield voice.say("fail", beam.part, message, value=fit.length, limit=fit.clear, fix=fix)
    play = beam.looser.play
    if play > clearance + OPEN_JOINT + CONTACT:
        message = f"its {beam.looser.side} side is {voice.length(play)} shorter than its opening: the joints stand open"
        fix = f"cut it {voice.length(play - clearance)} longer"
        yield voice.say("warn", beam.part, message, value=play, limit=clearance + OPEN_JOINT, fix=fix)


def _depth(voice: Voice, beam: BeamFit) -> Iterator[Finding]:
    (shallowest, needed), stock = beam.depths, beam.stock_depth
    if stock is None:
        return
    deep, off = voice.length(stock), stock - shallowest
    if needed > stock + CONTACT:
        message = f"{voice.part(beam.part).stock} is {deep} deep, its place needs {voice.length(needed)}"
        yield voice.say("fail", beam.part, message, value=stock, limit=needed, fix="take deeper stock")
    elif off >= NEXT_DEPTH:
        message, fix = f"{voice.length(off)} of its {deep} are scribed away", "the next shallower stock would do"
        yield voice.say("warn", beam.part, message, value=off, limit=NEXT_DEPTH, fix=fix)


def _place(voice: Voice, beam: BeamFit) -> Iterator[Finding]:
    """What shows above it, and what keeps it from being lifted in."""
    hidden = beam.hidden
    if hidden is not None and hidden < -CONTACT:
        message = f"slats and trim end {voice.length(-hidden)} above its top: the gap over it shows"
        fix = f"take deeper stock or trim {voice.at_least(-hidden)} higher, or close the gap with a strip"
        yield voice.say("warn", beam.part, message, value=hidden, limit=0.0, fix=fix)
    for under in beam.under:
        message = f"{voice.part(under).kind} {under} lies below its place: it cannot be lifted in"
        yield voice.say("fail", beam.part, message, unit="", fix=f"put {beam.part} up before {under}")


def _sunk(voice: Voice) -> Iterator[Finding]:
    fix = "take deeper beams, or thinner slats and lower trim"
    if voice.subject.layout.furring is not None:
        fix += ", or do without furring (furring.use = false) and let the slats run across the joists"
    for beam in voice.analysis.beams:
        if beam.shows is not None and beam.is_sunk:
            lies = f"{voice.length(-beam.shows)} above" if beam.shows < -CONTACT else "level with"
            message = f"its bottom is {lies} that of the trim beside it: slats and trim hide it"
            yield voice.say("fail", beam.part, message, value=beam.shows, limit=0.0, fix=fix)


def _passed(voice: Voice, beams: Sequence[BeamFit]) -> Finding:
    tightest = min(beams, key=lambda beam: beam.tighter.play)
    play = tightest.tighter.play
    level = [beam for beam in beams if beam.longer_by > 0.0]
    scribed = [(beam.stock_depth - beam.depths[0], beam.part) for beam in beams if beam.stock_depth is not None]
    message = f"{len(beams)} pieces fit; the tightest has {voice.length(play)} to spare"
    if level:
        most = max(level, key=lambda beam: beam.longer_by)
        message += (
            f"; lift {'them' if len(level) > 1 else level[0].part} level, both ends together, straight up:"
            f" {most.part} is {voice.length(most.longer_by)} longer corner to corner than its opening"
        )
    off, part = max(scribed, key=lambda item: item[0], default=(0.0, ""))
    if off > CONTACT:
        message += f"; up to {voice.length(off)} is scribed off ({part})"
    return voice.say("pass", tightest.part, message, value=play, limit=_clearance(voice, tightest.part))
