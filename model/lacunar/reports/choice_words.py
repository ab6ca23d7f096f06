"""What one chooses a design by, in words: the same in a terminal and on a page."""

from collections.abc import Sequence
from typing import Final

from lacunar.cost import ESTIMATE, money_text
from lacunar.reports.rows import AlternativeRow, ChoiceRow, MoneyRow
from lacunar.schedule import Calendar, Range
from lacunar.told import counted, from_to, ranged

RUN_WORDS: Final = {
    "with": "with the beams",
    "across": "across the beams",
    "alternate": "alternating",
    "joists": "across the joists",
}


def run_words(run: str) -> str:
    """Which way slats run; walls and angles as the config has them."""
    return RUN_WORDS.get(run, f"along wall {run}" if run.isalpha() else f"at {run}")


def choice_words(row: ChoiceRow, currency: str) -> tuple[tuple[str, str], ...]:
    """What is counted of a design, and how much."""
    return (
        ("cost", cost_words(row, currency)),
        ("days", days_words(row.days, row.room_days)),
        ("boards to buy", f"{row.boards:,}"),
        ("slats to rip", f"{row.rips:,} of {row.slats:,}"),
        ("stops of the saw", f"{row.stops:,}"),
    )


def cost_words(row: ChoiceRow | MoneyRow, currency: str) -> str:
    """What it costs, and between what."""
    total = row.cost if isinstance(row, ChoiceRow) else row.total if row.has_price else None
    if total is None or row.low is None or row.high is None:
        return "no prices given"
    told, low, high = (money_text(amount, currency) for amount in (total, row.low, row.high))
    told = f"{told}, {ESTIMATE}" if low == high else f"{told}, {low} to {high}, {ESTIMATE}"
    return told if row.is_complete else f"{told}; something in it has no price"


def days_words(days: tuple[int, int], room_days: tuple[int, int]) -> str:
    """How long it takes."""
    return f"{ranged(*days, 'day')}; the room cannot be used for {ranged(*room_days, 'day')}"


def calendar_words(calendar: Calendar) -> tuple[str, ...]:
    """How long it takes, by whom, and what all of that rests on."""
    people = "1 person" if calendar.people == 1 else f"{calendar.people} people"
    hours = hours_words(calendar.person_hours)
    return (
        days_words(calendar.days, calendar.room_days),
        f"reckoned with {people} who work {calendar.hours_a_day:g} hours a day: {hours} hours of work for all together",
        *calendar.notes,
    )


def hours_words(hours: Range) -> str:
    """From the fewest to the most."""
    low, high = (f"{value:.1f}".removesuffix(".0") if value < 10.0 else f"{value:.0f}" for value in hours)
    return from_to(low, high)


def refused_words(row: AlternativeRow) -> str:
    """Why it cannot be laid out: the first reason, and how many more there are."""
    first, *others = row.refused
    return f"cannot be laid out: {first}{f'; and {len(others):,} more' if others else ''}"


def alternative_lines(rows: Sequence[AlternativeRow], currency: str) -> tuple[str, ...]:
    """One line a design, and one for what stands against it."""
    lines: list[str] = []
    for row in rows:
        if row.choice is None:
            lines.append(f"{row.name}: {refused_words(row)}")
            continue
        of = row.choice
        boards, stops = counted(of.boards, "board"), counted(of.stops, "stop")
        saw = f"{boards}, {of.rips:,} of {of.slats:,} slats ripped, {stops}"
        lines.append(f"{row.name}: {cost_words(of, currency)}; {ranged(*of.days, 'day')}; {saw}")
        lines.append(f"  {'; '.join(of.against)}")
    return tuple(lines)
