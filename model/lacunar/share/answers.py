"""What a client asks, and the answers: out of the report and the config; what stands for every job is marked."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from lacunar.config import UNUSED, Config, Trust, told_day
from lacunar.cost import money_text
from lacunar.reports import Report, calendar_words, cost_words
from lacunar.share.markup import isolated
from lacunar.told import counted, sentence


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One answer. `practice`: common practice, the same for every job, and no number of this one."""

    text: str
    practice: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """A question and what there is to say."""

    question: str
    lines: tuple[Line, ...]


Lines = Iterator[Line]


def answers(report: Report, config: Config, trust: Trust) -> tuple[Answer, ...]:
    """All of them, in the order in which they are asked."""
    asked = (
        ("Can we see it at its true size?", (Line(text=text) for text in AT_TRUE_SIZE)),
        ("What does it cost?", _cost(report)),
        ("What is in that price, and what is not?", _in_and_out(report)),
        ("What will one see?", _seen(report, config)),
        ("How high is the room then?", _headroom(report, config)),
        ("How long does it take?", _days(report)),
        ("When is it loud, and when does it smell?", _nuisance(report)),
        ("What is done to the old beams, and can it be undone?", _undone(report, config)),
        ("Lead and asbestos?", _tested(report, config)),
        ("What has to be decided, and by when?", _decide(report, config, trust)),
        ("What is assumed?", _assumed(report)),
    )
    return tuple(Answer(question=question, lines=tuple(lines)) for question, lines in asked)


AT_TRUE_SIZE: Final = (
    "Ask for the file ceiling.glb, or ceiling.usdz for phones that open no GLB, and open it on the phone, in the room.",
    "Let the phone find the floor and set the model on it, at its own size: the ceiling then hangs at its height.",
    "Turn and move it until the letters on the floor lie in the room's corners; A is the first corner of the plan.",
)
"""How the models of a build are placed."""


def _said(text: str) -> Line:
    """A sentence out of a phrase of the report."""
    return Line(text=sentence(text))


def _practice(text: str) -> Line:
    return Line(text=text, practice=True)


def _cost(report: Report) -> Lines:
    money = report.plan.money
    yield _said(cost_words(money, money.currency))
    if money.lacking:
        yield Line(text=f"Without a price so far: {', '.join(money.lacking)}.")
    for mover in money.movers[:MOST_MOVERS]:
        low, high = (money_text(abs(amount), money.currency) for amount in (mover.low, mover.high))
        yield _said(f"{mover.what}: {mover.why}; up to {low} less or {high} more")
    if money.has_price and money.is_complete and not money.movers:
        yield Line(text="Nothing that was assumed moves it.")


MOST_MOVERS: Final = 3
"""What moves the price most is told, not all that does."""


def _in_and_out(report: Report) -> Lines:
    money = report.plan.money
    rows = {
        "boards, spares among them": money.boards,
        "plywood and hardboard": money.sheets,
        "nails, screws, plugs, adhesive": money.fasteners,
        "paint and finish": money.finish,
        "tax": money.tax,
        "kept back for what goes wrong": money.contingency,
        "delivery": money.delivery,
    }
    told = [f"{name} {money_text(amount, money.currency)}" for name, amount in rows.items() if amount]
    if told:
        yield Line(text=f"In it: {'; '.join(told)}.")
    walls = any(item.name == "wall paint" for item in report.plan.finish)
    yield Line(text=f"Walls painted again: {'one coat is in it' if walls else 'not in it'}.")
    yield from map(_said, money.notes[1:])
    yield _practice("The electrician is not in it, nor is taking away what comes down and what is left over.")


def _seen(report: Report, config: Config) -> Lines:
    finish = config.finish
    behind = f"{finish.behind} behind them" if finish and finish.behind else "the old ceiling's colour shows in them"
    gap = config.tape.words(config.slats.gap)
    yield Line(text=f"Gaps of {gap} between the slats; {behind}.")
    plugs = sum(pocket.fate == "plugged" for pocket in report.analysis.pockets)
    if plugs and config.cross_beams:
        bore = config.tape.words(config.cross_beams.joint.bore)
        yield Line(text=f"{counted(plugs, 'round plug')} of {bore} in the new beams, below the trim.")
    old = sum(part.kind == "existing beam" for part in report.parts)
    if old:
        beams = f"The {old} old beams stay" if old > 1 else "The old beam stays"
        yield Line(text=f"{beams}, {'untouched' if _kept(config) else 'with the finish of the new wood'}.")
    yield Line(text=f"Finish: {_coats(config)}.")
    yield Line(text="Colours: not compared.")
    yield _practice(
        "New wood comes near the colour of old beams and is never equal: boards differ, and all of it darkens with the "
        "years. A trial piece, looked at in this room, says more than any picture."
    )
    for finding in report.checks:
        # Plugs and the paint behind the gaps, which are told by their keys, are answered above.
        if finding.check == "what-shows" and finding.level != "pass" and "." not in finding.where:
            yield _said(finding.told)


