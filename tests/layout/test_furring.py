"""Furring: closed forms in rooms at right angles, and what holds of it in every room."""

import math

import pytest
from hypothesis import example
from hypothesis import strategies as st
from shapely import Point as Spot
from shapely import Polygon

from lacunar.config import Config
from lacunar.errors import LayoutError
from lacunar.geometry import Line
from lacunar.layout import FurringStrip, Layout, arrange_layout
from lacunar.layout.furring_places import FROM_CUT_OUT, LEAST_PIECE
from lacunar.parts import cut_to, make_parts
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quad, quads, sampled, text_of

INCH = 25.4
STRIP = 2.5 * INCH
ALONG_AB = '[framing]\njoists = { along = "AB", first = 200, spacing = 400 }\n'
ALONG_DA = '[framing]\njoists = { along = "DA", first = 200, spacing = 400 }\n'
BARE = Wish(beams=0, cross=False, run="AB")
INCHES = ("first = 8, spacing = 16", 'AB = "10 ft"\nBC = "8 ft"')
JUST_ASKEW = Quad(a=(0.0, 2428.0), b=(2600.0, 2443.0), c=(2600.0, 0.0), d=(0.0, 0.0))
LIGHT = '[[fixture]]\nname = "light"\nshape = "round"\nsize = 101.6\nat = {{ AB = {y}, DA = {x} }}\n'


def furred(room: Quad, wish: Wish, more: str, stock: str = '"1x3"') -> tuple[Config, Layout]:
    text, table = text_of(room, wish, more), f"[furring]\nstock = {stock}\n" if stock else "[furring]\n"
    config = config_of(text.replace("[furring]\n", table) if "[furring]\n" in text else text + table)
    return config, arrange_layout(solve_survey(config), config)


def middle(one: FurringStrip) -> tuple[float, float]:
    return (one.axis[0][0] + one.axis[1][0]) / 2.0, (one.axis[0][1] + one.axis[1][1]) / 2.0


def test_strips_across_slats_that_run_along_the_joists() -> None:
    """One coffer of 3000 by 2400: the outer strips' edges 1/4 in from DA and BC, the others evenly between."""
    _, layout = furred(quad(3000.0, 2400.0), BARE, ALONG_AB)
    strips = layout.furring_strips
    first, last = INCH / 4.0 + STRIP / 2.0, 3000.0 - INCH / 4.0 - STRIP / 2.0
    steps = math.ceil((last - first) / 400.0)
    places = [first + (last - first) * k / steps for k in range(steps + 1)]
    assert [one.id for one in strips] == [f"C1-F{k + 1}" for k in range(steps + 1)]
    assert [middle(one) for one in strips] == [pytest.approx((x, 1200.0)) for x in places]
    # The first end is the one nearer A, at the top of the page.
    assert all(one.axis[0][1] > one.axis[1][1] for one in strips)
    # 1/4 in short at each end to the nearest 1/16 in; from 1/8 to 1/2 in will do.
    assert {round(one.length, 6) for one in strips} == {round(round((2400.0 - INCH / 2.0) * 16 / INCH) * INCH / 16, 6)}
    assert all(one.interval == pytest.approx((2400.0 - INCH, 2400.0 - INCH / 4.0)) for one in strips)
    assert {one.grow for one in strips} == {(0.5, 0.5)}


def test_screws_stand_on_every_joist_that_a_strip_crosses() -> None:
    _, layout = furred(quad(3000.0, 2400.0), BARE, ALONG_AB)
    one = layout.furring_strips[2]
    # Joists at 200, 600, ... 2200 below AB, which lies at 2400.
    assert one.joists == (1, 2, 3, 4, 5, 6)
    x, off = middle(one)[0], STRIP / 2.0 - 0.75 * INCH
    wanted = sorted((x + side, 2400.0 - at) for at in range(200, 2400, 400) for side in (-off, off))
    assert sorted(one.nails) == [pytest.approx(screw) for screw in wanted]


