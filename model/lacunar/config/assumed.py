"""What was not given and what was taken instead, in sentences."""

from collections.abc import Iterator

from lacunar.config.config import Config
from lacunar.config.defaults import existing_section
from lacunar.config.lengths import fine_length, plain_length
from lacunar.config.lines import KeyPath, printed_key
from lacunar.config.marks import distances_across
from lacunar.config.reading import first_of
from lacunar.config.table import Default, Table
from lacunar.config.trust import shop_stock
from lacunar.materials import DEFAULT_OLD_CEILING

NOT_USED_YET = (
    "house.indoor",
    "cross_beams.moisture",
    "framing.joists.span",
    "colour.samples",
)
"""Keys that are read and validated, and that no stage uses so far."""

UNUSED = "read but not used yet"

_MOST_NAMES = 4
"""Stocks named before "and n more"."""


def assumptions(config: Config) -> tuple[str, ...]:
    """One sentence for each thing that was not given, what was taken instead, and what is not used yet."""
    return (
        *_room(config),
        *_beams(config),
        *_cross_beams(config),
        *_slats(config),
        *_above(config),
        *_shop(config),
        *_nothing_more(config),
        *_unused(config),
    )


def _room(config: Config) -> Iterator[str]:
    room = config.room
    yield from _shape(config)
    if room.height is not None:
        yield "one height given: the ceiling is taken as level"
    elif "centre" not in room.heights:
        yield "no height at the centre: the mean of the corners is taken"
    if not config.is_given("room.moulding"):
        yield "no moulding given: there is none between ceiling and walls"
    if not config.window:
        yield "no windows given: pictures show some of their own"
    if not config.door:
        yield "no doors given: no door swing is checked"
    for n, window in enumerate(config.window):
        yield from _lengths(config, window, ("window", n)).values()
    for n, door in enumerate(config.door):
        yield from _lengths(config, door, ("door", n)).values()
        if not config.is_given("door", n, "swing") or not config.is_given("door", n, "hinge"):
            yield f"door[{n + 1}]: swing {door.swing}, hinge {door.hinge} are taken where not given"


def _lengths(config: Config, table: Table, path: KeyPath = ()) -> dict[KeyPath, str]:
    """Lengths of a table and of those in it of which nothing more is to be said than what was taken."""
    found: dict[KeyPath, str] = {}
    for name, field in type(table).model_fields.items():
        key, value, default = (*path, field.alias or name), getattr(table, name), field.json_schema_extra
        if isinstance(value, Table):
            found |= _lengths(config, value, key)
        elif isinstance(default, Default) and default.told and not config.is_given(*key):
            found[key] = f"{printed_key(key)} not given: {plain_length(value, config.units)} is taken"
    return found


def _shape(config: Config) -> Iterator[str]:
    """Which corners are taken as square, where nothing but walls was measured."""
    corners, missing = config.room.corners, config.room.unmeasured
    if distances_across(config) or len(corners) != 4:
        return
    if not missing:
        yield f"no diagonal measured: the corner at {corners[0]} is taken as square"
    elif len(missing) == 1:
        square = [corner for corner in corners if corner not in missing[0]]
        yield f"{missing[0]} and no diagonal measured: the corners {' and '.join(square)} are taken as square"
    else:
        yield f"{' and '.join(missing)} and no diagonal measured: the room is taken as a rectangle"


def _beams(config: Config) -> Iterator[str]:
    if not config.is_given("beams") and not config.is_given("beam"):
        yield "no existing beams given: there are none"
    if config.beams:
        yield f"{config.beams.count} existing beams are taken as straight and evenly spread"
        if config.beams.made.kind == "unknown":
            yield "existing beams: whether they are solid or hollow is not known"
    for beam in config.beam:
        if beam.made.kind == "unknown" and not beam.new:
            yield f"{beam.name}: whether it is solid or hollow is not known"


def _cross_beams(config: Config) -> Iterator[str]:
    cross = config.cross_beams
    if cross is None:
        yield "no [cross_beams]: there are none"
        return
    section = f"{plain_length(cross.width, config.units)} x {plain_length(cross.depth, config.units)}"
    if not config.is_given("cross_beams.stock") and not config.is_given("cross_beams.width"):
        like = "the section of the existing beams, " if existing_section(config) else ""
        yield f"cross_beams.stock not given: {like}{cross.stock} ({section}) is taken"
    yield from _taken(config, "cross_beams.species", f"{cross.species} is taken, as for the slats")
    if not config.is_given("cross_beams.rows") and not cross.at:
        yield f"cross_beams.rows not given: {cross.rows} are taken"
    if cross.align == "window" and len(config.window) > 1:
        yield "cross_beams.align: the first of the windows is taken"
    if cross.wall_end == "unknown":
        yield "cross_beams.wall_end: what a piece's end at a wall screws into is not known"
    yield from _taken(config, "cross_beams.joint", "two high and one low pocket at 15 degrees are taken at each end")


