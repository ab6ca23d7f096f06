"""templates.pdf: marks where the layout has them, across tiles, in full size, seen from the right side."""

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

import pytest
import shapely

from lacunar.book import template_pages
from lacunar.book.beam_sticks import beam_sticks
from lacunar.book.coffer_sticks import coffer_sticks
from lacunar.book.flat_templates import Template, template_tile, windows
from lacunar.book.pocket_templates import ALIKE, places_on, pocket_templates
from lacunar.book.stick_tiles import CAPTION, OVERLAP, WIDE, tile_count, tile_numbers, tile_things, window
from lacunar.book.sticks import SAME, Band, Stick, gathered
from lacunar.config import read_config_text
from lacunar.drawings import A4, LETTER, Page, Spot, Stroke, Text, ids_text, texts
from lacunar.geometry import Line, Point, middle
from lacunar.job import book_of, code_of
from lacunar.layout import Bar, Side, running_dimensions
from lacunar.tape import Tape
from lacunar.units import INCH
from reports.reporting import TEXT, job

EXACT = 0.01
"""mm. Of a mark on the paper."""
ROOM = LETTER[1] - 24.0

Key = tuple[str, str]
"""What a stick is called, and what it shows."""


@cache
def pages() -> tuple[Page, ...]:
    return template_pages(book_of(job()))


@dataclass(frozen=True)
class Tile:
    """A lane of a page, its lines as places along the stick."""

    number: int
    count: int
    span: tuple[float, float]
    lines: tuple[tuple[float, float, float], ...]
    """Along the stick, from where to where across it, mm from its upper edge."""
    crosses: tuple[float, ...]


@cache
def tiles() -> dict[Key, list[Tile]]:
    found: dict[Key, list[Tile]] = {}
    for page in pages():
        for thing in page.things:
            if isinstance(thing, Text) and (told := re.match(r"([^:]+): ([^;]+), tile (\d+) of (\d+)", thing.text)):
                number, top = int(told[3]) - 1, thing.at[1] - 2.4 + CAPTION
                first = number * (ROOM - OVERLAP)
                upright = [*_upright(page, thing.at[0], top)]
                lines = tuple((first + x, a, b) for x, a, b in upright if not (a >= 11.0 - 0.01 and b <= 21.0 + 0.01))
                crosses = tuple(first + x for x, a, b in upright if math.isclose(b - a, 10.0))
                tile = Tile(number, int(told[4]), (first, first + ROOM), lines, crosses)
                found.setdefault((told[1], told[2]), []).append(tile)
    return found


def _upright(page: Page, left: float, top: float) -> Iterator[tuple[float, float, float]]:
    for thing in page.things:
        if isinstance(thing, Stroke) and len(thing.points) == 2:
            (ax, ay), (bx, by) = thing.points
            if math.isclose(ax, bx) and top - 0.01 <= min(ay, by) and max(ay, by) <= top + WIDE + 0.01:
                yield ax - left, min(ay, by) - top, max(ay, by) - top


def sticks() -> tuple[Stick, ...]:
    return (*beam_sticks(book_of(job())), *coffer_sticks(job().layout))


@cache
def printed() -> tuple[Stick, ...]:
    return gathered(sticks())


def drawn_at(one: Key, at: float, half: str) -> None:
    """Every printed tile that reaches a place has a line there that comes to the edge, and one tile does."""
    stick = next(stick for stick in printed() if one[0] in stick.names and stick.shows == one[1])
    key, within = (ids_text(stick.names), one[1]), EXACT if stick.names[0] == one[0] else SAME + EXACT
    reaching = [tile for tile in tiles()[key] if tile.span[0] <= at <= tile.span[1]]
    assert reaching, f"{key}: no tile at {at}"
    for tile in reaching:
        near = [(a, b) for x, a, b in tile.lines if abs(x - at) <= within]
        reach = any(abs(a) < 0.01 for a, _ in near) if half == "upper" else any(abs(b - WIDE) < 0.01 for _, b in near)
        assert reach, f"{key}: no {half} line at {at:.3f} on tile {tile.number + 1}"


def upper_side(way: Point) -> Point:
    """Where the upper edge lies of what is read from below along a way: to its right hand."""
    return way[1], -way[0]


def stand(beam: Bar, piece: Bar, end: int) -> list[tuple[float, Point]]:
    """Where both long edges of a piece, drawn on, come to a beam: how far from its end at the wall, and where."""
    axis, ring = Line.through(*beam.axis), shapely.Polygon(beam.outline)
    found: list[tuple[float, Point]] = []
    for by in (piece.width / 2.0, -piece.width / 2.0):
        line = Line.through(piece.axis[1 - end], piece.axis[end]).shifted(by)
        reach = shapely.LineString([line.at(0.0), line.at(math.dist(*piece.axis) + beam.width)])
        x, y = shapely.get_coordinates(shapely.intersection(reach, ring))[0].tolist()
        corners = [point for point in beam.outline if axis.offset(point) * axis.offset((x, y)) > 0.0]
        start = min(corners, key=axis.along)
        found.append((math.dist(start, (x, y)), (x, y)))
    return found


