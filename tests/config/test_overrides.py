"""Overrides change the raw TOML; messages then name the override instead of a line."""

import tomllib
from pathlib import Path

import pytest

from lacunar.config import Config, read_config_text
from lacunar.config.overrides import override_value
from lacunar.errors import ConfigError

TEXT = (Path(__file__).resolve().parent / "everything.toml").read_text(encoding="utf-8")


def read(*overrides: tuple[str, str]) -> Config:
    return read_config_text(TEXT, "room.toml", overrides)


def said(*overrides: tuple[str, str]) -> list[str]:
    with pytest.raises(ConfigError) as error:
        read(*overrides)
    return [str(problem) for problem in error.value.problems]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("across", "across"),
        ("1/4 in", "1/4 in"),
        ("12' 4-1/2\"", "12' 4-1/2\""),
        ("1x4", "1x4"),
        ("0.25", 0.25),
        ("3", 3),
        ("true", True),
        ('"quoted"', "quoted"),
        ('["AB", "BC"]', ["AB", "BC"]),
        ("{ run = 'with' }", {"run": "with"}),
        ("1\nother = 2", "1\nother = 2"),
        ("2024-01-01", "2024-01-01"),
        ("", ""),
    ],
)
def test_a_value_is_toml_or_a_bare_text(text: str, value: object) -> None:
    assert override_value(text) == value


def test_what_is_there_and_what_is_not_can_be_set() -> None:
    config = read(
        ("slats.run", "with"),
        ("slats.ten", "37 3/4 in"),
        ("slats.coffer.C7.run", "BC"),
        ("room.measured.AC", "19 ft 6 in"),
        ('room.measured."E1.AB-C"', "13 ft 1 in"),
        ("beam.1.depth", "9 in"),
        ("beam.E1.ends.2.at", "4 ft 9 in"),
        ("shop.cull", "0.2"),
        ("slats.from", '["CD"]'),
    )
    assert config.slats.run == "with"
    assert config.slats.width == pytest.approx((3.775 - 0.25) * 25.4)
    assert config.slats.coffer["C7"].run == "BC"
    assert config.room.measured["AC"] == pytest.approx(234 * 25.4)
    assert config.room.measured["E1.AB-C"] == pytest.approx(157 * 25.4)
    assert config.beam[0].depth == pytest.approx(9 * 25.4)
    assert config.beam[0].ends[1].at == pytest.approx(57 * 25.4)
    assert config.shop.cull == 0.2
    assert config.slats.from_ == ("CD",)
    assert config.is_given("slats.coffer.C7.run")


def test_another_spacer_leaves_the_boards_as_they_are() -> None:
    """The file's ten of 37 1/2 in has ten spacers of 1/4 in in it, and so ten boards of 3 1/2 in."""
    for gap, inches in (("3/8 in", 0.375), ("1/4 in", 0.25), ("0.5", 0.5), ("0", 0.0)):
        slats = read(("slats.gap", gap)).slats
        assert (slats.width, slats.gap) == pytest.approx((3.5 * 25.4, inches * 25.4))
        assert slats.ten == pytest.approx(10.0 * (3.5 + inches) * 25.4)
    both = read(("slats.gap", "3/8 in"), ("slats.ten", "38 1/2 in")).slats
    assert (both.width, both.gap) == pytest.approx((3.475 * 25.4, 0.375 * 25.4))
    with pytest.raises(ConfigError, match=r"override slats\.gap"):
        read(("slats.gap", "narrow"))


@pytest.mark.parametrize(
    ("key", "value", "table", "stock", "sides"),
    [
        ("slats.width", "5 1/2 in", "slats", "1x6", {"width": 5.5, "thickness": 0.75}),
        ("slats.width", "4 in", "slats", "3/4x4", {"width": 4.0, "thickness": 0.75}),
        ("slats.thickness", "1 in", "slats", "5/4x4", {"width": 3.5, "thickness": 1.0}),
        ("cross_beams.depth", "9 1/4 in", "cross_beams", "4x10", {"width": 3.5, "depth": 9.25}),
        ("furring.width", "1 1/2 in", "furring", "1x2", {"width": 1.5, "thickness": 0.75}),
        ("trim.width", "1 in", "trim", "3/4x1", {"width": 1.0, "height": 0.75}),
        # planed a little, they are still sold by that name
        ("slats.thickness", "11/16 in", "slats", "1x4", {"width": 3.5, "thickness": 0.6875}),
    ],
)
def test_a_board_with_another_side_is_another_stock(
    key: str, value: str, table: str, stock: str, sides: dict[str, float]
) -> None:
    """Else 5 1/2 in boards would be bought at the price of a 1x4."""
    config = read((key, value))
    found = getattr(config, table)
    assert found.stock == stock
    assert {side: getattr(found, side) for side in sides} == pytest.approx({s: i * 25.4 for s, i in sides.items()})


def test_a_stock_that_is_overridden_too_keeps_its_name() -> None:
    assert read(("slats.width", "5 1/4 in"), ("slats.stock", "1x6")).slats.stock == "1x6"


