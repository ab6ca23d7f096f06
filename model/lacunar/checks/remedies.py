"""Remedies that are keys of the config: tried on the ceiling before anybody is told of them."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lacunar.analysis import Subject, arrange, make_subject, plan_parts
from lacunar.config import Config, FieldRow, section_name
from lacunar.errors import LacunarError
from lacunar.parts import Part, apply_field, make_parts
from lacunar.tolerances import ARITHMETIC


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
    subject: Subject,
    remedies: Iterable[Remedy],
    helps: Callable[[Subject], bool],
    *,
    even_cut: bool = False,
    as_measured: bool = False,
) -> Remedy | None:
    """The first remedy with which the ceiling can be arranged and is as it should be.

    None once parts are measured, for these stay as they are, for a ceiling of very many pieces, and where nobody asks.

    Args:
        subject: as it is.
        remedies: in the order in which they are wished.
        helps: asked of the ceiling with each, its parts as designed.
        even_cut: tried once wood is cut as well.
        as_measured: tried until a piece is cut, with measured parts as their sheets give them then: for remedies that
            leave coffers and slats where they are.
    """
    config = subject.config
    is_late = bool(config.field) and not even_cut and (bool(config.done.cut) or not as_measured)
    if is_late or not subject.advised or len(subject.parts) > MOST_PARTS:
        return None
    for remedy in remedies:
        other = _with_remedy(subject, remedy, as_measured=as_measured)
        if other is not None and helps(other):
            return remedy
    return None


def _with_remedy(subject: Subject, remedy: Remedy, *, as_measured: bool) -> Subject | None:
    """The ceiling with a remedy, its plan and cost as before; None where it cannot be arranged."""
    config = subject.config
    for change in remedy:
        config = _set(config, change.key.split("."), change.value)
    try:
        layout, parts = arrange(config, subject.room)
        if as_measured and config.field:
            config = _set(config, ["field"], _applied_again(config.field, make_parts(subject.layout), parts))
            parts = apply_field(parts, config)
    except LacunarError:
        return None
    return make_subject(config, subject.room, layout, parts, subject.plan, subject.cost)


def _applied_again(field: Mapping[str, FieldRow], old: Sequence[Part], new: Sequence[Part]) -> Mapping[str, FieldRow]:
    """Rows as their sheets give them once more: the limits of a slat differ from the design's by as much as before."""
    before, after = ({part.id: part.interval for part in parts} for parts in (old, new))

    def again(name: str, row: FieldRow) -> FieldRow:
        was, now, low, high = before.get(name), after.get(name), row.shortest, row.longest
        # Where no length would do, the sheet alone tells by how much.
        if was is None or now is None or low is None or high is None or high - low <= ARITHMETIC:
            return row
        return row.model_copy(update={"shortest": low + now[0] - was[0], "longest": high + now[1] - was[1]})

    return {name: again(name, row) for name, row in field.items()}


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
