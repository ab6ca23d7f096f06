"""Cut pieces dealt again: against every way of dealing them, and by hand."""

import random
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from lacunar.config import Config
from lacunar.errors import ConfigError
from lacunar.parts import End, Part
from lacunar.plan import Dealing, Piece, deal_pile, read_pile
from plan.planning import INCH, part
from plan.planning import config as small_config
from samples import slat


@cache
def config() -> Config:
    """Boards 80 mm wide."""
    return small_config(units="mm", more="[slats]\nwidth = 80\nthickness = 20")


def slats(*rows: tuple[float, float, float], **other: object) -> tuple[Part, ...]:
    """Slats by (shortest, length, longest)."""
    return tuple(
        part(f"C1-S{i:02d}", length, interval=(low, high), **other) for i, (low, length, high) in enumerate(rows, 1)
    )


def pile(*lengths: float, width: float | None = None) -> tuple[Piece, ...]:
    return tuple(Piece(line=i, stock="1x4", length=length, width=width) for i, length in enumerate(lengths, 2))


def score(dealing: Dealing) -> tuple[float, int, float]:
    """What is minimised, in turn."""
    cuts = sum((d.off_length > 0.0) + (d.off_width > 0.0) for d in dealing.slats)
    return dealing.new_length, cuts, sum(d.off_length for d in dealing.slats)


def best_of_all(wanted: Sequence[Part], pieces: Sequence[Piece], full: float) -> tuple[float, int, float]:
    """By trying every way, slat by slat."""
    best = (float("inf"), 0, 0.0)

    def go(i: int, left: tuple[Piece, ...], new: float, cuts: int, off: float) -> None:
        nonlocal best
        if i == len(wanted):
            best = min(best, (round(new, 6), cuts, round(off, 6)))
            return
        one = wanted[i]
        go(i + 1, left, new + one.length, cuts, off)
        for k, piece in enumerate(left):
            low, high = one.interval or (one.length, one.length)
            width = piece.width or full
            if piece.stock != one.stock or piece.length < low or width < one.width:
                continue
            trims = piece.length > high
            ripped = width > one.width
            taken = piece.length - one.length if trims else 0.0
            go(i + 1, left[:k] + left[k + 1 :], new, cuts + trims + ripped, off + taken)

    go(0, tuple(pieces), 0.0, 0, 0.0)
    return best


def random_case(rng: random.Random) -> tuple[tuple[Part, ...], tuple[Piece, ...]]:
    """Up to five slats and five pieces, on coarse marks so that ties and exact fits abound; some are rips."""
    step = rng.choice([1.0, 5.0, 25.0])
    wanted: list[Part] = []
    for i in range(rng.randint(1, 5)):
        length = 900.0 + step * rng.randint(0, 8)
        interval = (length - step * rng.randint(0, 3), length + step * rng.randint(0, 3))
        width = rng.choice([80.0, 80.0, 80.0, 60.0, 50.0])
        wanted.append(part(f"C1-S{i + 1:02d}", length, interval=interval, width=width, ripped=width < 80.0))
    pieces = [
        Piece(
            line=j + 2,
            stock=rng.choice(["1x4", "1x4", "1x4", "1x4", "1x6"]),
            length=900.0 + step * rng.randint(-3, 12),
            width=rng.choice([None, None, None, 60.0, 50.0]),
        )
        for j in range(rng.randint(0, 5))
    ]
    return tuple(wanted), tuple(pieces)


@pytest.mark.parametrize("seed", range(300))
def test_as_good_as_trying_every_way(seed: int) -> None:
    wanted, pieces = random_case(random.Random(seed))
    dealing = deal_pile(wanted, pieces, config().slats.width)
    new, cuts, off = score(dealing)
    assert (round(new, 6), cuts, round(off, 6)) == best_of_all(wanted, pieces, 80.0)
    used = [d.piece for d in dealing.slats if d.piece is not None]
    assert sorted([*used, *dealing.left], key=lambda p: p.line) == list(pieces)
    for one, dealt in zip(wanted, dealing.slats, strict=True):
        assert dealt.slat == one.id
        assert one.interval is not None
        assert one.interval[0] <= dealt.length <= one.interval[1]
        if dealt.piece is not None:
            assert dealt.length == dealt.piece.length - dealt.off_length


def test_least_new_wood_is_fewest_new_slats() -> None:
    """The one piece could serve either slat: it serves the longer, though the shorter would need no cut."""
    dealing = deal_pile(slats((995, 1000, 1005), (895, 900, 905)), pile(1003.0), config().slats.width)
    assert [(d.slat, d.use) for d in dealing.slats] == [("C1-S01", "fits"), ("C1-S02", "new")]
    two = deal_pile(slats((995, 1000, 1005), (895, 900, 905)), pile(1003.0, 1010.0), config().slats.width)
    assert [(d.use, d.length) for d in two.slats] == [("fits", 1003.0), ("trim", 900.0)]
    assert two.slats[1].off_length == 110.0
    assert two.left == ()


