"""Sections that rips come out of, against every way to pair them."""

import random
from collections.abc import Iterator, Sequence
from dataclasses import replace

import pytest

from lacunar.parts import Part
from lacunar.plan import make_plan
from lacunar.plan.grid import make_grid
from lacunar.plan.pieces import relaxed_blanks, rip_saw
from plan.planning import INCH, board, config, part
from plan.sawing import saw_up

WOOD = '[slats]\nstock = "1x4"\n'
BOARD = 3.5 * INCH
LEAST = 24.0 * INCH


def pairings(count: int, left: tuple[int, ...] | None = None) -> Iterator[list[tuple[int, ...]]]:
    """All ways to take rips one by one or in twos."""
    left = tuple(range(count)) if left is None else left
    if not left:
        yield []
        return
    first, *rest = left
    for others in pairings(count, tuple(rest)):
        yield [(first,), *others]
    for i in rest:
        for others in pairings(count, tuple(n for n in rest if n != i)):
            yield [(first, i), *others]


def fits(one: Part, other: Part) -> bool:
    """Side by side in a 1x4: a kerf of 1/8 in and 1/16 in to spare; tapered ones may in whatever way they lie."""
    if one.width_end is not None or other.width_end is not None:
        return True
    to_32nds = [round(p.width / INCH * 32.0) for p in (one, other)]
    return sum(to_32nds) + 4 + 2 <= 112


def lows(rips: Sequence[Part]) -> list[int]:
    """Shortest section of each rip, 1/64 in."""
    out: list[int] = []
    for p in rips:
        assert p.interval is not None
        sixteenths = -(-p.interval[0] // (INCH / 16.0))
        out.append(max(int(sixteenths) * 4, 24 * 64))
    return out


@pytest.mark.parametrize("block", range(3))
def test_every_pairing_needs_sections_no_shorter(block: int) -> None:
    shop = config(more=WOOD)
    # What is proved holds for whole intervals, whatever margin the lengths keep.
    grid = replace(make_grid(shop), margin=0)
    reached = 0
    for seed in range(40 * block, 40 * block + 40):
        r = random.Random(seed)
        tapered = seed % 4 == 0
        rips = [
            part(
                f"C1-R{n}",
                length := r.uniform(500.0, 900.0),
                interval=(length - 10.0, length + 10.0),
                width=r.randint(8, 80) * INCH / 32.0,
                width_end=r.randint(8, 80) * INCH / 32.0 if tapered and r.random() < 0.5 else None,
                ripped=True,
            )
            for n in range(r.randint(1, 7))
        ]
        relaxed = relaxed_blanks(rips, rip_saw(rips, shop, grid), shop, grid)
        assert relaxed == sorted(relaxed, reverse=True)
        shortest = lows(rips)
        for pairing in pairings(len(rips)):
            if all(len(group) == 1 or fits(rips[group[0]], rips[group[1]]) for group in pairing):
                blanks = sorted((max(shortest[i] for i in group) for group in pairing), reverse=True)
                assert len(blanks) >= len(relaxed), seed
                assert all(a >= b for a, b in zip(blanks, relaxed, strict=False)), seed
                reached += blanks == relaxed
    assert reached >= 10, "it is the best pairing itself, now and then"


def test_two_rips_out_of_one_section_save_its_length() -> None:
    wanted = tuple(part(f"C1-R{n}", 40.0 * INCH, width=1.5 * INCH, ripped=True) for n in range(4))
    shop = config("cull = 0\n" + board("1x4", "8 ft", 10.0), more=WOOD)
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    assert plan.cost == 10.0
    assert plan.proven
    assert plan.sections[0].saved == pytest.approx(80.0 * INCH)
    # 1 11/16 in twice, the kerf and a sixteenth: 3 9/16 in are too much for 3 1/2 in.
    wide = tuple(part(f"C1-R{n}", 40.0 * INCH, width=1.6875 * INCH, ripped=True) for n in range(4))
    plan = make_plan(wide, shop)
    saw_up(plan, wide, shop)
    assert plan.cost == 20.0
    assert plan.sections[0].saved == 0.0


def test_short_rips_come_out_of_sections_that_can_be_ripped() -> None:
    wanted = tuple(part(f"C1-R{n}", 10.0 * INCH, width=3.0 * INCH, ripped=True) for n in range(4))
    shop = config("cull = 0\n" + board("1x4", "8 ft", 10.0), more=WOOD)
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    # Three sections of 2 ft are in an 8 ft board once its ends are squared.
    assert sorted(len(b.cuts) for b in plan.boards) == [1, 3]
    assert all(cut.blank is not None for b in plan.boards for cut in b.cuts)


def test_rips_of_one_width_are_ripped_as_one_section() -> None:
    wanted = tuple(part(f"C1-R{n}", 30.0 * INCH, width=3.0 * INCH, ripped=True) for n in range(3))
    shop = config("cull = 0\n" + board("1x4", "8 ft", 10.0), more=WOOD)
    plan = make_plan(wanted, shop)
    saw_up(plan, wanted, shop)
    (only,) = plan.boards
    assert len({cut.blank for cut in only.cuts}) == 1
    assert only.cuts[0].blank == (pytest.approx(0.25 * INCH), pytest.approx(90.5 * INCH))
