"""Does slat and trim hide every high pocket?

What: the share of each pocket's mouth that lies above the lower face of the trim beside it. Low pockets are plugged
and counted, not hidden.
Why: an open pocket in view is a black oval in the middle of the work.
Fix: a smaller drop, higher trim, deeper beams, or all pockets low, with plugs stained with the piece: the first of
these with which no pocket shows, and none breaks out or is harder to reach than before.
Source: area of a segment of an ellipse; that trim is tight against the beam's face is assumed: common practice, no
source.
"""

import math
from dataclasses import replace

from lacunar.checks.bores import mouth_half
from lacunar.checks.finding import Finding
from lacunar.checks.pocket_fixes import hide_fix
from lacunar.checks.subject import Subject, trim_along
from lacunar.checks.voice import Voice, tell_once
from lacunar.geometry import Point
from lacunar.layout import Coffer
from lacunar.parts import Part, Pocket, pocket_name
from lacunar.units import INCH

NAME = "pocket-hidden"
SOURCE = "geometry; trim tight against the beam: common practice, no source"

WHOLE = 1.0 - 1e-9
"""Share of a mouth that is all of it, but for rounding."""

BESIDE = INCH / 4.0
"""A mouth so near to a coffer's side lies on that side's face."""


def check_pocket_hidden(subject: Subject) -> tuple[Finding, ...]:
    """Findings on pockets that can be seen."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    high = _high(subject)
    low = sum(pocket.level == "low" for part in subject.parts for pocket in part.pockets)
    tail = f"; {low} low ones are plugged" if low else ""
    if not high:
        return (voice.say("pass", "the ceiling", f"no piece has a high pocket{tail}", unit="share"),)
    shares = [(part, pocket, hidden_share(subject, part, pocket)) for part, pocket in high]
    shown: dict[str, Finding] = {}
    for part, pocket, share in sorted(shares, key=lambda item: item[2]):
        if share < WHOLE and part.id not in shown:
            shown[part.id] = _shown(voice, part, pocket, share)
    if shown:
        below = max(-_depth_behind(subject, part, pocket) for part, pocket in high)
        fix = hide_fix(voice, below, _is_hidden)
        return tell_once([replace(shown[part.id], fix=fix) for part in subject.parts if part.id in shown], "pieces")
    margin, where = min((_depth_behind(subject, part, pocket), part.id) for part, pocket in high)
    message = f"all {len(high)} high pockets lie behind slat and trim, by {voice.length(margin)} at least{tail}"
    return (voice.say("pass", where, message, value=1.0, limit=1.0, unit="share"),)


def _shown(voice: Voice, part: Part, pocket: Pocket, share: float) -> Finding:
    below = -_depth_behind(voice.subject, part, pocket)
    message = (
        f"{100.0 * (1.0 - share):.0f} % of the {pocket_name(part, pocket)}, shows:"
        f" it reaches {voice.length(below)} below the trim"
        if math.isfinite(below)
        else f"no trim lies before the {pocket_name(part, pocket)}: it shows"
    )
    return voice.say("warn", part.id, message, value=share, limit=1.0, unit="share")


def _high(subject: Subject) -> list[tuple[Part, Pocket]]:
    return [(part, pocket) for part in subject.parts for pocket in part.pockets if pocket.level == "high"]


def _is_hidden(subject: Subject) -> bool:
    return all(hidden_share(subject, part, pocket) >= WHOLE for part, pocket in _high(subject))


def hidden_share(subject: Subject, part: Part, pocket: Pocket) -> float:
    """Share of the mouth's area above the lower face of the trim, 0 to 1."""
    half = mouth_half(pocket)[1]
    behind = _depth_behind(subject, part, pocket)
    if not math.isfinite(behind):
        return 0.0
    # The ellipse is a circle stretched along the face: areas above a level line keep their share.
    t = max(-1.0, min(1.0, (behind + half) / half))
    return 0.5 + (t * math.sqrt(1.0 - t * t) + math.asin(t)) / math.pi


def _depth_behind(subject: Subject, part: Part, pocket: Pocket) -> float:
    """How far the mouth's lowest point lies above the trim's lower face; minus infinite where there is no trim."""
    trim = _trim_before(subject, part, pocket)
    if trim is None:
        return -math.inf
    return pocket.mouth[2] - mouth_half(pocket)[1] - trim.bottom.at((pocket.mouth[0], pocket.mouth[1]))


def _trim_before(subject: Subject, part: Part, pocket: Pocket) -> Part | None:
    mouth = (pocket.mouth[0], pocket.mouth[1])
    for coffer in subject.layout.coffers:
        for index, side in enumerate(coffer.sides):
            if side.against == part.id and _lies_on(coffer, index, mouth):
                return trim_along(subject, coffer, index)
    return None


def _lies_on(coffer: Coffer, index: int, mouth: Point) -> bool:
    side = coffer.sides[index]
    along, length = side.line.along(mouth), side.line.along(side.end)
    return abs(side.line.offset(mouth)) <= BESIDE and -BESIDE <= along <= length + BESIDE
