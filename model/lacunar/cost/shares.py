"""What one piece of wood costs: its share of the board that it is cut from."""

import math
from collections.abc import Mapping, Sequence

from lacunar.parts import Part
from lacunar.plan import Board, Plan


def part_prices(parts: Sequence[Part], plan: Plan) -> Mapping[str, float]:
    """Of each part on a board with a price its share of that price, by the area of its face: an estimate.

    The waste of a board is its parts' alike, so all shares together are what the boards cost, before spares and tax; a
    board on hand costs nothing.
    """
    faces = {part.id: part.length * math.fsum(part.widths) / 2.0 for part in parts}
    return {name: share for board in plan.boards for name, share in _shares(board, faces)}


def _shares(board: Board, faces: Mapping[str, float]) -> list[tuple[str, float]]:
    if board.price is None:
        return []
    whole = math.fsum(faces[cut.part] for cut in board.cuts)
    return [(cut.part, board.price * faces[cut.part] / whole) for cut in board.cuts]
