"""What a config's values become: names of walls, words with a number in them, defaults that hang on each other."""

import math

import pytest

from lacunar.config import Config, config_text, distance_ends, read_config_text
from lacunar.errors import ConfigError
from lacunar.units import read_length

ROOM = """
[room]
height = "8 ft 7 in"
[room.measured]
AB = "12 ft 2 in"
BC = "11 ft 5 in"
"""
METRIC = """
units = "mm"
[room]
height = 2620
[room.measured]
AB = 3710
BC = 3480
"""
EXISTING = """
[beams]
count = 1
between = ["AB", "CD"]
width = {width}
depth = {depth}
"""


def read(text: str, base: str = ROOM) -> Config:
    return read_config_text(base + text, "room.toml")


def said(text: str, base: str = ROOM) -> str:
    with pytest.raises(ConfigError) as error:
        read(text, base)
    return str(error.value)


def test_walls_are_named_as_the_corners_run() -> None:
    config = read(
        '[[window]]\nwall = "CB"\nfrom = "c"\nat = "2 ft"\nwidth = "3 ft"\n[slats]\nfrom = ["da"]\nrun = "AD"\n'
    )
    assert (config.window[0].wall, config.window[0].from_) == ("BC", "C")
    assert (config.slats.from_, config.slats.run) == (("DA",), "DA")


def test_an_opening_counts_from_the_walls_first_corner() -> None:
    config = read('[[door]]\nwall = "AD"\nat = "2 ft"\nwidth = "3 ft"\n')
    assert (config.door[0].wall, config.door[0].from_) == ("DA", "D")


def test_measured_keys_stay_as_written() -> None:
    config = read(
        'CB = "11 ft 5 1/16 in"\n"C-m1" = "9 ft"\n[room.marks]\nm1 = { wall = "AB", from = "B", at = "5 ft" }\n'
    )
    assert list(config.room.measured) == ["AB", "BC", "CB", "C-m1"]


@pytest.mark.parametrize(
    ("key", "ends"), [("AB", ("A", "B")), ("A-B", ("A", "B")), ("m1-C", ("m1", "C")), ("m1-m2", ("m1", "m2"))]
)
def test_distance_ends(key: str, ends: tuple[str, str]) -> None:
    assert distance_ends(key) == ends


def test_other_letters_for_the_corners() -> None:
    room = '[room]\nheight = "9 ft"\ncorners = "PQRST"\n[room.measured]\nPQ = "12 ft"\nQR = "9 ft"\n'
    config = read('[slats]\nrun = "TP"\n', room)
    assert config.slats.run == "TP"
    assert config.slats.from_ == ("PQ", "QR")
    assert "must be a wall of the room: PQ, QR, RS, ST or TP" in said('[slats]\nfrom = "AB"\n', room)


@pytest.mark.parametrize(
    ("run", "kind", "degrees"),
    [
        ('"with"', "with", None),
        ('"joists"', "joists", None),
        ('"bc"', "BC", None),
        ('"30 deg"', "angle", 30),
        ("45", "angle", 45),
    ],
)
def test_run(run: str, kind: str, degrees: float | None) -> None:
    config = read(f"[slats]\nrun = {run}\ncoffer.C2 = {{ run = {run} }}\n")
    for slats in (config.slats, config.slats.coffer["C2"]):
        assert slats.run == kind
        assert slats.run_angle == (None if degrees is None else pytest.approx(math.radians(degrees)))


@pytest.mark.parametrize(
    ("written", "walls"), [('"centre"', ("centre",)), ('"CD"', ("CD",)), ('["BC", "AB"]', ("BC", "AB"))]
)
def test_from(written: str, walls: tuple[str, ...]) -> None:
    assert read(f"[slats]\nfrom = {written}\n").slats.from_ == walls


@pytest.mark.parametrize(
    ("written", "up"), [('"flush"', 0.0), ('"up 1/2 in"', 12.7), ('"up 15 mm"', 15.0), ('"up 1"', 25.4)]
)
def test_bottom(written: str, up: float) -> None:
    cross = read(f"[cross_beams]\nrows = 1\nbottom = {written}\n").cross_beams
    assert cross is not None
    assert cross.bottom == up


