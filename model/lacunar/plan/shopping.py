"""What is to be bought, and what cannot be."""

from collections import Counter

from lacunar.config import Config
from lacunar.plan.groups import Group
from lacunar.plan.spares import spares
from lacunar.plan.stock import Saw, why_unserved
from lacunar.plan.types import Buy, Unserved


def buy_lines(group: Group, cull: float) -> list[Buy]:
    """One line for each length of board that is bought, the shortest first."""
    counts = Counter(laid.offer for laid in group.laid if not laid.on_hand)
    lines: list[Buy] = []
    for offer in sorted(counts, key=lambda offer: offer.length):
        spare = spares(counts[offer], cull)
        lines.append(
            Buy(
                stock=group.stock,
                species=group.species,
                length=offer.length,
                count=counts[offer],
                spare=spare,
                price=offer.price,
                total=None if offer.price is None else (counts[offer] + spare) * offer.price,
            )
        )
    return lines


def unserved(group: Group, config: Config) -> list[Unserved]:
    """Parts that no board gives, and why."""
    saw = Saw(kerf=config.shop.kerf, end_waste=config.shop.end_waste)
    return [
        Unserved(
            part=part.id,
            stock=group.stock,
            length=part.length,
            reason=why_unserved(part.length, group.stock, group.rows, config, saw),
        )
        for part in group.plan.left_out
    ]
