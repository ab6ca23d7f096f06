"""Messages, with lengths as the config's own units and mark have them."""

from collections.abc import Callable

from lacunar.errors import LayoutError, Problem

Say = Callable[[float], str]


def refusal(where: str, what: str, fix: str) -> LayoutError:
    """What stops a layout, where it is one thing."""
    return LayoutError([Problem(where=where, what=what, fix=fix)])
