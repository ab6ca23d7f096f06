"""What the page says, as texts: out of the report's rows and the config, nothing worked out anew."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from lacunar.config import Config, Trust, printed_day, printed_on
from lacunar.reports import AlternativeRow, Report, choice_words, refused_words, run_words
from lacunar.schedule import Dated
from lacunar.share.answers import Answer, answers
from lacunar.told import counted, from_to


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """A design to choose from.

    Attributes:
        words: what is counted of it, and how much.
        against: sentences.
        refused: why it cannot be laid out; "" where it can, all else is empty where it cannot.
        reply: what somebody writes who chooses it.
    """

    name: str
    words: tuple[tuple[str, str], ...] = ()
    against: tuple[str, ...] = ()
    refused: str = ""
    reply: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A line of the calendar.

    Attributes:
        quick: the days on which it falls when all goes quickly.
        slow: when all goes slowly.
        marks: what it does to the house: loud, smells.
    """

    name: str
    what: str
    quick: str
    slow: str
    marks: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """All that the page says beside its pictures and its figure.

    Attributes:
        date: in words; "" where it is to be written in.
        means: what that is for.
        shows: what the finished ceiling is made of, in a line.
        today: what hangs there now.
        choices: the file's own design first; empty where it is the only one.
        answers: to what a client asks.
        steps: of the work.
    """

    title: str
    code: str
    date: str
    good_for: str
    means: str
    shows: str
    today: str
    choices: tuple[Choice, ...]
    answers: tuple[Answer, ...]
    steps: tuple[Step, ...]


MEANS = {
    "look": "to look at and to choose by, not yet to buy wood by",
    "buy": "to buy wood by; pieces are cut to measures that are taken as the work goes up",
    "cut": "to cut by",
}
"""What each level of trust means to somebody who does not know the words."""


def make_facts(report: Report, config: Config, trust: Trust) -> Facts:
    """The page's texts, out of a report, the config that it was made of, and how far it can be trusted."""
    return Facts(
        title=report.title,
        code=report.plan.code,
        date=printed_day(config) if printed_on(config) else "",
        good_for=trust.words,
        means=MEANS[trust.good_for],
        shows=_shows(report, config),
        today=_today(report),
        choices=tuple(_choices(report, config)),
        answers=answers(report, config, trust),
        steps=tuple(_step(task) for task in report.plan.calendar.tasks if task.hours[1]),
    )


def _shows(report: Report, config: Config) -> str:
    slats = counted(sum(part.kind == "slat" for part in report.parts), "slat")
    way = run_words(config.slats.run)
    return f"{counted(len(report.coffers), 'coffer')}, {slats} of {config.slats.species}, {way}"


def _today(report: Report) -> str:
    beams = Counter(part.kind for part in report.parts)["existing beam"]
    return f"the old ceiling with {counted(beams, 'beam')}" if beams else "the old ceiling, without beams"


def _choices(report: Report, config: Config) -> Iterator[Choice]:
    for row in report.alternatives:
        if row.choice is None:
            yield Choice(name=row.name, refused=refused_words(row))
        else:
            words = choice_words(row.choice, report.plan.money.currency)
            yield Choice(name=row.name, words=words, against=row.choice.against, reply=_reply(row, config))


def _reply(row: AlternativeRow, config: Config) -> str:
    """What is chosen, as one would say it."""
    assert row.choice is not None
    said = dict.fromkeys((row.name, row.choice.run, config.tape.words(row.choice.gap), row.choice.species))
    return f"we chose {', '.join(said)} (plan {row.choice.code})"


def _step(task: Dated) -> Step:
    quick, slow = (from_to(first, last) for first, last in zip(task.begins, task.ends, strict=True))
    flags = (("loud", task.is_loud), ("smells", task.smells), ("in the room", task.where == "room"))
    return Step(name=task.name, what=task.what, quick=quick, slow=slow, marks=tuple(w for w, on in flags if on))
