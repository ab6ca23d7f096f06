"""Pairs among the first one, two, three, ... against every way to pair them."""

import random
from functools import cache

import pytest

from lacunar.plan.cutting import nested_pairs


def most_pairs(partners: list[int], count: int) -> int:
    """Among the first so many, by trying every partner of the last one."""

    @cache
    def best(left: int) -> int:
        if not left:
            return 0
        last = left.bit_length() - 1
        rest = left & ~(1 << last)
        found = best(rest)
        for other in range(last):
            if rest >> other & partners[last] >> other & 1:
                found = max(found, 1 + best(rest & ~(1 << other)))
        return found

    return best((1 << count) - 1)


@pytest.mark.parametrize("block", range(4))
def test_no_way_to_pair_makes_more(block: int) -> None:
    """100 graphs a block, thin and dense, up to 12 vertices: odd rings among them."""
    for seed in range(100 * block, 100 * block + 100):
        r = random.Random(seed)
        count, share = r.randint(1, 12), r.choice((0.1, 0.2, 0.3, 0.6))
        partners = [0] * count
        for one in range(count):
            for other in range(one):
                if r.random() < share:
                    partners[one] |= 1 << other
                    partners[other] |= 1 << one
        found = nested_pairs(partners)
        for vertex, mate in enumerate(found.mates):
            assert mate == -1 or (found.mates[mate] == vertex and partners[vertex] >> mate & 1), seed
        for n in range(count + 1):
            assert sum(found.gained[:n]) == most_pairs(partners, n), seed
        assert sum(mate >= 0 for mate in found.mates) == 2 * sum(found.gained), seed


def test_two_triangles_joined_by_an_edge_are_three_pairs() -> None:
    edges = ((0, 1), (1, 2), (0, 2), (2, 3), (3, 4), (4, 5), (3, 5))
    partners = [sum(1 << b if v == a else 1 << a if v == b else 0 for a, b in edges) for v in range(6)]
    assert nested_pairs(partners).gained == (False, True, False, True, False, True)
