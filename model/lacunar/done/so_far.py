"""How much of a ceiling is done, and what became of the boards."""

from collections.abc import Sequence
from dataclasses import dataclass

from lacunar.config import Config, Done
from lacunar.parts import Part
from lacunar.plan import left_of


@dataclass(frozen=True, slots=True, kw_only=True)
class DoneSoFar:
    """How much of a ceiling is done; lengths in mm.

    Attributes:
        pieces: that are cut in the whole ceiling.
        cut: of them are cut and good; up: of these hang; spoilt: were cut and are no good.
        lengths: how many lengths those that are cut have, which no later plan changes.
        boards: that were cut into.
        bought: their length, whole.
        good, bad, left, lost: what became of it: good pieces, spoilt ones, what is left, saw cuts and ends.
    """

    pieces: int
    cut: int
    up: int
    spoilt: int
    lengths: int
    boards: int
    bought: float
    good: float
    bad: float
    left: float
    lost: float


def done_so_far(parts: Sequence[Part], config: Config) -> DoneSoFar | None:
    """None where nothing is said to be done."""
    done, shop = config.done, config.shop
    if done == Done():
        return None
    good, spoilt = done.cut.values(), done.spoilt
    bought, left = sum(board.length for board in done.board), sum(left_of(board, shop) for board in done.board)
    lengths = [sum(piece.length for piece in pieces) for pieces in (good, spoilt)]
    return DoneSoFar(
        pieces=sum(part.bought for part in parts),
        cut=len(good),
        up=sum(piece.is_up for piece in good),
        spoilt=len(spoilt),
        lengths=len({round(piece.length, 3) for piece in good}),
        boards=len(done.board),
        bought=bought,
        good=lengths[0],
        bad=lengths[1],
        left=left,
        lost=bought - left - sum(lengths),
    )


def done_line(so_far: DoneSoFar) -> str:
    """The same in one line."""
    kept = f", at {so_far.lengths} lengths that stay" if so_far.cut else ""
    spoilt = f", {so_far.spoilt} spoilt" if so_far.spoilt else ""
    boards = f"boards cut into: {so_far.boards}"
    return f"cut: {so_far.cut} of {so_far.pieces} pieces{kept}; up: {so_far.up}{spoilt}; {boards}"