def test_two_strips_stand_beside_a_cut_out() -> None:
    _, plain = furred(quad(3000.0, 2400.0), BARE, ALONG_AB)
    # A light in the middle of a slat, which it severs.
    y = 2400.0 - plain.slats[12].axis[0][1]
    _, layout = furred(quad(3000.0, 2400.0), BARE, ALONG_AB + LIGHT.format(x=1500, y=y))
    at = [middle(one)[0] for one in layout.furring_strips]
    off = 2.0 * INCH + INCH / 16.0 + INCH / 2.0 + STRIP / 2.0
    first, beside = INCH / 4.0 + STRIP / 2.0, 1500.0 - off
    steps = math.ceil((beside - first) / 400.0)
    half = [first + (beside - first) * k / steps for k in range(steps + 1)]
    assert at == pytest.approx([*half, *(3000.0 - x for x in reversed(half))])
    severed = [slat for slat in layout.slats if slat.id[-1] in "ab"]
    assert [len(slat.furring) for slat in severed] == [len(half)] * 2
    whole = {len(slat.furring) for slat in layout.slats if slat not in severed}
    assert whole == {2 * len(half)}


def test_strips_under_the_joists_where_slats_cross_them() -> None:
    _, layout = furred(quad(3000.0, 2400.0), BARE, ALONG_DA + "[furring]\nuse = true\n")
    strips = layout.furring_strips
    # Joists at 200, 600, ... 2600 from DA, the last at 3000 in the wall.
    assert [middle(one)[0] for one in strips] == pytest.approx([200.0, 600.0, 1000.0, 1400.0, 1800.0, 2200.0, 2600.0])
    assert [one.joists for one in strips] == [(k,) for k in range(1, 8)]
    assert all(one.under_joist for one in strips)
    (length,) = {round(one.length, 6) for one in strips}
    # From 2 in before each end, 400 mm apart at most.
    count = math.ceil((length - 4.0 * INCH) / 400.0) + 1
    assert {len(one.nails) for one in strips} == {count}
    start, end = 1200.0 + length / 2.0 - 2.0 * INCH, 1200.0 - length / 2.0 + 2.0 * INCH
    assert sorted(y for _, y in strips[0].nails) == pytest.approx(
        sorted([start + (end - start) * k / (count - 1) for k in range(count)])
    )


@pytest.mark.parametrize(
    ("first", "x"),
    [
        # In the middle of the joist while 1/8 in are free beside it.
        (36.0, 36.0),
        # Moved aside to 1/8 in from the wall.
        (30.0, STRIP / 2.0 + INCH / 8.0),
        # The joist's middle would be less than 3/8 in inside: 1/8 + 3/8 in is the last place.
        (13.0, STRIP / 2.0 + INCH / 8.0),
        (12.0, None),
    ],
)
def test_a_strip_moves_aside_under_a_joist_beside_the_wall(first: float, x: float | None) -> None:
    joists = f'[framing]\njoists = {{ along = "DA", at = [{first}, 1000] }}\n[furring]\nuse = true\n'
    _, layout = furred(quad(3000.0, 2400.0), BARE, joists)
    at = [middle(one)[0] for one in layout.furring_strips]
    assert at == pytest.approx([1000.0] if x is None else [x, 1000.0])
    if x is not None:
        # Screws stay on the joist's centre line.
        assert {round(screw[0], 6) for screw in layout.furring_strips[0].nails} == {first}


def test_a_strip_under_a_joist_is_cut_round_a_cut_out() -> None:
    more = ALONG_DA + LIGHT.format(x=1000, y=900) + "[furring]\nuse = true\n"
    _, layout = furred(quad(3000.0, 2400.0), BARE, more)
    pieces = [one for one in layout.furring_strips if one.number == 3]
    assert [one.id for one in pieces] == ["C1-F3a", "C1-F3b"]
    assert [one.grow for one in pieces] == [(1.0, 0.0), (0.0, 1.0)]
    # 900 below AB: the hole is 2 1/16 in to each side, and 1/2 in stays free.
    off = 2.0 * INCH + INCH / 16.0 + INCH / 2.0
    assert pieces[0].axis[1][1] == pytest.approx(1500.0 + off)
    assert pieces[1].axis[0][1] == pytest.approx(1500.0 - off)


