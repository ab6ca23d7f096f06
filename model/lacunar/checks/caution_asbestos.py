"""Is there asbestos in the old ceiling?

What: the year the house was built, against 1980.
Why: sprayed or trowelled ceilings, joint compound and insulation of that age may hold asbestos; nailing and cutting
set it free.
Fix: have a sample tested by a laboratory before touching it; leave it alone or have it removed by a licensed firm.
Local code and licensed trades decide.
Source: OSHA 29 CFR 1926.1101 (presumed asbestos-containing material, buildings of 1980 or earlier), from memory.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice

NAME = "caution-asbestos"
SOURCE = "OSHA 29 CFR 1926.1101, from memory"

PRESUMED = 1980
"""Surfacing of this year or earlier is presumed to hold asbestos until tested. Source: OSHA 29 CFR 1926.1101."""


def check_caution_asbestos(subject: Subject) -> tuple[Finding, ...]:
    """A question for houses built in 1980 or earlier, and where the year is not known; nothing for younger ones."""
    built = subject.config.house.built
    if built is not None and built > PRESUMED:
        return ()
    age = f"the house was built in {built}" if built is not None else "the year of building is not known"
    message = f"{age}: a textured or plastered ceiling may hold asbestos; local code and licensed trades decide"
    fix = "have the old ceiling tested for asbestos before nailing"
    return (Voice(check=NAME, source=SOURCE, subject=subject).say("ask", "house.built", message, unit="", fix=fix),)
