"""What people call things when they say what is done: parts, coffers, rows, kinds, boards, and ranges of them."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Done, did_you_mean
from lacunar.errors import Problem
from lacunar.parts import Part, natural
from lacunar.plan import Board

EVERYTHING = "all"

PLURALS = {"trim": "trim", "furring": "furring"}
"""Kinds whose plural takes no s."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Names:
    """Names and what they stand for.

    Attributes:
        what: they are called in messages.
        ids: by name.
        runs: names in order, so that a range is what lies between two of one run.
    """

    what: str
    ids: Mapping[str, tuple[str, ...]]
    runs: tuple[tuple[str, ...], ...]

    def find(self, text: str) -> tuple[str, ...]:
        """Ids of a name or a range; none where there is no such thing."""
        if text in self.ids:
            return self.ids[text]
        for first, second in _split(text):
            for run in self.runs:
                if first in run and second in run:
                    a, b = sorted((run.index(first), run.index(second)))
                    return tuple(id for name in run[a : b + 1] for id in self.ids[name])
        return ()

    def unknown(self, text: str, where: str) -> Problem:
        """What is said where nothing is called so."""
        return Problem(where=where, what=f'there is no {self.what} "{text}"', fix=did_you_mean(text, self.ids))


def part_names(parts: Iterable[Part]) -> Names:
    """Of everything that is cut."""
    kinds: dict[str, list[str]] = {}
    bought = [part for part in parts if part.bought]
    for part in bought:
        for name in (part.kind, PLURALS.get(part.kind, f"{part.kind}s")):
            kinds.setdefault(name, []).append(part.id)
    return _names("part, coffer, row or kind", [part.id for part in bought], kinds)


def recorded_names(done: Done) -> Names:
    """Of what is written down, also of parts that the design has no more."""
    return _names("record of", {piece.part for board in done.board for piece in board.pieces}, {})


def _names(what: str, parts: Iterable[str], kinds: Mapping[str, Sequence[str]]) -> Names:
    """Ids, and what stands before their dash: a coffer, a row."""
    ids = {name: dict.fromkeys(named) for name, named in kinds.items()}
    runs: dict[str, dict[str, None]] = {}
    for part in sorted(parts, key=natural):
        group, _, own = part.partition("-")
        for name in (part, group, EVERYTHING):
            ids.setdefault(name, {})[part] = None
        for run, name in ((f"{group}-{own[:1]}", part), (group[:1], group)):
            runs.setdefault(run, {})[name] = None
    return Names(
        what=what, ids={name: tuple(named) for name, named in ids.items()}, runs=tuple(map(tuple, runs.values()))
    )


def board_names(boards: Sequence[Board]) -> Names:
    """Of the plan's boards."""
    names = tuple(board.id for board in boards)
    return Names(what="board of the plan", ids={EVERYTHING: names} | {name: (name,) for name in names}, runs=(names,))


def _split(text: str) -> Iterator[tuple[str, str]]:
    """Every way in which a text may be a range: "C1-S01-S09" is from C1-S01 to C1-S09."""
    for dash in re.finditer(r"(?:-|\.\.)", text):
        first, second = text[: dash.start()], text[dash.end() :]
        yield first, second
        yield first, f"{first.rpartition('-')[0]}-{second}"
