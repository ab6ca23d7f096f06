"""What people call things when they say what is done: parts, coffers, rows, kinds, boards, and ranges of them."""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import did_you_mean
from lacunar.errors import Problem
from lacunar.parts import BEAM_PIECES, Part, natural
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
    ids: dict[str, list[str]] = {}
    runs: dict[str, list[str]] = {"coffers": [], "rows": []}
    for part in (part for part in parts if part.bought):
        row = part.id.partition("-")[0] if part.kind in BEAM_PIECES and "-" in part.id else ""
        for run, name in (("coffers", part.coffer or ""), ("rows", row)):
            if name:
                ids.setdefault(name, []).append(part.id)
                runs[run] += [] if name in runs[run] else [name]
        for name in (part.kind, PLURALS.get(part.kind, f"{part.kind}s"), EVERYTHING):
            ids.setdefault(name, []).append(part.id)
        ids[part.id] = [part.id]
        runs.setdefault(f"{part.coffer or row} {part.kind}", []).append(part.id)
    ordered = (
        tuple(sorted(names, key=natural)) if run in ("coffers", "rows") else names for run, names in runs.items()
    )
    return Names(
        what="part, coffer, row or kind",
        ids={name: tuple(dict.fromkeys(found)) for name, found in ids.items()},
        runs=tuple(tuple(names) for names in ordered),
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
