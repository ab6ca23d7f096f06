"""Every board of a plan cut piece by piece, and every turn followed at the saw."""

import dataclasses
from collections.abc import Callable
from pathlib import Path

import pytest

from lacunar.config import Config, read_config_text
from lacunar.parts import Part
from lacunar.plan import Board, Plan, make_plan
from plan.chance_sets import sets, shops
from plan.planning import CONFIGS, INCH, board, config, mitred, part, planned
from plan.saw_stand import stand_at_the_saw
from plan.sawing import check_strips_add_up, saw_up
from strategies import parts_of, sampled

SHOP = "cull = 0\n" + board("1x4", "8 ft", 10.0)
WOOD = '[slats]\nstock = "1x4"\n'
VARIANTS: dict[str, tuple[tuple[str, str], ...]] = {
    "as it is": (),
    "with": (("slats.run", "with"),),
    "alternate": (("slats.run", "alternate"),),
    "butted trim": (("trim.corners", "butt"),),
    "narrow rips": (("slats.narrowest_rip", "1/2 in"), ("slats.run", "with")),
    "tapers": (("slats.wedge", "taper"), ("slats.narrowest_rip", "1/2 in")),
    "stacks": (("shop.stack", "3"), ("shop.flip_stops", "2"), ("slats.run", "alternate")),
}


def cut(plan: Plan, wanted: tuple[Part, ...], shop: Config) -> None:
    saw_up(plan, wanted, shop)
    stand_at_the_saw(plan, shop)


@pytest.mark.parametrize("path", CONFIGS, ids=lambda path: path.stem)
@pytest.mark.parametrize("variant", VARIANTS)
def test_every_room_can_be_sawn(path: Path, variant: str) -> None:
    wanted, shop, plan = planned(path, VARIANTS[variant])
    assert plan.unserved == ()
    cut(plan, wanted, shop)


def test_the_rooms_have_what_is_hard_to_saw() -> None:
    plans = [
        planned(path, VARIANTS[variant])[2] for path in CONFIGS for variant in ("narrow rips", "tapers", "as it is")
    ]
    cuts = [cut for plan in plans for board in plan.boards for cut in board.cuts]
    pairs = [cut for cut in cuts if cut.across is not None and cut.across[0] > 0.0]
    assert len(pairs) >= 10
    assert any(cut.across != cut.across_end for cut in pairs), "no tapered rip beside another"
    assert sum(cut.slants != (0.0, 0.0) for cut in cuts) > 500


HAND = "".join(
    [
        board("1x4", "8 ft", 9.8, on_hand=4),
        board("1x4", "10 ft", 12.4, supply=3, actual="10 ft 0 1/2 in"),
        board("1x4", "12 ft", 14.9, actual="11 ft 11 3/4 in"),
        board("1x4", "16 ft", 12.0),
        board("1x4", "6 ft", on_hand=2),
        board("4x8", "12 ft", 60.0),
        board("4x8", "16 ft", 80.0),
        board("3/4x3/4", "8 ft", 3.5, on_hand=1),
    ]
)


@pytest.mark.parametrize("narrow", ["1/2 in", "1 3/4 in"])
def test_a_shop_with_boards_on_hand_limited_ones_and_odd_lengths(narrow: str) -> None:
    text = CONFIGS[2].read_text(encoding="utf-8") + f'[shop]\nlongest = "12 ft"\nstack = 2\n{HAND}'
    shop = read_config_text(text, Path("room.toml"), [("slats.narrowest_rip", narrow)])
    wanted = parts_of(shop)
    plan = make_plan(wanted, shop)
    assert plan.unserved == ()
    cut(plan, wanted, shop)
    assert sum(b.on_hand for b in plan.boards) >= 5
    assert all(b.length < 12.1 * 12.0 * INCH for b in plan.boards if not b.on_hand)


@sampled(50, 150, wanted=sets(), shop=shops())
def test_any_parts_from_any_boards(wanted: tuple[Part, ...], shop: Config) -> None:
    plan = make_plan(wanted, shop)
    cut(plan, wanted, shop)
    assert 0.0 <= plan.waste < 1.0 or not plan.boards


def test_a_second_rip_lies_as_fits_the_lengths_chosen() -> None:
    """At its wish the long rip takes the short one flush at its start; at the mark it shares, only at its end."""
    wanted = (
        part("C1-R1", 1000.0, interval=(995.0, 1100.0), width=70.0, width_end=10.0, ripped=True),
        part("C1-R2", 700.0, width=55.5, width_end=12.0, ripped=True),
        part("C1-S1", 1090.0, interval=(1085.0, 1098.0), width=88.9),
    )
    shop = config(SHOP, more=WOOD)
    plan = make_plan(wanted, shop)
    cuts = {cut.part: cut for board in plan.boards for cut in board.cuts}
    assert cuts["C1-R1"].blank == cuts["C1-R2"].blank
    assert cuts["C1-R1"].end == cuts["C1-R2"].end
    cut(plan, wanted, shop)