def test_rows_stand_on_the_faces_of_beams_where_their_pieces_meet_them() -> None:
    layout, seen = job().layout, 0
    for beam in layout.beams:
        way = Line.through(*beam.axis).direction
        up = Line(middle(*beam.axis), upper_side(way))
        for piece in layout.pieces:
            for end in (0, 1):
                if piece.meets[end] == beam.id:
                    for at, spot in stand(beam, piece, end):
                        half = "upper" if up.along(spot) > 0.0 else "lower"
                        drawn_at((beam.id, "where the pieces of every row stand"), at, half)
                        seen += 1
    assert seen == 2 * 2 * 2 * 2  # beams, rows, faces, edges


def test_the_end_that_is_held_is_named_and_drawn_heavy() -> None:
    for beam in job().layout.beams:
        (stick,) = (stick for stick in sticks() if stick.names == (beam.id,))
        assert stick.hold == beam.meets[0] == "AB"
        up = Line(middle(*beam.axis), upper_side(Line.through(*beam.axis).direction))
        walls = {"DA face": 0.0, "BC face": 0.0} | {f"{other.id} face": 0.0 for other in job().layout.beams}
        assert {*stick.edges} <= {*walls}
        upper = next(
            other for other in (*job().layout.beams, None) if other is None or f"{other.id} face" == stick.edges[0]
        )
        if upper is not None:
            assert up.along(middle(*upper.axis)) > 0.0
    first = next(page for page in pages() if any("E1: " in text for text in texts([page])))
    heavy = [thing for thing in first.things if isinstance(thing, Stroke) and thing.width == 0.9]
    assert heavy
    assert any(text.startswith("E1 at AB") for text in texts([first]))


def test_slats_lie_at_their_running_dimensions() -> None:
    layout = job().layout
    slats = {slat.id: slat for slat in layout.slats}
    for running in running_dimensions(layout):
        coffer, key = layout.coffer(running.coffer), (running.coffer, "both edges of every slat")
        (stick,) = (stick for stick in sticks() if (stick.names, stick.shows) == ((key[0],), key[1]))
        assert stick.hold == coffer.sides[coffer.start_side].against
        way = (-running.base.left[0], -running.base.left[1])
        up = Line(middle(*(running.base.at(at) for at in (0.0, running.length))), upper_side(way))
        # The first corner of the start side lies at the upper edge.
        assert up.along(running.base.at(0.0)) > 0.0
        n = len(coffer.sides)
        assert stick.edges == tuple(coffer.sides[(coffer.start_side + by) % n].against for by in (-1, 1))
        for mark in running.marks:
            slat = slats[f"{coffer.id}-S{mark.number:02}"]
            lean = math.hypot(1.0, (mark.end - mark.start) / running.length)
            for near, half in ((mark.start, "upper"), (mark.end, "lower")):
                drawn_at(key, near, half)
                if slat.width_end is None and not slat.ripped:
                    drawn_at(key, near + slat.width * lean, half)


def test_joists_are_marked_where_they_cross_the_sides_of_a_coffer() -> None:
    layout, seen = job().layout, 0
    for coffer in layout.coffers:
        stick = next((one for one in sticks() if (one.names, one.shows) == ((coffer.id,), "joists")), None)
        if stick is None:
            continue
        (side,) = (side for side in coffer.sides if side.against == stick.hold)
        way = (-side.line.left[0], -side.line.left[1])
        up = Line(middle(*side_ends(side)), upper_side(way))
        ring = shapely.LinearRing(coffer.outline)
        for joist in layout.joists.lines:
            reach = shapely.intersection(shapely.LineString([joist.at(-1e5), joist.at(1e5)]), ring)
            for x, y in shapely.get_coordinates(reach).tolist():
                off = float(shapely.LineString([side.line.at(-1e5), side.line.at(1e5)]).distance(shapely.Point(x, y)))
                drawn_at((coffer.id, "joists"), off, "upper" if up.along((x, y)) > 0.0 else "lower")
                seen += 1
    assert seen > 10


def side_ends(side: Side) -> tuple[Point, Point]:
    return side.start, side.end


