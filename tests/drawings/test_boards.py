"""Drawn boards: true lengths, nothing written over anything else, nothing left out."""

import bisect
import importlib.util
import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import ImageFont

from drawings import sawing
from lacunar.config import Config, read_config, read_config_text
from lacunar.drawings import A4, LETTER, WHITE, Outline, Page, Stroke, Text, board_pages, texts
from lacunar.drawings.boards_leaders import AWAY, Leader, in_lanes
from lacunar.drawings.boards_shape import bands
from lacunar.drawings.lettering import POINT, text_width
from lacunar.job import Job, run_job
from lacunar.plan import make_plan
from lacunar.units import INCH

Box = tuple[float, float, float, float]


@cache
def font(*, bold: bool) -> ImageFont.FreeTypeFont:
    """The widest of the fonts that drawings name, at 1000 units per em."""
    spec = importlib.util.find_spec("matplotlib")
    assert spec is not None
    assert spec.submodule_search_locations is not None
    name = "DejaVuSans-Bold.ttf" if bold else "DejaVuSans.ttf"
    path = Path(next(iter(spec.submodule_search_locations))) / "mpl-data" / "fonts" / "ttf" / name
    return ImageFont.truetype(str(path), 1000)


def box(label: Text) -> Box:
    """Left, top, right, bottom of the capitals, as the font sets them."""
    wide = font(bold=label.bold).getlength(label.text) / 1000.0 * label.size * POINT
    tall = 0.729 * label.size * POINT
    left = label.at[0] - wide * {"left": 0.0, "centre": 0.5, "right": 1.0}[label.anchor]
    return left, label.at[1] - tall / 2.0, left + wide, label.at[1] + tall / 2.0


def labels(page: Page) -> list[Text]:
    return [thing for thing in page.things if isinstance(thing, Text)]


def by_hand() -> tuple[Page, ...]:
    return board_pages(sawing.plan(), sawing.parts(), sawing.config())


@cache
def job_of(path: Path) -> Job:
    return run_job(read_config(path))


@cache
def of_config(path: Path) -> tuple[Page, ...]:
    job = job_of(path)
    return board_pages(job.plan, job.parts, job.config)


@pytest.fixture(params=["by hand", "2-one-coffer", "4-inch", "5-metric", "8-l-shaped"])
def pages(request: pytest.FixtureRequest, configs: Path) -> tuple[Page, ...]:
    return by_hand() if request.param == "by hand" else of_config(configs / f"{request.param}.toml")


def lines(page: Page) -> list[tuple[float, float]]:
    """Spots a fifth of a millimetre apart along every line but hatchings, which pieces are drawn over."""
    spots: list[tuple[float, float]] = []
    for stroke in page.things:
        if isinstance(stroke, Stroke) and stroke.width:
            ring = [*stroke.points, stroke.points[0]] if isinstance(stroke, Outline) else stroke.points
            for (xa, ya), (xb, yb) in itertools.pairwise(ring):
                n = max(int(math.dist((xa, ya), (xb, yb)) / 0.2), 1)
                spots += [(xa + (xb - xa) * i / n, ya + (yb - ya) * i / n) for i in range(n + 1)]
    return sorted(spots, key=lambda spot: spot[1])


