"""Will every slat and strip of trim fit the first time?

What: the ceiling is built many times over with the errors of reading a tape and of cutting to a stop or a mark; a slat
fits where both its ends keep the least end gap and overlap the trim by the least overlap, a strip of trim where it goes
in and its joints close.
Why: lengths that only just fit on paper jam or show on the ladder; the end gap and the trim's width decide how far a
reading may be off.
Fix: take the end gap or the trim that saves most slats; read those coffers twice. Trim is best cut a little long and
shaved: a reading is seldom as good as a joint.
Source: survey.sd, survey.sd_per_length and read_to of the config; a cut against a stop block is off by 0.5 mm, one to a
pencil mark by 0.8 mm (standard deviations), joints close up to 1/32 in: common practice, no source.
"""

from lacunar.chance import Chance, chance
from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_shape, settle

NAME = "fit-chance"
SOURCE = (
    "trials with survey.sd, survey.sd_per_length, read_to, cuts of 0.5 and 0.8 mm sd, joints to 1/32 in: "
    "common practice, no source"
)

TRIALS = 2000
"""Enough for a share of 0.95 to be good to 0.01 (two standard deviations)."""

ENOUGH = 0.95
"""Share of trials in which every slat must fit. Source: common practice, no source."""

RISKY = 0.995
"""A slat that fits less often is named. Source: common practice, no source."""

MOST_NAMES = 4


def check_fit_chance(subject: Subject) -> tuple[Finding, ...]:
    """One finding on the whole ceiling, where its riskiest slat is."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    result = chance(subject.config, subject.layout, subject.parts, trials=TRIALS)
    if not any(piece.kind == "slat" for piece in result.pieces):
        return (voice.say("pass", "the ceiling", "no slat ends at a side"),)
    told = f"{_slats(result)}{_trim(result)}"
    share = result.all_slats
    if share >= ENOUGH:
        passed = voice.say("pass", "the ceiling", told, value=share, limit=ENOUGH, unit="share")
        return settle((), passed, assumed_shape(subject))
    risks = result.risks(RISKY) or result.risks(1.0)
    more = len(risks) - MOST_NAMES
    names = ", ".join(risk.part for risk in risks[:MOST_NAMES]) + (f" and {more} more" if more > 0 else "")
    message = f"{told}; the risk is {names}"
    where, fix = risks[0].part, _fix(voice, result)
    return (voice.say("warn", where, message, value=share, limit=ENOUGH, unit="share", fix=fix),)


def _slats(result: Chance) -> str:
    if result.slat_misfits < 0.5:
        return f"every slat fits the first time in {_percent(result.all_slats)} of trials"
    slats = sum(piece.kind == "slat" for piece in result.pieces)
    return (
        f"every slat fits the first time in {_percent(result.all_slats)} of trials; "
        f"of {slats} about {result.slat_misfits:.0f} do not"
    )


def _trim(result: Chance) -> str:
    strips = sum(piece.kind == "trim" for piece in result.pieces)
    if not strips:
        return ""
    return f"; of {strips} strips of trim about {result.trim_misfits:.0f} want a second cut: cut them a little long"


def _fix(voice: Voice, result: Chance) -> str:
    best = result.best
    if best is None:
        return "read those coffers twice, and cut one slat of each to try"
    return f"{best.key} = {voice.length(best.value)} makes it {_percent(best.all_slats)}; or read those coffers twice"


def _percent(share: float) -> str:
    """Never more certain than the trials are."""
    if share >= 1.0 - 1.0 / TRIALS:
        return "more than 99.9 %"
    return f"{100.0 * share:.1f} %"
