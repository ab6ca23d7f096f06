"""Does what is cut already still fit the place that was measured for it?

What: the length, and the width of a rip, of every piece that is written down as cut, against what the field measures
make of its place; a slat against the interval in which both its ends are hidden.
Why: pieces are cut from the measures of one day, and beams go up a little off on the next.
Fix: what is too long or too wide is cut once more; what is too short is cut again, from the spares first.
Source: arithmetic on the field measures; half the mark that is read to: common practice, no source.
"""

import math

from lacunar.analysis import DoneFit
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check


@check("cut-fits", "arithmetic on the field measures; half a mark: common practice, no source", __doc__)
def check_cut_fits(voice: Voice) -> Found:
    """Findings on pieces that are cut."""
    fits = voice.analysis.done
    if not fits:
        none = not voice.config.done.cut
        message = "nothing is cut yet" if none else "no place of what is cut was measured on the wood"
        return (voice.say("pass", "the ceiling", message, unit=""),)
    limit = voice.config.read_to / 2.0
    bad = [_misfit(voice, fit) for fit in fits if abs(fit.off) > limit and not fit.up]
    if bad:
        return voice.gather(bad)
    worst = max(fits, key=lambda fit: abs(fit.off))
    message = f"{len({fit.part for fit in fits})} pieces that are cut fit their places as measured"
    return (voice.say("pass", worst.part, message, value=abs(worst.off), limit=limit),)


def _misfit(voice: Voice, fit: DoneFit) -> Finding:
    is_large, limits = fit.off > 0.0, ("wide", "narrow") if fit.key != "length" else ("long", "short")
    size, by, word = voice.length(fit.size), voice.length(abs(fit.off)), limits[0 if is_large else 1]
    message = f"it is cut {size} {limits[0]}, {by} too {word} for its place"
    fix = f"cut it again: lacunar done --spoilt {fit.part}"
    if is_large and fit.key == "length":
        shorter = math.floor(fit.most / voice.mark) * voice.mark
        again = f"--undo {fit.part} --cut '{fit.part}={voice.length(shorter)}'"
        fix = f"take {voice.length(fit.size - shorter)} off it and write that down: lacunar done {again}; or {fix}"
    elif is_large:
        fix = f"rip {voice.at_least(fit.off)} off it; or {fix}"
    return voice.say("fail", fit.part, message, value=fit.size, limit=fit.most if is_large else fit.least, fix=fix)
