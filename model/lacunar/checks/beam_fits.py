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

import math

from lacunar.checks.finding import Finding
from lacunar.checks.openings import SideFit, side_fits, worst_of
from lacunar.checks.overlap import plan_depth
from lacunar.checks.shapes import index_pairs, near_pairs
from lacunar.checks.subject import NEW_BEAMS, Subject, trim_along
from lacunar.checks.voice import Voice, assumed_shape, settle, tell_once
from lacunar.layout import Bar
from lacunar.parts import Part
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

NAME = "beam-fits"
SOURCE = "geometry of the opening; cross_beams.joint.clearance of the config; common practice, no source"

OPEN_JOINT = INCH / 16.0
"""A joint open by more than its clearance and this shows. Source: common practice, no source."""

NEXT_DEPTH = 1.75 * INCH
"""From one dressed depth to the next shallower: 7 1/4 to 5 1/2 in. Source: PS 20, Table 3."""


def check_beam_fits(subject: Subject) -> tuple[Finding, ...]:
    """Findings on beams and pieces that still go up."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    beams = subject.new_beams
    sunk = _sunk(voice)
    if not beams:
        return settle(sunk, voice.say("pass", "the ceiling", "no beam goes up"))
    fits = side_fits(subject)
    bars = {bar.id: bar for bar in _bars(subject)}
    found: list[Finding] = []
    for part in beams:
        worst = worst_of(fits, part)
        found += [*_length(voice, worst), *_open(voice, fits, part), *_depth(voice, part, bars.get(part.id))]
        found += _gap_above(voice, part)
    found += [*_below(voice), *sunk]
    return settle(found, _passed(voice, fits, bars), assumed_shape(subject))


def _bars(subject: Subject) -> tuple[Bar, ...]:
    layout = subject.layout
    return (*layout.beams, *layout.half_beams, *layout.pieces)


def _clearance(voice: Voice, part: Part) -> float:
    cross = voice.subject.config.cross_beams
    return cross.joint.clearance if cross is not None and part.kind == "cross beam" else 0.0


def _length(voice: Voice, fit: SideFit) -> list[Finding]:
    if fit.play >= -CONTACT:
        return []
    message = (
        f"its {fit.side} side is {voice.length(fit.length)} long, the opening there {voice.length(fit.clear)}:"
        f" {voice.length(-fit.play)} too long"
    )
    fix = f"cut it {voice.at_least(_clearance(voice, fit.part) - fit.play)} shorter"
    return [voice.say("fail", fit.part.id, message, value=fit.length, limit=fit.clear, fix=fix)]


def _open(voice: Voice, fits: tuple[SideFit, ...], part: Part) -> list[Finding]:
    allowed = _clearance(voice, part) + OPEN_JOINT
    loose = max((fit for fit in fits if fit.part.id == part.id), key=lambda fit: fit.play)
    if loose.play <= allowed + CONTACT:
        return []
    message = f"its {loose.side} side is {voice.length(loose.play)} shorter than its opening: the joints stand open"
    fix = f"cut it {voice.length(loose.play - _clearance(voice, part))} longer"
    return [voice.say("warn", part.id, message, value=loose.play, limit=allowed, fix=fix)]


def _depth(voice: Voice, part: Part, bar: Bar | None) -> list[Finding]:
    if bar is None or not part.bought:
        return []
    needed = deepest(part)
    if needed > bar.stock_depth + CONTACT:
        message = f"{part.stock} is {voice.length(bar.stock_depth)} deep, its place needs {voice.length(needed)}"
        return [voice.say("fail", part.id, message, value=bar.stock_depth, limit=needed, fix="take deeper stock")]
    off = bar.stock_depth - shallowest(part)
    if off < NEXT_DEPTH:
        return []
    message = f"{voice.length(off)} of its {voice.length(bar.stock_depth)} are scribed away"
    fix = "the next shallower stock would do"
    return [voice.say("warn", part.id, message, value=off, limit=NEXT_DEPTH, fix=fix)]


def deepest(part: Part) -> float:
    """Greatest height between a part's two planes, measured over its corners."""
    return max(part.top.at(point) - part.bottom.at(point) for point in part.outline)


def shallowest(part: Part) -> float:
    """Least height between a part's two planes, measured over its corners."""
    return min(part.top.at(point) - part.bottom.at(point) for point in part.outline)


def _gap_above(voice: Voice, part: Part) -> list[Finding]:
    hidden = _hidden(voice.subject, part)
    if hidden is None or hidden >= -CONTACT:
        return []
    message = f"slats and trim end {voice.length(-hidden)} above its top: the gap over it shows"
    fix = f"take deeper stock or trim {voice.at_least(-hidden)} higher, or close the gap with a strip"
    return [voice.say("warn", part.id, message, value=hidden, limit=0.0, fix=fix)]