def test_another_stock_has_its_own_sides() -> None:
    """The file's trim is 3/4 in wide and high; a 1x2 is 1 1/2 in wide."""
    trim = read(("trim.stock", "1x2")).trim
    assert (trim.width, trim.height) == pytest.approx((1.5 * 25.4, 0.75 * 25.4))
    trim = read(("trim.stock", "1x2"), ("trim.width", "1 3/8 in")).trim
    assert (trim.stock, trim.width) == ("1x2", pytest.approx(1.375 * 25.4))


@pytest.mark.parametrize("value", ["[1]", "true", "{ a = 1 }", "wide", "-1", ""])
@pytest.mark.parametrize("key", ["slats.width", "slats.stock", "trim.height"])
def test_what_is_no_side_is_left_to_validation(key: str, value: str) -> None:
    with pytest.raises(ConfigError, match=f"override {key}"):
        read((key, value))


def test_other_boards_were_not_on_the_bench() -> None:
    """The file's ten boards were 1x4: they tell nothing of wider ones, unless the override says what those measure."""
    slats = read(("slats.width", "5 1/2 in")).slats
    assert (slats.ten, slats.gap) == (None, pytest.approx(0.25 * 25.4))
    assert read(("slats.stock", "1x6")).slats.ten is None
    assert read(("slats.width", "5 1/2 in"), ("slats.ten", "57 1/2 in")).slats.ten == pytest.approx(57.5 * 25.4)


def test_a_name_of_ones_own_is_of_one_section() -> None:
    room = '[room]\nheight = "9 ft"\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n[trim]\nstock = "old bead"\n'
    text = room + 'width = "3/4 in"\nheight = "1/2 in"\n'
    assert read_config_text(text, "room.toml").trim.stock == "oldbead"
    assert read_config_text(text, "room.toml", [("trim.width", "1 1/4 in")]).trim.stock == "1/2x1-1/4"


def test_a_table_that_the_file_does_not_have() -> None:
    room = '[room]\nheight = "9 ft"\n[room.measured]\nAB = "12 ft"\nBC = "11 ft"\n'
    config = read_config_text(room, "room.toml", [("cross_beams.rows", "3")])
    assert config.cross_beams is not None
    assert config.cross_beams.rows == 3


def test_the_file_stays_as_it_was() -> None:
    read(("slats.run", "with"))
    assert read().slats.run == "across"


@pytest.mark.parametrize("key", ["", "slats.", ".gap", "slats..gap", '"slats', 'sl"at"s', '""', "slats. .gap"])
def test_a_key_is_names_between_dots(key: str) -> None:
    assert said((key, "1")) == [f'override {key}: must be a key like "slats.gap"']


def test_messages_name_the_override() -> None:
    assert said(("slats.gap", "-1/4 in")) == ["override slats.gap: got -1/4 in, must be 0 in or more"]
    assert said(("slats.gpa", "1/4 in")) == ['override slats.gpa: unknown key; did you mean "gap"?']
    assert said(("slats.run", "acros"))[0].startswith('override slats.run: got "acros", must be "with", "across"')
    assert said(("trim.width", "1/4 in")) == [
        "override trim.width: got 1/4 in, must be more than least_overlap, 1/4 in"
    ]
    assert said(("beam.1.width", "wide"))[0].startswith('override beam[1].width: got "wide", must be a length')


def test_all_that_is_wrong_with_overrides_and_file_at_once() -> None:
    messages = said(("slats.gap", "-1"), ("beam.E9.width", "3 in"), ("trim.width", "flat"))
    assert len(messages) == 3
    assert 'override beam.E9.width: nothing is named "E9"; give a name or a number from 1' in messages


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("beam.2.width", "there is no number 2: the file has 1"),
        ("beam.0.width", "there is no number 0: the file has 1"),
        ("title.of.it", '"of" lies below a value that is no table'),
        ("slats..gap", 'must be a key like "slats.gap"'),
        ("", 'must be a key like "slats.gap"'),
    ],
)
def test_keys_that_lead_nowhere(key: str, says: str) -> None:
    assert said((key, "1 in")) == [f"override {key}: {says}"]


@pytest.mark.parametrize(
    ("written", "typed"),
    [
        ('"across"', "across"),
        ("'1/4 in'", "1/4 in"),
        ('"3"', '"3"'),
        ("3", "3"),
        ("true", "true"),
        ('["AB", "BC"]', '["AB", "BC"]'),
        ("{ run = 'with' }", '{ "run" = "with" }'),
        ("0.19", "0.19"),
    ],
)
def test_a_value_of_an_alternative_is_as_it_would_be_typed(written: str, typed: str) -> None:
    text = f'units = "in"\n[[alternative]]\nname = "one"\nset = {{ "slats.coffer.C1" = {written} }}\n'
    raw = tomllib.loads(text)
    (one,) = Config.model_validate(raw).alternative
    assert one.overrides == (("slats.coffer.C1", typed),)
    assert override_value(typed) == raw["alternative"][0]["set"]["slats.coffer.C1"]
