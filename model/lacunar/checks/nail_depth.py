"""How deep nails and screws go: slats' nails into joists or furring, furring's screws into joists."""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice
from lacunar.layout import FurringLayer, ceiling_gaps
from lacunar.materials import (
    DEFAULT_OLD_CEILING,
    FURRING_SCREW,
    LEAST_IN_JOIST,
    LEAST_PENETRATION,
    longest_nail_within,
    nail_diameter,
    screw_diameter,
)
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

LEAST_DEPTH = 0.75 * INCH
"""Of a finish nail in a joist overhead. Source: common practice, no source."""

LEAST_IN_FURRING = 0.5 * INCH
"""Of a finish nail in furring, which is thinner than a nail could use. Source: common practice, no source."""

OPEN_CEILING = "measure the old ceiling at a hole for a lamp and write framing.old_ceiling"


def old_ceiling(subject: Subject) -> tuple[str, float, bool]:
    """Kind and thickness of the old ceiling, and whether both are given."""
    given = subject.config.framing.old_ceiling
    if given is None:
        return DEFAULT_OLD_CEILING.kind, DEFAULT_OLD_CEILING.thickness, False
    return given.kind, given.thickness, subject.config.is_given("framing.old_ceiling.thickness")


def nail_depth(subject: Subject) -> float:
    """What of a slat's nail is left for the joist, or for the furring; negative where it ends before.

    Without furring at the nail where the old ceiling stands highest above the slat.
    """
    layout = subject.layout
    left = layout.nailing.length - layout.slat.thickness
    if layout.furring is not None:
        return min(left, layout.furring.strip.thickness)
    return left - old_ceiling(subject)[1] - widest_gap(subject)


def widest_gap(subject: Subject) -> float:
    """Largest gap under the old ceiling at what is nailed or screwed to the joists."""
    return max((gap.shim for gap in ceiling_gaps(subject.room, subject.layout)), default=0.0)


def least_depth(subject: Subject) -> float:
    """What a slat's nail must have there."""
    least = LEAST_DEPTH if subject.layout.furring is None else LEAST_IN_FURRING
    return max(least, LEAST_PENETRATION * nail_diameter(subject.config.fasteners.slat.gauge))


def depths(voice: Voice) -> list[Finding]:
    """Findings on how deep what holds the ceiling goes."""
    furring = voice.subject.layout.furring
    if furring is None:
        return _into_joists(voice)
    return [*_into_furring(voice, furring), *_too_far(voice, furring), *_screws(voice, furring)]


def _into_joists(voice: Voice) -> list[Finding]:
    subject = voice.subject
    depth, limit = nail_depth(subject), least_depth(subject)
    kind, thickness, known = old_ceiling(subject)
    length = subject.layout.nailing.length
    gap = widest_gap(subject)
    shims, fur = (f", {voice.length(gap)} of shims", ", or use furring (furring.use = true)") if gap else ("", "")
    through = f"through {voice.length(subject.layout.slat.thickness)} slat{shims} and {voice.length(thickness)} {kind}"
    if depth < limit - CONTACT:
        message = f"a nail of {voice.length(length)} goes {through}: {_left(voice, depth)}, {_least(voice, limit)}"
        fix = f"take nails {voice.at_least(limit - depth)} longer{fur}"
        level = "fail" if known else "ask"
        return [voice.say(level, "fasteners.slat.length", message, value=depth, limit=limit, fix=fix)]
    if known:
        return []
    message = f"{_left(voice, depth)}, if the old ceiling is {voice.length(thickness)} {kind} as assumed"
    return [voice.say("ask", "framing.old_ceiling", message, value=depth, limit=limit, fix=OPEN_CEILING)]


def _left(voice: Voice, depth: float) -> str:
    if depth > 0.0:
        return f"{voice.length(depth)} of it reach the joist"
    return f"it ends {voice.length(-depth)} before the joist"


def _least(voice: Voice, limit: float) -> str:
    return f"{voice.length(limit)} is the least"


def _into_furring(voice: Voice, furring: FurringLayer) -> list[Finding]:
    subject = voice.subject
    depth, limit = nail_depth(subject), least_depth(subject)
    if depth >= limit - CONTACT:
        return []
    message = (
        f"a nail of {voice.length(subject.layout.nailing.length)} goes through"
        f" {voice.length(subject.layout.slat.thickness)} slat: {voice.length(max(depth, 0.0))} of it are in the"
        f" furring, {_least(voice, limit)}"
    )
    if furring.strip.thickness < limit - CONTACT:
        fix = "take thicker furring (furring.stock)"
        return [voice.say("fail", "furring.stock", message, value=depth, limit=limit, fix=fix)]
    fix = f"take nails {voice.at_least(limit - depth)} longer"
    return [voice.say("fail", "fasteners.slat.length", message, value=depth, limit=limit, fix=fix)]


def _too_far(voice: Voice, furring: FurringLayer) -> list[Finding]:
    """A nail that comes out of the furring goes into the old ceiling, and into what lies above it."""
    layout, config = voice.subject.layout, voice.subject.config
    within = layout.slat.thickness + furring.strip.thickness
    over = layout.nailing.length - within
    if over <= CONTACT:
        return []
    message = (
        f"a nail of {voice.length(layout.nailing.length)} comes {voice.length(over)} out of the furring, into the old"
        " ceiling and what lies above it: wires, pipes"
    )
    best = voice.length(longest_nail_within(within, config.units))
    fix = f'{best} would do: fasteners.slat.length = "{best}"'
    return [
        voice.say("warn", "fasteners.slat.length", message, value=layout.nailing.length, limit=within, fix=fix),
    ]


def _screws(voice: Voice, furring: FurringLayer) -> list[Finding]:
    subject = voice.subject
    kind, thickness, known = old_ceiling(subject)
    length, gap = furring.screw, widest_gap(subject)
    depth = length - furring.strip.thickness - thickness - gap
    shims = f", {voice.length(gap)} of shims" if gap else ""
    limit = max(LEAST_IN_JOIST, LEAST_PENETRATION * screw_diameter(FURRING_SCREW))
    if depth < limit - CONTACT:
        message = (
            f"a screw of {voice.length(length)} goes through {voice.length(furring.strip.thickness)} furring{shims} and"
            f" {voice.length(thickness)} {kind}: {_left(voice, depth)}, {_least(voice, limit)}"
        )
        fix = f"take screws {voice.at_least(limit - depth)} longer"
        level = "fail" if known else "ask"
        return [voice.say(level, "fasteners.furring.length", message, value=depth, limit=limit, fix=fix)]
    if known:
        return []
    message = (
        f"{voice.length(depth)} of the furring's screws reach the joist, if the old ceiling is"
        f" {voice.length(thickness)} {kind} as assumed"
    )
    return [voice.say("ask", "framing.old_ceiling", message, value=depth, limit=limit, fix=OPEN_CEILING)]
