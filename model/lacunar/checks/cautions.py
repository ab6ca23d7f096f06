"""What licensed trades and the law decide, each explained at its check."""

from typing import Final

from lacunar.checks.voice import Check, Found, Voice, check

BANNED = 1978
"""Lead was taken out of house paint in this year. Source: 40 CFR 745.83."""

PRESUMED = 1980
"""Surfacing of this year or earlier is presumed to hold asbestos until tested. Source: OSHA 29 CFR 1926.1101."""

DECIDE = "local code and licensed trades decide"

UNKNOWN = "the year of building is not known"


@check("caution-lead", "40 CFR 745.83, read in a published page")
def check_caution_lead(voice: Voice) -> Found:
    """Is there lead in the old paint?

    What: what a test found (house.tested.lead), else the year the house was built, against 1978.
    Why: sanding, scraping or cutting a painted ceiling of that age puts lead dust on everything in the room; children
    are harmed by amounts that nobody sees.
    Fix: have the paint tested first, and do not sand it dry or scrape it till then. A whole ceiling is more than the
    6 square feet a room above which certified workers, containment and clean-up are asked for. Local code and
    licensed trades decide.
    Source: 40 CFR 745.83 (EPA renovation rule), read in a published page.
    """
    built, tested = voice.config.house.built, voice.config.house.tested.lead
    if tested == "found":
        message = f"a test found lead in the old paint; {DECIDE}"
        fix = "let certified workers do what makes dust, with containment and clean-up"
        return (voice.say("ask", "house.tested.lead", message, unit="", fix=fix),)
    if tested == "none" or (built is not None and built >= BANNED):
        return ()
    age = UNKNOWN if built is None else f"the house was built in {built}, before {BANNED}"
    message = f"{age}: the old ceiling's paint may hold lead; {DECIDE}"
    fix = "have the old paint tested for lead before you sand or cut"
    return (voice.say("ask", "house.built", message, unit="", fix=fix),)


@check("caution-asbestos", "OSHA 29 CFR 1926.1101, from memory")
def check_caution_asbestos(voice: Voice) -> Found:
    """Is there asbestos in the old ceiling?

    What: what a test found (house.tested.asbestos), else the year the house was built, against 1980.
    Why: sprayed or trowelled ceilings, joint compound and insulation of that age may hold asbestos; nailing and cutting
    set it free.
    Fix: have a sample tested by a laboratory before touching it; leave it alone or have it removed by a licensed firm.
    Local code and licensed trades decide.
    Source: OSHA 29 CFR 1926.1101 (presumed asbestos-containing material, buildings of 1980 or earlier), from memory.
    """
    built, tested = voice.config.house.built, voice.config.house.tested.asbestos
    if tested == "found":
        message = f"a test found asbestos in the old ceiling; {DECIDE}"
        fix = "do not nail, cut or sand it: have it removed or enclosed by a licensed firm first"
        return (voice.say("ask", "house.tested.asbestos", message, unit="", fix=fix),)
    if tested == "none" or (built is not None and built > PRESUMED):
        return ()
    age = UNKNOWN if built is None else f"the house was built in {built}"
    message = f"{age}: a textured or plastered ceiling may hold asbestos; {DECIDE}"
    fix = "have the old ceiling tested for asbestos before nailing"
    return (voice.say("ask", "house.built", message, unit="", fix=fix),)


@check("caution-electrical", "NEC 314.20 and 410.116, read in a published page")
def check_caution_electrical(voice: Voice) -> Found:
    """What does new wood do to the boxes in the ceiling?

    What: every fixture behind the new wood.
    Why: a box left behind combustible wood is a fire hazard: its front edge must be flush with the wood, and wires in
    the ceiling are within reach of a nail.
    Fix: switch the circuit off and test it; fit an extension ring flush with the slats; keep recessed lamps that are
    not rated for it away from wood. Local code and licensed trades decide.
    Source: NEC 314.20 (box flush with combustible surface) and 410.116 (recessed lamps 1/2 in from wood), read in a
    published page.
    """
    layout = voice.subject.layout
    if not layout.cut_outs and voice.config.is_given("fixture"):
        return ()
    depth = layout.slat.thickness + layout.furring_thickness
    names = ", ".join(cut_out.name for cut_out in layout.cut_outs) or "the ceiling"
    message = f"boxes end {voice.length(depth)} or more behind the new face and must come flush with the wood; {DECIDE}"
    fix = "switch the circuit off, test it, and have an electrician bring each box flush with the slats"
    return (voice.say("ask", names, message, value=depth, limit=0.0, fix=fix),)


@check("caution-fire", "IRC R302.9 and NFPA 72 17.6.3, read in a published page")
def check_caution_fire(voice: Voice) -> Found:
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
    message = (
        f"a ceiling of {voice.subject.layout.slat.species} is a finish with a flame-spread limit of 200, and beams"
        f" change where smoke alarms and sprinklers may sit; {DECIDE}"
    )
    fix = "ask the building authority about wood, alarms, sprinklers"
    return (voice.say("ask", "slats.species", message, limit=200, unit="", fix=fix),)


@check("caution-overhead", "common practice, no source")
def check_caution_overhead(voice: Voice) -> Found:
    """Is it safe to work over one's head?

    What: the heaviest piece that has to be held against the ceiling.
    Why: a beam that slips from a ladder hurts whoever is under it, and arms tire before the second screw is in.
    Fix: two people and a prop or lift for every beam; platforms instead of ladders; eye protection and a dust mask.
    Local code and licensed trades decide.
    Source: common practice, no source.
    """
    new = [part for part in voice.subject.parts if part.bought]
    if not new:
        return ()
    largest = max(new, key=lambda part: part.length * part.width * part.thickness)
    message = (
        f"the largest piece is {voice.length(largest.length)} of {largest.stock} and has to be held overhead while it"
        f" is screwed; {DECIDE}"
    )
    fix = "two people, a prop, a platform and eye protection"
    return (voice.say("ask", largest.id, message, value=largest.length, fix=fix),)


CAUTIONS: Final[tuple[Check, ...]] = (
    check_caution_lead,
    check_caution_asbestos,
    check_caution_electrical,
    check_caution_fire,
    check_caution_overhead,
)
"""For houses built when lead and asbestos were, for fixtures, for every wood ceiling, for all that goes up."""
