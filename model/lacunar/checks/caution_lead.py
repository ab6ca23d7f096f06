"""Is there lead in the old paint?

What: the year the house was built, against 1978.
Why: sanding, scraping or cutting a painted ceiling of that age puts lead dust on everything in the room; children are
harmed by amounts that nobody sees.
Fix: have the paint tested first. A whole ceiling is more than the 6 square feet a room above which certified workers,
containment and clean-up are asked for. Local code and licensed trades decide.
Source: 40 CFR 745.83 (EPA renovation rule), read in a published page.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice

NAME = "caution-lead"
SOURCE = "40 CFR 745.83, read in a published page"

BANNED = 1978
"""Lead was taken out of house paint in this year. Source: 40 CFR 745.83."""


def check_caution_lead(subject: Subject) -> tuple[Finding, ...]:
    """A question for houses built before 1978, and where the year is not known; nothing for younger ones."""
    built = subject.config.house.built
    if built is not None and built >= BANNED:
        return ()
    age = (
        f"the house was built in {built}, before {BANNED}" if built is not None else "the year of building is not known"
    )
    message = f"{age}: the old ceiling's paint may hold lead; local code and licensed trades decide"
    fix = "have the old paint tested for lead before you sand or cut"
    return (Voice(check=NAME, source=SOURCE, subject=subject).say("ask", "house.built", message, unit="", fix=fix),)
