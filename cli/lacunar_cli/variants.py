"""What `compare` is asked to try: values on the command line become every combination of overrides."""

import itertools
from collections.abc import Sequence

from lacunar.errors import ConfigError, Problem

Override = tuple[str, str]
"""A key as `slats.gap`, and a value as TOML or as bare text."""

OPENING, CLOSING, QUOTES = "[{", "]}", "\"'"


def split_values(text: str) -> tuple[str, ...]:
    """Values between commas; a comma inside quotes, brackets or braces parts nothing."""
    values, quote, depth = [""], "", 0
    for letter in text:
        if letter == "," and not quote and depth == 0:
            values.append("")
            continue
        values[-1] += letter
        if quote:
            quote = "" if letter == quote and not values[-1].endswith('\\"') else quote
        elif letter in QUOTES and _begins_value(values[-1]):
            quote = letter
        elif letter in OPENING + CLOSING:
            depth = max(0, depth + (1 if letter in OPENING else -1))
    return tuple(value.strip() for value in values)


def _begins_value(value: str) -> bool:
    """Whether a quote mark opens a text; elsewhere it is a foot or inch mark."""
    before = value[:-1].strip()
    return not before or before[-1] in OPENING + ",="


def combinations(runs: str, sets: Sequence[str]) -> tuple[tuple[Override, ...], ...]:
    """Every combination, the last key changing fastest; at least one.

    Raises:
        ConfigError: a `--set` has no key or no value.
    """
    choices = [[("slats.run", value) for value in split_values(runs)]] if runs.strip() else []
    problems: list[Problem] = []
    for text in sets:
        key, equals, values = text.partition("=")
        if not equals or not key.strip() or not all(split_values(values)):
            what = f'got "{text}", must be KEY=V1,V2, like slats.gap=1/4 in,3/8 in'
            problems.append(Problem(where="--set", what=what))
        choices.append([(key.strip(), value) for value in split_values(values)])
    if not all(value for _, value in itertools.chain(*choices[:1])) and runs.strip():
        problems.append(Problem(where="--run", what=f'got "{runs}", must be runs with commas between them'))
    if problems:
        raise ConfigError(problems)
    return tuple(itertools.product(*choices))


def label(overrides: Sequence[Override]) -> str:
    """How a picture and a table name a combination: the values, and the keys where they are not plain."""
    values = [value if key == "slats.run" else f"{key.rpartition('.')[2]} {value}" for key, value in overrides]
    return ", ".join(values) or "as written"
