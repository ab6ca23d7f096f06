"""Do the measurements of the room agree with each other?

What: the distances are adjusted to one room; the sum of the squared corrections, each over its reading error, is
compared with what chance gives at as many measurements as there are to spare.
Why: a misread wall makes every piece beside it the wrong length, and nothing later finds it before the wood is cut.
Fix: measure again what survey-misread names, or every distance where none can be named; two diagonals and the
distances from the middle of each wall to its far corners let one wrong reading be named.
Source: chi-square test of the variance factor at 95 and 99.9 %, as in any text on the adjustment of surveys, from
memory. Reading error 1.5 mm + 0.2 mm/m: common practice, no source.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import MEASURE_MORE, Voice
from lacunar.survey import chi_square_limit

NAME = "survey-fit"
SOURCE = "chi-square test of the variance factor, 95 and 99.9 %, from memory"

DOUBT = 0.95
"""One honest survey in twenty passes this by chance: a warning."""

WRONG = 0.999
"""One in a thousand: something was misread. With one measurement to spare this is the critical |w| of 3.29."""


def check_survey_fit(subject: Subject) -> tuple[Finding, ...]:
    """Findings on how the measurements agree."""
    room, voice = subject.room, Voice(check=NAME, source=SOURCE, subject=subject)
    if room.dof == 0:
        return (_unchecked(subject, voice),)
    square = [_unchecked(subject, voice)] if room.square_assumed else []
    found = _disagreement(subject, voice)
    if found or square:
        return (*found, *square)
    return (_agreement(subject, voice),)


def _unchecked(subject: Subject, voice: Voice) -> Finding:
    room = subject.room
    if room.square_assumed:
        message = f"no diagonal was measured: corner {room.corners[0]} is taken as square"
    else:
        message = f"the {len(room.measured)} distances just make the room; nothing tells whether one was misread"
    return voice.say("ask", "room.measured", message, value=room.dof, limit=1, unit="count", fix=MEASURE_MORE)


def _disagreement(subject: Subject, voice: Voice) -> list[Finding]:
    room = subject.room
    limit = chi_square_limit(room.dof, DOUBT)
    if room.chi2 <= limit:
        return []
    wrong = room.chi2 > chi_square_limit(room.dof, WRONG)
    most = max(room.measured, key=lambda one: abs(one.residual))
    suspects = [one.between for one in room.measured if one.suspect]
    message = (
        f"the {len(room.measured)} distances disagree by more than reading error;"
        f" the largest correction is {voice.length(abs(most.residual))} ({most.between})"
    )
    which = " and ".join(suspects) or "what survey-misread names, or every wall,"
    return [
        voice.say(
            "fail" if wrong else "warn",
            "room.measured",
            message,
            value=room.chi2,
            limit=limit,
            unit="",
            fix=f"measure {which} again",
        )
    ]


def _agreement(subject: Subject, voice: Voice) -> Finding:
    room = subject.room
    most = max(room.measured, key=lambda one: abs(one.residual))
    message = f"{len(room.measured)} distances agree within reading error; the largest correction is"
    return voice.say(
        "pass",
        most.between,
        f"{message} {voice.length(abs(most.residual))}",
        value=room.chi2,
        limit=chi_square_limit(room.dof, DOUBT),
        unit="",
    )
