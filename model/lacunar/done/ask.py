"""What a person says is done, in names, and what that is in ids."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Config
from lacunar.done.names import Names, board_names, part_names
from lacunar.errors import ConfigError, Problem
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.units import UnitError, read_length

Lengths = Mapping[str, float | None]
"""Part ids in order; mm where somebody said how long it was cut."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What is to be written down, in the order in which that is done.

    Attributes:
        undo: parts whose last word is taken back.
        bought: the whole buying list is bought.
        boards: ids of the plan's boards that are cut up, all their pieces cut.
        cut, up, spoilt: parts.
    """

    undo: tuple[str, ...] = ()
    bought: bool = False
    boards: tuple[str, ...] = ()
    cut: Lengths
    up: Lengths
    spoilt: Lengths


def read_ask(
    words: Mapping[str, Sequence[str]], parts: Sequence[Part], plan: Plan, config: Config, *, bought: bool = False
) -> Ask:
    """Names of the command line as ids.

    Args:
        words: by option ("cut", "up", "spoilt", "boards", "undo"): lists of names with commas between them.
        parts: of the design.
        plan: whose boards are meant.
        config: its units; what it has recorded may be taken back though the design has it no more.

    Raises:
        ConfigError: with every name that there is not, and every length that is none.
    """
    problems: list[Problem] = []
    names, boards = part_names(parts), board_names(plan.boards)
    recorded = {piece.part: (piece.part,) for board in config.done.board for piece in board.pieces}
    known = {
        "undo": Names(what=names.what, ids={**recorded, **names.ids}, runs=names.runs),
        "boards": boards,
    }
    found: dict[str, dict[str, float | None]] = {}
    for option in ("undo", "boards", "cut", "up", "spoilt"):
        mine = found.setdefault(option, {})
        for word in (word.strip() for text in words.get(option, ()) for word in text.split(",")):
            name, _, length = (piece.strip() for piece in word.partition("="))
            ids = known.get(option, names).find(name) if name else ()
            mine.update(dict.fromkeys(ids))
            if not ids:
                problems.append(known.get(option, names).unknown(name, f"--{option}"))
            elif "=" in word:
                mine.update(_lengths(option, name, ids, length, config, problems))
    if problems:
        raise ConfigError(problems)
    return Ask(
        undo=tuple(found["undo"]),
        bought=bought,
        boards=tuple(found["boards"]),
        cut=found["cut"],
        up=found["up"],
        spoilt=found["spoilt"],
    )


def _lengths(
    option: str, name: str, ids: Sequence[str], text: str, config: Config, problems: list[Problem]
) -> dict[str, float | None]:
    """A length that is said with a name."""
    try:
        mm = read_length(text, config.units)
    except UnitError as error:
        problems.append(Problem(where=f"--{option} {name}", what=str(error)))
        return {}
    if option in ("undo", "boards") or len(ids) != 1 or mm <= 0.0:
        what = f"got {name}={text}, must be one part and the length that it was cut to, like C1-S03=39 5/8 in"
        problems.append(Problem(where=f"--{option}", what=what))
        return {}
    return {ids[0]: mm}
