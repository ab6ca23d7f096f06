"""A TOML document as the standard reader gives it."""

from typing import Any, TypeGuard

Raw = dict[str, Any]
"""A whole document or one of its tables."""


def is_table(value: object) -> TypeGuard[dict[str, Any]]:
    """Whether a value is a table."""
    return isinstance(value, dict)


def is_list(value: object) -> TypeGuard[list[Any]]:
    """Whether a value is a list."""
    return isinstance(value, list)
