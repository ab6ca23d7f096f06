"""The cost as a whole: what tax is on, what adds up, what a range holds, what it lacks."""

import math
import time
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cost.costing import CONFIG_PRICES, DEPTH, WIDTH, Case, buy
from lacunar.config import read_config
from lacunar.cost import Cost, make_cost, money_text
from lacunar.job import run_job
from lacunar.plan import Unserved
from lacunar.told import Told

PACKS = ("slat nail", "trim nail", "adhesive", "putty", "behind paint")


def prices(factor: float = 1.0, shares: str = "", holds: bool = False) -> str:
    """Everything that the room of one coffer takes, with prices in a ratio."""
    content = {"adhesive": '"8 m"', "behind paint": '"2 l"'}
    packs = "".join(
        f'[[shop.pack]]\nname = "{name}"\nprice = {(n + 5) * factor!r}\n'
        + (f"holds = {content.get(name, '400')}\n" if holds else "")
        + ('coverage = "9 m2/l"\n' if holds and name == "behind paint" else "")
        for n, name in enumerate(PACKS)
    )
    boards = CONFIG_PRICES.replace("price = 8", f"price = {8 * factor!r}").replace(
        "price = 3", f"price = {3 * factor!r}"
    )
    can = ', holds = "1 l", coverage = "9 m2/l"' if holds else ""
    coats = f'[finish]\nbehind = "black"\ncoats = [ {{ kind = "clear", price = {20 * factor!r}{can} }} ]\n'
    return f"[shop]\n{shares}\n{boards}{packs}{coats}"


@cache
def priced(factor: float = 1.0, shares: str = "", holds: bool = False) -> Cost:
    return Case(prices(factor, shares, holds)).cost()


@cache
def plain(culled: bool) -> Case:
    """The room of one coffer, with the share for the cull given or not."""
    return Case("[shop]\ncull = 0.1\n" if culled else "")


def test_tax_contingency_and_delivery() -> None:
    """100 of goods: tax 7, contingency a tenth of 107, delivery 45 on top of all."""
    shares = "[shop]\ntax = 0.07\ncontingency = 0.10\ndelivery = 45\n"
    cost = Case(shares).cost(parts=(), buy=(buy(9, 1, 10.0),))
    assert cost.goods == pytest.approx(100.0)
    assert cost.tax == pytest.approx(7.0)
    assert cost.contingency == pytest.approx(10.7)
    assert cost.delivery == 45.0
    assert cost.total == pytest.approx(162.7)
    assert cost.per_m2 == pytest.approx(162.7 / (WIDTH * DEPTH * 1e-6))
    assert cost.is_complete


def test_everything_given_leaves_no_range() -> None:
    cost = priced(shares="cull = 0.1", holds=True)
    assert (cost.lacking, cost.movers, cost.low, cost.high) == ((), (), cost.total, cost.total)


def test_what_was_assumed_makes_the_range() -> None:
    cost = priced()
    assert {mover.what for mover in cost.movers} == {"boards", *PACKS, "clear"}
    assert math.fsum(mover.low for mover in cost.movers) == pytest.approx(cost.low - cost.total)
    assert math.fsum(mover.high for mover in cost.movers) == pytest.approx(cost.high - cost.total)
    assert cost.low < cost.total < cost.high
    widths = [mover.high - mover.low for mover in cost.movers]
    assert widths == sorted(widths, reverse=True)


def test_what_moves_the_total_is_taxed_too() -> None:
    plain, taxed = priced(), priced(shares="tax = 0.25\ncontingency = 0.2")
    assert taxed.high - taxed.total == pytest.approx((plain.high - plain.total) * 1.25 * 1.2)


@given(
    tax=st.floats(0.0, 0.3),
    contingency=st.floats(0.0, 0.5),
    delivery=st.floats(0.0, 500.0),
    lines=st.lists(
        st.tuples(st.integers(1, 200), st.one_of(st.none(), st.floats(0.01, 500.0))), min_size=1, max_size=6
    ),
    culled=st.booleans(),
)
def test_the_total_is_the_sum_of_its_lines(
    tax: float, contingency: float, delivery: float, lines: list[tuple[int, float | None]], culled: bool
) -> None:
    case = plain(culled)
    shares = {"tax": tax, "contingency": contingency, "delivery": delivery}
    config = case.config.model_copy(update={"shop": case.config.shop.model_copy(update=shares)})
    cost = case.cost(config=config, parts=(), buy=tuple(buy(n, math.ceil(n * 0.1 - 1e-6), price) for n, price in lines))
    goods = math.fsum((n + math.ceil(n * 0.1 - 1e-6)) * price for n, price in lines if price is not None)
    assert cost.goods == pytest.approx(goods)
    assert cost.total == pytest.approx(goods * (1.0 + tax) * (1.0 + contingency) + delivery)
    assert cost.total == pytest.approx(cost.goods + cost.tax + cost.contingency + cost.delivery)
    assert cost.low <= cost.total <= cost.high
    assert cost.is_complete == all(price is not None for _, price in lines)
    assert cost.has_price == any(price is not None for _, price in lines)


@pytest.mark.parametrize("factor", [0.5, 3.0])
def test_prices_scale_the_total(factor: float) -> None:
    one, scaled = priced(), priced(factor)
    for end in ("low", "total", "high", "goods"):
        assert getattr(scaled, end) == pytest.approx(factor * getattr(one, end), rel=1e-12)
    assert [item.count for item in scaled.items] == [item.count for item in one.items]


def test_what_has_no_price_is_named_and_not_guessed() -> None:
    cost = Case("[finish]\nbehind = 'black'\n").cost(buy=(buy(9, 1, None), buy(2, 1, None, length=3000.0)))
    assert cost.lacking == ("boards of 20x90", "slat nail", "trim nail", "adhesive", "putty", "behind paint")
    assert (cost.total, cost.is_complete, cost.has_price, cost.movers) == (0.0, False, False, ())


def test_a_part_that_no_board_gives_is_lacking() -> None:
    lost = Unserved(part="C1-S01", stock="20x90", length=9000.0, reason=Told("too long"), cure=Told(""))
    cost = Case().cost(parts=(), buy=(), unserved=(lost,))
    assert cost.lacking == ("wood for 1 part that no board gives",)


def test_notes_say_what_is_not_counted() -> None:
    assert any(note.startswith("no [finish] given") for note in Case().cost().notes)
    assert any("work, tools" in note for note in priced().notes)


@pytest.mark.parametrize(("amount", "text"), [(2485.26, "USD 2,485"), (9.635, "USD 9.63"), (99.9, "USD 99.90")])
def test_money_in_words(amount: float, text: str) -> None:
    assert money_text(amount, "USD") == text


def test_the_inch_room_is_complete_and_quick(configs: Path) -> None:
    job = run_job(read_config(configs / "4-inch.toml"))
    assert job.cost.is_complete
    assert job.cost.movers == ()
    for when in ("before", "after"):
        finish = job.config.finish
        assert finish is not None
        config = job.config.model_copy(update={"finish": finish.model_copy(update={"when": when})})
        times: list[float] = []
        for _ in range(5):
            start = time.process_time()
            make_cost(config, job.room, job.layout, job.parts, job.plan)
            times.append(time.process_time() - start)
        assert min(times) < 0.05  # of the processor: another process may hold the core
