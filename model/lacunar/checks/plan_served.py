"""Is every part on a board, once, and whole?

What: each part that is bought is looked for among the cuts of the plan: once, at its own length, on a board of its
stock, inside the board along it and across it, as wide as it is ripped, over no other cut. Parts that no board can
give are named.
Why: a part that the plan forgot is missed when the boards are used up; one that is cut twice is paid for twice.
Fix: what would give the part: a longer board (shop.board, shop.longest), or more of them (supply, price).
Source: arithmetic; the saw cut is the config's shop.kerf.
"""

from collections.abc import Iterator, Sequence

from lacunar.analysis import BoardFit, CutFit, RipFit
from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, grouped, settle, tell_once
from lacunar.parts import Part
from lacunar.plan import Unserved, mark_of
from lacunar.told import count
from lacunar.tolerances import CONTACT


@check("plan-served", "arithmetic", __doc__)
def check_plan_served(voice: Voice) -> Found:
    """Findings on parts and the boards that they are cut from."""
    parts, boards = _wanted(voice), voice.analysis.boards
    cuts = grouped(((board, cut) for board in boards for cut in board.cuts), lambda one: one[1].part)
    found = [
        *_unserved(voice),
        *(finding for part in parts for finding in _part(voice, part, cuts.get(part.id, []))),
        *(finding for board in boards for finding in _board(voice, board)),
    ]
    return settle(found, _passed(voice))


def _wanted(voice: Voice) -> list[Part]:
    """What is still to be cut."""
    return [part for part in voice.subject.parts if part.bought and part.id not in voice.config.done.cut]


def _unserved(voice: Voice) -> Iterator[Finding]:
    """What no board can give; many of one stock with one cure are told by the longest."""
    for (stock, _), alike in grouped(voice.subject.plan.unserved, lambda one: (one.stock, one.cure)).items():
        longest_first = sorted(alike, key=lambda one: -one.length)
        yield from tell_once([_one_unserved(voice, one) for one in longest_first], f"parts of {stock}")


def _one_unserved(voice: Voice, one: Unserved) -> Finding:
    part = voice.subject.part(one.part)
    place = f" in coffer {part.coffer}" if part is not None and part.coffer else ""
    sold = (*voice.config.shop.board, *voice.subject.plan.boards)
    longest = max((board.length for board in sold if board.stock == one.stock), default=None)
    message = f"no {one.stock} board gives this part{place}: {one.reason.marked}"
    return voice.say("fail", one.part, message, value=one.length, limit=longest, fix=one.cure.marked)


def _wrong(
    voice: Voice, where: str, message: str, value: float | None = None, limit: float | None = None, unit: str = "mm"
) -> Finding:
    return voice.say("fail", where, message, value=value, limit=limit, unit=unit, fix="plan again")


def _part(voice: Voice, part: Part, cuts: Sequence[tuple[BoardFit, CutFit]]) -> Iterator[Finding]:
    if len(cuts) != 1:
        if cuts or part.id not in {one.part for one in voice.subject.plan.unserved}:
            message = f"it is cut {count(len(cuts))} times" if cuts else "it is on no board"
            yield _wrong(voice, part.id, message, len(cuts), 1, unit="count")
        return
    board, cut = cuts[0]
    # What is not chosen by the plan keeps its exact length, and is cut to the nearest mark.
    if abs(cut.length - part.length) > mark_of(part, voice.config.tape) / 2.0 + CONTACT:
        message = f"board {board.board} gives it {voice.length(cut.length)}, it is {voice.length(part.length)} long"
        yield _wrong(voice, part.id, message, cut.length, part.length)
    if board.stock != part.stock:
        yield _wrong(voice, part.id, f"board {board.board} is {board.stock}, it is made of {part.stock}", unit="")


def _board(voice: Voice, board: BoardFit) -> Iterator[Finding]:
    """Cuts inside the board, less what is lost at its ends, and a saw cut between each two."""
    for cut in board.cuts:
        if cut.outside > CONTACT:
            over = voice.length(cut.outside)
            message = f"it lies {over} outside what board {board.board} has between its squared ends"
            yield _wrong(voice, cut.part, message, cut.outside, 0.0)
        if cut.rip is not None:
            yield from _rip(voice, board, cut.part, cut.rip)
    kerf = voice.config.shop.kerf
    for gap in board.gaps:
        if gap.between < kerf - CONTACT:
            (one, other), between = gap.parts, voice.length(gap.between)
            message = f"{between} lie between it and {one} on board {board.board}, less than a saw cut"
            yield _wrong(voice, other, message, gap.between, kerf)


def _rip(voice: Voice, board: BoardFit, part: str, rip: RipFit) -> Iterator[Finding]:
    """Across the board inside its section, and as wide as the part is."""
    if rip.outside > CONTACT:
        section = voice.length(rip.section)
        message = f"it lies {voice.length(rip.outside)} outside board {board.board}, which is {section} across"
        yield _wrong(voice, part, message, rip.outside, 0.0)
    # To the nearest mark of the fence, and up to the next tick of the plan.
    elif abs(rip.width - rip.own) > voice.config.tape.fine + CONTACT:
        message = f"board {board.board} gives it {voice.length(rip.width)} of width, it is {voice.length(rip.own)} wide"
        yield _wrong(voice, part, message, rip.width, rip.own)


def _passed(voice: Voice) -> Finding:
    plan, parts = voice.subject.plan, _wanted(voice)
    message = f"each of {len(parts)} parts is cut once, from {len(plan.boards)} boards"
    return voice.say("pass", "the plan", message, value=len(parts), limit=len(parts), unit="count")
