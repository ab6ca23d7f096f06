"""What hides every high pocket: bored higher, higher trim, deeper beams, or all of them low and plugged."""

import math
from collections.abc import Callable, Iterator

from lacunar.checks.beam_fits import hidden_beams
from lacunar.checks.driver_room import check_driver_room
from lacunar.checks.finding import Finding
from lacunar.checks.pocket_breakout import check_pocket_breakout
from lacunar.checks.remedies import Change, Remedy, first_that_helps, written
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice
from lacunar.config import Config, CrossBeams, section_name
from lacunar.materials import LUMBER, find_lumber
from lacunar.tolerances import ARITHMETIC, CONTACT
from lacunar.units import INCH

HEIGHT_STEP = {"in": INCH / 4.0, "mm": 5.0}
"""mm. Heights that trim is sold or ripped in. Source: common practice, no source."""

MOST_HIGHER = 1.0 * INCH
"""mm. Trim that is higher by more is another design. Source: common practice, no source."""

MOST_POCKETS = 2
"""At one height of an end: one on each side face."""

WORDS = {
    "cross_beams.joint.drop": "bore them higher",
    "trim.height": "take higher trim",
    "cross_beams.depth": "take deeper beams, that reach up behind the trim",
    "cross_beams.joint.high": "bore them all low, plug and stain them",
}


def hide_fix(voice: Voice, below: float, is_hidden: Callable[[Subject], bool]) -> str:
    """A change of the config that hides every high pocket and makes no hole, drill or beam worse.

    Args:
        voice: gives lengths as a person writes them.
        below: how far the lowest reaches below the trim; infinite where one has no trim before it.
        is_hidden: whether every high pocket is hidden.
    """
    subject = voice.subject
    cross = subject.config.cross_beams
    if cross is None:
        return "plug and stain it"
    before = (_worst(check_pocket_breakout(subject)), _worst(check_driver_room(subject)), len(hidden_beams(subject)))

    def helps(other: Subject) -> bool:
        if not is_hidden(other) or len(hidden_beams(other)) > before[2]:
            return False
        return _worst(check_pocket_breakout(other)) <= before[0] and _worst(check_driver_room(other)) <= before[1]

    remedy = first_that_helps(subject, _remedies(voice, cross, below), helps)
    if remedy is None:
        return "plug and stain it"
    words = next(WORDS[change.key] for change in remedy if change.key in WORDS)
    return f"{words}: {written(remedy)}"


def _worst(findings: tuple[Finding, ...]) -> int:
    return max(("pass", "ask", "warn", "fail").index(finding.level) for finding in findings)


def _remedies(voice: Voice, cross: CrossBeams, below: float) -> Iterator[Remedy]:
    config, joint = voice.subject.config, cross.joint
    if math.isfinite(below):
        drop = math.floor((joint.drop - below) / voice.mark + ARITHMETIC) * voice.mark
        if drop > 0.0:
            yield (_length(voice, "cross_beams.joint.drop", drop),)
        step = HEIGHT_STEP[config.units]
        higher = math.ceil((config.trim.height + below) / step - ARITHMETIC) * step
        if higher - config.trim.height <= MOST_HIGHER:
            yield (_length(voice, "trim.height", higher), *_named(config, "trim.stock", config.trim.width, higher))
    yield from _deeper(voice, cross)
    low = min(joint.high + joint.low, MOST_POCKETS)
    yield Change("cross_beams.joint.high", 0, "0"), Change("cross_beams.joint.low", low, f"{low}")


def _deeper(voice: Voice, cross: CrossBeams) -> Iterator[Remedy]:
    """Stock of the same width, each depth that is sold; a given depth as deep as the deepest beam that hangs there."""
    if find_lumber(cross.stock) is not None and not voice.subject.config.is_given("cross_beams.depth"):
        for size in LUMBER.values():
            if abs(size.thickness - cross.width) <= CONTACT and size.width > cross.depth + CONTACT:
                yield (
                    Change("cross_beams.stock", size.nominal, f'"{size.nominal}"'),
                    Change("cross_beams.depth", size.width, ""),
                )
        return
    deepest = max((bar.stock_depth for bar in voice.subject.layout.beams), default=0.0)
    if deepest > cross.depth + CONTACT:
        stock = _named(voice.subject.config, "cross_beams.stock", cross.width, deepest)
        yield (_length(voice, "cross_beams.depth", deepest), *stock)


def _named(config: Config, key: str, one: float, other: float) -> Remedy:
    """What is no longer the section that its name says gets the name of the section that it is."""
    name = section_name(min(one, other), max(one, other), config.units)
    return (Change(key, name, f'"{name}"'),) if config.is_given(key) else ()


def _length(voice: Voice, key: str, mm: float) -> Change:
    return Change(key, mm, f'"{voice.length(mm)}"')