def _taken(config: Config, key: str, taken: str) -> tuple[str, ...]:
    """The sentence for one key; none where it is given."""
    return () if config.is_given(key) else (f"{key} not given: {taken}",)


def _slats(config: Config) -> Iterator[str]:
    slats, units = config.slats, config.units
    if not config.is_given("slats.stock") and not config.is_given("slats.width"):
        section = f"{plain_length(slats.thickness, units)} x {plain_length(slats.width, units)}"
        yield f"slats.stock not given: {slats.stock} ({section}) is taken"
    yield from _taken(config, "slats.species", f"{slats.species} is taken")
    yield from _taken(config, "slats.run", f"{slats.run} is taken")
    yield from _taken(config, "slats.from", f"{' and '.join(slats.from_)} is taken")
    board = plain_length(slats.nominal_width, units)
    if slats.width != slats.nominal_width:
        yield f"slats.width: {fine_length(slats.width, units)} is taken, as the bench gives it (slats.ten), not {board}"
    if slats.spacer is None:
        gap = fine_length(slats.gap, units)
        yield f"slats.gap not given: {gap} is taken, what boards of {board} leave on the bench (slats.ten)"
    else:
        yield from _taken(config, "slats.gap", f"{plain_length(slats.gap, units)} is taken")
    yield from _taken(config, "trim.species", f"{config.trim.species} is taken, as for the slats")
    yield from _taken(config, "trim.corners", f"{config.trim.corners} is taken")


def _above(config: Config) -> Iterator[str]:
    if not config.is_given("fixture"):
        yield "no fixture given: there is no light in this ceiling (fixture = [] says so)"
    if config.framing.joists is None:
        spacing = "16 in" if config.units == "in" else "406 mm"
        yield f'framing.joists not given: {spacing} apart, across the shorter way; findings that rest on them say "ask"'
    old = config.framing.old_ceiling or DEFAULT_OLD_CEILING
    thick = plain_length(old.thickness, config.units)
    if config.framing.old_ceiling is None:
        yield f"framing.old_ceiling not given: {thick} of {old.kind} is taken"
    else:
        yield from _taken(config, "framing.old_ceiling.kind", f"{old.kind} is taken")
        yield from _taken(config, "framing.old_ceiling.thickness", f"{thick} is taken")
    nail, trim = config.fasteners.slat, config.fasteners.trim
    nailed, length, apart = (plain_length(mm, config.units) for mm in (nail.length, trim.length, trim.spacing))
    slat = f"{nail.gauge} gauge {nail.kind}s of {nailed}{_into_furring(config)}, {nail.per_joist} per joist"
    yield from _taken(config, "fasteners.slat", slat)
    strips = f"{trim.gauge} gauge {trim.kind}s of {length}, {apart} apart, and adhesive"
    yield from _taken(config, "fasteners.trim", strips)


def _shop(config: Config) -> Iterator[str]:
    if not config.shop.board:
        boards = "8, 10, 12 and 16 ft" if config.units == "in" else "2.4 to 4.8 m by 0.6 m"
        yield f"no boards in [shop]: {boards} without a price are taken, so the plan counts length"
    yield from _taken(config, "shop.cull", f"{config.shop.cull:.0%} of the bought boards are taken as not good enough")
    for n, sheet in enumerate(config.shop.sheet):
        yield from _lengths(config, sheet, ("shop", "sheet", n)).values()


def _into_furring(config: Config) -> str:
    """What becomes of a nail whose length is not given where there is furring."""
    return "" if config.furring.use is False else " (into furring: what stays in it)"


def _nothing_more(config: Config) -> Iterator[str]:
    for key, told in _lengths(config, config).items():
        if key != ("fasteners", "slat", "length"):
            yield told
        elif config.is_given("fasteners.slat"):
            yield told + _into_furring(config)


def _unused(config: Config) -> Iterator[str]:
    used = shop_stock(config)
    idle = list(dict.fromkeys(board.stock for board in config.shop.board if board.stock not in used))
    if idle:
        yield f"boards of {first_of(idle, _MOST_NAMES)} are listed in [shop] and not used: nothing here is made of them"
    unused = [key for key in NOT_USED_YET if config.is_given(key)]
    if unused:
        yield f"{UNUSED}: {', '.join(unused)}"