def test_no_text_meets_another_text_or_leaves_the_paper(pages: Sequence[Page]) -> None:
    for page in pages:
        boxes = [(label.text, box(label)) for label in labels(page)]
        for (one, a), (other, b) in itertools.combinations(boxes, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, f"{one!r} and {other!r}"
        for text, (left, top, right, bottom) in boxes:
            assert left >= 8.0, text
            assert right <= page.size[0] - 8.0, text
            assert top >= 8.0, text
            assert bottom <= page.size[1] - 8.0, text


def test_no_line_runs_through_a_text(pages: Sequence[Page]) -> None:
    for page in pages:
        spots = lines(page)
        heights = [y for _, y in spots]
        for label in labels(page):
            left, top, right, bottom = box(label)
            level = spots[bisect.bisect_right(heights, top) : bisect.bisect_left(heights, bottom)]
            assert not any(left < x < right for x, _ in level), label.text


def test_text_can_be_read_and_is_no_wider_than_reckoned(pages: Sequence[Page]) -> None:
    for label in (label for page in pages for label in labels(page)):
        left, _, right, _ = box(label)
        assert label.size >= 6.0
        assert right - left <= text_width(label.text, label.size, bold=label.bold)


def named(text: str) -> list[str]:
    """The parts that a text names, those between the ends of a "to" too."""
    found: list[str] = []
    for first, last in re.findall(r"(C\d+-[ST]\d+[a-z]?|X\d+-\d+|H\d+)(?: to (\S+\d))?", text):
        count = int(last.partition("S")[2]) - int(first.partition("S")[2]) if last else 0
        stem, _, number = first.rpartition("S") if last else (first, "", "0")
        found += [f"{stem}S{int(number) + n:02d}" for n in range(count + 1)] if last else [first]
    return found


def ids_of(pages: Sequence[Page]) -> list[str]:
    """The parts that stand in pieces or behind what is said of alike boards."""
    found: list[str] = []
    for text in texts(pages):
        head, _, behind = text.partition(": ")
        found += named(behind if behind and not named(head) else text if re.match(r"(C|X)\d", text) else "")
    return found


@pytest.mark.parametrize("name", ["4-inch", "8-l-shaped"])
def test_every_part_is_there(name: str, configs: Path) -> None:
    job = job_of(configs / f"{name}.toml")
    said = ids_of(of_config(configs / f"{name}.toml"))
    assert {part.id for part in job.parts if part.bought} <= set(said)


def pieces() -> dict[str, tuple[tuple[float, float], ...]]:
    """Outlines by hand, from the near edge at a piece's start, clockwise on the page."""
    outlines = [
        thing.points
        for page in by_hand()
        for thing in page.things
        if isinstance(thing, Outline) and thing.fill == WHITE and thing.width == 0.25
    ]
    drawn = [board for board in sawing.boards() if board.id != "B2"]  # as the first one
    ids = [cut.part for board in drawn for band in bands(board) for cut in band.cuts]
    return dict(zip(ids, outlines, strict=True))


def test_lengths_are_true_to_one_scale() -> None:
    # Letter on its side, 10 mm margins; a column of 44 and 1.4 mm of end waste on both sides leave 212.6 mm for 8 ft.
    ratio = 212.6 / (8.0 * 304.8)
    for name, points in pieces().items():
        wide = max(x for x, _ in points) - min(x for x, _ in points)
        assert wide == pytest.approx(sawing.plan().lengths[name] * ratio, rel=1e-6), name


def test_tapered_rips_lie_one_above_the_other() -> None:
    near, far = pieces()["C1-S11"], pieces()["C2-S11"]
    bottom, tall = near[0][1], 8.4
    # Widths of the near one are 1 1/4 and 1 3/4 of 3 1/2 in; the far one goes from 1 1/2 and 2 in to the far edge.
    assert [bottom - y for _, y in near] == pytest.approx([0.0, tall * 1.25 / 3.5, tall / 2.0, 0.0])
    assert [bottom - y for _, y in far] == pytest.approx([tall * 1.5 / 3.5, tall, tall, tall * 2.0 / 3.5])


def test_a_half_beam_is_half_of_its_board() -> None:
    """A 4x8 lies as the beam hangs, 3 1/2 in across, though its wider side is 7 1/4 in."""
    halves = replace(sawing.parts()[0], id="H1", stock="4x8", width=1.75 * INCH, ripped=True, kind="half beam")
    text = sawing.TEXT + '[cross_beams]\nstock = "4x8"\nwalls = "half beam"\n'
    config = read_config_text(text.replace('"1x4"', '"4x8"'), "room.toml")
    plan = make_plan((halves,), config)
    (page,) = board_pages(plan, (halves,), config)
    heights = [
        max(y for _, y in thing.points) - min(y for _, y in thing.points)
        for thing in page.things
        if isinstance(thing, Outline) and thing.fill == WHITE
    ]
    assert min(heights) == pytest.approx(max(heights) / 2.0)


def test_mitred_strips_share_a_cut() -> None:
    first, second = pieces()["C1-T1"], pieces()["C1-T2"]
    # Both slants run from the far edge on the right to the near edge on the left.
    assert first[2][0] - first[3][0] == pytest.approx(second[1][0] - second[0][0])
    assert first[2][0] > first[3][0]
    assert second[0][0] > first[3][0]


def test_what_is_written_beside_and_below() -> None:
    words = list(texts(by_hand()))
    for text in (
        "1x4 eastern white pine: 6 boards",
        "board 3",
        "8 ft",
        "on hand",
        "10.00 USD",
        "keep 55 3/8 (4 ft 7 3/8)",
        "C2-S11: stop-2",
        # Told from the left as it lies: it lies end for end.
        "rip 2 in at E2 to 1 1/2 in at E1 (fence-2)",
        "rip 1 1/4 in at E1 to 1 3/4 in at E2 (fence-1)",
        "C1-S01a 2, cut to measure (stop-4)",
        "set stop-5 to 30",
        "45 deg at E1 and E2, X1-1 face longer by",
        "3 1/2 in at each",
    ):
        assert text in words, (text, words)


def test_alike_boards_are_one_drawing() -> None:
    words = list(texts(by_hand()))
    assert "boards 1 and 2" in words
    assert "x 2, 8 ft each, 2 at once" in words
    assert "10.00 USD each" in words
    assert "set stop-1 to 40: C1-S01 to C1-S04" in words
    assert "board 1" not in words


def test_boards_at_a_stop_that_is_set_anew_are_not_drawn_as_one() -> None:
    turns = tuple(replace(turn, placed=turn.stops) for turn in sawing.plan().turns)
    one = replace(sawing.boards()[0], turn=1)
    again = tuple(replace(turns[0], number=number, boards=(f"B{number}",)) for number in (1, 2))
    plan = replace(sawing.plan(), boards=(one, replace(sawing.boards()[1], turn=2)), turns=again)
    words = list(texts(board_pages(plan, sawing.parts(), sawing.config())))
    assert "board 1" in words
    assert "board 2" in words


def measured(*parts: str) -> Config:
    rows = "".join(f'[field.{part}]\nlength = "3 ft"\n' for part in parts)
    return read_config_text(sawing.TEXT + rows, "room.toml")


def dashed(pages: Sequence[Page]) -> int:
    return sum(isinstance(thing, Stroke) and thing.dashed for page in pages for thing in page.things)


def test_what_must_not_be_cut_yet_says_so_and_looks_so() -> None:
    words = list(texts(by_hand()))
    assert any(text.startswith("NOT YET: all boards wait for coffers; board 3 waits for last holes.") for text in words)
    assert any(text.startswith("NOT YET: board 7 waits for sides.") for text in words)
    assert words.count("NOT YET: coffers") == 4
    assert "NOT YET: coffers, last holes" in words
    pieces = [cut.part for board in sawing.boards() for cut in board.cuts]
    assert dashed(by_hand()) == len(pieces) - 2, "two boards of two pieces are drawn as one"


def test_only_what_waits_looks_so() -> None:
    trim = board_pages(sawing.plan(), sawing.parts(), measured("C1-T1", "C1-T2"))
    assert not any("sides" in text for text in texts(trim))
    half = board_pages(sawing.plan(), sawing.parts(), measured("C1-T1"))
    assert dashed(half) == dashed(trim) + 1
    slats = [part.id for part in sawing.parts() if part.kind == "slat"]
    rips = board_pages(sawing.plan(), sawing.parts(), measured(*slats))
    assert any(text.startswith("NOT YET: board 3 waits for last holes.") for text in texts(rips))
    assert not any("coffers" in text for text in texts(rips))


def test_the_stop_that_is_set_now_is_bold_once() -> None:
    bold = [label.text for page in by_hand() for label in labels(page) if label.bold and "set stop-" in label.text]
    assert len(bold) == len(sawing.plan().turns)


@pytest.mark.parametrize(
    ("more", "size"),
    [
        ("", LETTER),
        ("[labels]\ngrid = { sheet = 'a4' }", A4),
    ],
)
def test_paper_is_the_one_in_the_printer(more: str, size: tuple[float, float]) -> None:
    config = read_config_text(sawing.TEXT + more, "room.toml")
    page = board_pages(sawing.plan(), sawing.parts(), config)[0]
    assert page.size == (size[1], size[0])


def test_no_boards_no_page() -> None:
    assert board_pages(replace(sawing.plan(), boards=()), (), sawing.config()) == ()


@given(
    st.lists(st.tuples(st.floats(0.0, 100.0), st.integers(1, 40)), min_size=1, max_size=12, unique_by=lambda p: p[0]),
)
def test_leaders_never_meet(places: list[tuple[float, int]]) -> None:
    spots = {x: n for x, n in places if all(abs(x - other) > 2.0 * AWAY or x == other for other, _ in places)}
    leaders = [Leader(at=(60.0 + x, 5.0), text="x" * n) for x, n in spots.items()]
    led = in_lanes(leaders, 160.0)
    assert len(led) == len(leaders)
    for one, other in itertools.permutations(led, 2):
        (xa, _), (xb, _) = one.leader.at, other.leader.at
        left, right = (xa - one.leader.width, xa) if one.back else (xa, xa + one.leader.width)
        if other.lane >= one.lane:
            assert not left < xb < right
