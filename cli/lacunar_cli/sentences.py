"""Findings as a carpenter would say them: what is the same for many is said once, with its range and its worst."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, TypeVar

if TYPE_CHECKING:
    from lacunar.checks import Finding, Level
    from lacunar.told import Amount, Told

T = TypeVar("T")

MOST_NAMES: Final = 6
"""Ids named on one line before "and n more"."""

MOST_SAID: Final = 8
"""Sentences of one check and level before "and n more"."""

_KEY: Final = re.compile(r"[a-z_]+(\.[a-z_]+)+")
_FIRST_WORD: Final = re.compile(r"[a-z-]+(?=[ ,;:])")


@dataclass(frozen=True, slots=True, kw_only=True)
class Said:
    """One thing to know, of one piece or many, and what to do about it.

    Attributes:
        checks: whose it is.
        told: sentences.
        fix: a sentence; "" where there is nothing to do.
    """

    level: "Level"
    checks: tuple[str, ...]
    told: tuple[str, ...]
    fix: str = ""

    @property
    def text(self) -> str:
        """All of it in a row."""
        return " ".join((*self.told, self.fix)).rstrip()

    @property
    def source(self) -> str:
        """The checks' names as they stand at the end; "" where the text has them."""
        return f"({', '.join(self.checks)})" if self.checks else ""


def names(where: Sequence[str]) -> str:
    """Ids in a row, as C1-S01, C1-S02 and 12 more."""
    from lacunar.config import first_of

    return first_of(where, MOST_NAMES)


def sentences(findings: Iterable["Finding"], *, every: bool = False) -> tuple[Said, ...]:
    """All findings of one level; what has one cure is said together.

    Args:
        findings: of one level, in the order of the checks.
        every: nothing is left out, and what a pass rests on is said with its numbers.
    """
    found = list(findings)
    resting = [] if every else [f for f in found if f.assumed]
    rest = [f for f in found if f not in resting]
    said = [_resting(group) for group in _grouped(resting, lambda f: (f.assumed, f.fix))]
    for check in dict.fromkeys(finding.check for finding in rest):
        said += _of_check([f for f in rest if f.check == check], every=every)
    cures = _grouped(said, lambda one: one.fix or one)
    return tuple(
        replace(
            alike[0],
            checks=tuple(dict.fromkeys(check for one in alike for check in one.checks)),
            told=tuple(told for one in alike for told in one.told),
        )
        for alike in cures
    )


def _of_check(findings: Sequence["Finding"], *, every: bool) -> list[Said]:
    groups = _grouped(findings, lambda f: (f.message.form, f.fix.form, f.assumed))
    shown = groups if every else groups[:MOST_SAID]
    said = [_said(group) for group in shown]
    rest = sum(len(group) for group in groups[len(shown) :])
    if rest:
        told = f"and {rest:,} more like these: --all lists them."
        said.append(Said(level=findings[0].level, checks=(findings[0].check,), told=(told,)))
    return said


def todo(findings: Iterable["Finding"]) -> Iterator[str]:
    """What to do about findings of one level, each with the place or places."""
    found = [finding for finding in findings if finding.fix]
    for group in _grouped(found, lambda f: (f.check, f.fix.form)):
        yield f"{_place(group)}{_merged([f.fix for f in group])} ({group[0].check})"


def sentence(text: str) -> str:
    """With a capital letter, if it begins with a word, and a full stop."""
    head = text[:1].upper() if _FIRST_WORD.match(text) else text[:1]
    return f"{head}{text[1:]}{'' if text.endswith('.') else '.'}"


def _resting(group: Sequence["Finding"]) -> Said:
    """What nobody has looked at, once, with the checks that would pass."""
    told = f"Assumed: {' and '.join(group[0].assumed)}."
    checks = tuple(dict.fromkeys(f.check for f in group))
    return Said(level=group[0].level, checks=checks, told=(told,), fix=sentence(group[0].fix))


def _grouped(items: Sequence[T], key: Callable[[T], object]) -> list[list[T]]:
    groups: dict[object, list[T]] = {}
    for item in items:
        groups.setdefault(key(item), []).append(item)
    return list(groups.values())


def _said(group: Sequence["Finding"]) -> Said:
    """One text for findings of one form."""
    first, worst = group[0], max(group, key=lambda finding: finding.excess)
    differ = len({finding.excess for finding in group}) > 1
    merged = len({(finding.message.unsized, finding.fix.unsized) for finding in group}) == 1
    message = _merged([finding.message for finding in group]) if merged else worst.message
    fix = _merged([finding.fix for finding in group]) if merged else worst.fix
    which = "the worst" if differ else "for one"
    place = _place(group) if merged else f"{names([f.where for f in group])}, {which} {worst.where}: "
    told = [f"{place}{message}." if place else sentence(message)]
    if first.assumed:
        told.append(f"Assumed: {' and '.join(first.assumed)}.")
    if merged and differ:
        told.append(sentence(f"{worst.where} is the worst"))
    return Said(level=first.level, checks=(first.check,), told=tuple(told), fix=sentence(fix) if fix else "")


def _place(group: Sequence["Finding"]) -> str:
    """Ids before a colon; nothing for what is everywhere, and none that the message or the fix names itself."""
    where = tuple(dict.fromkeys(f.where for f in group if not _is_named(f)))
    return f"{names(where)}: " if where else ""


def _is_named(finding: "Finding") -> bool:
    """It stands for the whole ceiling, for a key of the config that the fix has, or for many whose worst it tells."""
    where = finding.where
    return where == finding.worst or where.startswith("the ") or bool(_KEY.match(where))


def _merged(texts: Sequence["Told"]) -> str:
    """Texts of one form as one, each amount that differs from its least to its greatest."""
    columns = zip(*(text.amounts for text in texts), strict=True)
    return texts[0].with_amounts([_range(column) for column in columns])


def _range(amounts: Sequence["Amount"]) -> str:
    low, high = (most(amounts, key=lambda amount: amount.size).text for most in (min, max))
    if low == high:
        return low
    (bare, _, unit), other = low.rpartition(" "), high.rpartition(" ")[2]
    return f"{bare if unit == other and unit.isalpha() and ' ft ' not in high else low} to {high}"
