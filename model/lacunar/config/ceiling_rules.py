"""What must hold within and between cross beams, slats and trim."""

import math

from lacunar.config.ceiling_tables import CrossBeams
from lacunar.config.judge import Breach, Breaches, Judge, below
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.materials import find_lumber, nearest_stock

BOARD_OFF = Limit("1/4 in", "6 mm")
"""A dressed board is never so far off its width: a board or a spacer was miscounted. Own judgement."""

_BOARD = below("slats", "width", "stock")
"""What a slat's width hangs on."""


def cross_beam_rules(judge: Judge) -> Breaches:
    """Rows, section and joints of the cross beams."""
    cross = judge.config.cross_beams
    if cross is None:
        return
    yield from known_stock(cross.stock, ("cross_beams", "stock"), cross.width + cross.depth, "width and depth")
    yield from _rows(judge, cross)
    yield from _aligned(judge, cross)
    given = any(judge.config.is_given(f"cross_beams.{key}") for key in ("stock", "width"))
    if cross.walls == "half beam" and not given:
        what = 'got "half beam" without stock, must have stock (or width and depth)'
        also = below("cross_beams", "stock")
        yield Breach(("cross_beams", "walls"), what, "half beams are ripped from it", also)
    yield from _joint(judge, cross)


def known_stock(stock: str, path: KeyPath, section: float, sides: str = "") -> Breaches:
    """The stock is in the lumber table, unless its section is given.

    Args:
        stock: its name, "" for none.
        path: of the name.
        section: any length made of the section's sides; not a number where one is not known.
        sides: names of the two keys that give them instead ("width and depth"), if any do.
    """
    if not math.isnan(section) or find_lumber(stock) is not None:
        return
    also = below(path[:-1], *sides.split(" and ")) if sides else ()
    if stock or not sides:
        what = f'got "{stock}", must be a nominal size that the lumber table has'
        advice = f" Or give {sides}" if sides else ""
        yield Breach(path, what, f'did you mean "{nearest_stock(stock)}"?{advice}', also)
    else:
        yield Breach(path, f"missing, must be given: stock, or both {sides}", also=also)


def _rows(judge: Judge, cross: CrossBeams) -> Breaches:
    at: KeyPath = ("cross_beams", "at")
    if cross.at and (cross.rows is not None or cross.align):
        other = "rows" if cross.rows is not None else "align"
        what = f"both at and {other} are given, must be one way to place the rows"
        yield Breach(at, what, also=below("cross_beams", other))
    for n, (one, next_one) in enumerate(zip(cross.at, cross.at[1:], strict=False), start=1):
        if next_one - one < cross.width:
            must = f"a beam's width ({judge.length(cross.width)}) or more past the one before, {{}}"
            fix = "name the rows in order from the wall nearer A"
            yield judge.size((*at, n), next_one, must, one, fix, below("cross_beams", "width", "stock"))
    yield from judge.in_reach({(*at, n): distance for n, distance in enumerate(cross.at)})


def _aligned(judge: Judge, cross: CrossBeams) -> Breaches:
    names = [fixture.name for fixture in judge.config.fixture]
    known = [*(["window"] if judge.config.window else []), *(["fixture"] if names else []), *names]
    if cross.align is not None and cross.align not in known:
        there = ", ".join(f'"{name}"' for name in known) or "a window or a fixture, and the file has none"
        yield Breach(
            ("cross_beams", "align"), f'got "{cross.align}", must be {there}', also=(("window",), ("fixture",))
        )


