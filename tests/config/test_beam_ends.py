"""Ends of measured beams as ends of distances: how keys are read, and what they tell of the room."""

import itertools

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacunar.config import Config, beam_marks, distance_ends, measured_ends, read_config_text, trust

ROOM = """
[room]
height = "8 ft 7 in"
[room.measured]
AB = "12 ft 2 in"
BC = "11 ft 5 in"
CD = "12 ft 1 1/2 in"
DA = "11 ft 4 in"
{more}
[room.marks]
m1 = {{ wall = "BC", from = "B", at = "5 ft" }}
{beams}
"""
HUNG = '[[beam]]\nname = "{}"\nwidth = 3.5\ndepth = 5.5\nends = [{}, {}]\n'
AT_AB, AT_CD = '{ wall = "BA", from = "A", at = "4 ft" }', '{ wall = "CD", from = "D", at = "4 ft" }'

CORNERS = st.sampled_from("ABCD")
MARKS = st.from_regex(r"[A-Za-z_][A-Za-z0-9_]{1,8}", fullmatch=True)
BEAMS = st.from_regex(r"[A-Za-z0-9_-]{1,12}", fullmatch=True)
BEAM_ENDS = st.builds("{}.{}".format, BEAMS, st.sampled_from(["AB", "BA", "CD", "DA"]))
ENDS = CORNERS | MARKS | BEAM_ENDS


def read(more: str, *beams: str) -> Config:
    hung = beams or (HUNG.format("E1", AT_AB, AT_CD),)
    return read_config_text(ROOM.format(more=more, beams="\n".join(hung)), "room.toml")


@pytest.mark.parametrize(
    ("key", "ends"),
    [
        ("E1.AB-C", ("E1.AB", "C")),
        ("C-E1.AB", ("C", "E1.AB")),
        ("m1-E1.AB", ("m1", "E1.AB")),
        ("E1.AB-E1.CD", ("E1.AB", "E1.CD")),
        ("old-beam.AB-C", ("old-beam.AB", "C")),
        ("C-old-beam.AB", ("C", "old-beam.AB")),
        ("a-b.AB-c-d.CD", ("a-b.AB", "c-d.CD")),
        ("-.AB-C", ("-.AB", "C")),
    ],
)
def test_keys_with_beam_ends(key: str, ends: tuple[str, str]) -> None:
    assert distance_ends(key) == ends


@given(first=ENDS, second=ENDS)
def test_a_key_has_one_reading_whatever_dashes_names_hold(first: str, second: str) -> None:
    assert distance_ends(f"{first}-{second}") == (first, second)


def test_no_key_splits_in_two_ways() -> None:
    """All names of up to three letters, digits and dashes: every dash of every key is tried."""
    beams = ["".join(name) for n in (1, 2, 3) for name in itertools.product("C-1", repeat=n)]
    ends = ["C", "mC", "C1", *(f"{beam}.{wall}" for beam in beams for wall in ("AB", "CC"))]
    known = set(ends)
    for key in (f"{a}-{b}" for a, b in itertools.product(ends, repeat=2)):
        splits = [(key[:i], key[i + 1 :]) for i, letter in enumerate(key) if letter == "-"]
        assert sum(one in known and other in known for one, other in splits) == 1, key


def test_walls_are_named_either_way() -> None:
    config = read('"E1.BA-C" = "14 ft"\n"C-E1.DC" = "8 ft"')
    assert list(beam_marks(config)) == ["E1.AB", "E1.CD"]
    ends = measured_ends(config)
    assert list(ends)[-2:] == ["E1.BA-C", "C-E1.DC"]
    assert list(ends.values())[-2:] == [("E1.AB", "C"), ("C", "E1.CD")]


def test_beams_without_a_name_have_their_number() -> None:
    unnamed = HUNG.replace('name = "{}"\n', "").format(AT_AB, AT_CD)
    other = HUNG.format("my-beam", AT_AB.replace("4 ft", "8 ft"), AT_CD.replace("4 ft", "8 ft"))
    config = read('"E1.AB-C" = "14 ft"\n"my-beam.CD-E1.AB" = "13 ft"', unnamed, other)
    assert list(measured_ends(config).values())[-2:] == [("E1.AB", "C"), ("my-beam.CD", "E1.AB")]


@pytest.mark.parametrize(
    ("more", "fixes"),
    [
        ('"E1.AB-C" = "14 ft"\n"E1.AB-D" = "12 ft"', True),
        ('"E1.AB-C" = "14 ft"\n"m1-E1.CD" = "12 ft"', True),
        ('"E1.AB-E1.CD" = "11 ft 5 in"\n"m1-D" = "13 ft"', True),
        ('"E1.AB-C" = "14 ft"\n"C-E1.AB" = "14 ft"', False),
        ('"E1.AB-C" = "14 ft"\n"E1.AB-B" = "8 ft 2 in"', False),
        ('"E1.AB-B" = "8 ft 2 in"\n"C-m1" = "6 ft 5 in"', False),
    ],
)
def test_distances_along_a_wall_tell_nothing_of_the_rooms_shape(more: str, fixes: bool) -> None:
    diagonal = "a diagonal, or 2 distances from corners to marks on walls"
    assert (diagonal not in trust(read(more)).missing) == fixes


def test_a_corner_is_still_assumed_where_only_walls_were_measured() -> None:
    square = "no diagonal measured: the corner at A is taken as square"
    assert square in read('"E1.AB-B" = "8 ft 2 in"').assumed
    assert square not in read('"E1.AB-C" = "14 ft"').assumed
