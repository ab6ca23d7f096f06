"""Each sheet of field measures is unlocked by its own parts."""

from collections.abc import Mapping
from pathlib import Path

import pytest

from field.ceilings import as_rows, config, designed, field_text
from lacunar.config import Doubt, Sheet, Trust, trust
from lacunar.layout import arrange_layout
from lacunar.parts import apply_field, field_sheets, make_parts
from lacunar.survey import solve_survey
from strategies import config_of

SHEETS = field_sheets(designed())
KEYS: Mapping[Sheet, tuple[str, ...]] = {
    "beam pieces": ("length",),
    "slats": ("length", "shortest", "longest"),
    "rips": ("width",),
    "trim": ("length",),
}


def rows_of(*sheets: Sheet) -> dict[str, dict[str, float]]:
    """As measured, what these sheets ask for and no more."""
    every = as_rows(designed())
    rows: dict[str, dict[str, float]] = {}
    for sheet in sheets:
        for part in SHEETS[sheet]:
            keys = [key for key in KEYS[sheet] if key in every[part]]
            rows.setdefault(part, {}).update({key: every[part][key] for key in keys})
    return rows


def verdict(rows: Mapping[str, Mapping[str, float]]) -> Trust:
    read = config(rows)
    return trust(read, field_sheets(apply_field(designed(), read)))


def test_nothing_measured_unlocks_nothing() -> None:
    found = verdict({})
    assert found.good_for == "look"  # no joists, no prices
    assert [sheet.sheet for sheet in found.sheets] == ["beam pieces", "slats", "rips", "trim"]
    assert not any(sheet.unlocked for sheet in found.sheets)
    assert [sheet.wanted for sheet in found.sheets] == [len(parts) for parts in SHEETS.values()]


@pytest.mark.parametrize("sheet", KEYS)
def test_a_stage_unlocks_its_own_sheet(sheet: Sheet) -> None:
    found = verdict(rows_of(sheet))
    assert [one.sheet for one in found.sheets if one.unlocked] == [sheet]


def test_all_sheets_are_good_for_cutting() -> None:
    assert verdict(rows_of(*KEYS)) == Trust(good_for="cut", missing=(), sheets=verdict(rows_of(*KEYS)).sheets)


@pytest.mark.parametrize("sheet", KEYS)
def test_one_part_short_keeps_its_sheet_locked(sheet: Sheet) -> None:
    rows = rows_of(*KEYS)
    part = next(iter(SHEETS[sheet]))
    rows[part] = {key: mm for key, mm in rows[part].items() if key not in KEYS[sheet]}
    found = verdict(rows)
    locked = [one for one in found.sheets if not one.unlocked]
    assert found.good_for != "cut"
    assert [(one.sheet, one.missing) for one in locked] == [(sheet, (part,))]


@pytest.mark.parametrize("sheet", KEYS)
def test_what_is_wrong_locks_its_own_sheet(sheet: Sheet) -> None:
    """All measured, and beams collide: their sheet is locked, and no other."""
    read = config(rows_of(*KEYS))
    doubt = Doubt(words="something is wrong", buying=False, sheets=(sheet,))
    found = trust(read, field_sheets(apply_field(designed(), read)), [doubt])
    assert [(one.sheet, one.missing, one.wrong) for one in found.sheets if not one.unlocked] == [
        (sheet, (), ("something is wrong",))
    ]
    assert found.good_for == "look"  # no joists, no prices: less than all measured is worth no more than that
    assert "something is wrong" not in found.missing  # for buying


def test_a_misread_wall_is_nothing_to_what_was_measured_on_the_wood() -> None:
    read = config(rows_of(*KEYS))
    doubt = Doubt(words="AB is misread", buying=True, sheets=())
    assert trust(read, field_sheets(apply_field(designed(), read)), [doubt]).good_for == "cut"
    some = config(rows_of("slats"))
    found = trust(some, field_sheets(apply_field(designed(), some)), [doubt])
    assert (found.good_for, found.missing[0], found.wrong) == ("look", "AB is misread", ("AB is misread",))
    assert [one.sheet for one in found.sheets if one.unlocked] == ["slats"]


def test_an_interval_is_as_good_as_a_length() -> None:
    rows = rows_of(*KEYS)
    for part in SHEETS["slats"]:
        if "shortest" in rows[part]:
            del rows[part]["length"]
    assert verdict(rows).good_for == "cut"


def test_what_is_missing_is_named_by_sheet(configs: Path) -> None:
    """Enough to buy: then the sheets are what is missing, and those that are done are not spoken of."""
    text = (configs / "4-inch.toml").read_text(encoding="utf-8")
    plain = config_of(text)
    parts = make_parts(arrange_layout(solve_survey(plain), plain))
    rows = {part.id: {"length": part.length} for part in parts if part.kind in ("slat", "trim") and part.id != "C2-T3"}
    found = trust(config_of(text + field_text(rows)), field_sheets(parts))
    assert found.good_for == "buy"
    assert found.missing == (
        "measured on the wood: openings, for beam pieces (10)",
        "measured on the wood: last holes, for rips (21)",
        "measured on the wood: sides, for trim: C2-T3 (of 60)",
    )
