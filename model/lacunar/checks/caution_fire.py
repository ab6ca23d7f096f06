"""May the ceiling of this room be wood?

What: slats are a ceiling finish, not trim: a wood ceiling must keep the flame-spread limit for ceilings, and alarms
and sprinklers must still see the room.
Why: some pines and poplars are near or over the limit, beams deeper than 4 in change where a smoke alarm may sit,
and a sprinkler behind a beam does not reach.
Fix: ask the authority for the wood chosen; have alarms and sprinklers placed anew by who is licensed. Local code
and licensed trades decide.
Source: IRC R302.9 (flame spread 200, smoke 450) and NFPA 72 17.6.3, read in a published page; flame spread of
species from memory.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice

NAME = "caution-fire"
SOURCE = "IRC R302.9 and NFPA 72 17.6.3, read in a published page"


def check_caution_fire(subject: Subject) -> tuple[Finding, ...]:
    """A question for every wood ceiling."""
    message = (
        f"a ceiling of {subject.layout.slat.species} is a finish with a flame-spread limit of 200, and beams change"
        " where smoke alarms and sprinklers may sit; local code and licensed trades decide"
    )
    fix = "ask the building authority about wood, alarms, sprinklers"
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    return (voice.say("ask", "slats.species", message, value=None, limit=200, unit="", fix=fix),)
