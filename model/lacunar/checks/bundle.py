"""Are the boards as wide as they are sold?

What: ten boards and ten spacers pushed together on the bench, against ten nominal boards and ten spacers: how far one
board runs under or over, what that comes to over the full slats of the coffer that has most, and which pitch the slats
are laid out by.
Why: boards of one bundle run under or over together, so the errors add up: 1/32 in a board is 3/8 in at the twelfth
slat, enough to turn a full last slat into a rip.
Fix: measure ten from the boards that will go up, with the spacer that will lie between them, and write down slats.ten
and slats.gap; then take each slat's place from the running dimensions, not from the slat before it.
Source: arithmetic on slats.ten and slats.gap; what ten read to one mark tells is taken as the limit: common practice,
no source.
"""

from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check
from lacunar.config import fine_length, plain_length

WHERE = "slats.ten"

TEN = 10.0


@check("bundle", "arithmetic on slats.ten and slats.gap; limit from read_to: common practice, no source", __doc__)
def check_bundle(voice: Voice) -> Found:
    """One finding on the boards as bought."""
    slats = voice.config.slats
    if slats.ten is None:
        return (_nobody_measured(voice),)
    if slats.spacer is None:
        return (_spacer_unknown(voice, slats.ten),)
    return (_measured(voice, slats.ten, slats.spacer),)


def _measured(voice: Voice, ten: float, spacer: float) -> Finding:
    slats, most = voice.config.slats, voice.analysis.bundle
    off, total = most.off, most.total
    limit = voice.config.read_to * max(1.0, most.slats / TEN)
    bench, laid = _bench(voice, ten), f"with gaps as the spacer, {_tape(voice, spacer)}"
    if total <= limit:
        message = f"{bench}, {laid}: the boards are as wide as they are sold, {_tape(voice, slats.nominal_width)}"
        return voice.say("pass", WHERE, message, value=total, limit=limit)
    message = (
        f"boards run {_fine(voice, abs(off))} {'under' if off < 0.0 else 'over'} {_tape(voice, slats.nominal_width)}:"
        f" {voice.length(total)} over the {most.slats} full slats of {most.coffer}; {bench}, {laid}"
    )
    fix = (
        "take each slat's place from the running dimensions, and measure ten again from every other bundle"
        " (slats.gap is the spacer that lay between them)"
    )
    return voice.say("warn", WHERE, message, value=total, limit=limit, fix=fix)


def _spacer_unknown(voice: Voice, ten: float) -> Finding:
    slats = voice.config.slats
    message = (
        f"{_bench(voice, ten)}, and boards of {_tape(voice, slats.nominal_width)}, as they are sold, would leave gaps"
        f" of {_fine(voice, slats.gap)}"
    )
    fix = "measure the spacer by itself and give it as slats.gap: then the boards' own width is known"
    return voice.say("ask", WHERE, message, fix=fix)


def _nobody_measured(voice: Voice) -> Finding:
    slats, most = voice.config.slats, voice.analysis.bundle
    slight, total = most.off, most.total
    message = (
        f"boards are taken as {_tape(voice, slats.width)} wide with gaps of {_tape(voice, slats.gap)}, but"
        f" {_tape(voice, slight)} more or less each makes {voice.length(total)} over the {most.slats} full slats of"
        f" {most.coffer}"
    )
    fix = "push ten boards and ten spacers together and give what they measure as slats.ten"
    return voice.say("ask", WHERE, message, value=total, fix=fix)


def _bench(voice: Voice, ten: float) -> str:
    pitch = _fine(voice, ten / TEN)
    return f"ten boards and ten spacers are {_tape(voice, ten)}, so slats are laid out {pitch} apart"


def _tape(voice: Voice, mm: float) -> str:
    """As a good tape shows it, finer than the marks that are cut to."""
    return plain_length(mm, voice.config.units)


def _fine(voice: Voice, mm: float) -> str:
    """Finer than a tape."""
    return fine_length(mm, voice.config.units)
