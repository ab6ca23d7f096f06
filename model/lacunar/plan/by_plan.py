"""What is left of a plan while everything goes by it: the same lengths on the same boards under the same names."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from lacunar.config import Done, DoneBoard
from lacunar.plan.groups import Group
from lacunar.plan.laid_boards import Laid
from lacunar.plan.saw import Saw
from lacunar.plan.spares import spares
from lacunar.plan.stock import Offer
from lacunar.tolerances import CONTACT


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sale:
    """Boards of one length that a plan buys: those to be cut, those of them that are cut into, and the spares."""

    count: int
    opened: int
    spare: int
    bought: int

    @property
    def there(self) -> int:
        """Whole ones that are bought."""
        return max(self.bought - self.opened, 0)

    @property
    def left(self) -> int:
        """Whole ones still to be cut."""
        return self.count - self.opened

    @property
    def to_buy(self) -> tuple[int, int]:
        """Boards to be cut and spares."""
        return max(self.left - self.there, 0), self.spare - max(self.there - self.left, 0)


def left_by_plan(groups: Sequence[Group], done: Done, saw: Saw) -> tuple[Group, ...] | None:
    """The groups of a plan of everything without what is done; None where something was done otherwise.

    It goes by plan where every board that was cut into is one of the plan's, its pieces cut to the plan's lengths,
    none spoilt, and no boards are bought but those of the buying list. Only then is nothing planned anew: what people
    have on paper holds, and a person who writes down a piece writes the length that the piece has.
    """
    numbers = {piece.part: n for n, board in enumerate(done.board) for piece in board.pieces}
    if done.spoilt or any(board.left is not None for board in done.board):
        return None
    opened: set[int] = set()
    out: list[Group] = []
    first = 1
    for group in groups:
        lengths = _lengths(group, saw)
        for laid in group.laid:
            mine = {numbers[cut.part] for cut in laid.cuts if cut.part in numbers}
            if len(mine) > 1 or any(n in opened or not _is_of(done.board[n], laid, group, lengths) for n in mine):
                return None
            opened |= mine
        sales = _sales(group, done, saw.shop.cull)
        if any(sale.bought > sale.count + sale.spare for sale in sales.values()):
            return None
        out.append(_left(group, numbers, sales, first))
        first += len(group.laid)
    served = {cut.part for group in groups for laid in group.laid for cut in laid.cuts}
    is_all = len(opened) == len(done.board) and served.issuperset(numbers)
    return tuple(out) if is_all and _bought_by(groups, done) else None


def _lengths(group: Group, saw: Saw) -> Mapping[str, float]:
    """What its parts on boards are cut to, mm."""
    free = {stick.id: saw.mm(group.plan.lengths[stick.id]) for stick in group.sticks if stick.id in group.plan.lengths}
    return free | {stick.id: stick.stop for stick in group.sticks if not stick.is_free}


def _is_of(board: DoneBoard, laid: Laid, group: Group, lengths: Mapping[str, float]) -> bool:
    """Whether a board that was cut into is this one, and its pieces are cut as planned."""
    parts = {cut.part for cut in laid.cuts}
    sort = (board.stock, board.species or group.species)
    return (
        sort == (group.stock, group.species)
        and abs(board.length - laid.offer.length) <= CONTACT
        and all(p.part in parts and abs(p.length - lengths[p.part]) <= CONTACT for p in board.pieces)
    )


def _sales(group: Group, done: Done, cull: float) -> Mapping[Offer, _Sale]:
    counts = Counter(laid.offer for laid in group.laid if not laid.on_hand)
    cut = done.cut
    opened = Counter(laid.offer for laid in group.laid if not laid.on_hand and any(c.part in cut for c in laid.cuts))
    return {
        offer: _Sale(
            count=counts[offer],
            opened=opened[offer],
            spare=spares(counts[offer], cull),
            bought=sum(done.boards.get((group.stock, wood, offer.length), 0) for wood in ("", group.species)),
        )
        for offer in sorted(counts, key=lambda offer: offer.length)
    }


def _bought_by(groups: Sequence[Group], done: Done) -> bool:
    """Every sort of board that is bought is one that the plan buys."""
    sold = {
        (group.stock, wood, laid.offer.length)
        for group in groups
        for laid in group.laid
        if not laid.on_hand
        for wood in ("", group.species)
    }
    return sold.issuperset(done.boards)


def _left(group: Group, numbers: Mapping[str, int], sales: Mapping[Offer, _Sale], first: int) -> Group:
    there = Counter({offer: sale.there for offer, sale in sales.items()})
    return replace(
        group,
        sticks=tuple(stick for stick in group.sticks if stick.id not in numbers),
        laid=tuple(_rest(group.laid, numbers, there, first)),
        to_buy={offer: sale.to_buy for offer, sale in sales.items() if any(sale.to_buy)},
    )


def _rest(laid: Sequence[Laid], numbers: Mapping[str, int], there: Counter[Offer], first: int) -> Iterator[Laid]:
    """Boards with something left to cut, under the numbers that they had; bought ones are on hand."""
    for number, board in enumerate(laid, start=first):
        cuts = tuple(cut for cut in board.cuts if cut.part not in numbers)
        rest = next((numbers[cut.part] for cut in board.cuts if cut.part in numbers), None)
        is_there = board.on_hand or rest is not None
        if cuts and not is_there and there[board.offer]:
            there[board.offer] -= 1
            is_there = True
        if cuts:
            yield replace(board, cuts=cuts, on_hand=is_there, rest=rest, number=number)
