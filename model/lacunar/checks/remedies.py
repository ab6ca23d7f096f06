"""Remedies that are keys of the config: tried on the ceiling before anybody is told of them."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from lacunar.analysis import Subject, arrange, make_subject, plan_parts
from lacunar.config import Config, section_name
from lacunar.errors import LacunarError


@dataclass(frozen=True, slots=True)
class Change:
    """One key of the config: its new value as the config holds it, and as a person writes it; "" where it follows."""

    key: str
    value: Any
    text: str


Remedy = tuple[Change, ...]

MOST_PARTS = 4000
"""Pieces of a ceiling that is arranged anew for a remedy, four times those of the largest hall of our own: one of 9,300
takes 3 s each time. Measured."""


def written(remedy: Remedy) -> str:
    """The keys of a remedy as a person writes them."""
    return " and ".join(f"{change.key} = {change.text}" for change in remedy if change.text)


def named_section(config: Config, key: str, one: float, other: float) -> Remedy:
    """What is no longer the section that its name says gets the name of the section that it is."""
    name = section_name(min(one, other), max(one, other), config.units)
    return (Change(key, name, f'"{name}"'),) if config.is_given(key) else ()


def first_that_helps(
    subject: Subject, remedies: Iterable[Remedy], helps: Callable[[Subject], bool], *, even_cut: bool = False
) -> Remedy | None:
    """The first remedy with which the ceiling can be arranged and is as it should be.

    None once wood is cut: measured parts stay as they are; and none for a ceiling of very many pieces.

    Args:
        subject: as it is.
        remedies: in the order in which they are wished.
        helps: asked of the ceiling with each, its parts as designed.
        even_cut: tried once wood is cut as well.
    """
    if (subject.config.field and not even_cut) or len(subject.parts) > MOST_PARTS:
        return None
    for remedy in remedies:
        other = _with_remedy(subject, remedy)
        if other is not None and helps(other):
            return remedy
    return None


def _with_remedy(subject: Subject, remedy: Remedy) -> Subject | None:
    """The ceiling with a remedy, its plan and cost as before; None where it cannot be arranged."""
    config = subject.config
    for change in remedy:
        config = _set(config, change.key.split("."), change.value)
    try:
        layout, parts = arrange(config, subject.room)
    except LacunarError:
        return None
    return make_subject(config, subject.room, layout, parts, subject.plan, subject.cost)


def planned(subject: Subject) -> Subject:
    """The ceiling with its slats at the lengths of a plan of their own, its cost as before."""
    config = subject.config
    # Lengths hang on the boards that slats come from; all others are left out, which halves the time.
    plan, parts = plan_parts(subject.parts, config, stock=config.slats.stock)
    return make_subject(config, subject.room, subject.layout, parts, plan, subject.cost)


def _set(config: Config, steps: list[str], value: Any) -> Config:
    def at(table: Any, steps: list[str]) -> Any:
        name, *rest = steps
        return table.model_copy(update={name: at(getattr(table, name), rest) if rest else value})

    return at(config, steps)
