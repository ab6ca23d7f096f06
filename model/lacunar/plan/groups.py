"""Parts by what they are cut from: one stock and species after the other."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lacunar.config import Done
from lacunar.plan.fewer_stops import SectionWays
from lacunar.plan.laid_boards import Laid, lay_boards
from lacunar.plan.left import rests, with_done
from lacunar.plan.saw import Saw
from lacunar.plan.section import SectionPlan
from lacunar.plan.spares import spares
from lacunar.plan.sticks import Stick
from lacunar.plan.stock import Offer, offers
from lacunar.plan.types import Buy


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """Parts of one stock and species, and how they are cut.

    Attributes:
        to_buy: boards to be cut and spares by what they are; None where all of `laid` that is not on hand is bought.
    """

    stock: str
    species: str
    sticks: tuple[Stick, ...]
    rows: tuple[Offer, ...]
    plan: SectionPlan
    laid: tuple[Laid, ...]
    to_buy: Mapping[Offer, tuple[int, int]] | None = None


Ways = dict[tuple[str, str, tuple[Offer, ...]], SectionWays]
"""The plans of stock and species out of what is left of it."""


def make_groups(sticks: Sequence[Stick], saw: Saw, ways: Ways, done: Done) -> tuple[Group, ...]:
    """By stock and species, the first to go up first: two kinds of wood share no board, nor the boards on hand.

    Boards that are bought and what is left of those that were cut into are on hand.

    Args:
        sticks: in the order in which they go up.
        saw: it.
        ways: what is known of these sticks with this saw but for its `most_stops`; grows.
        done: what is bought and cut.
    """
    sorts: dict[tuple[str, str], list[Stick]] = {}
    for stick in sticks:
        sorts.setdefault((stick.stock, stick.part.species), []).append(stick)
    used: Counter[tuple[str, float, bool]] = Counter()
    groups: list[Group] = []
    for (stock, species), mine in sorts.items():
        sold = with_done(offers(stock, saw.shop, saw.tape.units), stock, species, done)
        left = tuple(row.less(used[stock, row.length, True], used[stock, row.length, False]) for row in sold)
        rows = (*sold, *rests(stock, species, min(stick.span.lo for stick in mine), saw, done))
        offered = (*left, *rows[len(sold) :])
        way = ways.setdefault((stock, species, offered), SectionWays(mine, offered, saw))
        plan = way.at_most(saw.most_stops)
        laid = lay_boards(plan, saw)
        used.update((stock, one.offer.length, one.on_hand) for one in laid if not one.offer.rests)
        groups.append(Group(stock=stock, species=species, sticks=tuple(mine), rows=rows, plan=plan, laid=laid))
    return tuple(groups)


def buy_lines(group: Group, cull: float) -> list[Buy]:
    """One line for each length of board that is bought, the shortest first."""
    counts = Counter(laid.offer for laid in group.laid if not laid.on_hand)
    to_buy = {offer: (n, spares(n, cull)) for offer, n in counts.items()} if group.to_buy is None else group.to_buy
    lines: list[Buy] = []
    for offer, (count, spare) in sorted(to_buy.items(), key=lambda item: item[0].length):
        lines.append(
            Buy(
                stock=group.stock,
                species=group.species,
                length=offer.length,
                count=count,
                spare=spare,
                price=offer.price,
                total=None if offer.price is None else (count + spare) * offer.price,
            )
        )
    return lines