@pytest.mark.parametrize(
    ("run", "joists", "use", "has"),
    [
        ("AB", ALONG_AB, '"auto"', True),
        ("BC", ALONG_AB, '"auto"', False),
        ("AB", "", '"auto"', False),  # a guess is no reason to buy wood
        ("AB", "", "true", True),
        ("BC", ALONG_AB, "true", True),
        ("AB", ALONG_AB, "false", False),
    ],
)
def test_when_there_is_furring(run: str, joists: str, use: str, has: bool) -> None:
    text = f"{joists}[furring]\nuse = {use}\n"
    _, layout = furred(quad(3000.0, 2400.0), Wish(beams=0, cross=False, run=run), text)
    assert (layout.furring is not None) == has
    (coffer,) = layout.coffers
    assert (layout.backing(coffer).z0 == coffer.ceiling.z0 - 0.75 * INCH) == has
    if layout.furring is not None:
        assert layout.furring.missed == (("C1",) if "auto" in use else ())
        assert all(slat.joists == () and len(slat.furring) >= 2 for slat in layout.slats)
    else:
        assert all(slat.furring == () for slat in layout.slats)


@pytest.mark.parametrize(
    ("units", "fasteners", "length"),
    [
        ("in", "", 1.5 * INCH),
        ("mm", "", 38.0),
        ("in", '[fasteners]\nslat = { length = "2 in" }\n', 2.0 * INCH),
        ("in", "[fasteners]\nslat = { gauge = 18 }\n", 1.5 * INCH),
    ],
)
def test_a_nail_that_nobody_has_chosen_stays_in_the_furring(units: str, fasteners: str, length: float) -> None:
    joists, room = ("first = 200, spacing = 400", "AB = 3000\nBC = 2400") if units == "mm" else INCHES
    config = config_of(
        f'units = "{units}"\n[room]\nheight = "2700 mm"\n[room.measured]\n{room}\n'
        f'[slats]\nthickness = "3/4 in"\nwidth = "3 1/2 in"\nrun = "AB"\n'
        f'[framing]\njoists = {{ along = "AB", {joists} }}\n{fasteners}'
    )
    layout = arrange_layout(solve_survey(config), config)
    assert layout.furring is not None
    assert layout.nailing.length == pytest.approx(length)


@pytest.mark.parametrize("at", range(2888, 2918, 2))
def test_no_strip_may_be_so_short_that_a_nail_stands_beyond_it(at: int) -> None:
    """BC leans by 100 over 2400, so that it ends the strip under a joist beside it somewhere between two nails."""
    joists = f'[framing]\njoists = {{ along = "DA", at = [1000, {at}] }}\n[furring]\nuse = true\n'
    _, layout = furred(quad(3000.0, 2400.0, (0.0, -100.0, 0.0, 0.0, 0.0)), BARE, joists)
    parts = [part for part in make_parts(layout) if part.kind in ("furring", "slat")]
    last = next(part for part in parts if part.id == "C1-F2")
    assert last.interval is not None
    assert last.length < 2300.0
    (short,) = (part for part in cut_to(parts, {last.id: last.interval[0]}) if part.id == last.id)
    nails = [nail for slat in layout.slats for nail in slat.nails if abs(nail[0] - last.axis[0][0]) < 60.0]
    assert len(nails) > 4
    assert all(Polygon(short.outline).covers(Spot(nail)) for nail in nails)


@sampled(
    25,
    100,
    room=quads(),
    beams=st.integers(0, 3),
    rows=st.integers(0, 3),
    light=st.tuples(st.floats(0.1, 0.9), st.floats(0.1, 0.9)),
    across=st.booleans(),
    wedge=st.sampled_from(["auto", "taper", "fan"]),
)
@example(room=quad(3000.0, 2400.0), beams=1, rows=1, light=(0.5, 0.5), across=False, wedge="auto")
# A strip beside the light, not square to the axes: a corner of what is kept clear reached 0.001 mm into it.
@example(room=JUST_ASKEW, beams=3, rows=3, light=(0.703125, 0.75), across=False, wedge="auto")
def test_furring_in_every_room(
    room: Quad, beams: int, rows: int, light: tuple[float, float], across: bool, wedge: str
) -> None:
    """Slats along the joists, or across them with furring asked for; a light anywhere, beams and walls askew."""
    wish = Wish(beams=beams, rows=rows, run="across" if across else "with", wedge=wedge)
    more = ALONG_DA + "[furring]\nuse = true\n" + LIGHT.format(x=light[0] * 2600.0, y=light[1] * 2400.0)
    try:
        config, layout = furred(room, wish, more)
    except LayoutError:
        return
    coffers = {coffer.id: Polygon(coffer.outline) for coffer in layout.coffers}
    shapes = {one.id: Polygon(one.outline) for one in layout.furring_strips}
    for one in layout.furring_strips:
        shape = shapes[one.id]
        assert coffers[one.coffer].buffer(1e-6).covers(shape)
        assert one.length >= LEAST_PIECE - config.read_to
        for hole in layout.cut_outs:
            assert shape.distance(Polygon(hole.outline)) >= FROM_CUT_OUT - 1e-5
        assert all(shape.covers(Spot(screw)) for screw in one.nails)
        others = [
            shapes[other.id] for other in layout.furring_strips if (other.id, other.coffer) > (one.id, one.coffer)
        ]
        assert all(shape.intersection(other).area < 1e-3 for other in others)
    for slat in layout.slats:
        body = Polygon(slat.outline, slat.holes)
        held = [shapes[name] for name in slat.furring]
        assert all(any(strip.covers(Spot(nail)) for strip in held) and body.covers(Spot(nail)) for nail in slat.nails)
        # A stump beside a cut-out has a strip at each end where both have room; across, joists are where they are.
        if not across and _spacious(slat.axis, layout, slat.coffer, bool(slat.notches)):
            assert len(slat.furring) >= 2


