"""Findings on how deep nails and screws go: slats' nails into joists or furring, furring's screws into joists."""

from collections.abc import Iterator

from lacunar.analysis import Depth
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Voice
from lacunar.config import Config
from lacunar.materials import DEFAULT_OLD_CEILING, longest_nail_within
from lacunar.tolerances import CONTACT

OPEN_CEILING = "measure the old ceiling at a hole for a lamp and write framing.old_ceiling"


def old_ceiling(config: Config) -> tuple[str, bool]:
    """Kind of the old ceiling, and whether its thickness is given."""
    given = config.framing.old_ceiling
    if given is None:
        return DEFAULT_OLD_CEILING.kind, False
    return given.kind, config.is_given("framing.old_ceiling.thickness")


def depths(voice: Voice) -> Iterator[Finding]:
    """Findings on how deep what holds the ceiling goes."""
    for one in voice.analysis.depths:
        if one.into == "joist":
            yield from _into_joists(voice, one)
        else:
            yield from _into_furring(voice, one)
            yield from _too_far(voice, one)


def _into_joists(voice: Voice, one: Depth) -> Iterator[Finding]:
    """Of the slats' nails, or of the furring's screws."""
    kind, known = old_ceiling(voice.config)
    is_nail, past, deep = one.fastener == "nail", f"{voice.length(one.past)} {kind}", voice.length(abs(one.depth))
    left = f"{deep} of it reach the joist" if one.depth > 0.0 else f"it ends {deep} before the joist"
    if one.depth < one.least - CONTACT:
        shims = f", {voice.length(one.shims)} of shims" if one.shims else ""
        message = (
            f"a {one.fastener} of {voice.length(one.length)} goes through {voice.length(one.through)}"
            f" {'slat' if is_nail else 'furring'}{shims} and {past}: {left}, {voice.length(one.least)} is the least"
        )
        fur = ", or use furring (furring.use = true)" if is_nail and one.shims else ""
        fix = f"take {one.fastener}s {voice.at_least(one.least - one.depth)} longer{fur}"
        key = f"fasteners.{'slat' if is_nail else 'furring'}.length"
        yield voice.say("fail" if known else "ask", key, message, value=one.depth, limit=one.least, fix=fix)
    elif not known:
        reach = left if is_nail else f"{deep} of the furring's screws reach the joist"
        message = f"{reach}, if the old ceiling is {past} as assumed"
        yield voice.say("ask", "framing.old_ceiling", message, value=one.depth, limit=one.least, fix=OPEN_CEILING)


def _into_furring(voice: Voice, nail: Depth) -> Iterator[Finding]:
    depth, limit = nail.depth, nail.least
    if depth < limit - CONTACT:
        message = (
            f"a nail of {voice.length(nail.length)} goes through {voice.length(nail.through)} slat:"
            f" {voice.length(max(depth, 0.0))} of it are in the furring, {voice.length(limit)} is the least"
        )
        where, fix = "fasteners.slat.length", f"take nails {voice.at_least(limit - depth)} longer"
        if voice.subject.layout.furring_thickness < limit - CONTACT:
            where, fix = "furring.stock", "take thicker furring (furring.stock)"
        yield voice.say("fail", where, message, value=depth, limit=limit, fix=fix)


def _too_far(voice: Voice, nail: Depth) -> Iterator[Finding]:
    """A nail that comes out of the furring goes into the old ceiling, and into what lies above it."""
    within = nail.through + voice.subject.layout.furring_thickness
    if nail.length - within > CONTACT:
        message = (
            f"a nail of {voice.length(nail.length)} comes {voice.length(nail.length - within)} out of the furring, into"
            " the old ceiling and what lies above it: wires, pipes"
        )
        best = voice.length(longest_nail_within(within, voice.config.units))
        fix = f'{best} would do: fasteners.slat.length = "{best}"'
        yield voice.say("warn", "fasteners.slat.length", message, value=nail.length, limit=within, fix=fix)