@pytest.mark.parametrize(
    ("written", "kind", "shell"),
    [('"solid"', "solid", 0.0), ('"hollow 3/4 in"', "hollow", 19.05), ('"unknown"', "unknown", 0.0)],
)
def test_made(written: str, kind: str, shell: float) -> None:
    beams = read(EXISTING.format(width=4, depth=6) + f"made = {written}\n").beams
    assert beams is not None
    assert (beams.made.kind, beams.made.shell) == (kind, shell)


@pytest.mark.parametrize(("size", "sides"), [('"4 in"', (101.6, 101.6)), ("5", (127.0, 127.0))])
def test_fixture_of_one_size(size: str, sides: tuple[float, float]) -> None:
    assert read(f"[[fixture]]\nsize = {size}\nat = {{ AB = 50, BC = 40 }}\n").fixture[0].size == sides


def test_fixture_of_two_sizes() -> None:
    text = '[[fixture]]\nshape = "{}"\nsize = ["6 in", "14 in"]\nat = {{ AB = 50, BC = 40 }}\n'
    assert read(text.format("rectangle")).fixture[0].size == pytest.approx((152.4, 355.6))
    assert 'fixture[1].size: got two sizes, must be one length for "square"' in said(text.format("square"))


def test_fixtures_and_beams_get_names() -> None:
    at = "at = { AB = 50, BC = 40 }\n"
    config = read(f'[[fixture]]\n{at}[[fixture]]\nname = "fan"\n{at}[[fixture]]\n{at}')
    assert [fixture.name for fixture in config.fixture] == ["fixture 1", "fan", "fixture 3"]


def test_any_two_walls_that_meet_will_do() -> None:
    room = '[room]\nheight = "9 ft"\n[room.measured]\nCD = "12 ft"\n{} = "11 ft"\n'
    assert list(read("", room.format("AD")).room.measured) == ["CD", "AD"]
    assert "room.measured: gives no BC, must give at least the walls AB and BC" in said("", room.format("AB"))


# --- sections ------------------------------------------------------------------------------------------------------


def test_a_stock_gives_the_section_and_a_measured_side_overrules_it() -> None:
    slats = read('[slats]\nstock = "1 x 6"\nthickness = "11/16 in"\n').slats
    assert slats.stock == "1x6"
    assert slats.width == pytest.approx(5.5 * 25.4)
    assert slats.thickness == pytest.approx(11 / 16 * 25.4)
    assert slats.narrowest_rip == pytest.approx(2.75 * 25.4)  # half a board


def test_a_section_without_stock_gets_a_name() -> None:
    assert read('[slats]\nwidth = "3 1/2 in"\nthickness = "3/4 in"\n').slats.stock == "1x4"
    assert read('[slats]\nwidth = "3 in"\nthickness = "5/8 in"\n').slats.stock == "5/8x3"
    slats = read("[slats]\nwidth = 95\nthickness = 18\n", METRIC).slats
    assert (slats.stock, slats.width, slats.thickness) == ("18x95", 95.0, 18.0)


def test_a_name_of_ones_own_needs_the_section() -> None:
    assert read('[slats]\nstock = "pine 95"\nwidth = 95\nthickness = 18\n', METRIC).slats.stock == "pine95"
    assert 'slats.stock: got "pine95", must be a nominal size' in said(
        '[slats]\nstock = "pine 95"\nwidth = 95\n', METRIC
    )


def test_cross_beams_without_stock_are_like_the_existing_ones() -> None:
    for width, depth, stock in (("3.5", "7.25", "4x8"), ('"4 in"', '"8 in"', "4x8")):
        cross = read(EXISTING.format(width=width, depth=depth) + "[cross_beams]\nrows = 1\n").cross_beams
        assert cross is not None
        assert cross.stock == stock
        assert cross.width == pytest.approx(25.4 * float(width.strip('"').split()[0]))
    none_there = read("[cross_beams]\nrows = 1\n").cross_beams
    assert none_there is not None
    assert (none_there.stock, none_there.width, none_there.depth) == ("4x6", 88.9, 139.7)