def _spacious(
    axis: tuple[tuple[float, float], tuple[float, float]], layout: Layout, coffer: str, notched: bool
) -> bool:
    """Room for two strips between the innermost reach of the coffer's ends, or an end and a cut-out."""
    line = Line.through(*axis)
    sides = next(one for one in layout.coffers if one.id == coffer).sides
    ends = [sorted((line.along(s.start), line.along(s.end))) for s in sides if s.line.lean_to(line) > math.pi / 4.0]
    lean = max(high - low for low, high in ends)
    need = 2.0 * STRIP + INCH if not notched else 2.0 * STRIP + 2.0 * INCH
    return line.along(axis[1]) >= need + lean


@sampled(
    25,
    100,
    room=quads(),
    beams=st.integers(1, 3),
    light=st.tuples(st.floats(0.1, 0.9), st.floats(0.1, 0.9)),
    run=st.sampled_from(["with", "across"]),
)
def test_furring_may_be_as_short_and_as_long_as_it_says(
    room: Quad, beams: int, light: tuple[float, float], run: str
) -> None:
    """At either end of its interval a strip keeps in its coffer, off the cut-out, and holds its nails."""
    more = ALONG_DA + "[furring]\nuse = true\n" + LIGHT.format(x=light[0] * 2600.0, y=light[1] * 2400.0)
    try:
        _, layout = furred(room, Wish(beams=beams, rows=1, run=run), more)
    except LayoutError:
        return
    parts = [part for part in make_parts(layout) if part.kind in ("furring", "slat")]
    coffers = {coffer.id: Polygon(coffer.outline) for coffer in layout.coffers}
    for which in (0, 1):
        lengths = {part.id: part.interval[which] for part in parts if part.kind == "furring" and part.interval}
        cut = {part.id: part for part in cut_to(parts, lengths)}
        shapes = {name: Polygon(part.outline) for name, part in cut.items() if part.kind == "furring"}
        for name, shape in shapes.items():
            assert coffers[cut[name].coffer or ""].buffer(1e-6).covers(shape)
            assert all(shape.distance(Polygon(hole.outline)) >= FROM_CUT_OUT - 1e-5 for hole in layout.cut_outs)
        for part in cut.values():
            strips = [shapes[name] for name in part.furring]
            assert all(any(strip.covers(Spot(nail)) for strip in strips) for nail in part.nails if part.kind == "slat")


@pytest.mark.parametrize(
    ("more", "stock", "section"),
    [
        ("", "24x48", (24.0, 48.0)),
        ('stock = "1x3"\n', "1x3", (19.05, 63.5)),
        ("width = 50\nthickness = 30\n", "30x50", (30.0, 50.0)),
        ("thickness = 30\n", "30x48", (30.0, 48.0)),
    ],
)
def test_sections_of_a_metric_room(more: str, stock: str, section: tuple[float, float]) -> None:
    config, layout = furred(quad(3000.0, 2400.0), BARE, ALONG_DA + f"[furring]\nuse = true\n{more}", "")
    assert layout.furring is not None
    strip = layout.furring.strip
    assert (strip.stock, (strip.thickness, strip.width)) == (stock, pytest.approx(section))
    # An inch of the screw is in the joist.
    assert config.fasteners.furring.length >= strip.thickness + 12.5 + 25.4
