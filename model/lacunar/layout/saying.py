"""Messages, with lengths as the config's own units and mark have them."""

from collections.abc import Callable

from lacunar.config import Config
from lacunar.errors import LayoutError, Problem
from lacunar.units import format_length

Say = Callable[[float], str]


def saying(config: Config) -> Say:
    """A function that prints a length for this config's reader."""
    return lambda mm: format_length(mm, config.units, config.read_to)


def refusal(where: str, what: str, fix: str) -> LayoutError:
    """What stops a layout, where it is one thing."""
    return LayoutError([Problem(where=where, what=what, fix=fix)])