def test_cross_beams_like_the_first_beam_that_is_there() -> None:
    ends = 'ends = [ { wall = "AB", from = "A", at = 30 }, { wall = "CD", from = "D", at = 30 } ]\n'
    text = f"[[beam]]\nwidth = 5.5\ndepth = 9\nnew = true\n{ends}[[beam]]\nwidth = 3.5\ndepth = 5.5\n{ends}"
    text += "[cross_beams]\nrows = 1\n"
    config = read(text)
    assert config.cross_beams is not None
    assert config.cross_beams.stock == "4x6"
    assert [one.name for one in config.beam] == ["E1", "E2"]
    assert [one.keep for one in config.beam] == [False, True]  # a new beam's surface is not there yet


def test_species_go_from_slats_to_trim_to_beams() -> None:
    config = read('[slats]\nspecies = "cherry"\n[cross_beams]\nrows = 1\n')
    assert config.cross_beams is not None
    assert (config.slats.species, config.trim.species, config.cross_beams.species) == ("black cherry",) * 3
    config = read('[trim]\nspecies = "red oak"\n[cross_beams]\nrows = 1\nspecies = "douglas fir"\n')
    assert config.cross_beams is not None
    assert (config.trim.species, config.cross_beams.species) == ("red oak", "douglas fir")


def test_trim_of_a_stock_lies_flat() -> None:
    trim = read('[trim]\nstock = "1x2"\n').trim
    assert (trim.width, trim.height) == (38.1, 19.05)


def test_gaps_hang_on_each_other() -> None:
    slats = read('[slats]\ngap = "3/8 in"\n').slats
    assert (slats.edge_gap, slats.end_gap) == (9.525, 6.35)
    slats = read('[slats]\ngap = 0\nend_gap = "1/32 in"\n').slats
    assert (slats.gap, slats.edge_gap, slats.least_edge_gap) == (0.0, 0.0, 0.0)
    assert (slats.end_gap, slats.least_end_gap) == (0.79375, 0.79375)  # the least is never above the usual
    assert read('[slats]\ngap = 0\nedge_gap = "1/4 in"\n').slats.edge_gap == 6.35


def test_ten_boards_alone_on_the_bench_give_the_gap() -> None:
    slats = read('[slats]\nten = "37 3/4 in"\n').slats
    assert (slats.width, slats.nominal_width, slats.spacer) == (88.9, 88.9, None)
    assert slats.gap == slats.edge_gap == pytest.approx((3.775 - 3.5) * 25.4)
    assert read('[slats]\nten = "35 in"\n').slats.gap == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize(("ten", "board"), [("37 3/16 in", 3.46875), ("37 3/4 in", 3.525), ("40 in", 3.75)])
def test_ten_boards_and_the_spacer_give_the_boards(ten: str, board: float) -> None:
    """A tenth of the bench less the spacer; what lies beside a board is the spacer, at the edges too."""
    slats = read(f'[slats]\ngap = "1/4 in"\nten = "{ten}"\n').slats
    assert slats.width == pytest.approx(board * 25.4)
    assert slats.nominal_width == 88.9
    assert slats.gap == slats.spacer == slats.edge_gap == 6.35
    assert slats.width + slats.gap == pytest.approx(read_length(ten) / 10.0)
    assert slats.stock == "1x4"
    assert slats.narrowest_rip == pytest.approx(board / 2.0 * 25.4)


def test_boards_as_wide_as_sold_stay_so_to_the_last_digit() -> None:
    slats = read('[slats]\ngap = "1/4 in"\nten = "37 1/2 in"\n').slats
    assert (slats.width, slats.nominal_width, slats.gap) == (88.9, 88.9, 6.35)


def test_a_spacer_without_the_bench() -> None:
    slats = read('[slats]\ngap = "3/8 in"\n').slats
    assert (slats.width, slats.gap, slats.spacer) == (88.9, 9.525, 9.525)
    assert read("").slats.spacer == 6.35  # taken, not given


