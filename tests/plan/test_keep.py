"""Measured again once the wood is bought: what was planned stays."""

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.config import read_config_text
from lacunar.parts import Part
from lacunar.plan import make_plan
from plan.planning import INCH, board, config, part, planned
from plan.saw_stand import stand_at_the_saw
from plan.sawing import saw_up

SHOP = "cull = 0\n" + board("1x4", "8 ft", 10.0)


def slats(coffer: str, *lengths: float, low: float = 4.0, high: float = 4.0) -> tuple[Part, ...]:
    """Lengths by design, in; intervals in mm."""
    return tuple(
        part(f"{coffer}-S{i:02d}", inch * INCH, interval=(inch * INCH - low, inch * INCH + high), coffer=coffer)
        for i, inch in enumerate(lengths, 1)
    )


def moved(parts: tuple[Part, ...], coffer: str, by: float) -> tuple[Part, ...]:
    """One coffer's slats come out longer or shorter by so much, mm."""
    return tuple(
        replace(p, length=p.length + by, interval=(p.interval[0] + by, p.interval[1] + by))
        if p.coffer == coffer and p.interval is not None
        else p
        for p in parts
    )


@pytest.mark.parametrize("name", ["1-first-look", "4-inch", "5-metric", "6-sagging"])
@pytest.mark.parametrize("by", [0.0, 2.0, -9.0, 40.0])
def test_one_coffer_measured_again_changes_no_slat_of_another(configs: Path, name: str, by: float) -> None:
    designed, shop, before = planned(configs / f"{name}.toml")
    measured = moved(designed, "C1", by)
    after = make_plan(measured, shop, before.lengths)
    mine = {p.id for p in designed if p.coffer == "C1" and p.kind in ("slat", "furring")}
    assert mine
    changed = {name for name in before.lengths if before.lengths[name] != after.lengths[name]}
    assert changed <= mine
    assert changed == set() if by == 0.0 else True
    assert changed == mine if by == 40.0 else True
    for p in measured:
        if p.interval is not None:
            assert p.interval[0] - 1e-6 <= after.lengths[p.id] <= p.interval[1] + 1e-6


def test_a_length_that_no_longer_fits_goes_to_a_mark_in_use() -> None:
    designed = (*slats("C1", 30.0, 30.0), *slats("C2", 31.0), *slats("C3", 29.0))
    before = make_plan(designed, config(SHOP))
    assert [before.lengths[p.id] / INCH for p in designed] == pytest.approx([30.0, 30.0, 31.0, 29.0])
    # 30 15/16 in by design, but 31 in is used already and within the interval.
    measured = moved(designed, "C1", 15.0 / 16.0 * INCH)
    after = make_plan(measured, config(SHOP), before.lengths)
    assert [after.lengths[p.id] / INCH for p in designed] == pytest.approx([31.0, 31.0, 31.0, 29.0])
    saw_up(after, tuple(replace(p, interval=(n := after.lengths[p.id], n), length=n) for p in measured), config(SHOP))


def test_else_to_few_new_marks() -> None:
    designed = (*slats("C1", 30.0, 30.25, 30.1875, 34.0), *slats("C2", 40.0))
    before = make_plan(designed, config(SHOP))
    after = make_plan(moved(designed, "C1", 3.0 * INCH), config(SHOP), before.lengths)
    lengths = [after.lengths[p.id] for p in designed]
    assert len(set(lengths[:3])) == 1, "one mark for three that have one in common"
    assert lengths[:3] != [before.lengths[p.id] for p in designed[:3]]
    assert lengths[4] == before.lengths["C2-S01"]
    assert all(abs(length / INCH * 16.0 - round(length / INCH * 16.0)) < 1e-6 for length in lengths)


def test_a_length_that_was_written_down_is_cut_so() -> None:
    shop = read_config_text(
        'units = "in"\n[room]\nheight = "9 ft"\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n'
        f"[shop]\n{SHOP}\n"
        '[field.C1-S01]\nlength = "30 1/8 in"\n',
        Path("room.toml"),
    )
    designed = slats("C1", 30.0, 30.0)
    before = make_plan(designed, config(SHOP))
    measured = (replace(designed[0], length=30.125 * INCH), designed[1])
    after = make_plan(measured, shop, before.lengths)
    assert after.lengths["C1-S01"] == pytest.approx(30.125 * INCH)
    assert after.lengths["C1-S02"] == before.lengths["C1-S02"]


@given(
    st.lists(st.tuples(st.floats(400.0, 1500.0), st.floats(0.1, 20.0), st.floats(0.1, 20.0)), min_size=1, max_size=8),
    st.lists(st.floats(-25.0, 25.0), min_size=8, max_size=8),
)
@settings(max_examples=60)
def test_what_still_does_stays_and_all_else_fits(rows: list[tuple[float, float, float]], by: list[float]) -> None:
    designed = tuple(
        part(f"C{i}-S01", length, interval=(length - low, length + high), coffer=f"C{i}")
        for i, (length, low, high) in enumerate(rows, 1)
    )
    shop = config(SHOP)
    before = make_plan(designed, shop)
    measured = designed
    for i in range(len(rows)):
        measured = moved(measured, f"C{i + 1}", by[i])
    after = make_plan(measured, shop, before.lengths)
    for p in measured:
        assert p.interval is not None
        old, new = before.lengths[p.id], after.lengths[p.id]
        if p.interval[0] <= old <= p.interval[1]:
            assert new == old
        elif p.interval[1] - p.interval[0] >= INCH / 16.0:
            assert p.interval[0] - 1e-6 <= new <= p.interval[1] + 1e-6
            assert abs(new / INCH * 16.0 - round(new / INCH * 16.0)) < 1e-6
    fixed = tuple(replace(p, length=after.lengths[p.id], interval=(after.lengths[p.id],) * 2) for p in measured)
    saw_up(after, fixed, shop)
    stand_at_the_saw(after, shop)
