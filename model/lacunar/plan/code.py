"""The plan's code: two sheets with the same one say the same of what is cut."""

import json
import math
from base64 import b32encode
from collections.abc import Sequence
from dataclasses import asdict
from hashlib import sha256
from typing import Any, Final, cast

from lacunar.parts import Part
from lacunar.plan.types import Plan

LETTERS: Final = 6
"""Of a code: two plans share one by chance once in a thousand million. Own choice."""
FINEST: Final = 0.01
"""mm. Less makes no other plan."""
BESIDE: Final = 0.36
"""Steps of that which are added before they are counted whole: no mark of a tape, 1/64 in or 1/2 mm, then lies where
the last digits decide."""


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
    """Without what differs from machine to machine in the last digits."""
    if isinstance(value, float):
        return math.floor(value / FINEST + BESIDE)
    if isinstance(value, dict):
        return {key: _rounded(item) for key, item in cast("dict[str, Any]", value).items()}
    return [_rounded(item) for item in cast("list[Any]", value)] if isinstance(value, list | tuple) else value
