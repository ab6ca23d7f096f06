"""What to buy and what is proved of it, in a few lines for a terminal."""

from collections.abc import Sequence

from lacunar.cost import Cost
from lacunar.plan import Plan, Section, StopChoice
from lacunar.units import FOOT, INCH, Units, format_length

WORTH = 2
"""Stops set so many times as often as there are stops: the other way is named. Common practice, no source."""

NAMED = 4
"""Parts that are named as a proof, at most; the report has them all."""


def buy_lines(plan: Plan, cost: Cost, units: Units) -> tuple[str, ...]:
    """A line for each length and kind of sheet to buy, and one for what is on hand."""
    table = [
        (
            f"{line.stock} {line.species}",
            _length(line.length, units),
            f"{line.count + line.spare}{f' ({line.spare} spare)' if line.spare else ''}",
            _cost(line.total, cost),
        )
        for line in plan.buy
    ]
    table += [
        (
            item.name,
            f"{_length(item.length, units)} x {_length(item.width, units)}",
            f"{item.count}",
            _cost(item.total, cost),
        )
        for item in cost.sheets
        if item.count
    ]
    widths = [max(len(cell) for cell in column) for column in zip(*table, strict=True)]
    bought = ("  ".join(map(str.ljust, cells, widths)).rstrip() for cells in table)
    there = {"boards": sum(one.on_hand for one in plan.boards), "sheets": sum(one.on_hand for one in cost.sheets)}
    on_hand = (f"{n} of the {what} {'is' if n == 1 else 'are'} on hand" for what, n in there.items() if n)
    return (*bought, *on_hand)


def proof_lines(plan: Plan) -> tuple[str, ...]:
    """A line for each stock: what is proved of its boards and stops."""
    return tuple(_section(section) for section in plan.sections)


def stop_lines(choices: Sequence[StopChoice], currency: str, units: Units) -> tuple[str, ...]:
    """A title and a line for each number of stops by which boards are cheaper than by fewer; none where not weighed."""
    if not choices:
        return ()
    what = "length of the boards" if choices[0].cost is None else "boards with spares, before tax"
    table = [
        (
            f"stops = {one.most}",
            f"set {_times(one.placements)} in all",
            _paid(one, choices, currency, units),
        )
        for one in choices
    ]
    widths = [max(len(cell) for cell in column) for column in zip(*table, strict=True)]
    rows = ("  " + "  ".join(map(str.ljust, cells, widths)).rstrip() for cells in table)
    return (f"stops for slats (shop.stops) against money ({what}):", *rows)


def fewer_stops_line(choices: Sequence[StopChoice], currency: str, units: Units) -> str:
    """What the fewest stops would save and cost; "" where that is not known."""
    if not choices:
        return ""
    few, now = choices[0], choices[-1]
    more = _worth(few, currency, units, less=now)
    return (
        f"fewer stops: {few.most} for slats instead of {now.most}, set {_times(few.placements)} in all instead of "
        f"{now.placements}, for at most {more} more: shop.stops = {few.most}"
    )


def measured_lines(plan: Plan, stops: int | None) -> tuple[str, ...]:
    """What no mark serves because there may be no more than so many."""
    return tuple(
        f"{section.apart} pieces of {section.stock} are cut to measure: shop.stops = {section.fewest} serves every one "
        "that a mark can serve"
        for section in plan.sections
        if stops is not None and section.apart and stops < section.fewest
    )


def _paid(one: StopChoice, choices: Sequence[StopChoice], currency: str, units: Units) -> str:
    worth = _worth(one, currency, units)
    if one is not choices[-1]:
        return f"at most {worth}"
    return f"{worth}, as planned{', proved cheapest' if one.proven else ''}"


def _worth(one: StopChoice, currency: str, units: Units, less: StopChoice | None = None) -> str:
    """Money for boards, or their length; beyond that of another."""
    if one.cost is not None:
        return _money(one.cost - (less.cost or 0.0 if less else 0.0), currency)
    mm = one.board_length - (less.board_length if less else 0.0)
    return f"{mm / FOOT:,.0f} ft of board" if units == "in" else f"{mm / 1000.0:,.1f} m of board"


def _cost(total: float | None, cost: Cost) -> str:
    return "" if total is None else _money(total, cost.currency)


def _money(amount: float, currency: str) -> str:
    return f"{currency} {amount:,.2f}"


def _length(mm: float, units: Units) -> str:
    """As the yard says it."""
    if units == "mm":
        return format_length(mm, "mm", 1.0)
    feet = round(mm / FOOT)
    return f"{feet} ft" if abs(mm - feet * FOOT) < 1.0 else format_length(mm, "in", INCH / 16.0, "words")


def _section(section: Section) -> str:
    least = f" (at least {section.least_placements})" if section.placements != section.least_placements else ""
    clock = "; the search was ended by the clock" if section.by_clock else ""
    stops = f"{_stops(section)}, set {_times(section.placements)}{least}{_by_stop(section)}"
    return f"{section.stock} {section.species}: {_proof(section)}; {stops}{clock}"


def _proof(section: Section) -> str:
    """How far the boards can be from the best there can be."""
    best, over = ("cheapest", "over the cheapest") if section.cost is not None else ("shortest", "over the shortest")
    if section.proven:
        return f"proved {best}"
    if section.gap is None:
        return "no bound"
    share = 100.0 * section.gap
    # Rounded up: what is printed must hold.
    return f"at most {-(-share * 10.0 // 1) / 10.0:.1f} % {over} there can be"


def _stops(section: Section) -> str:
    marks = f"{section.stops} stop{'' if section.stops == 1 else 's'}"
    if section.apart:
        return f"{marks}, {section.apart} pieces cut to measure"
    if not section.fewest:
        return marks
    fewer = "fewer" if section.stops == section.fewest else f"fewer than {section.fewest}"
    return f"{marks} (no plan needs {fewer}{_witness(section.witness)})"


def _witness(parts: Sequence[str]) -> str:
    """Why: parts whose intervals share no mark."""
    if len(parts) < 2:
        return ""
    named = [*parts[:NAMED], f"{len(parts) - NAMED} more"] if len(parts) > NAMED else list(parts)
    return f": {', '.join(named[:-1])} and {named[-1]} share no mark"


def _by_stop(section: Section) -> str:
    """The other way to work, where it sets far fewer stops: it picks boards up more often instead."""
    once = section.stops + section.apart
    if section.placements < WORTH * once:
        return ""
    pulls, more = section.pulls, section.pulls_by_stop
    return f"; stop by stop only {once} times, boards picked up {more} times instead of {pulls}"


def _times(n: int) -> str:
    return {1: "once", 2: "twice"}.get(n, f"{n} times")
