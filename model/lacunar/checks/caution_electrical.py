"""What does new wood do to the boxes in the ceiling?

What: every fixture behind the new wood.
Why: a box left behind combustible wood is a fire hazard: its front edge must be flush with the wood, and wires in
the ceiling are within reach of a nail.
Fix: switch the circuit off and test it; fit an extension ring flush with the slats; keep recessed lamps that are
not rated for it away from wood. Local code and licensed trades decide.
Source: NEC 314.20 (box flush with combustible surface) and 410.116 (recessed lamps 1/2 in from wood), read in a
published page.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice

NAME = "caution-electrical"
SOURCE = "NEC 314.20 and 410.116, read in a published page"


def check_caution_electrical(subject: Subject) -> tuple[Finding, ...]:
    """A question wherever the ceiling has fixtures, or nobody said that it has none."""
    fixtures = subject.layout.cut_outs
    if not fixtures and subject.config.is_given("fixture"):
        return ()
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    depth = subject.layout.slat.thickness + subject.layout.furring_thickness
    names = ", ".join(cut_out.name for cut_out in fixtures) or "the ceiling"
    message = (
        f"boxes end {voice.length(depth)} or more behind the new face and must come flush with the wood;"
        " local code and licensed trades decide"
    )
    fix = "switch the circuit off, test it, and have an electrician bring each box flush with the slats"
    return (voice.say("ask", names, message, value=depth, limit=0.0, fix=fix),)
