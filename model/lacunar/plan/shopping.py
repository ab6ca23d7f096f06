"""What is to be bought."""

from collections import Counter

from lacunar.plan.groups import Group
from lacunar.plan.spares import spares
from lacunar.plan.types import Buy


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
