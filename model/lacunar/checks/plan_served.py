"""Is every part on a board, once, and whole?

What: each part that is bought is looked for among the cuts of the plan: once, at its own length, on a board of its
stock, inside the board along it and across it, as wide as it is ripped, over no other cut. Parts that no board can
give are named.
Why: a part that the plan forgot is missed when the boards are used up; one that is cut twice is paid for twice.
Fix: what would give the part: a longer board (shop.board, shop.longest), or more of them (supply, price).
Source: arithmetic; the saw cut is the config's shop.kerf.
"""

import math
from collections.abc import Iterator

from lacunar.checks.finding import Finding
from lacunar.checks.voice import Found, Voice, check, grouped, settle, tell_once
from lacunar.parts import Part
from lacunar.plan import Board, Cut, Unserved, mark_of, stock_width
from lacunar.tolerances import CONTACT


@check("plan-served", "arithmetic", __doc__)
def check_plan_served(voice: Voice) -> Found:
    """Findings on parts and the boards that they are cut from."""
    subject = voice.subject
    cuts = grouped(((board, cut) for board in subject.plan.boards for cut in board.cuts), lambda one: one[1].part)
    found = [
        *_unserved(voice),
        *(finding for part in subject.parts if part.bought for finding in _part(voice, part, cuts.get(part.id, []))),
        *(finding for board in subject.plan.boards for finding in _board(voice, board)),
    ]
    return settle(found, _passed(voice))


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
    message = f"no {one.stock} board gives this part{place}: {one.reason}"
    return voice.say("fail", one.part, message, value=one.length, limit=longest, fix=one.cure)


def _wrong(
    voice: Voice, where: str, message: str, value: float | None = None, limit: float | None = None, unit: str = "mm"
) -> Finding:
    return voice.say("fail", where, message, value=value, limit=limit, unit=unit, fix="plan again")


def _part(voice: Voice, part: Part, cuts: list[tuple[Board, Cut]]) -> Iterator[Finding]:
    if len(cuts) != 1:
        if cuts or part.id not in {one.part for one in voice.subject.plan.unserved}:
            message = f"it is cut {len(cuts)} times" if cuts else "it is on no board"
            yield _wrong(voice, part.id, message, len(cuts), 1, unit="count")
        return
    board, cut = cuts[0]
    given = cut.end - cut.start
    # What is not chosen by the plan keeps its exact length, and is cut to the nearest mark.
    if abs(given - part.length) > mark_of(part, voice.config.tape) / 2.0 + CONTACT:
        message = f"board {board.id} gives it {voice.length(given)}, it is {voice.length(part.length)} long"
        yield _wrong(voice, part.id, message, given, part.length)
    if board.stock != part.stock:
        yield _wrong(voice, part.id, f"board {board.id} is {board.stock}, it is made of {part.stock}", unit="")


def _board(voice: Voice, board: Board) -> Iterator[Finding]:
    """Cuts inside the board, less what is lost at its ends, and a saw cut between each two."""
    shop = voice.config.shop
    measured = [row.actual for row in shop.board if (row.stock, row.length) == (board.stock, board.length)]
    room = next((actual for actual in measured if actual is not None), board.length) - shop.end_waste
    for cut in board.cuts:
        over = max(shop.end_waste - cut.start, cut.end - room)
        if over > CONTACT:
            message = f"it lies {voice.length(over)} outside what board {board.id} has between its squared ends"
            yield _wrong(voice, cut.part, message, over, 0.0)
        yield from _rip(voice, board, cut)
    for one, other in _neighbours(board):
        between = _between(voice, one, other)
        if between < shop.kerf - CONTACT:
            message = f"{voice.length(between)} lie between it and {one.part} on board {board.id}, less than a saw cut"
            yield _wrong(voice, other.part, message, between, shop.kerf)


def _rip(voice: Voice, board: Board, cut: Cut) -> Iterator[Finding]:
    """Across the board inside its section, and as wide as the part is."""
    config, part = voice.config, voice.subject.part(cut.part)
    if part is None or cut.across is None:
        return
    lies, section = (cut.across, cut.across_end or cut.across), stock_width(part, config)
    over = max(-min(low for low, _ in lies), max(high for _, high in lies) - section)
    ends = (part.width, part.width if part.width_end is None else part.width_end)
    widths = zip((high - low for low, high in lies), reversed(ends) if cut.turned else ends, strict=True)
    wide, wish = max(widths, key=lambda pair: abs(pair[0] - pair[1]))
    if over > CONTACT:
        message = f"it lies {voice.length(over)} outside board {board.id}, which is {voice.length(section)} across"
        yield _wrong(voice, part.id, message, over, 0.0)
    # To the nearest mark of the fence, and up to the next tick of the plan.
    elif abs(wide - wish) > config.tape.fine + CONTACT:
        message = f"board {board.id} gives it {voice.length(wide)} of width, it is {voice.length(wish)} wide"
        yield _wrong(voice, part.id, message, wide, wish)


def _neighbours(board: Board) -> list[tuple[Cut, Cut]]:
    """Pairs of cuts one behind the other or side by side."""
    cuts = sorted(board.cuts, key=lambda cut: (cut.start, cut.end))
    return [(one, cuts[i + n]) for i, one in enumerate(cuts) for n in (1, 2, 3) if i + n < len(cuts)]


def _between(voice: Voice, one: Cut, other: Cut) -> float:
    """What lies between two cuts, square to the saw cut; less than 0 where one lies over the other."""
    if one.across is not None and other.across is not None and other.start < one.end:
        return max(_beside(one, other), _beside(other, one))
    part = voice.subject.part(one.part)
    width = 0.0 if part is None else part.width
    lean = math.tan(math.radians(one.slants[1])), math.tan(math.radians(other.slants[0]))
    # Faces at the near edge and at the far edge, from the long points that start and end are.
    near = other.start + width * max(-lean[1], 0.0) - (one.end - width * max(lean[0], 0.0))
    far = other.start + width * max(lean[1], 0.0) - (one.end - width * max(-lean[0], 0.0))
    return min(near, far) * math.cos(math.atan(max(abs(lean[0]), abs(lean[1]))))


def _beside(near: Cut, far: Cut) -> float:
    """How far the far rip's edge lies beyond the near rip's, at the worse end of where both are."""
    places = (max(near.start, far.start), min(near.end, far.end))
    return min(_edge(far, at)[0] - _edge(near, at)[1] for at in places)


def _edge(cut: Cut, at: float) -> tuple[float, float]:
    """Where a rip lies across the board at a place along it."""
    first, second = cut.across or (0.0, 0.0), cut.across_end or cut.across or (0.0, 0.0)
    share = (at - cut.start) / (cut.end - cut.start)
    return first[0] + share * (second[0] - first[0]), first[1] + share * (second[1] - first[1])


def _passed(voice: Voice) -> Finding:
    plan, parts = voice.subject.plan, [part for part in voice.subject.parts if part.bought]
    message = f"each of {len(parts)} parts is cut once, from {len(plan.boards)} boards"
    return voice.say("pass", "the plan", message, value=len(parts), limit=len(parts), unit="count")
