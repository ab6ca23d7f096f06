"""Does slat and trim hide every high pocket?

What: the share of each pocket's mouth that lies above the lower face of the trim beside it. Low pockets are plugged
and counted, not hidden.
Why: an open pocket in view is a black oval in the middle of the work.
Fix: a smaller drop, higher trim, deeper beams, or all pockets low, with plugs stained with the piece: the first of
these with which no pocket shows, and none breaks out or is harder to reach than before.
Source: area of a segment of an ellipse; that trim is tight against the beam's face is assumed: common practice, no
source.
"""

from lacunar.analysis import PocketFit
from lacunar.checks.finding import Finding
from lacunar.checks.pocket_breakout import named
from lacunar.checks.pocket_fixes import hide_fix
from lacunar.checks.voice import Found, Voice, check, least_each, tell_once
from lacunar.told import amount


@check("pocket-hidden", "geometry; trim tight against the beam: common practice, no source", __doc__)
def check_pocket_hidden(voice: Voice) -> Found:
    """Findings on pockets that can be seen."""
    pockets = voice.analysis.pockets
    high = [one for one in pockets if one.level == "high"]
    low = sum(one.fate == "plugged" for one in pockets)
    tail = f"; {low} low ones are plugged" if low else ""
    if not high:
        return (voice.say("pass", "the ceiling", f"no piece has a high pocket{tail}", unit="share"),)
    shown = least_each((one for one in high if one.fate == "seen"), lambda one: one.part, lambda one: one.hidden)
    if shown:
        behind = [one.behind for one in high if one.behind is not None]
        fix = hide_fix(voice, -min(behind) if len(behind) == len(high) else None)
        return tell_once([_shown(voice, one, fix) for one in shown], "pieces")
    margin, where = min((one.behind or 0.0, one.part) for one in high)
    message = f"all {len(high)} high pockets lie behind slat and trim, by {voice.length(margin)} at least{tail}"
    return (voice.say("pass", where, message, value=1.0, limit=1.0, unit="share"),)


def _shown(voice: Voice, pocket: PocketFit, fix: str) -> Finding:
    name = named(voice, pocket)
    message = f"no trim lies before the {name}: it shows"
    if pocket.behind is not None:
        shows = 100.0 * (1.0 - pocket.hidden)
        below = voice.length(-pocket.behind)
        message = f"{amount(f'{shows:.0f}', shows)} % of the {name}, shows: it reaches {below} below the trim"
    return voice.say("warn", pocket.part, message, value=pocket.hidden, limit=1.0, unit="share", fix=fix)
