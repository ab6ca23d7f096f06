"""What is assumed, and how far a result can be trusted."""

from pathlib import Path

import pytest

from lacunar.config import Config, Doubt, Trust, read_config, read_config_text, trust, used_stock

HERE = Path(__file__).resolve().parent
WALLS = 'AB = "12 ft 2 in"\nBC = "11 ft 5 in"\nCD = "12 ft 1 1/2 in"\nDA = "11 ft 4 in"\n'
DIAGONAL = 'AC = "16 ft 7 7/8 in"\n'
MARKS = '"m1-C" = "12 ft 11 in"\n"m1-D" = "12 ft 10 in"\n'
MARK = '[room.marks]\nm1 = { wall = "AB", from = "A", at = "6 ft 1 in" }\n'
BEAM = """
[[beam]]
width = "3 1/2 in"
depth = "5 1/2 in"
ends = [ { wall = "AB", from = "A", at = "4 ft" }, { wall = "CD", from = "D", at = "4 ft" } ]
"""
LIGHT = '[[fixture]]\nat = { AB = "6 ft", DA = "6 ft" }\n'
JOISTS = '[framing]\njoists = { along = "DA", first = "9 in", spacing = "16 in" }\n'


def price(*stocks: str) -> str:
    return "".join(f'[[shop.board]]\nstock = "{stock}"\nlength = "8 ft"\nprice = 9.5\n' for stock in stocks)


PRICES = price("1x4", "3/4x3/4", "4x6")
ROWS = "[cross_beams]\nrows = 1\n"


def room(*texts: str, measured: str = WALLS + DIAGONAL, top: str = "") -> Config:
    text = f'{top}[room]\nheight = "8 ft 7 in"\n[room.measured]\n{measured}' + "".join(texts)
    return read_config_text(text, "room.toml")


def test_good_enough_to_buy() -> None:
    verdict = trust(room(BEAM, ROWS, LIGHT, JOISTS, PRICES))
    assert verdict.good_for == "buy"
    assert len(verdict.missing) == 1
    assert "measured again on the wood" in verdict.missing[0]
    assert all(word in verdict.missing[0] for word in ("openings", "coffers", "last holes", "sides"))


def test_what_is_wrong_with_the_goods_is_not_good_enough_to_buy() -> None:
    good = room(BEAM, ROWS, LIGHT, JOISTS, PRICES)
    walls = Doubt(words="AB is misread", buying=True, sheets=())
    drill = Doubt(words="no drill gets there", buying=False, sheets=("beam pieces",))
    verdict = trust(good, doubts=[walls, drill])
    assert (verdict.good_for, verdict.missing, verdict.wrong) == ("look", ("AB is misread",), ("AB is misread",))
    assert verdict.words == "good for: look; not for buying yet: AB is misread"
    verdict = trust(good, doubts=[drill])
    assert (verdict.good_for, verdict.missing[0]) == ("buy", "no drill gets there")
    assert verdict.words == "good for: buy; not for cutting yet: no drill gets there"
    assert trust(good).words == "good for: buy"
    verdict = trust(room(BEAM, ROWS, LIGHT, PRICES), doubts=[walls])
    assert verdict.missing == ("AB is misread", "where the joists are (framing.joists)")


def test_two_distances_to_a_wall_mark_do_as_well_as_a_diagonal() -> None:
    assert trust(room(MARK, BEAM, ROWS, LIGHT, JOISTS, PRICES, measured=WALLS + MARKS)).good_for == "buy"
    one = trust(room(MARK, BEAM, ROWS, LIGHT, JOISTS, PRICES, measured=WALLS + MARKS.splitlines()[0] + "\n"))
    assert one.missing == ("a diagonal, or 2 distances from corners to marks on walls",)


def test_no_light_said_so_and_no_beams() -> None:
    assert trust(room(ROWS, JOISTS, PRICES, top="fixture = []\n")).good_for == "buy"


