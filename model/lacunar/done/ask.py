"""What a person says is done, in names, and what that is in ids."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from lacunar.config import SAID, plain_length
from lacunar.done.names import board_names, part_names
from lacunar.errors import ConfigError, Problem
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.units import INCH, UnitError, Units, read_length

Lengths = Mapping[str, float | None]
"""Part ids in order; mm where somebody said how long it was cut."""


MOST_OFF = {"in": INCH / 2.0, "mm": 12.0}
"""mm. A piece that was cut further off its planned length is no piece of that place, or was misread. Own choice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ask:
    """What is to be written down, in the order in which that is done.

    Attributes:
        bought: the whole buying list is bought.
        boards: ids of the plan's boards that are cut up, all their pieces cut.
        cut, up, spoilt: parts.
        again: whoever says it is asked again when that is planned: not all of it can be said of one plan.
    """

    bought: bool = False
    boards: tuple[str, ...] = ()
    cut: Lengths = field(default_factory=dict[str, float | None])
    up: Lengths = field(default_factory=dict[str, float | None])
    spoilt: Lengths = field(default_factory=dict[str, float | None])
    again: bool = False


def read_ask(words: Mapping[str, Sequence[str]], parts: Sequence[Part], plan: Plan, units: Units) -> Ask:
    """Names of the command line as ids.

    Args:
        words: by option ("cut", "up", "spoilt", "boards"): lists of names with commas between them.
        parts: of the design, at the plan's lengths.
        plan: whose boards are meant.
        units: of bare numbers.

    Raises:
        ConfigError: with every name that there is not, and every length that is none.
    """
    problems: list[Problem] = []
    by_id = {part.id: part for part in parts}
    found: dict[str, dict[str, float | None]] = {}
    for option, names in (("boards", board_names(plan.boards)), *((each, part_names(parts)) for each in SAID)):
        mine = found.setdefault(option, {})
        if option in words and not any(split_words(words[option])):
            problems.append(Problem(where=f"--{option}", what=f"got no name, must be a {names.what}"))
        for name, length in split_words(words.get(option, ())):
            ids = names.find(name)
            mine.update(dict.fromkeys(ids))
            if not ids:
                problems.append(names.unknown(name, f"--{option}"))
            elif length is not None:
                one = by_id.get(ids[0]) if len(ids) == 1 else None
                mine.update(_length(option, name, one, length, units, problems))
    if problems:
        raise ConfigError(problems)
    return Ask(boards=tuple(found["boards"]), cut=found["cut"], up=found["up"], spoilt=found["spoilt"])


def split_words(texts: Sequence[str]) -> Iterator[tuple[str, str | None]]:
    """Names, each with the length that is said of it: "C1,C2-S03=39 5/8 in"."""
    for word in filter(None, (word.strip() for text in texts for word in text.split(","))):
        name, equals, length = (piece.strip() for piece in word.partition("="))
        yield name, length if equals else None


def _length(
    option: str, name: str, part: Part | None, text: str, units: Units, problems: list[Problem]
) -> dict[str, float | None]:
    """A length that is said with a name: of one part, and near to the planned one unless it is spoilt."""
    where = f"--{option} {name}"
    if part is None:
        problems.append(Problem(where=where, what=f"got {text} for it, must be one part where a length is given"))
        return {}
    try:
        mm = read_length(text, units)
    except UnitError as error:
        problems.append(Problem(where=where, what=str(error)))
        return {}
    if mm <= 0.0 or (option != "spoilt" and abs(mm - part.length) > MOST_OFF[units]):
        planned, most = plain_length(part.length, units), plain_length(MOST_OFF[units], units)
        what = f"got {text}, it is planned as {planned}, must be within {most} of that"
        problems.append(Problem(where=where, what=what, fix="measure it again; a piece that is no good is --spoilt"))
        return {}
    return {part.id: mm}
