"""Lengths in messages, as the config's own units and mark have them."""

from collections.abc import Callable

from lacunar.config import Config
from lacunar.units import format_length

Say = Callable[[float], str]


def saying(config: Config) -> Say:
    """A function that prints a length for this config's reader."""

    def say(mm: float) -> str:
        return format_length(mm, config.units, config.read_to)

    return say
