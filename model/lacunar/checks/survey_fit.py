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
from lacunar.checks.voice import MEASURE_MORE, Found, Voice, check
from lacunar.survey import chi_square_limit

DOUBT = 0.95
"""One honest survey in twenty passes this by chance: a warning."""

WRONG = 0.999
"""One in a thousand: something was misread. With one measurement to spare this is the critical |w| of 3.29."""


@check("survey-fit", "chi-square test of the variance factor, 95 and 99.9 %, from memory", __doc__)
def check_survey_fit(voice: Voice) -> Found:
    """Findings on how the measurements agree."""
    room = voice.subject.room
    if room.dof == 0:
        return (_unchecked(voice),)
    square = [_unchecked(voice)] if room.square_assumed else []
    limit = chi_square_limit(room.dof, DOUBT)
    found = [_disagreement(voice, limit)] if room.chi2 > limit else []
    return (*found, *square) if found or square else (_agreement(voice, limit),)


def _unchecked(voice: Voice) -> Finding:
    room = voice.subject.room
    message = f"the {len(room.measured)} distances just make the room; nothing tells whether one was misread"
    if room.square_assumed:
        message = f"no diagonal was measured: corner {room.corners[0]} is taken as square"
    return voice.say("ask", "room.measured", message, value=room.dof, limit=1, unit="count", fix=MEASURE_MORE)


def _disagreement(voice: Voice, limit: float) -> Finding:
    room = voice.subject.room
    most = max(room.measured, key=lambda one: abs(one.residual))
    suspects = [one.between for one in room.measured if one.suspect]
    message = (
        f"the {len(room.measured)} distances disagree by more than reading error;"
        f" the largest correction is {voice.length(abs(most.residual))} ({most.between})"
    )
    fix = f"measure {' and '.join(suspects) or 'what survey-misread names, or every wall,'} again"
    level = "fail" if room.chi2 > chi_square_limit(room.dof, WRONG) else "warn"
    return voice.say(level, "room.measured", message, value=room.chi2, limit=limit, unit="", fix=fix)


def _agreement(voice: Voice, limit: float) -> Finding:
    room = voice.subject.room
    most = max(room.measured, key=lambda one: abs(one.residual))
    largest = f"the largest correction is {voice.length(abs(most.residual))}"
    message = f"{len(room.measured)} distances agree within reading error; {largest}"
    return voice.say("pass", most.between, message, value=room.chi2, limit=limit, unit="")