def _kept(config: Config) -> bool:
    """Whether the surface of the old beams stays."""
    return config.beams.keep if config.beams else all(beam.keep for beam in config.beam)


def _coats(config: Config) -> str:
    coats = config.finish.coats if config.finish else ()
    told = [" ".join(filter(None, (coat.kind, coat.colour, coat.sheen))) for coat in coats]
    if not told:
        return "none is chosen yet, nor its sheen"
    return ", then ".join(told) + ("" if any(coat.sheen for coat in coats) else "; its sheen is not chosen yet")


def _headroom(report: Report, config: Config) -> Lines:
    lowest = min(report.parts, key=lambda part: part.z[0], default=None)
    if lowest is not None:
        height = config.tape.text(lowest.z[0], "words", config.tape.told)
        yield Line(text=f"The lowest wood ends {height} above the floor ({lowest.id}).")
    for finding in report.checks:
        if finding.check == "headroom" and finding.level != "pass":
            yield _said(f"{finding.told}; {finding.fix}")


def _days(report: Report) -> Lines:
    yield from map(_said, calendar_words(report.plan.calendar))


def _nuisance(report: Report) -> Lines:
    tasks = report.plan.calendar.tasks
    loud = [task.name for task in tasks if task.is_loud]
    smells = [task.name for task in tasks if task.smells]
    if loud:
        yield Line(text=f"Loud: {', '.join(loud)}.")
    if smells:
        yield Line(text=f"Smells until it is dry: {', '.join(smells)}.")
    else:
        yield Line(text="Nothing is painted, so nothing smells of paint.")
    yield _practice("Saws and nailers are heard next door: agree with neighbours on hours of rest.")


def _undone(report: Report, config: Config) -> Lines:
    holds = {item.name: item for item in report.plan.fasteners}
    there = any(part.kind == "existing beam" for part in report.parts)
    if "pocket screw" in holds and there:
        screws = counted(round(holds["pocket screw"].need), "screw")
        yield Line(text=f"The new beams are held by {screws}, driven aslant into the old beams and at the walls.")
    if "slat nail" in holds:
        nails = counted(round(holds["slat nail"].need), "nail")
        yield Line(text=f"The slats are held by {nails} through the old ceiling.")
    if there and _kept(config):
        yield Line(text="The faces of the old beams are neither planed, sanded nor painted.")
    yield _practice(
        "It can be taken down again. What stays are holes of screws and nails, to be filled; adhesive behind trim "
        "takes paint with it, or plaster."
    )


def _tested(report: Report, config: Config) -> Lines:
    tested = config.house.tested
    for name, found in (("Lead in the old paint", tested.lead), ("Asbestos in the old ceiling", tested.asbestos)):
        told = {None: "not tested", "none": "tested, none found", "found": "tested and found"}[found]
        yield Line(text=f"{name}: {told}.")
    for finding in report.checks:
        if finding.check in ("caution-lead", "caution-asbestos"):
            yield _said(f"{finding.message}: {finding.fix}")


def _decide(report: Report, config: Config, trust: Trust) -> Lines:
    for one in config.decide:
        before = isolated(one.before) if isinstance(one.before, str) else told_day(one.before)
        yield Line(text=f"{isolated(one.what)}: before {before}.")
    if report.alternatives:
        yield _practice("Which of the designs it is to be: before boards are bought.")
    if not config.decide and not report.alternatives:
        yield Line(text="Nothing is written down.")
    if trust.missing:
        yield Line(
            text=f"Before {trust.not_yet or 'more'}, this is still wanted: {'; '.join(map(plain, trust.missing))}."
        )


_KEY: Final = re.compile(r"([a-z_]+(?:\.[a-z_]+)*) not given: (.*)")
_FILE: Final = re.compile(r": an? \[\[.*| \([^()]*(?:\[|=|[a-z]\.[a-z])[^()]*\)| in \[.*?\]|; findings that rest .*")

ASKED_FOR: Final = {
    "slats.stock": "boards",
    "slats.species": "wood of the boards",
    "slats.run": "way of the boards",
    "slats.gap": "gaps between the boards",
    "cross_beams.stock": "section of the new beams",
    "cross_beams.species": "wood of the new beams",
    "trim.species": "wood of the trim",
    "framing.joists": "joists above the ceiling",
    "framing.old_ceiling": "old ceiling",
}
"""Keys that a household may have a say in, by what they are called at the table."""


def plain(text: str) -> str:
    """A phrase for who does not write the file: without its keys."""
    return _FILE.sub("", text)


def _assumed(report: Report) -> Lines:
    """What a household can answer in words, the rest as a count."""
    usual = 0
    for text in report.assumed:
        key = _KEY.fullmatch(text)
        if key and key[1] in ASKED_FOR:
            yield _said(f"{ASKED_FOR[key[1]]}, not chosen: {plain(key[2])}")
        elif key or re.match(r"[a-z_]+\.[a-z_]", text):
            usual += 1
        elif not text.startswith(UNUSED):
            yield _said(plain(text))
    if usual:
        yield _said(f"{counted(usual, 'detail')} of the work that nobody has chosen: as is usual")
