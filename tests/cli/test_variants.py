"""Values on the command line become combinations."""

import pytest

from lacunar.errors import ConfigError
from lacunar_cli.variants import combinations, label, split_values


@pytest.mark.parametrize(
    ("text", "values"),
    [
        ("with,across", ("with", "across")),
        (" with , across ", ("with", "across")),
        ("1/4 in,3/8 in", ("1/4 in", "3/8 in")),
        ('12\' 4 1/2",3/8"', ("12' 4 1/2\"", '3/8"')),
        ('"12\' 4\\"","3 in"', ('"12\' 4\\""', '"3 in"')),
        ('"a\\", b",c', ('"a\\", b"', "c")),
        ('"a, b",c', ('"a, b"', "c")),
        ("'a, b',c", ("'a, b'", "c")),
        ('["AB", "BC"],centre', ('["AB", "BC"]', "centre")),
        (
            "{ dry = 0.2, humid = 0.5 },{ dry = 0.3, humid = 0.6 }",
            ("{ dry = 0.2, humid = 0.5 }", "{ dry = 0.3, humid = 0.6 }"),
        ),
        ("2,3", ("2", "3")),
        ("one", ("one",)),
        ("a,", ("a", "")),
        ("]a,b", ("]a", "b")),
    ],
)
def test_commas_part_values_but_not_inside_quotes_and_brackets(text: str, values: tuple[str, ...]) -> None:
    assert split_values(text) == values


def test_all_combinations_the_last_key_changing_fastest() -> None:
    made = combinations("with,across", ["slats.gap=1/4 in,3/8 in", "trim.width=1 in"])
    assert [[value for _, value in one] for one in made] == [
        ["with", "1/4 in", "1 in"],
        ["with", "3/8 in", "1 in"],
        ["across", "1/4 in", "1 in"],
        ["across", "3/8 in", "1 in"],
    ]
    assert [key for key, _ in made[0]] == ["slats.run", "slats.gap", "trim.width"]


def test_nothing_asked_is_the_config_as_it_stands() -> None:
    assert combinations("", []) == ((),)
    assert label(()) == "as written"


def test_an_equals_sign_may_stand_in_a_value() -> None:
    assert combinations("", ["slats.coffer.C5={ run = 'with' }"]) == ((("slats.coffer.C5", "{ run = 'with' }"),),)


@pytest.mark.parametrize(
    ("runs", "sets"),
    [("", ["slats.gap"]), ("", ["=1,2"]), ("", ["slats.gap="]), ("", ["slats.gap=1,,2"]), ("with,,across", [])],
)
def test_what_is_typed_wrongly_is_an_error(runs: str, sets: list[str]) -> None:
    with pytest.raises(ConfigError):
        combinations(runs, sets)


def test_labels_name_the_value_and_the_key_where_it_is_needed() -> None:
    assert label((("slats.run", "with"),)) == "with"
    assert label((("slats.run", "with"), ("slats.gap", "1/4 in"))) == "with, gap 1/4 in"
