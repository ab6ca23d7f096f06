"""A piece's share of its board: shares add up to what the boards cost."""

import math

import pytest

from cost.costing import CONFIG_PRICES, Case
from lacunar.cost import part_prices
from lacunar.plan import Section


def test_shares_of_a_board_add_up_to_its_price_and_go_by_area() -> None:
    case = Case(f"[shop]\n{CONFIG_PRICES}")
    prices = part_prices(case.parts, case.plan)
    assert set(prices) == {part.id for part in case.parts if part.bought}
    parts = {part.id: part for part in case.parts}
    for board in case.plan.boards:
        assert math.fsum(prices[cut.part] for cut in board.cuts) == pytest.approx(board.price)
        rates = [prices[c.part] / (parts[c.part].length * sum(parts[c.part].widths)) for c in board.cuts]
        assert rates == pytest.approx([rates[0]] * len(rates))
    sections: tuple[Section, ...] = case.plan.sections
    assert math.fsum(prices.values()) <= math.fsum(section.cost or 0.0 for section in sections) + 1e-6


def test_without_a_price_a_piece_has_none() -> None:
    case = Case()
    assert not part_prices(case.parts, case.plan)
