"""Straight-line functions of the graphics library's language, run by numpy: the film's curve is written down once.

Only what such functions are made of: declarations, assignments and one `return`; no `if`, no loop.
"""

import re
from collections.abc import Callable, Mapping
from functools import lru_cache
from typing import Any, Final

import numpy as np
import numpy.typing as npt

FUNCTION: Final = re.compile(r"^(?:float|vec[234]) (\w+)\(([^)]*)\) \{(.*?)^\}", re.MULTILINE | re.DOTALL)
STATEMENT: Final = re.compile(r"(?:const )?(?:(?:float|vec[234]|mat3) )?(.*)", re.DOTALL)


class Column(np.ndarray[Any, np.dtype[np.float32]]):
    """Numbers of many pixels, shape (n, width); a single number has width 1."""

    x = property(lambda self: self[..., 0:1])
    y = property(lambda self: self[..., 1:2])
    z = property(lambda self: self[..., 2:3])
    xy = property(lambda self: self[..., 0:2])


def column(values: npt.ArrayLike) -> Column:
    """Values as a column of their own."""
    return np.array(values, dtype=np.float32).view(Column)


class _Matrix:
    """Given by its columns."""

    def __init__(self, *values: float) -> None:
        self._rows = np.array(values, dtype=np.float32).reshape(3, 3)

    def __mul__(self, other: Column) -> Column:
        return column(np.asarray(other) @ self._rows)


def _vec3(*parts: npt.ArrayLike) -> Column:
    columns = [np.atleast_2d(column(part)) for part in parts] * (3 if len(parts) == 1 else 1)
    height = max(len(one) for one in columns)
    return column(np.concatenate([np.broadcast_to(one, (height, one.shape[1])) for one in columns], axis=1))


def _dot(a: Column, b: Column) -> Column:
    return column(np.sum(np.asarray(a) * np.asarray(b), axis=-1, keepdims=True))


def _length(a: Column) -> Column:
    return column(np.linalg.norm(np.asarray(a), axis=-1, keepdims=True))


def _mix(a: Column, b: Column, share: Column) -> Column:
    return column(a + (b - a) * share)


def _smoothstep(low: float, high: float, x: Column) -> Column:
    t = np.clip((x - low) / (high - low), 0.0, 1.0)
    return column(t * t * (3.0 - 2.0 * t))


BUILT_IN: Final[Mapping[str, Callable[..., Any]]] = {
    "atan": np.arctan2,
    "clamp": np.clip,
    "dot": _dot,
    "exp": np.exp,
    "exp2": np.exp2,
    "length": _length,
    "log2": np.log2,
    "mat3": _Matrix,
    "max": np.maximum,
    "min": np.minimum,
    "mix": _mix,
    "pow": np.power,
    "sin": np.sin,
    "smoothstep": _smoothstep,
    "sqrt": np.sqrt,
    "vec3": _vec3,
}


@lru_cache(maxsize=4)
def functions(text: str) -> Mapping[str, Callable[..., Column]]:
    """The functions of a shader's text by name; one that is no straight line is a SyntaxError when it is called."""
    return {name: _function(text, name) for name in _bodies(text)}


def _bodies(text: str) -> dict[str, tuple[str, str]]:
    bare = re.sub(r"//.*", "", text)
    return {name: (arguments, body) for name, arguments, body in FUNCTION.findall(bare)}


def _function(text: str, name: str) -> Callable[..., Column]:
    arguments, body = _bodies(text)[name]
    names = [word.split()[-1] for word in arguments.split(",")]

    def run(*values: npt.ArrayLike) -> Column:
        known: dict[str, Any] = {**BUILT_IN, **functions(text), **dict(zip(names, map(column, values), strict=True))}
        for statement in filter(None, (part.strip() for part in body.split(";"))):
            if statement.startswith("return "):
                return column(eval(_line(statement.removeprefix("return ")), known))
            exec("\n".join(_assignments(statement)), known)
        raise SyntaxError(f"{name} returns nothing")

    return run


def _line(code: str) -> str:
    return " ".join(code.split())


def _assignments(statement: str) -> list[str]:
    """One a name: `float a = f(b, c), d = a` is two."""
    found = STATEMENT.fullmatch(_line(statement))
    code, depth, cuts = found[1] if found else "", 0, [-1]
    for at, sign in enumerate(code):
        depth += (sign in "([") - (sign in ")]")
        if sign == "," and depth == 0:
            cuts.append(at)
    return [code[a + 1 : b].strip() for a, b in zip(cuts, [*cuts[1:], len(code)], strict=True)]
