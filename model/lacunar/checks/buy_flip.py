"""Would a little more or less change how many boards are bought?

What: for every stock, the number of boards and the money if all slats were up to 3/8 in (10 mm) longer or shorter, if
that much more or less were lost at each end of a board, and if boards nobody has measured were that much longer or
shorter than they are sold as. The pieces stay at the lengths of the plan, the boards those that it buys.
Why: four slats that just fit a board become three when the board is 1/8 in short: one board in four more. Yards promise
no length to the mark.
Fix: measure the boards before the first cut and give what they are (shop.board: actual), or buy so many more; where a
shorter length saves boards and still fits, take it.
Source: proved bounds on what boards give; the reach of 3/8 in is common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import replace

from lacunar.checks.finding import Finding
from lacunar.checks.voice import Assumption, Found, Voice, check, grouped, settle
from lacunar.config import Config
from lacunar.cost import money_text
from lacunar.plan import REACH, Flip
from lacunar.told import Told
from lacunar.units import FOOT

SOURCE = "proved bounds on what boards give; the reach of 3/8 in or 10 mm is common practice, no source"


@check("buy-flip", SOURCE, __doc__)
def check_buy_flip(voice: Voice) -> Found:
    """One finding for every stock that may take more boards; else one for all of them."""
    flips = voice.analysis.flips
    assumed = _assumed(voice)
    sorts = dict.fromkeys((flip.stock, flip.species) for flip in flips if flip.is_dearer)
    alike = grouped(flips, lambda flip: (flip.stock, flip.species))
    found = [_warned(voice, alike[sort], assumed) for sort in sorts]
    return settle(found, _passed(voice, flips), assumed)


def _warned(voice: Voice, flips: Sequence[Flip], assumed: Sequence[Assumption]) -> Finding:
    """What may make one stock dearer, and then what would make it cheaper."""
    dearer = [flip for flip in flips if flip.is_dearer]
    told = _told(voice, (*dearer, *(flip for flip in flips if not flip.is_dearer)))
    nearest = min(dearer, key=lambda flip: abs(flip.by))
    limit = REACH[voice.config.units]
    finding = voice.say("warn", nearest.stock, told, value=abs(nearest.by), limit=limit, fix=_fix(dearer))
    if not assumed:
        return finding
    message = f"{told}; that is with {' and '.join(one.taken for one in assumed)}, which nobody has measured"
    fix = "; ".join((*(one.fix for one in assumed), finding.fix.marked))
    return replace(finding, level="ask", message=voice.told(message), fix=voice.told(fix))


def _passed(voice: Voice, flips: Sequence[Flip]) -> Finding:
    reach = voice.length(REACH[voice.config.units])
    message = f"slats, end waste or boards up to {reach} other than planned are not known to need more boards"
    less = "".join(f"; {flip.stock}: {_told(voice, [flip])}" for flip in flips)
    return voice.say("pass", "the plan", message + less, limit=REACH[voice.config.units])


def _told(voice: Voice, flips: Sequence[Flip]) -> str:
    """Causes that come to the same are named together."""
    alike = grouped(flips, lambda flip: Told(_difference(voice.config, flip) + _fits(flip)))
    return "; ".join(f"{' or '.join(_cause(voice, flip) for flip in one)}: {effect}" for effect, one in alike.items())


def _cause(voice: Voice, flip: Flip) -> str:
    by = voice.length(abs(flip.by))
    if flip.what == "slats":
        return f"slats {by} {'longer' if flip.by > 0.0 else 'shorter'}"
    if flip.what == "end waste":
        return f"{by} {'more' if flip.by > 0.0 else 'less'} lost at each end of a board"
    return f"boards that measure {by} {'over' if flip.by > 0.0 else 'short'}"


def _difference(config: Config, flip: Flip) -> str:
    """Boards and money, or board length where there are no prices."""
    if flip.boards is None:
        return "boards of the lengths that the plan buys no longer give every part"
    word = "more" if flip.is_dearer else "less"
    length = f"{abs(flip.length) / FOOT:,.0f} ft" if config.units == "in" else f"{abs(flip.length) / 1000.0:,.1f} m"
    worth = f"{length} of board" if flip.money is None else money_text(abs(flip.money), config.currency)
    if flip.boards == 0:
        return f"as many boards of other lengths, {worth} {word}"
    count = f"{abs(flip.boards)} board{'' if abs(flip.boards) == 1 else 's'}"
    return f"{count} {'more' if flip.boards > 0 else 'fewer'} ({worth} {word})"


def _fits(flip: Flip) -> str:
    """Of shorter slats: whether they may be."""
    if flip.what != "slats" or flip.by > 0.0:
        return ""
    if not flip.unfit:
        return ", and all still fit"
    return f", but {len(flip.unfit)} would be too short to fit, {flip.unfit[0]} for one"


def _fix(dearer: Sequence[Flip]) -> str:
    boards = max((flip.boards or 0 for flip in dearer), default=0)
    more = f", or buy {boards} more" if boards > 0 else ", or buy longer ones"
    if any(flip.what == "boards" for flip in dearer):
        return f"measure the boards before the first cut and give what they are (shop.board: actual){more}"
    if any(flip.what == "end waste" for flip in dearer):
        return f"square off no more than shop.end_waste, and see where a board splits before it is cut{more}"
    return f"cut one slat of each length to try before the rest{more}"


def _assumed(voice: Voice) -> tuple[Assumption, ...]:
    config = voice.config
    sizes = (("kerf", "a saw cut", config.shop.kerf), ("end_waste", "end waste", config.shop.end_waste))
    return tuple(
        Assumption(taken=f"{what} of {voice.length(size)}", fix=f"measure {what} (shop.{key})")
        for key, what, size in sizes
        if not config.is_given(f"shop.{key}")
    )
