"""What must hold within and between cross beams, slats and trim."""

import math
from collections.abc import Iterator

from lacunar.config.ceiling_tables import CrossBeams
from lacunar.config.facts import Breach, Facts
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.materials import find_lumber, nearest_stock

BOARD_OFF = Limit("1/4 in", "6 mm")
"""A dressed board is never so far off its width: a board or a spacer was miscounted. Own judgement."""


def cross_beam_rules(facts: Facts) -> Iterator[Breach]:
    """Rows, section and joints of the cross beams."""
    cross = facts.config.cross_beams
    if cross is None:
        return
    yield from known_stock(cross.stock, ("cross_beams", "stock"), cross.width + cross.depth, "width and depth")
    yield from _rows(facts, cross)
    yield from _aligned(facts, cross)
    if cross.walls == "half beam" and not facts.given & {"cross_beams.stock", "cross_beams.width"}:
        yield Breach(
            path=("cross_beams", "walls"),
            what='got "half beam" without stock, must have stock (or width and depth)',
            fix="half beams are ripped from it",
            also=(("cross_beams", "stock"),),
        )
    yield from _joint(facts, cross)


def known_stock(stock: str, path: KeyPath, section: float, sides: str) -> Iterator[Breach]:
    """The stock is in the lumber table, unless its section is given."""
    if not math.isnan(section) or find_lumber(stock) is not None:
        return
    also = tuple((*path[:-1], side) for side in sides.split(" and "))
    if stock:
        yield unknown_stock(stock, path, f" Or give {sides}", also)
    else:
        yield Breach(path=path, what=f"missing, must be given: stock, or both {sides}", also=also)


def unknown_stock(stock: str, path: KeyPath, advice: str = "", also: tuple[KeyPath, ...] = ()) -> Breach:
    """The stock is not in the lumber table."""
    what = f'got "{stock}", must be a nominal size that the lumber table has'
    return Breach(path=path, what=what, fix=f'did you mean "{nearest_stock(stock)}"?{advice}', also=also)


def _rows(facts: Facts, cross: CrossBeams) -> Iterator[Breach]:
    if cross.at and (cross.rows is not None or cross.align):
        other = "rows" if cross.rows is not None else "align"
        yield Breach(
            path=("cross_beams", "at"),
            what=f"both at and {other} are given, must be one way to place the rows",
            also=(("cross_beams", other),),
        )
    for n, (one, next_one) in enumerate(zip(cross.at, cross.at[1:], strict=False), start=1):
        if next_one - one < cross.width:
            yield Breach(
                path=("cross_beams", "at", n),
                what=f"got {facts.length(next_one)}, must be a beam's width ({facts.length(cross.width)}) or more "
                f"past the one before, {facts.length(one)}",
                fix="name the rows in order from the wall nearer A",
                also=(("cross_beams", "width"), ("cross_beams", "stock")),
            )
    longest = facts.longest()
    for n, at in enumerate(cross.at):
        if longest is not None and at > longest:
            yield Breach(
                path=("cross_beams", "at", n),
                what=f"got {facts.length(at)}, must be less than the longest distance measured, "
                f"{facts.length(longest)}",
                also=(("room", "measured"),),
            )


def _aligned(facts: Facts, cross: CrossBeams) -> Iterator[Breach]:
    if cross.align is None:
        return
    names = [fixture.name for fixture in facts.config.fixture]
    known = [*(["window"] if facts.config.window else []), *(["fixture"] if names else []), *names]
    if cross.align not in known:
        there = ", ".join(f'"{name}"' for name in known)
        yield Breach(
            path=("cross_beams", "align"),
            what=f'got "{cross.align}", must be {there or "a window or a fixture, and the file has none"}',
            also=(("window",), ("fixture",)),
        )


