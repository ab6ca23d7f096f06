"""Is it safe to work over one's head?

What: the heaviest piece that has to be held against the ceiling.
Why: a beam that slips from a ladder hurts whoever is under it, and arms tire before the second screw is in.
Fix: two people and a prop or lift for every beam; platforms instead of ladders; eye protection and a dust mask.
Local code and licensed trades decide.
Source: common practice, no source.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice

NAME = "caution-overhead"
SOURCE = "common practice, no source"


def check_caution_overhead(subject: Subject) -> tuple[Finding, ...]:
    """A question wherever something goes up."""
    new = [part for part in subject.parts if part.bought]
    if not new:
        return ()
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    largest = max(new, key=lambda part: part.length * part.width * part.thickness)
    message = (
        f"the largest piece is {voice.length(largest.length)} of {largest.stock} and has to be held overhead while it"
        " is screwed; local code and licensed trades decide"
    )
    fix = "two people, a prop, a platform and eye protection"
    return (voice.say("ask", largest.id, message, value=largest.length, fix=fix),)