@pytest.mark.parametrize(
    ("texts", "measured", "missing"),
    [
        ((BEAM, ROWS, LIGHT, JOISTS, PRICES), WALLS, "a diagonal, or 2 distances from corners to marks on walls"),
        ((BEAM, ROWS, LIGHT, JOISTS, PRICES), DIAGONAL + WALLS.replace("CD", "# CD"), "the length of wall CD"),
        (
            (BEAM, ROWS, JOISTS, PRICES),
            WALLS + DIAGONAL,
            "the light: a [[fixture]], or fixture = [] where there is none",
        ),
        ((BEAM, ROWS, LIGHT, PRICES), WALLS + DIAGONAL, "where the joists are (framing.joists)"),
        (
            (BEAM, ROWS, LIGHT, JOISTS, price("1x4", "1x6")),
            WALLS + DIAGONAL,
            "a price for 3/4x3/4, 4x6 ([[shop.board]] or shop.boards)",
        ),
        (
            ('[beams]\ncount = 1\nbetween = ["AB", "CD"]\nwidth = 3.5\ndepth = 5.5\n', ROWS, LIGHT, JOISTS, PRICES),
            WALLS + DIAGONAL,
            "both ends of every beam, measured ([[beam]] for each instead of [beams])",
        ),
    ],
)
def test_one_thing_missing(texts: tuple[str, ...], measured: str, missing: str) -> None:
    assert trust(room(*texts, measured=measured)) == Trust(good_for="look", missing=(missing,))


def test_first_look_is_good_for_a_look() -> None:
    verdict = trust(read_config(HERE / "first_look.toml"))
    assert verdict.good_for == "look"
    assert len(verdict.missing) == 5


def test_what_is_bought() -> None:
    assert used_stock(room(ROWS)) == ("1x4", "3/4x3/4", "4x6")
    assert used_stock(room("[cross_beams]\nrows = 0\n")) == ("1x4", "3/4x3/4")
    assert used_stock(room()) == ("1x4", "3/4x3/4")
    assert used_stock(room(BEAM, 'new = true\nstock = "4x8"\n')) == ("1x4", "3/4x3/4", "4x8")


# --- what is assumed -----------------------------------------------------------------------------------------------


def test_everything_assumes_little() -> None:
    assumed = read_config(HERE / "everything.toml").assumed
    assert assumed[:-1] == (
        "one height given: the ceiling is taken as level",
        "cross_beams.species not given: eastern white pine is taken, as for the slats",
        "cross_beams.wall_end: what a piece's end at a wall screws into is not known",
        "trim.species not given: eastern white pine is taken, as for the slats",
        "fasteners.trim not given: 18 gauge brads of 1 1/4 in, 1 ft apart, and adhesive",
    )
    assert assumed[-1].startswith("read but not used yet: house.indoor, cross_beams.moisture, framing.joists.span")


@pytest.mark.parametrize(
    "sentence",
    [
        "no diagonal measured: the corner at A is taken as square",
        "one height given: the ceiling is taken as level",
        "2 existing beams are taken as straight and evenly spread",
        "existing beams: whether they are solid or hollow is not known",
        "cross_beams.stock not given: the section of the existing beams, 4x6 (3 1/2 in x 5 1/2 in) is taken",
        "slats.stock not given: 1x4 (3/4 in x 3 1/2 in) is taken",
        "slats.run not given: across is taken",
        "slats.gap not given: 1/4 in is taken",
        "no fixture given: there is no light in this ceiling (fixture = [] says so)",
        'framing.joists not given: 16 in apart, across the shorter way; findings that rest on them say "ask"',
        "framing.old_ceiling not given: 1/2 in of plasterboard is taken",
        "no boards in [shop]: 8, 10, 12 and 16 ft without a price are taken, so the plan counts length",
        "shop.kerf not given: 1/8 in is taken",
    ],
)
def test_first_look_says_what_it_assumes(sentence: str) -> None:
    assert sentence in read_config(HERE / "first_look.toml").assumed


def test_what_is_taken_as_square() -> None:
    two = room(measured='AB = "12 ft"\nBC = "11 ft"\n').assumed
    assert "CD and DA and no diagonal measured: the room is taken as a rectangle" in two
    assert "no existing beams given: there are none" in two
    three = room(measured='AB = "12 ft"\nBC = "11 ft"\nDA = "11 ft"\n').assumed
    assert "CD and no diagonal measured: the corners A and B are taken as square" in three
    assert not any("square" in sentence for sentence in room(MARK, measured=WALLS + MARKS).assumed)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        (JOISTS, "framing.joists"),
        ('[framing]\nold_ceiling = { kind = "boards", thickness = 0.75 }\n', "framing.old_ceiling"),
        ("[slats]\ngap = 0.3\n", "slats.gap"),
        ("[trim]\nwidth = 1\n", "trim.width"),
        ("[shop]\nkerf = 0.1\n", "shop.kerf"),
        ("[shop]\ncull = 0.1\n", "shop.cull"),
        (LIGHT, "no fixture"),
    ],
)
def test_what_is_given_is_not_assumed(text: str, key: str) -> None:
    assert any(sentence.startswith(key) for sentence in room().assumed)
    assert not any(sentence.startswith(key) for sentence in room(text).assumed)