def _joint(facts: Facts, cross: CrossBeams) -> Iterator[Breach]:
    joint = cross.joint
    limits = (
        ("pilot", joint.pilot, joint.bore, "the bore"),
        ("drop", joint.drop, cross.depth, "the beam's depth"),
    )
    for key, size, limit, name in limits:
        if size >= limit:
            yield Breach(
                path=("cross_beams", "joint", key),
                what=f"got {facts.length(size)}, must be less than {name}, {facts.length(limit)}",
                also=(("cross_beams", "joint", "bore"), ("cross_beams", "stock")),
            )
    # Half the screw's hole lies beyond its middle.
    least = joint.offset + joint.pilot / 2.0
    if joint.high + joint.low > 0 and cross.width < least:
        yield Breach(
            path=_width_of(facts),
            what=f"got a cross beam {facts.length(cross.width)} wide, must be {facts.length(least)} or more for its "
            "pocket screws",
            fix=f"they leave its ends {facts.length(joint.offset)} from the side: cross_beams.joint.offset; without "
            "pockets joint = { high = 0, low = 0 }",
            also=(("cross_beams", "joint", "offset"), ("cross_beams", "joint", "pilot")),
        )


def _width_of(facts: Facts) -> KeyPath:
    """The key that the cross beams' width comes from."""
    for key in ("joint.offset", "width", "stock"):
        if f"cross_beams.{key}" in facts.given:
            return ("cross_beams", *key.split("."))
    return ("beams", "width") if facts.config.beams else ("beam", 0, "width") if facts.config.beam else ("cross_beams",)


def slat_rules(facts: Facts) -> Iterator[Breach]:
    """Section, gaps and rips of the slats."""
    slats, config = facts.config.slats, facts.config
    yield from known_stock(slats.stock, ("slats", "stock"), slats.width + slats.thickness, "width and thickness")
    least = config.read_to / 4.0
    yield from _bench(facts)
    if slats.ten is not None and slats.gap < 0.0:
        yield Breach(
            path=("slats", "ten"),
            what=f"got {facts.length(slats.ten)}, must be at least ten boards, {facts.length(10.0 * slats.width)}",
            also=(("slats", "width"), ("slats", "stock")),
        )
    elif 0.0 < slats.gap < least:
        yield Breach(
            path=("slats", "ten" if slats.spacer is None else "gap"),
            what=f"got {facts.fine(slats.gap)}, must be 0, or a quarter of read_to ({facts.fine(least)}) or more",
            also=(("read_to",),),
        )
    for key in ("end_gap", "edge_gap"):
        smaller, larger = getattr(slats, f"least_{key}"), getattr(slats, key)
        if smaller > larger:
            yield Breach(
                path=("slats", f"least_{key}"),
                what=f"got {facts.length(smaller)}, must be {key} ({facts.length(larger)}) or less",
                also=(("slats", key), ("slats", "gap")),
            )
    if slats.narrowest_rip > slats.width / 2.0:
        yield Breach(
            path=("slats", "narrowest_rip"),
            what=f"got {facts.length(slats.narrowest_rip)}, must be half a board ({facts.length(slats.width / 2.0)}) "
            "or less",
            fix="two equal rips would not always be as wide",
            also=(("slats", "width"), ("slats", "stock")),
        )


def _bench(facts: Facts) -> Iterator[Breach]:
    """Ten boards and ten spacers leave about a nominal board beside the spacer."""
    slats, units = facts.config.slats, facts.config.units
    if slats.ten is None or slats.spacer is None:
        return
    if abs(slats.width - slats.nominal_width) > BOARD_OFF.mm(units):
        yield Breach(
            path=("slats", "ten"),
            what=f"got {facts.length(slats.ten)}: less ten spacers (slats.gap) of {facts.length(slats.spacer)} that is "
            f"{facts.fine(slats.width)} a board, must be within {BOARD_OFF.text(units)} of "
            f"{facts.length(slats.nominal_width)}",
            fix="count the boards and the spacers again; slats.gap is the spacer that lay between them",
            also=(("slats", "gap"), ("slats", "width"), ("slats", "stock")),
        )


def trim_rules(facts: Facts) -> Iterator[Breach]:
    """Section and overlap of the trim."""
    trim = facts.config.trim
    section_given = facts.given >= {"trim.width", "trim.height"}
    section = trim.width + trim.height if section_given or "trim.stock" not in facts.given else math.nan
    yield from known_stock(trim.stock, ("trim", "stock"), section, "width and height")
    if trim.width <= trim.least_overlap:
        yield Breach(
            path=("trim", "width"),
            what=f"got {facts.length(trim.width)}, must be more than least_overlap, {facts.length(trim.least_overlap)}",
            also=(("trim", "least_overlap"), ("trim", "stock")),
        )
