"""Which measurement was misread?

What: every distance is held against what the others make of it. Where one alone explains why they do not fit, it is
named, with how far it is off; where several would explain it, all of them are, with what else to measure so that
they can be told apart. Where nothing is wrong: how small a misreading would have been found.
Why: one wrong distance moves two corners, and every piece beside them is cut to the wrong length.
Fix: measure what is named again, from the corner itself and with a straight tape, and write the new number down.
Source: w test of Baarda 1968, two-sided at 0.1 %, and the misfit without each reading; a reading is named where it
explains more than any other by 3.84 (chi-square, 95 %): from memory. Reading error as for survey-fit.
"""

from lacunar.checks.finding import Finding, Level
from lacunar.checks.voice import MEASURE_MORE, Found, Voice, check
from lacunar.survey import W_CRITICAL, Advice, Misread

MOST_NAMED = 8
"""Measurements that one sentence can hold."""


@check("survey-misread", "w test of Baarda 1968 at 0.1 %, from memory", __doc__)
def check_survey_misread(voice: Voice) -> Found:
    """Findings on single measurements."""
    found = voice.analysis.misread
    if found is None:
        return (_none(voice),)
    return (_named(voice, found) if len(found.between) == 1 else _one_of(voice, found),)


def _named(voice: Voice, found: Misread) -> Finding:
    (name,), (off,), (read,) = found.between, found.off, found.read
    message = (
        f"{name} is about {voice.length(abs(off))} too {'long' if off > 0.0 else 'short'}:"
        f" read as {voice.length(read)}, the others make it {voice.length(read - off)}"
    )
    if not found.fits:
        message += "; the others do not agree with each other either"
    fix = f"measure {name} again"
    if found.on_walls[0]:
        fix += "; if it stays, one of its walls bows"
    return _said(voice, "fail", name, message, fix)


def _one_of(voice: Voice, found: Misread) -> Finding:
    sizes = sorted(abs(off) for off in found.off)
    least, most = voice.length(sizes[0]), voice.length(sizes[-1])
    about = f"about {least}" if least == most else f"{least} to {most}"
    message = f"one of {_listed(found.between, 'and')} is off by {about}; which one cannot be told"
    return _said(voice, "fail", "room.measured", message, _telling(voice, found))


def _telling(voice: Voice, found: Misread) -> str:
    if not found.would_tell:
        return "measure each of them again"
    steps = ", then ".join(_step(voice, one) for one in found.would_tell)
    after = "" if found.would_leave == 1 else f"; that leaves at most {found.would_leave} of them: measure those again"
    return f"{steps}: that tells{'' if not after else ' more'}{after}"


def _step(voice: Voice, one: Advice) -> str:
    if one.kind == "mark":
        corner, _, mark = one.between.partition("-")
        return f"mark {mark} on wall {one.wall} {voice.length(one.expected)} from {corner}"
    return f"measure {one.between}{' afresh' if one.again else ''}"


def _none(voice: Voice) -> Finding:
    room = voice.subject.room
    blind = tuple(one.between for one in room.measured if one.finds is None)
    if blind:
        which = "any distance" if len(blind) == len(room.measured) else _listed(blind[:MOST_NAMED], "or")
        message = f"nothing would tell whether {which} was misread"
        return voice.say("ask", "room.measured", message, value=len(blind), limit=0, unit="count", fix=MEASURE_MORE)
    worst = max(room.measured, key=lambda one: one.finds or 0.0)
    message = f"no distance stands out; one that is {voice.length(worst.finds or 0.0)} off or more would have"
    if all(one.names is not None for one in room.measured):
        message += f", by name from {voice.length(max(one.names or 0.0 for one in room.measured))} on"
    else:
        message += ", though not which one it is"
    return _said(voice, "pass", worst.between, message)


def _said(voice: Voice, level: Level, where: str, message: str, fix: str = "") -> Finding:
    loudest = max((abs(one.w) for one in voice.subject.room.measured if one.w is not None), default=0.0)
    return voice.say(level, where, message, value=loudest, limit=W_CRITICAL, unit="", fix=fix)


def _listed(names: tuple[str, ...] | list[str], last: str) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} {last} {names[-1]}"