def test_a_rip_beside_one_without_choice_stays_on_its_mark() -> None:
    wanted = (
        part("C1-R1", 801.0, interval=(801.0, 801.0), width=30.0, ripped=True),
        part("C1-R2", 800.0, interval=(790.0, 806.0), width=30.0, ripped=True),
    )
    shop = config(SHOP, more=WOOD)
    plan = make_plan(wanted, shop)
    assert plan.lengths["C1-R1"] == 801.0
    assert round(plan.lengths["C1-R2"] / INCH * 16.0, 6).is_integer()
    cut(plan, wanted, shop)


def test_a_rip_is_no_longer_than_the_section_it_shares() -> None:
    """825 mm by design, but its neighbour has no choice and they come out of 801 mm."""
    wanted = (
        part("C1-R1", 801.0, interval=(801.0, 801.0), width=30.0, ripped=True),
        part("C1-R2", 825.0, interval=(790.0, 830.0), width=30.0, ripped=True),
    )
    shop = config(SHOP, more=WOOD)
    plan = make_plan(wanted, shop)
    assert 790.0 <= plan.lengths["C1-R2"] <= 801.0
    cut(plan, wanted, shop)


def _three_rips() -> tuple[tuple[Part, ...], Config, Plan]:
    wanted = (
        *(part(f"C1-S{n}", 700.0, width=88.9, interval=(695.0, 701.0)) for n in range(2)),
        *(part(f"C1-R{n}", 800.0, width=30.0, ripped=True) for n in range(2)),
    )
    shop = config(SHOP, more=WOOD)
    return wanted, shop, make_plan(wanted, shop)


def _strips() -> tuple[tuple[Part, ...], Config, Plan]:
    wanted = tuple(mitred(f"C1-T{n}", 500.0, (45.0, 45.0)) for n in range(4))
    shop = config("cull = 0\n")
    return wanted, shop, make_plan(wanted, shop)


def _swap(plan: Plan, change: Callable[[Board], Board]) -> Plan:
    return dataclasses.replace(plan, boards=(change(plan.boards[0]), *plan.boards[1:]))


def _cuts(change: Callable[[list[dict[str, object]]], object]) -> Callable[[Board], Board]:
    """Its cuts changed as dictionaries."""

    def changed(old: Board) -> Board:
        rows = [{f.name: getattr(cut, f.name) for f in dataclasses.fields(cut)} for cut in old.cuts]
        change(rows)
        return dataclasses.replace(old, cuts=tuple(dataclasses.replace(old.cuts[0], **row) for row in rows))

    return changed


def _more_offcut(old: Board) -> Board:
    return dataclasses.replace(old, offcut=old.offcut + INCH / 64.0)


def _shorter(old: Board) -> Board:
    return dataclasses.replace(old, length=old.length - 24.0 * INCH)


def _move(row: dict[str, object], by: float) -> None:
    for key in ("start", "end"):
        row[key] = float(str(row[key])) + by


@pytest.mark.parametrize(
    ("make", "change"),
    [
        (_three_rips, _cuts(lambda rows: rows.pop())),
        (_three_rips, _cuts(lambda rows: rows.append(rows[0]))),
        (_three_rips, _cuts(lambda rows: _move(rows[2], -INCH / 64.0))),
        (_three_rips, _cuts(lambda rows: rows[2].update(end=float(str(rows[2]["end"])) + INCH / 64.0))),
        (_three_rips, _cuts(lambda rows: rows[1].update(across=(30.0, 60.0), across_end=(30.0, 60.0)))),
        (_three_rips, _cuts(lambda rows: rows[1].update(across=rows[0]["across"], across_end=rows[0]["across"]))),
        (_three_rips, _more_offcut),
        (_three_rips, _shorter),
        (_strips, _cuts(lambda rows: _move(rows[1], -0.5))),
        (_strips, _cuts(lambda rows: rows[1].update(slants=(-45.0, 45.0)))),
        (_strips, _cuts(lambda rows: rows[0].update(slants=(45.0, 45.0)))),
        (_strips, _cuts(lambda rows: _move(rows[0], -0.5))),
    ],
)
def test_the_saw_refuses_what_cannot_be_sawn(
    make: Callable[[], tuple[tuple[Part, ...], Config, Plan]], change: Callable[[Board], Board]
) -> None:
    wanted, shop, plan = make()
    assert len(plan.boards) == 1
    cut(plan, wanted, shop)
    with pytest.raises(AssertionError):
        saw_up(_swap(plan, change), wanted, shop)


def test_strips_of_45_degrees_are_their_middles_and_slanted_kerfs() -> None:
    wanted, shop, plan = _strips()
    check_strips_add_up(plan.boards[0], wanted, shop)