def _joint(judge: Judge, cross: CrossBeams) -> Breaches:
    joint, path = cross.joint, ("cross_beams", "joint")
    for key, size, limit, name in (
        ("pilot", joint.pilot, joint.bore, "the bore"),
        ("drop", joint.drop, cross.depth, "the beam's depth"),
    ):
        if size >= limit:
            also = ((*path, "bore"), ("cross_beams", "stock"))
            yield judge.size((*path, key), size, f"less than {name}, {{}}", limit, also=also)
    # Half the screw's hole lies beyond its middle.
    least = joint.offset + joint.pilot / 2.0
    if joint.high + joint.low > 0 and cross.width < least:
        yield Breach(
            _width_of(judge),
            f"got a cross beam {judge.length(cross.width)} wide, must be {judge.length(least)} or more for its "
            "pocket screws",
            f"they leave its ends {judge.length(joint.offset)} from the side: cross_beams.joint.offset; without "
            "pockets joint = { high = 0, low = 0 }",
            below(path, "offset", "pilot"),
        )


def _width_of(judge: Judge) -> KeyPath:
    """The key that the cross beams' width comes from."""
    config = judge.config
    for key in (("joint", "offset"), ("width",), ("stock",)):
        if config.is_given("cross_beams", *key):
            return ("cross_beams", *key)
    return ("beams", "width") if config.beams else ("beam", 0, "width") if config.beam else ("cross_beams",)


def slat_rules(judge: Judge) -> Breaches:
    """Section, gaps and rips of the slats."""
    slats = judge.config.slats
    yield from known_stock(slats.stock, ("slats", "stock"), slats.width + slats.thickness, "width and thickness")
    yield from _bench(judge)
    least = judge.config.read_to / 4.0
    if slats.ten is not None and slats.gap < 0.0:
        yield judge.size(("slats", "ten"), slats.ten, "at least ten boards, {}", 10.0 * slats.width, also=_BOARD)
    elif 0.0 < slats.gap < least:
        what = f"got {judge.fine(slats.gap)}, must be 0, or a quarter of read_to ({judge.fine(least)}) or more"
        yield Breach(("slats", "ten" if slats.spacer is None else "gap"), what, also=(("read_to",),))
    for key, smaller, larger in (
        ("end_gap", slats.least_end_gap, slats.end_gap),
        ("edge_gap", slats.least_edge_gap, slats.edge_gap),
    ):
        if smaller > larger:
            also = below("slats", key, "gap")
            yield judge.size(("slats", f"least_{key}"), smaller, f"{key} ({{}}) or less", larger, also=also)
    if slats.narrowest_rip > slats.width / 2.0:
        must, fix = "half a board ({}) or less", "two equal rips would not always be as wide"
        yield judge.size(("slats", "narrowest_rip"), slats.narrowest_rip, must, slats.width / 2.0, fix, _BOARD)


def _bench(judge: Judge) -> Breaches:
    """Ten boards and ten spacers leave about a nominal board beside the spacer."""
    slats, units = judge.config.slats, judge.config.units
    if slats.ten is None or slats.spacer is None:
        return
    if abs(slats.width - slats.nominal_width) > BOARD_OFF.mm(units):
        yield Breach(
            ("slats", "ten"),
            f"got {judge.length(slats.ten)}: less ten spacers (slats.gap) of {judge.length(slats.spacer)} that is "
            f"{judge.fine(slats.width)} a board, must be within {BOARD_OFF.text(units)} of "
            f"{judge.length(slats.nominal_width)}",
            "count the boards and the spacers again; slats.gap is the spacer that lay between them",
            below("slats", "gap", "width", "stock"),
        )


def trim_rules(judge: Judge) -> Breaches:
    """Section and overlap of the trim."""
    trim, is_given = judge.config.trim, judge.config.is_given
    section_given = is_given("trim.width") and is_given("trim.height")
    section = trim.width + trim.height if section_given or not is_given("trim.stock") else math.nan
    yield from known_stock(trim.stock, ("trim", "stock"), section, "width and height")
    if trim.width <= trim.least_overlap:
        also = below("trim", "least_overlap", "stock")
        yield judge.size(("trim", "width"), trim.width, "more than least_overlap, {}", trim.least_overlap, also=also)