def test_half_a_board_that_runs_under_is_the_narrowest_rip() -> None:
    under = '[slats]\ngap = "1/4 in"\nten = "37 3/16 in"\nnarrowest_rip = "{}"\n'
    assert read(under.format("1 3/4 in")).slats.narrowest_rip == pytest.approx(3.46875 / 2.0 * 25.4)
    assert read(under.format("1 1/2 in")).slats.narrowest_rip == 38.1
    assert "slats.narrowest_rip: got 1 13/16 in, must be half a board" in said(under.format("1 13/16 in"))


@pytest.mark.parametrize(
    ("bench", "sentence"),
    [
        (
            'gap = "1/4 in"\nten = "37 3/16 in"',
            "slats.width: 3.469 in is taken, as the bench gives it (slats.ten), not 3 1/2 in",
        ),
        (
            'ten = "37 3/16 in"',
            "slats.gap not given: 0.219 in is taken, what boards of 3 1/2 in leave on the bench (slats.ten)",
        ),
        ("", "slats.gap not given: 1/4 in is taken"),
        ('gap = "1/4 in"', ""),
        ('gap = "1/4 in"\nten = "37 1/2 in"', ""),
    ],
)
def test_what_is_assumed_of_boards_and_spacers(bench: str, sentence: str) -> None:
    assumed = read(f"[slats]\n{bench}\n").assumed
    told = [one for one in assumed if one.startswith(("slats.width", "slats.gap"))]
    assert told == ([sentence] if sentence else [])


@pytest.mark.parametrize("bench", ['gap = "1/4 in"\nten = "37 3/16 in"', 'ten = "37 3/16 in"', 'gap = "1/4 in"', ""])
def test_a_bench_written_and_read_again(bench: str) -> None:
    config = read(f"[slats]\n{bench}\n")
    assert read_config_text(config_text(config), "room.toml").model_dump() == config.model_dump()


def test_metric_defaults() -> None:
    config = read("", METRIC)
    slats, trim, shop = config.slats, config.trim, config.shop
    assert (config.read_to, slats.gap, slats.end_gap, slats.least_end_gap) == (1.0, 6.0, 6.0, 1.5)
    assert (trim.width, trim.height, trim.least_overlap, trim.stock) == (20.0, 20.0, 6.0, "20x20")
    assert (shop.kerf, shop.end_waste, config.fasteners.slat.length) == (3.0, 6.0, 64.0)


def test_old_ceiling_by_kind_alone_and_by_thickness_alone() -> None:
    old = read('[framing]\nold_ceiling = { kind = "drywall" }\n').framing.old_ceiling
    assert old is not None
    assert (old.kind, old.thickness) == ("plasterboard", 12.7)
    old = read('[framing]\nold_ceiling = { thickness = "5/8 in" }\n').framing.old_ceiling
    assert old is not None
    assert (old.kind, old.thickness) == ("plasterboard", 15.875)


def test_rows() -> None:
    for text, rows, at, align in (
        ("", 2, 0, None),
        ("rows = 0\n", 0, 0, None),
        ('at = ["3 ft", "8 ft"]\n', None, 2, None),
        ('align = "fixture"\n', 2, 0, "fixture"),
        ('rows = 3\nalign = "lamp"\n', 3, 0, "lamp"),
    ):
        cross = read(f'[cross_beams]\n{text}[[fixture]]\nname = "lamp"\nat = {{ AB = 50, BC = 40 }}\n').cross_beams
        assert cross is not None
        assert (cross.rows, len(cross.at), cross.align) == (rows, at, align)


def test_limits_are_themselves_allowed() -> None:
    read('[slats]\ngap = "1/64 in"\n')  # a quarter of 1/16 in
    read('[slats]\nstock = "1x4"\nnarrowest_rip = "1 3/4 in"\nend_gap = "1/4 in"\nleast_end_gap = "1/4 in"\n')
    read('[[window]]\nwall = "BC"\nat = "8 ft 5 in"\nwidth = "3 ft"\nhead = "8 ft 7 in"\n')
    read('[[fixture]]\nsize = 4\ncanopy = 4\nat = { AB = "12 ft 2 in", BC = 0 }\n')
    read("[house]\nindoor = { dry = 0.4, humid = 0.4 }\n")


def test_the_title_is_the_files_name_where_none_is_given() -> None:
    assert read("").title == "room"