def test_tiles_overlap_and_their_crosses_fall_on_each_other() -> None:
    for stick in printed():
        mine = {tile.number: tile for tile in tiles()[ids_text(stick.names), stick.shows]}
        assert {*mine} == {*tile_numbers(stick, ROOM)}
        assert {tile.count for tile in mine.values()} == {tile_count(stick, ROOM)}
        assert 0 in mine
        for number, tile in mine.items():
            if number + 1 in mine:
                (_, end), (begin, _) = window(stick, number, ROOM), window(stick, number + 1, ROOM)
                assert end - begin == pytest.approx(OVERLAP)
                assert max(tile.crosses) == pytest.approx(min(mine[number + 1].crosses))
                assert begin < max(tile.crosses) < end
        marks = [at for band in stick.bands for at in (band.start, band.end)]
        assert all(any(tile.span[0] <= at <= tile.span[1] for tile in mine.values()) for at in marks)


def test_every_printed_tile_has_a_mark_of_the_tape() -> None:
    for units, apart in (("in", 6.0 * INCH), ("mm", 100.0)):
        stick = Stick(names=("E1",), shows="rows", hold="AB", edges=("a", "b"), length=5000.0, bands=())
        tape = Tape(units=units, read_to=1.0)  # pyright: ignore[reportArgumentType]
        for number in range(3):
            first, last = window(stick, number, ROOM)
            short = [
                first + thing.points[0][0]
                for thing in tile_things(stick, "E1", number, ROOM, tape)
                if isinstance(thing, Stroke) and math.isclose(abs(thing.points[0][1] - thing.points[1][1]), 3.0)
            ]
            wanted = [n * apart for n in range(1, 60) if first <= n * apart <= last]
            assert wanted
            assert sorted({round(at, 6) for at in short}) == pytest.approx(wanted)


@pytest.mark.parametrize(("units", "long"), [("in", 4.0 * INCH), ("mm", 100.0)])
def test_every_sheet_has_a_ruler_the_code_and_what_it_is_good_for(units: str, long: float) -> None:
    drawn, code = pages(), code_of(job())
    if units == "mm":
        metric = read_config_text(f'units = "mm"\n{TEXT}', "study.toml")
        drawn = template_pages(replace(book_of(job()), config=metric))
    assert {page.size for page in drawn} <= {(*paper,) for size in (LETTER, A4) for paper in (size, size[::-1])}
    for page in drawn:
        level = [
            thing
            for thing in page.things
            if isinstance(thing, Stroke) and thing.width == 0.3 and len(thing.points) == 2
        ]
        lengths = [math.dist(*thing.points) for thing in level if thing.points[0][1] == thing.points[1][1]]
        assert any(math.isclose(one, long, abs_tol=1e-9) for one in lengths)
        said = [*texts([page])]
        assert any(f"plan {code}" in text and "good for: look" in text for text in said)


def test_the_index_says_on_which_sheets_a_stick_is() -> None:
    count = next(n for n, page in enumerate(pages()) if not any("index" in text for text in texts([page])))
    told: list[str] = [text for page in pages()[:count] for text in texts([page])]
    for stick in printed():
        name = ids_text(stick.names)
        where = [
            n - count + 1
            for n, page in enumerate(pages())
            if any(text.startswith(f"{name}: {stick.shows}, tile") for text in texts([page]))
        ]
        row = told.index(f"{stick.shows}; hold at {stick.hold}", told.index(name))
        while told[row - 1] != name:
            row = told.index(f"{stick.shows}; hold at {stick.hold}", row + 1)
        sheets = f"{where[0]}" if len(where) == 1 else f"{where[0]} to {where[-1]}"
        assert told[row + 2] == sheets
        assert [*range(where[0], where[-1] + 1)] == where


def test_nothing_leaves_its_sheet() -> None:
    for page in pages():
        for thing in page.things:
            for x, y in thing.points if isinstance(thing, Stroke) else (thing.at,):
                assert 5.0 <= x <= page.size[0] - 5.0
                assert 5.0 <= y <= page.size[1] - 5.0


def test_alike_sticks_are_one_with_both_names() -> None:
    band = Band(kind="slat", name="S01", start=6.0, end=95.0, half="both")
    held = "the start side"
    one = Stick(names=("C1",), shows="slats", hold="AB", held=held, edges=("DA", "E1"), length=900.0, bands=(band,))
    same, other = replace(one, names=("C2",), edges=("E1", "BC")), replace(one, bands=(replace(band, end=95.2),))
    below = replace(same, names=("C4",), hold="X1-1")
    first, second = gathered((one, replace(other, names=("C3",)), same, below))
    assert (first.names, first.hold, second.names) == (("C1", "C2", "C4"), held, ("C3",))
    assert gathered((one, same))[0].hold == "AB"