def _hidden(subject: Subject, part: Part) -> float | None:
    """How far trim reaches down past the top of a beam, at the worst place; None where no coffer lies beside it."""
    found: list[float] = []
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against != part.id:
                continue
            trim = trim_along(subject, coffer, index)
            under = trim.bottom if trim is not None else subject.layout.backing(coffer)
            found += [part.top.at(point) - under.at(point) for point in (side.start, side.end)]
    return min(found, default=None)


def hidden_beams(subject: Subject) -> tuple[tuple[Part, float], ...]:
    """Beams whose bottom is not below the trim beside them, and how far it is below: 0 or less."""
    beams = [part for part in subject.hanging if part.kind != "moulding"]
    shown = [(part, _shows(subject, part)) for part in beams]
    return tuple((part, shows) for part, shows in shown if shows is not None and shows <= CONTACT)


def _sunk(voice: Voice) -> list[Finding]:
    found: list[Finding] = []
    for part, shows in hidden_beams(voice.subject):
        lies = f"{voice.length(-shows)} above" if shows < -CONTACT else "level with"
        message = f"its bottom is {lies} that of the trim beside it: slats and trim hide it"
        fix = "take deeper beams, or thinner slats and lower trim"
        if voice.subject.layout.furring is not None:
            fix += ", or do without furring (furring.use = false) and let the slats run across the joists"
        found.append(voice.say("fail", part.id, message, value=shows, limit=0.0, fix=fix))
    return list(tell_once(found, "beams"))


def _shows(subject: Subject, part: Part) -> float | None:
    """How far a beam hangs below the trim beside it, at the worst place; None where no coffer lies beside it."""
    found: list[float] = []
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            trim = trim_along(subject, coffer, index) if side.against == part.id else None
            if trim is not None:
                found += [trim.bottom.at(point) - part.bottom.at(point) for point in (side.start, side.end)]
    return min(found, default=None)


def _below(voice: Voice) -> list[Finding]:
    """Beams that something below keeps from being lifted into place."""
    subject = voice.subject
    hanging = subject.hanging
    polygons = [subject.polygon(part.id) for part in hanging]
    found: list[Finding] = []
    for a, b in index_pairs(*near_pairs(polygons)):
        for part, under in ((hanging[a], hanging[b]), (hanging[b], hanging[a])):
            if part.kind not in NEW_BEAMS or not _is_under(under, part):
                continue
            if plan_depth(polygons[a], polygons[b]) > CONTACT:
                message = f"{under.kind} {under.id} lies below its place: it cannot be lifted in"
                found.append(voice.say("fail", part.id, message, unit="", fix=f"put {part.id} up before {under.id}"))
    return found


def _is_under(one: Part, other: Part) -> bool:
    return max(one.top.at(p) for p in one.outline) <= min(other.bottom.at(p) for p in other.outline) + CONTACT


def _passed(voice: Voice, fits: tuple[SideFit, ...], bars: dict[str, Bar]) -> Finding:
    tightest = min(fits, key=lambda fit: fit.play)
    parts = voice.subject.new_beams
    level = [part for part in parts if corner_to_corner(fits, part) > min_clear(fits, part)]
    scribed = [(bars[p.id].stock_depth - shallowest(p), p) for p in parts if p.id in bars]
    message = f"{len(parts)} pieces fit; the tightest has {voice.length(tightest.play)} to spare"
    if level:
        most = max(level, key=lambda part: corner_to_corner(fits, part) - min_clear(fits, part))
        longer = corner_to_corner(fits, most) - min_clear(fits, most)
        message += (
            f"; lift {'them' if len(level) > 1 else level[0].id} level, both ends together, straight up:"
            f" {most.id} is {voice.length(longer)} longer corner to corner than its opening"
        )
    if scribed and max(scribed, key=lambda item: item[0])[0] > CONTACT:
        off, part = max(scribed, key=lambda item: item[0])
        message += f"; up to {voice.length(off)} is scribed off ({part.id})"
    limit = _clearance(voice, tightest.part)
    return voice.say("pass", tightest.part.id, message, value=tightest.play, limit=limit)


def corner_to_corner(fits: tuple[SideFit, ...], part: Part) -> float:
    """The diagonal of a piece's longer side, as it must pass when one end goes up first."""
    longest = max(fit.length for fit in fits if fit.part.id == part.id)
    return math.hypot(longest, deepest(part))


def min_clear(fits: tuple[SideFit, ...], part: Part) -> float:
    """The shorter of a piece's two openings."""
    return min(fit.clear for fit in fits if fit.part.id == part.id)
