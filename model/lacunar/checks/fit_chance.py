"""Will every slat and strip of trim fit the first time?

What: the ceiling is built many times over with the errors of reading a tape and of cutting to a stop or a mark; a slat
fits where both its ends keep the least end gap and overlap the trim by the least overlap, a strip of trim where it goes
in and its joints close.
Why: lengths that only just fit on paper jam or show on the ladder; the end gap and the trim's width decide how far a
reading may be off.
Fix: another end gap or wider trim, each tried on the ceiling planned anew: the first with which enough slats fit; read
those coffers twice. Slats of measured coffers are to keep three standard deviations of what may still be off from both
ends of the lengths that will do: those that cannot are named, with the trim that would let them. Trim is best cut a
little long and shaved: a reading is seldom as good as a joint.
Source: survey.sd, survey.sd_per_length and read_to of the config; a cut against a stop block is off by 0.5 mm, one to a
pencil mark by 0.8 mm (standard deviations), joints close up to 1/32 in: common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import replace

from lacunar.analysis import TRIALS, Subject, chance_of, sunk_beams
from lacunar.chance import percent
from lacunar.checks.margin_words import AGAIN, margin_words
from lacunar.checks.overlap import bad_overlaps
from lacunar.checks.remedies import Change, Remedy, first_that_helps, named_section, planned, written
from lacunar.checks.voice import Found, Voice, assumed_shape, check, settle
from lacunar.config import first_of
from lacunar.units import INCH

SOURCE = (
    "trials with survey.sd, survey.sd_per_length, read_to, cuts of 0.5 and 0.8 mm sd, joints to 1/32 in: "
    "common practice, no source"
)

ENOUGH = 0.95
"""Share of trials in which every slat must fit. Source: common practice, no source."""

RISKY = 0.995
"""A slat that fits less often is named. Source: common practice, no source."""

FAR_OFF = 0.5
"""Share of trials below which no change is tried: such rooms have many rips and tapers, take long to plan, and in three
of three none of the changes came to ENOUGH. Measured."""

HOPELESS = 0.9
"""Share of trials in which every slat fits at its designed length: below it a plan is not worth its time. Measured on
five rooms: where the design had less than 0.68, no plan came to 0.9."""

NO_MARGIN = 0.5
"""Share of trials below which a plan left no margin at all: others of that room take as long and come to as little.
Measured on two rooms with one beam misread: 0.8 as it is, nothing with three of five changes, 5 to 7 s each."""

READ_TWICE = "read those coffers twice"

TRY_ONE = "cut one slat of each to try"


MOST_NAMES = 3

WIDER_TRIM = {"in": INCH / 4.0, "mm": 6.0}
"""mm. The next wider trim that is sold. Source: common practice, no source."""

TRIED = ((0, 1), (0, 2), (1, 0), (1, 1), (1, 2), (2, 2))
"""What is tried: trim wider by so many steps, end gaps by so many marks; what changes least first."""


@check("fit-chance", SOURCE, __doc__)
def check_fit_chance(voice: Voice) -> Found:
    """One finding on the whole ceiling, where its riskiest slat is."""
    result = voice.analysis.chance
    if not any(piece.kind == "slat" for piece in result.pieces):
        return (voice.say("pass", "the ceiling", "no slat ends at a side"),)
    told, share = _told(voice), result.all_slats
    if share >= ENOUGH:
        passed = voice.say("pass", "the ceiling", told, value=share, limit=ENOUGH, unit="share")
        return tuple(replace(one, trials=result.trials) for one in settle((), passed, assumed_shape(voice.subject)))
    risks = [risk.part for risk in result.risks(RISKY) or result.risks(1.0)]
    message, fix = f"{told}; the risk is {first_of(risks, MOST_NAMES)}", _fix(voice, share)
    found = voice.say("warn", risks[0], message, value=share, limit=ENOUGH, unit="share", fix=fix)
    return (replace(found, trials=result.trials),)


def _told(voice: Voice) -> str:
    """How often all slats fit, how many do not, and of strips of trim; how far measured slats are from not fitting."""
    result = voice.analysis.chance
    slats, strips = (sum(piece.kind == kind for piece in result.pieces) for kind in ("slat", "trim"))
    share = percent(result.all_slats, result.trials)
    told = f"every slat fits the first time in {share} of {result.trials:,} trials"
    if result.slat_misfits >= 0.5:
        told += f"; of {slats} about {result.slat_misfits:.0f} do not"
    if strips:
        told += f"; about {result.trim_misfits:.0f} of {strips} strips of trim want a second cut: leave them long"
    return "; ".join(filter(None, (told, margin_words(voice.analysis.margins, voice.config))))


def _fix(voice: Voice, share: float) -> str:
    """A change of the config with which enough slats fit, none shows or jams on paper, and no beam is hidden."""
    shares: list[float] = []
    # Of measured coffers the margins tell whether that helps.
    twice, again = ("", AGAIN) if voice.analysis.margins.slats else (READ_TWICE, "")
    otherwise = f"{twice}, and {TRY_ONE}" if twice else TRY_ONE
    if share < FAR_OFF:
        return otherwise
    sunk, bad = sunk_beams(voice.subject), bad_overlaps(voice, voice.subject)

    def helps(designed: Subject) -> bool:
        # Where slats were measured the plan goes to the middle of what will do, whatever was designed.
        is_hopeless = not again and chance_of(designed).all_slats < HOPELESS
        if is_hopeless or (shares and shares[-1] < NO_MARGIN):
            return False
        other = planned(designed)
        shares.append(chance_of(other).all_slats)
        return shares[-1] >= ENOUGH and sunk_beams(other) <= sunk and bad_overlaps(voice, other) <= bad

    remedy = first_that_helps(voice, _remedies(voice), helps, as_measured=True)
    if remedy is None:
        return otherwise
    return f"{written(remedy)}{again} makes it {percent(shares[-1], TRIALS)}; or {twice or TRY_ONE}"


def _remedies(voice: Voice) -> Iterator[Remedy]:
    config = voice.config
    slats, trim = config.slats, config.trim
    for wider, marks in TRIED:
        gap = slats.end_gap + marks * config.read_to
        width = trim.width + wider * WIDER_TRIM[config.units]
        if not slats.least_end_gap <= gap <= width - trim.least_overlap:
            continue
        changes: list[Change] = []
        if wider:
            changes = [Change("trim.width", width, f'"{voice.length(width)}"')]
            changes += named_section(config, "trim.stock", width, trim.height)
        if marks:
            changes.append(Change("slats.end_gap", gap, f'"{voice.length(gap)}"'))
        yield tuple(changes)
