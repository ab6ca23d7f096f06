"""Is every part on a board, once, and whole?

What: each part that is bought is looked for among the cuts of the plan: once, at its own length, on a board of its
stock, inside the board along it and across it, as wide as it is ripped, over no other cut. Parts that no board can
give are named.
Why: a part that the plan forgot is missed when the boards are used up; one that is cut twice is paid for twice.
Fix: what would give the part: a longer board (shop.board, shop.longest), or more of them (supply, price).
Source: arithmetic; the saw cut is the config's shop.kerf.
"""

import math

from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, settle, tell_once
from lacunar.parts import Part
from lacunar.plan import Board, Cut, Unserved, fine_mark, mark_of, stock_width
from lacunar.tolerances import CONTACT

NAME = "plan-served"
SOURCE = "arithmetic"


def check_plan_served(subject: Subject) -> tuple[Finding, ...]:
    """Findings on parts and the boards that they are cut from."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    cuts = _cuts_by_part(subject)
    found = [
        *_unserved(voice),
        *(finding for part in subject.parts if part.bought for finding in _part(voice, part, cuts.get(part.id, []))),
        *(finding for board in subject.plan.boards for finding in _board(voice, board)),
    ]
    return settle(found, _passed(voice))


def _unserved(voice: Voice) -> list[Finding]:
    """What no board can give; many of one stock with one cure are told by the longest."""
    found: list[Finding] = []
    unserved = sorted(voice.subject.plan.unserved, key=lambda one: -one.length)
    for stock, cure in dict.fromkeys((one.stock, one.cure) for one in voice.subject.plan.unserved):
        alike = [one for one in unserved if (one.stock, one.cure) == (stock, cure)]
        found += tell_once([_one_unserved(voice, one) for one in alike], f"parts of {stock}")
    return found


def _one_unserved(voice: Voice, one: Unserved) -> Finding:
    part = voice.subject.part(one.part)
    place = f" in coffer {part.coffer}" if part is not None and part.coffer else ""
    sold = (*voice.subject.config.shop.board, *voice.subject.plan.boards)
    longest = max((board.length for board in sold if board.stock == one.stock), default=None)
    message = f"no {one.stock} board gives this part{place}: {one.reason}"
    return voice.say("fail", one.part, message, value=one.length, limit=longest, fix=one.cure)


def _cuts_by_part(subject: Subject) -> dict[str, list[tuple[Board, Cut]]]:
    found: dict[str, list[tuple[Board, Cut]]] = {}
    for board in subject.plan.boards:
        for cut in board.cuts:
            found.setdefault(cut.part, []).append((board, cut))
    return found


def _part(voice: Voice, part: Part, cuts: list[tuple[Board, Cut]]) -> list[Finding]:
    if not cuts and part.id in {one.part for one in voice.subject.plan.unserved}:
        return []
    if len(cuts) != 1:
        message = f"it is cut {len(cuts)} times" if cuts else "it is on no board"
        return [voice.say("fail", part.id, message, value=len(cuts), limit=1, unit="count", fix="plan again")]
    board, cut = cuts[0]
    found: list[Finding] = []
    # What is not chosen by the plan keeps its exact length, and is cut to the nearest mark.
    mark = mark_of(part, voice.subject.config)
    if abs(cut.end - cut.start - part.length) > mark / 2.0 + CONTACT:
        message = (
            f"board {board.id} gives it {voice.length(cut.end - cut.start)}, it is {voice.length(part.length)} long"
        )
        found.append(
            voice.say("fail", part.id, message, value=cut.end - cut.start, limit=part.length, fix="plan again")
        )
    if board.stock != part.stock:
        message = f"board {board.id} is {board.stock}, it is made of {part.stock}"
        found.append(voice.say("fail", part.id, message, unit="", fix="plan again"))
    return found


def _board(voice: Voice, board: Board) -> list[Finding]:
    """Cuts inside the board, less what is lost at its ends, and a saw cut between each two."""
    config = voice.subject.config
    measured = [row.actual for row in config.shop.board if (row.stock, row.length) == (board.stock, board.length)]
    room = next((actual for actual in measured if actual is not None), board.length) - config.shop.end_waste
    found: list[Finding] = []
    for cut in board.cuts:
        over = max(config.shop.end_waste - cut.start, cut.end - room)
        if over > CONTACT:
            message = f"it lies {voice.length(over)} outside what board {board.id} has between its squared ends"
            found.append(voice.say("fail", cut.part, message, value=over, limit=0.0, fix="plan again"))
        found += _rip(voice, board, cut)
    for one, other in _neighbours(board):
        between = _between(voice, one, other)
        if between < config.shop.kerf - CONTACT:
            message = f"{voice.length(between)} lie between it and {one.part} on board {board.id}, less than a saw cut"
            found.append(
                voice.say("fail", other.part, message, value=between, limit=config.shop.kerf, fix="plan again")
            )
    return found


def _rip(voice: Voice, board: Board, cut: Cut) -> list[Finding]:
    """Across the board inside its section, and as wide as the part is."""
    config, part = voice.subject.config, voice.subject.part(cut.part)
    if part is None or cut.across is None:
        return []
    lies = (cut.across, cut.across_end or cut.across)
    section = stock_width(part, config)
    over = max(-min(low for low, _ in lies), max(high for _, high in lies) - section)
    if over > CONTACT:
        message = f"it lies {voice.length(over)} outside board {board.id}, which is {voice.length(section)} across"
        return [voice.say("fail", part.id, message, value=over, limit=0.0, fix="plan again")]
    ends = (part.width, part.width if part.width_end is None else part.width_end)
    widths = zip((high - low for low, high in lies), reversed(ends) if cut.turned else ends, strict=True)
    wide, wish = max(widths, key=lambda pair: abs(pair[0] - pair[1]))
    # To the nearest mark of the fence, and up to the next tick of the plan.
    if abs(wide - wish) > fine_mark(config) + CONTACT:
        message = f"board {board.id} gives it {voice.length(wide)} of width, it is {voice.length(wish)} wide"
        return [voice.say("fail", part.id, message, value=wide, limit=wish, fix="plan again")]
    return []


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
