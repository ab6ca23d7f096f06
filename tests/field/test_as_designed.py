"""Measures equal to the design change no part, whatever the room."""

from pathlib import Path

import pytest

from commands import change
from field.by_hand import as_designed, copied
from lacunar.config import read_config
from lacunar.field import apply_measures
from lacunar.layout import arrange_layout
from lacunar.parts import Part, apply_field, make_parts
from lacunar.survey import solve_survey


def numbers(part: Part) -> list[float]:
    """Everything that a field measure may change."""
    widths = (part.width, part.width if part.width_end is None else part.width_end)
    return [part.length, *widths, *(part.interval or ()), *(c for p in (*part.outline, *part.axis) for c in p)]


@pytest.mark.parametrize("name", ["2-one-coffer", "4-inch", "5-metric", "6-sagging", "8-l-shaped"])
def test_measures_equal_to_the_design_change_nothing(name: str, configs: Path, tmp_path: Path) -> None:
    path = copied(configs / f"{name}.toml", tmp_path)
    config = read_config(path)
    designed = make_parts(arrange_layout(solve_survey(config), config))
    done = apply_measures(path, as_designed(path))
    measured = apply_field(designed, read_config(path))
    assert done.notes == ()
    # Furring is not measured: its ends are hidden.
    assert set(done.parts) == {part.id for part in designed if part.bought and part.kind != "furring"}
    for before, after in zip(designed, measured, strict=True):
        assert numbers(after) == pytest.approx(numbers(before), abs=1e-6), before.id


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ('run      = "across"', 'run      = "alternate"'),
        ('run      = "across"', 'run      = "across"\nwedge = "fan"'),
        ('run      = "across"', 'run      = "across"\nwedge = "taper"'),
        ('walls    = "trim"', 'walls    = "half beam"'),
        ('corners       = "mitre"', 'corners       = "butt"'),
        ('run      = "across"', 'run      = "30 deg"'),
        ('run      = "across"', 'run      = "-87 deg"'),
    ],
)
def test_nor_however_the_room_is_filled(old: str, new: str, configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "4-inch.toml", tmp_path)
    change(path, old, new)
    config = read_config(path)
    designed = make_parts(arrange_layout(solve_survey(config), config))
    apply_measures(path, as_designed(path))
    for before, after in zip(designed, apply_field(designed, read_config(path)), strict=True):
        assert numbers(after) == pytest.approx(numbers(before), abs=1e-6), before.id


def test_the_second_time_changes_no_byte(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "5-metric.toml", tmp_path)
    filled = as_designed(path)
    assert apply_measures(path, filled).changed
    once = path.read_bytes()
    assert not apply_measures(path, filled).changed
    assert path.read_bytes() == once


def test_what_stood_in_the_file_stays_byte_for_byte(configs: Path, tmp_path: Path) -> None:
    path = copied(configs / "4-inch.toml", tmp_path)
    before = path.read_bytes()
    apply_measures(path, as_designed(path, ("openings",)))
    after = path.read_bytes()
    assert after.startswith(before.rstrip(b"\n"))
    assert after[len(before) :].decode().lstrip().startswith("[field]")