def test_a_chain_of_exchanges() -> None:
    """Only by moving every piece one slat on does the last slat get one."""
    rows = [(900.0 + 10 * i, 905.0 + 10 * i, 915.0 + 10 * i) for i in range(8)]
    dealing = deal_pile(slats(*rows), pile(*(910.0 + 10 * i for i in range(8))), config().slats.width)
    assert {d.use for d in dealing.slats} == {"fits"}


def test_an_angled_end_is_cut_from_a_longer_piece() -> None:
    angled = replace(slat(), interval=None, ends=(End(mitre_deg=30.0), End(mitre_deg=30.0)))
    assert deal_pile((angled,), pile(1000.0), config().slats.width).slats[0].use == "trim"
    assert deal_pile((angled,), pile(999.0), config().slats.width).slats[0].use == "new"


def test_a_narrower_piece_makes_a_rip_and_never_a_full_slat() -> None:
    wanted = (part("C1-S01", 1000.0, interval=(990.0, 1010.0), width=50.0, ripped=True), *slats((990, 1000, 1010))[:1])
    wanted = (wanted[0], replace(wanted[1], id="C1-S02"))
    dealing = deal_pile(wanted, (*pile(1000.0, width=50.0), *pile(1001.0)), config().slats.width)
    assert [(d.use, d.length) for d in dealing.slats] == [("fits", 1000.0), ("fits", 1001.0)]
    assert deal_pile(wanted[1:], pile(1000.0, width=50.0), config().slats.width).slats[0].use == "new"


def test_other_wood_stays_in_the_pile() -> None:
    trim = Piece(line=2, stock="3/4x3/4", length=1000.0)
    dealing = deal_pile(slats((990, 1000, 1010)), (trim,), config().slats.width)
    assert dealing.left == (trim,)
    assert dealing.of("new")[0].slat == "C1-S01"


def test_a_pile_of_two_hundred_in_a_breath() -> None:
    rng = random.Random(1)
    rows = [(length - 6.0, length, length + 4.0) for length in (rng.uniform(1000.0, 1040.0) for _ in range(200))]
    dealing = deal_pile(slats(*rows), pile(*(rng.uniform(995.0, 1050.0) for _ in range(200))), config().slats.width)
    assert len(dealing.slats) == 200
    assert len(dealing.left) == len(dealing.of("new"))


def written(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "pile.csv"
    path.write_text(text, encoding="utf-8")
    return path


def test_a_pile_as_written_by_hand(tmp_path: Path) -> None:
    text = 'Stock,Length,Width,Count\n1x4,"46 1/2 in",,3\n1x4,1150 mm,"2 3/4 in",\n,,,\n1x4,3 ft 10 in,,1\n'
    pieces = read_pile(written(tmp_path, text), small_config())
    assert [p.length for p in pieces] == pytest.approx([46.5 * INCH] * 3 + [1150.0, 46 * INCH])
    assert [p.width for p in pieces] == [None, None, None, 2.75 * INCH, None]
    assert [p.line for p in pieces] == [2, 2, 2, 3, 5]


@pytest.mark.parametrize(
    ("text", "messages"),
    [
        ("stock,size\n", ['pile.csv:1: unknown column "size"']),
        ("stock\n1x4\n", ["pile.csv:1: no column length"]),
        (
            "stock,length,count\n1x5,46 in,1\n1x4,46 inn,1\n1x4,46 in,one\n",
            ['pile.csv:2 stock: got "1x5", must be one', "pile.csv:3 length: ", 'pile.csv:4 count: got "one"'],
        ),
        ("stock,length\n1x4,1168,5\n", ["pile.csv:2: more cells than columns"]),
        ("stock,length,count\n1x4,46 in,0\n", ["pile.csv:2 count"]),
        ("stock,length,width\n1x4,46 in,9 in\n", ["pile.csv:2 width"]),
        ("stock,length,count\n1x4,46 in,2000\n1x4,46 in,1\n", ["pile.csv: has 2001 pieces"]),
        ("stock,length\n1x4,\n", ["pile.csv:2 length"]),
        ("", ["pile.csv:1: no column stock and length"]),
    ],
)
def test_what_is_wrong_with_a_pile_is_said_all_at_once(tmp_path: Path, text: str, messages: list[str]) -> None:
    with pytest.raises(ConfigError) as caught:
        read_pile(written(tmp_path, text), small_config())
    assert len(caught.value.problems) == len(messages)
    for message, problem in zip(messages, caught.value.problems, strict=True):
        assert str(problem).startswith(message)


def test_no_pile(tmp_path: Path) -> None:
    with pytest.raises(ConfigError, match="there is no such file"):
        read_pile(tmp_path / "none.csv", small_config())