def test_sticks_whose_edges_differ_are_one_only_where_they_lie_along_the_same() -> None:
    bands = (
        Band(kind="slat", name="S01", start=6.0, end=95.0, half="upper"),
        Band(kind="slat", name="S01", start=7.0, end=96.0, half="lower"),
    )
    one = Stick(names=("C1",), shows="slats", hold="AB", held="x", edges=("DA", "E1"), length=900.0, bands=bands)
    assert len(gathered((one, replace(one, names=("C2",), edges=("E1", "BC"))))) == 2
    assert len(gathered((one, replace(one, names=("C2",), hold="CD")))) == 1


def test_pockets_are_where_their_mouths_are() -> None:
    parts, tape = job().parts, job().config.tape
    made = [*pocket_templates(parts, tape)]
    used = 0
    for part in parts:
        for pocket in part.pockets:
            x, y, z = pocket.mouth
            from_end = min(math.dist((x, y), corner) for corner in part.outline)
            from_edge = (part.top.at((x, y)) - z) if pocket.level == "high" else z - part.bottom.at((x, y))
            holes = places_on(part, pocket.end, pocket.side)
            found = [hole for hole in holes if hole.pocket.level == pocket.level]
            assert any(
                abs(hole.from_end - from_end) < EXACT and abs(hole.from_edge - from_edge) < EXACT for hole in found
            )
            used += 1
    assert used
    assert all("15 deg to the face" in template.notes[0] for template in made)
    for template in made:
        crosses = [*_centres(template.strokes)]
        at_right = template.strokes[2].points[0][0] > 0.0
        users = re.findall(r"(\S+): (\S+) face, end at (\S+?)(?:;|$)", template.notes[-1].removeprefix("For "))
        assert users
        for name, face, met in users:
            part = next(part for part in parts if part.id == name)
            end, hand = part.meets.index(met), "left" if part.beside[0] == face else "right"
            holes = places_on(part, end, hand)  # pyright: ignore[reportArgumentType]
            assert len(holes) == len(crosses)
            for hole, (x, y) in zip(holes, crosses, strict=True):
                across = template.size[0] - x if at_right else x
                assert abs(across - hole.from_end) <= ALIKE + EXACT
                edge = y if hole.pocket.level == "high" else template.size[1] - y
                assert abs(edge - hole.from_edge) <= ALIKE + EXACT
            # Who stands before a face has up overhead, and the end where the template has it.
            out = part.pockets[0].normal if part.pockets[0].side == hand else None
            out = out or next(pocket.normal for pocket in part.pockets if pocket.side == hand)
            to_end = Line.through(part.axis[1 - end], part.axis[end]).direction
            right_hand = (-out[1], out[0])  # up x towards the one who looks
            assert (to_end[0] * right_hand[0] + to_end[1] * right_hand[1] > 0.0) == at_right


def _centres(strokes: Sequence[Stroke]) -> Iterator[Spot]:
    for stroke in strokes:
        if len(stroke.points) == 2 and math.isclose(math.dist(*stroke.points), 12.0) and stroke.width == 0.2:
            (ax, ay), (bx, by) = stroke.points
            if ay == by:
                yield (ax + bx) / 2.0, (ay + by) / 2.0


def test_a_wide_template_is_tiled_both_ways_without_a_gap() -> None:
    ring = tuple((200.0 + 180.0 * math.cos(a / 20.0), 250.0 + 220.0 * math.sin(a / 20.0)) for a in range(126))
    wide = Template(name="lamp", shows="the hole", size=(400.0, 500.0), strokes=(Stroke(points=ring),), labels=())
    room = (190.0, 230.0)
    cells = windows(wide, room)
    assert len(cells) == 3 * 3
    drawn: list[shapely.LineString] = []
    crosses: dict[Spot, int] = {}
    for row, column in cells:
        left, top = column * (room[0] - OVERLAP), row * (room[1] - OVERLAP)
        for thing in template_tile(wide, (row, column), room):
            assert isinstance(thing, Stroke)
            moved = [(x + left, y + top) for x, y in thing.points]
            if len(moved) == 2 and thing.width == 0.15:
                (ax, ay), (bx, by) = moved
                at = (round((ax + bx) / 2.0, 6), round((ay + by) / 2.0, 6))
                crosses[at] = crosses.get(at, 0) + 1
            elif thing.width == 0.25:
                drawn.append(shapely.LineString(moved))
    whole = shapely.LineString(ring)
    assert shapely.difference(whole, shapely.buffer(shapely.union_all(drawn), 1e-6)).length < EXACT
    assert shapely.difference(shapely.union_all(drawn), shapely.buffer(whole, 1e-6)).length < EXACT
    # Two strokes a cross, on two tiles at least.
    assert all(count >= 4 for count in crosses.values())
