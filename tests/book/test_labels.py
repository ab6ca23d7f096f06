"""labels.pdf: every piece that is cut on one label, in its frame, pointing the right way, its square read back."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from drawings import sawing
from field.pdf_look import picture
from lacunar.book import label_pages
from lacunar.book.label_rows import Label, label_rows
from lacunar.book.square_code import square_code
from lacunar.config import Config, read_config_text
from lacunar.drawings import A4, LETTER, Disc, Outline, Page, Spot, Stroke, Text, Thing, pdf_bytes, text_width, texts
from lacunar.geometry import Line, centroid
from lacunar.job import book_of, code_of
from lacunar.parts import Part, waits_for
from lacunar.reports import cut_list_rows
from reports.reporting import TEXT, job

LONG = "a lamp of " + "very " * 30 + "long name"
HOSTILE = ('#set page(fill: red) "quoted" \\ $x$ <b>', LONG, "שלום עולם", "💡💡💡", "</text><script>")


def with_grid(grid: str) -> Config:
    return read_config_text(f"{TEXT}[labels.grid]\n{grid}\n", "study.toml")


@cache
def usual() -> tuple[Page, ...]:
    return label_pages(book_of(job()))


def pages(of: Config | None = None) -> tuple[Page, ...]:
    return usual() if of is None else label_pages(replace(book_of(job()), config=of))


@cache
def labels() -> tuple[Label, ...]:
    return label_rows(book_of(job()))


def box(thing: Thing) -> tuple[float, float, float, float]:
    """Left, top, right, bottom; of a text no smaller than it is."""
    if isinstance(thing, Stroke):
        xs, ys = zip(*thing.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)
    assert isinstance(thing, Text)
    wide, tall = text_width(thing.text, thing.size, bold=thing.bold), thing.size * 25.4 / 72.0 * 0.729
    left = thing.at[0] - wide * {"left": 0.0, "centre": 0.5, "right": 1.0}[thing.anchor]
    return left, thing.at[1] - tall / 2.0, left + wide, thing.at[1] + tall / 2.0


def frames(page: Page) -> list[tuple[float, float, float, float]]:
    """Of the labels: what the first page draws to lay over a sheet."""
    grey = [thing for thing in page.things if isinstance(thing, Outline) and not thing.fill]
    return [box(thing) for thing in grey]


def framed(all_pages: Sequence[Page]) -> Iterator[tuple[tuple[int, int], list[Thing]]]:
    """The things of each label: the frame that holds them whole."""
    places = frames(all_pages[0])
    for number, page in enumerate(all_pages[1:]):
        found: dict[int, list[Thing]] = {}
        for thing in page.things:
            assert not isinstance(thing, Disc)
            left, top, right, bottom = box(thing)
            whole = (n for n, (x, y, u, v) in enumerate(places) if x < left and y < top and right < u and bottom < v)
            inside = next(whole, None)
            assert inside is not None, thing
            found.setdefault(inside, []).append(thing)
        yield from (((number, place), found[place]) for place in sorted(found))


def test_every_piece_that_is_cut_has_one_label_in_the_order_of_the_boards() -> None:
    one = job()
    ids = [label.id for label in labels()]
    assert sorted(ids) == sorted(part.id for part in one.parts if part.bought)
    on_boards = [cut.part for board in one.plan.boards for cut in board.cuts]
    assert ids[: len(on_boards)] == on_boards
    drawn = [thing for page in pages()[1:] for thing in page.things if isinstance(thing, Text) and thing.bold]
    assert [thing.text for thing in drawn if thing.text in ids] == ids


def test_lengths_and_places_are_those_of_the_cut_list() -> None:
    one = job()
    rows = {row.id: row for row in cut_list_rows(one.parts, one.plan, one.config)}
    for label in labels():
        row = rows[label.id]
        assert (label.length, label.stock) == (row.length, f"{row.stock} {row.species}")
        assert label.where == ", ".join(
            filter(None, [row.board and f"board {row.board}", row.slot and f"slot {row.slot}"])
        )
    code = code_of(one)
    assert sum(code in text for text in texts(pages()[1:])) == len(rows)


def test_what_waits_says_so_on_its_own_label() -> None:
    one = job()
    waits = waits_for(one.parts, one.config.field, one.config.done.cut)
    assert waits
    by_id = {label.id: label for label in labels()}
    for part in one.parts:
        if part.bought:
            assert by_id[part.id].state.startswith("NOT YET: ") == (part.id in waits)
    for _, things in framed(pages()):
        said = [thing.text for thing in things if isinstance(thing, Text)]
        assert any(text.startswith("NOT YET") for text in said) == (said[0] in waits or said[1] in waits)


def test_arrows_point_where_a_piece_that_is_seen_from_above_has_them() -> None:
    one = job()
    by_id: dict[str, Part] = {part.id: part for part in one.parts}
    seen = 0
    for label in labels():
        part = by_id[label.id]
        places = dict(zip(part.meets, part.axis, strict=True))
        across = Line.through(*(places[name] for name in label.ends))
        if part.kind == "slat" and part.coffer:
            coffer = one.layout.coffer(part.coffer)
            start = coffer.sides[coffer.start_side]
            assert label.up == f"{coffer.id}, start {start.against}"
            assert across.offset(start.middle) > 0.0
            seen += 1
        elif part.kind == "trim" and part.coffer:
            side = one.layout.coffer(part.coffer).sides[int(part.id[-1]) - 1]
            assert label.up.startswith(f"{part.coffer}, against {side.against}")
            assert across.offset(centroid(one.layout.coffer(part.coffer).outline)) < 0.0
            seen += 1
    assert seen > 50


GRIDS = (
    ("", LETTER, 30),
    ('sheet = "a4"', A4, 24),
    ("skip = 29", LETTER, 30),
    ('columns = 2\nwidth = "4 in"\nrows = 5\nheight = "2 in"', LETTER, 10),
    ('columns = 4\nwidth = "2 in"\nacross = "2 1/16 in"', LETTER, 40),
)


@pytest.mark.parametrize(("grid", "paper", "count"), GRIDS, ids=[grid or "usual" for grid, _, _ in GRIDS])
def test_every_label_stays_in_its_frame(grid: str, paper: Spot, count: int) -> None:
    made = with_grid(grid)
    drawn = pages(made)
    assert {page.size for page in drawn} == {paper}
    places = frames(drawn[0])
    assert len(places) == count
    assert all(x >= 0.0 and y >= 0.0 and u <= paper[0] + 1e-9 and v <= paper[1] + 1e-9 for x, y, u, v in places)
    order = [place for place, _ in framed(drawn)]
    first = made.labels.grid.skip
    assert [page * count + place for page, place in order] == list(range(first, first + len(labels())))


def test_hostile_names_stay_in_their_frames_and_are_only_text() -> None:
    one = job()
    part = next(part for part in one.parts if part.kind == "slat")
    sheets: list[Page] = []
    for name in HOSTILE:
        odd = replace(part, meets=(name, name + "2"), stock=name[:40])
        others = tuple(odd if other is part else other for other in one.parts)
        titled = one.config.model_copy(update={"title": name})
        drawn = label_pages(replace(book_of(one), parts=others, config=titled))
        held = next(page for page in drawn[1:] if part.id in [*texts([page])])
        assert len([*framed((drawn[0], held))]) == len(frames(drawn[0]))
        sheets += [drawn[0], replace(held, things=tuple(thing for thing in held.things if isinstance(thing, Text)))]
    assert pdf_bytes(sheets, HOSTILE[0]).startswith(b"%PDF")


def test_a_square_has_the_modules_of_its_code() -> None:
    import segno

    matrix = segno.make_qr("C5-S03", error="m").matrix
    n = len(matrix)
    dark = [[0] * n for _ in range(n)]
    for thing in square_code("C5-S03", (10.0, 20.0), n + 8.0):
        left, top, right, bottom = box(thing)
        for row in range(round(top - 24.0), round(bottom - 24.0)):
            for column in range(round(left - 14.0), round(right - 14.0)):
                dark[row][column] += 1
    assert dark == [[*map(int, row)] for row in matrix]


def test_another_program_reads_every_square_of_a_printed_sheet(tmp_path: Path) -> None:
    zxing = pytest.importorskip("zxingcpp", reason="no reader of square codes is here: pip install zxing-cpp")
    (tmp_path / "labels.pdf").write_bytes(pdf_bytes(pages()[1:2], "labels"))
    read = {found.text for found in zxing.read_barcodes(picture(tmp_path / "labels.pdf"))}
    assert read == {label.id for label in labels()[:30]}


def test_nothing_cut_no_labels() -> None:
    one = job()
    kept = tuple(part for part in one.parts if not part.bought)
    assert label_pages(replace(book_of(one), parts=kept, plan=sawing.plan())) == ()


BAD = (
    ("columns = 4", "columns: got 4, which is not the usual sheet of 3 x 10: width must be given too"),
    ("rows = 12\nheight = 1", "rows: got 12, which need 1 ft with top, down and height; letter has 11 in"),
    ('width = "1 in"', "width: got 1 in, must be 2 in or more"),
    ('across = "2 in"', "across: got 2 in, must be width or more, 2 5/8 in"),
    ('side = "1 in"', "columns: got 3, which need 9 1/8 in with side, across and width; letter has 8 1/2 in"),
    ("skip = 30", "skip: got 30, must be less than the 30 labels of a sheet"),
    ('sheet = "a5"', 'sheet: got "a5", must be "letter" or "a4"'),
    ('sheet = "a4"\nrows = 10', "rows: got 10, which is not the usual sheet of 3 x 8: height must be given too"),
)


@pytest.mark.parametrize(("grid", "message"), BAD, ids=[grid for grid, _ in BAD])
def test_a_grid_that_cannot_be_is_told(grid: str, message: str) -> None:
    from lacunar.errors import ConfigError

    with pytest.raises(ConfigError) as error:
        with_grid(grid)
    (problem,) = error.value.problems
    assert f"labels.grid.{message}" in str(problem)


def test_margins_that_are_not_given_are_alike_on_both_sides() -> None:
    for grid in ('columns = 2\nwidth = "3 in"', 'sheet = "a4"\ncolumns = 2\nwidth = "100 mm"\nacross = "102 mm"'):
        made = with_grid(grid).labels.grid
        paper = LETTER if made.sheet == "letter" else A4
        assert math.isclose(made.side, paper[0] - made.side - made.across - made.width)
