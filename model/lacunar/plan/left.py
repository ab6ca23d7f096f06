"""What is bought already and what is left of the boards that were cut into: they go first, and cost nothing."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from lacunar.config import Bought, Done, DoneBoard, DonePiece, Shop
from lacunar.plan.saw import Saw
from lacunar.plan.stock import Offer


def with_done(rows: Sequence[Offer], stock: str, species: str, done: Done) -> tuple[Offer, ...]:
    """What there is of a stock with the boards that are bought, less those that were cut into, the shortest first.

    Boards that were cut into and that nobody called bought were on hand, or were bought all the same.
    """
    mine = {length for name, wood, length in (*done.boards, *done.opened) if name == stock and wood in ("", species)}
    known = {row.length for row in rows}
    more = [Offer(length=mm, actual=mm, price=None, on_hand=0, for_sale=False) for mm in mine - known]
    return tuple(sorted((_at_hand(row, stock, species, done) for row in (*rows, *more)), key=lambda row: row.length))


def _at_hand(row: Offer, stock: str, species: str, done: Done) -> Offer:
    """Of all species the boards on hand; of this one those that are bought."""
    sorts = {wood for name, wood, mm in (*done.boards, *done.opened) if (name, mm) == (stock, row.length)}
    if not sorts:
        return row
    whole = {
        wood: done.boards.get((stock, wood, row.length), 0) - done.opened.get((stock, wood, row.length), 0)
        for wood in sorts
    }
    owed = -sum(count for count in whole.values() if count < 0)
    bought = sum(done.boards.get((stock, wood, row.length), 0) for wood in sorts) + max(owed - row.on_hand, 0)
    supply = None if row.supply is None else max(row.supply - bought, 0)
    there = max(row.on_hand - owed, 0) + sum(max(whole[wood], 0) for wood in sorts & {"", species})
    return replace(row, on_hand=there, supply=supply, for_sale=row.for_sale and supply != 0)


def bought_boards(done: Done, shop: Shop) -> Mapping[Bought, int]:
    """How many boards of each sort are bought; what was cut into beyond those on hand was bought whatever was said."""
    on_hand = {(row.stock, row.length): row.on_hand for row in shop.board}
    counts = {
        (stock, wood, mm): max(done.boards.get((stock, wood, mm), 0), cut - on_hand.get((stock, mm), 0))
        for (stock, wood, mm), cut in {**dict.fromkeys(done.boards, 0), **done.opened}.items()
    }
    return {sort: count for sort, count in counts.items() if count}


def paid_for_boards(done: Done, shop: Shop) -> float:
    """What the boards that are bought cost, those of which the price is known."""
    prices = {(row.stock, row.length): row.price or 0.0 for row in shop.board}
    return sum(count * prices.get((stock, mm), 0.0) for (stock, _, mm), count in bought_boards(done, shop).items())


def rests(stock: str, species: str, shortest: int, saw: Saw, done: Done) -> tuple[Offer, ...]:
    """What is left of boards that were cut into, in which the shortest piece still goes; the shortest first.

    Args:
        stock: that the pieces are cut from.
        species: that they are of.
        shortest: of the pieces, ticks.
        saw: what squaring an end takes.
        done: what was cut.
    """
    waste = saw.shop.end_waste
    found: dict[int, list[tuple[int, float]]] = {}
    for number, board in enumerate(done.board):
        if board.stock == stock and board.species in (None, "", species):
            left = left_of(board, saw.shop)
            # One end is squared already.
            if saw.down(left + waste) - 2 * saw.up(waste) >= shortest:
                found.setdefault(saw.down(left), []).append((number, left))
    return tuple(_rest(found[ticks], waste) for ticks in sorted(found))


def _rest(alike: Sequence[tuple[int, float]], waste: float) -> Offer:
    left, numbers = min(mm for _, mm in alike), tuple(number for number, _ in alike)
    return Offer(length=left, actual=left + waste, price=None, on_hand=len(numbers), for_sale=False, rests=numbers)


def left_of(board: DoneBoard, shop: Shop) -> float:
    """How much of a board is left, mm, one end squared: as measured, or what its pieces and saw cuts leave."""
    if board.left is not None:
        return board.left
    actual = {(row.stock, row.length): row.actual for row in shop.board}.get((board.stock, board.length))
    takes = sum(took(piece, shop.kerf) for piece in board.pieces)
    return max((actual or board.length) - shop.end_waste - takes, 0.0)


def took(piece: DonePiece, kerf: float) -> float:
    """How much of its board a piece took, mm, its saw cut with it."""
    return piece.length + kerf if piece.takes is None else piece.takes
