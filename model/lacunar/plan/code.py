"""The plan's code: two sheets with the same one say the same of what is cut."""

import json
from base64 import b32encode
from collections.abc import Sequence
from dataclasses import asdict
from hashlib import sha256
from typing import Any, Final, cast

from lacunar.parts import Part
from lacunar.plan.types import Plan

LETTERS: Final = 6
"""Of a code: two plans share one by chance once in a thousand million. Own choice."""
FINEST: Final = 2
"""Decimals of a mm that make another plan."""


def plan_code(parts: Sequence[Part], plan: Plan) -> str:
    """Letters and digits (A to Z, 2 to 7) that every product of a plan carries, so that an old sheet is seen to be old.

    It changes with any size of a part, with what is cut from which board, and with where the saw is set.
    """
    sizes = [
        (part.id, part.stock, part.species, part.widths, part.thickness, [asdict(end) for end in part.ends])
        for part in parts
    ]
    told = {
        "parts": sizes,
        "lengths": [(part.id, plan.lengths.get(part.id, part.length)) for part in parts],
        "boards": [asdict(board) for board in plan.boards],
        "settings": [asdict(setting) for setting in plan.settings],
    }
    return b32encode(sha256(json.dumps(_rounded(told)).encode()).digest())[:LETTERS].decode()


def _rounded(value: object) -> object:
    """Without what differs from machine to machine in the last digits; negative zero is zero."""
    if isinstance(value, float):
        return round(value, FINEST) + 0.0
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in cast("dict[str, Any]", value).items()}
    return [_rounded(item) for item in cast("list[Any]", value)] if isinstance(value, list | tuple) else value
