"""Does the job stay within the money that is there?

What: the whole cost against shop.budget: boards with the spares for the cull, sheets, fasteners, adhesive, putty, paint
behind the gaps, finish, tax, contingency and delivery. What has no price is named, and what nobody has given is moved
to its best and its worst.
Why: money that runs out half way leaves an open ceiling; what is dear is chosen before the first board is bought.
Fix: compare alternatives (run, gap, stock, species), other board lengths, or give the prices that are missing.
Source: arithmetic on the config's prices; shares and contents of packs that are not given: common practice, no source.
It is an estimate: ask for quotes.
"""

from lacunar.checks.voice import Assumption, Found, Voice, check, settle
from lacunar.config import first_of
from lacunar.cost import ESTIMATE, Cost, money_text
from lacunar.plan import paid_for_boards

MOST_NAMES = 4
"""Things without a price, or assumed, that are named."""


@check("budget", "arithmetic on the config's prices; packs that are not given: common practice, no source", __doc__)
def check_budget(voice: Voice) -> Found:
    """One finding on the whole cost."""
    cost, budget = voice.subject.cost, voice.config.shop.budget
    if budget is None:
        return (voice.say("pass", "shop.budget", "no budget is given, so the cost is held against none", unit=""),)
    paid = paid_for_boards(voice.config.done, voice.config.shop)
    whole = cost.total + paid
    total = f"the whole job costs about {_money(cost, whole)} ({ESTIMATE})"
    if paid:
        total += f", boards for {_money(cost, paid)} of it are bought"
    told = f"{total if cost.has_price else 'nothing has a price yet'}; the budget is {_money(cost, budget)}"
    if whole > budget:
        over = _money(cost, whole - budget)
        fix = f"save {over} or more: lacunar compare shows what other runs, gaps and boards cost"
        message = f"{told}: {over} over"
        return (voice.say("warn", "shop.budget", message, value=whole, limit=budget, unit=cost.currency, fix=fix),)
    passed = voice.say("pass", "shop.budget", told, value=whole, limit=budget, unit=cost.currency)
    return settle((), passed, _assumed(cost, budget - paid))


def _money(cost: Cost, amount: float) -> str:
    return money_text(amount, cost.currency)


def _assumed(cost: Cost, budget: float) -> tuple[Assumption, ...]:
    """Prices that are missing, and what was taken where nothing was given."""
    found: list[Assumption] = []
    if cost.lacking:
        taken = f"{first_of(cost.lacking, MOST_NAMES)} cost nothing, because no price is given"
        fix = "give their prices ([[shop.board]], [[shop.pack]], [[shop.sheet]], finish.coats)"
        found.append(Assumption(taken=taken, fix=fix))
    if cost.movers:
        what = first_of([mover.what for mover in cost.movers], MOST_NAMES)
        past = ", past the budget" if cost.high > budget else ""
        taken = f"how much {what} take, so that it may be {_money(cost, cost.low)} to {_money(cost, cost.high)}{past}"
        fix = "give shop.cull, what packs hold, how far finish goes and the spare of sheets"
        found.append(Assumption(taken=taken, fix=fix))
    return tuple(found)
