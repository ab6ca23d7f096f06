"""What must hold in framing, fasteners, shop, and the tables of stages to come."""

import math
from collections.abc import Iterator, Sequence

from lacunar.config.amounts import PAINTS
from lacunar.config.ceiling_rules import unknown_stock
from lacunar.config.facts import Breach, Facts
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.config.room_rules import placed, unique
from lacunar.config.trust import shop_stock
from lacunar.config.work_tables import Joists
from lacunar.materials import LUMBER, find_lumber, nearest_stock, sides_of
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH

LEAST_SPACING, MOST_SPACING = Limit("6 in", "150 mm"), Limit("4 ft", "1200 mm")
"""Between joists, from boarded attics to the widest timber frames. Own judgement."""
WIDEST_KERF = Limit("1/2 in", "12 mm")
"""Own judgement: no saw blade is thicker."""

MOST_FURRING = (1.5 * INCH, 3.5 * INCH)
"""mm. The thickest strip and the widest. Own judgement: nothing larger is a strip."""

THINNEST, WIDEST = Limit("1/4 in", "5 mm"), Limit("16 in", "400 mm")
"""Sides of any board. Own judgement: what is outside of them is a slip of the hand."""

OFF_LENGTH = Limit("6 in", "150 mm")
"""Own judgement: boards that are off by more are sold as another length."""


def framing_rules(facts: Facts) -> Iterator[Breach]:
    """Joists, and what is driven into them."""
    joists = facts.config.framing.joists
    if joists is not None:
        yield from _placing(joists)
        yield from _spacing(facts, joists)
        if find_lumber(joists.stock) is None:
            yield unknown_stock(joists.stock, ("framing", "joists", "stock"))
    nail, slats = facts.config.fasteners.slat, facts.config.slats
    if nail.length <= slats.thickness:
        yield Breach(
            path=("fasteners", "slat", "length"),
            what=f"got {facts.length(nail.length)}, must be longer than the slat is thick, "
            f"{facts.length(slats.thickness)}",
            also=(("slats", "thickness"), ("slats", "stock")),
        )
    yield from _furring(facts)


def _furring(facts: Facts) -> Iterator[Breach]:
    """Strips that screws and nails reach through."""
    config = facts.config
    furring = config.furring
    if math.isnan(furring.width) or math.isnan(furring.thickness):
        yield unknown_stock(furring.stock, ("furring", "stock"))
        return
    for key, size, limit in (
        ("width", furring.width, MOST_FURRING[1]),
        ("thickness", furring.thickness, MOST_FURRING[0]),
    ):
        if size > limit + ARITHMETIC:  # in or mm, a 2x2 is as thick as the limit
            yield Breach(
                path=("furring", key if f"furring.{key}" in facts.given else "stock"),
                what=f"its {key} is {facts.length(size)}, must be {facts.length(limit)} or less",
                fix="furring is a strip: "
                + ('"1x2", "1x3", "1x4" or "2x2"' if config.units == "in" else "24 by 48 or 30 by 50 mm, say"),
            )
    if config.fasteners.furring.length <= furring.thickness:
        yield Breach(
            path=("fasteners", "furring", "length"),
            what=f"got {facts.length(config.fasteners.furring.length)}, must be longer than the furring is thick, "
            f"{facts.length(furring.thickness)}",
            also=(("furring", "stock"), ("furring", "thickness")),
        )


def _placing(joists: Joists) -> Iterator[Breach]:
    path: KeyPath = ("framing", "joists")
    if joists.at and (joists.first is not None or joists.spacing is not None):
        yield Breach(path=(*path, "at"), what="both at and first and spacing are given, must be one way")
    elif not joists.at and (joists.first is None or joists.spacing is None):
        missing = "first" if joists.first is None else "spacing"
        both = joists.first is None and joists.spacing is None
        yield Breach(
            path=path if both else (*path, missing),
            what="says not where they are, must have at, or first and spacing" if both else "missing, must be given",
            fix='at = ["9 in", "24 3/4 in"], or first = "9 in" and spacing = "16 in"',
            also=((*path, "at"), (*path, "first"), (*path, "spacing")),
        )


def _spacing(facts: Facts, joists: Joists) -> Iterator[Breach]:
    path: KeyPath = ("framing", "joists")
    for n, (one, next_one) in enumerate(zip(joists.at, joists.at[1:], strict=False), start=1):
        if next_one <= one:
            yield Breach(
                path=(*path, "at", n),
                what=f"got {facts.length(next_one)}, must be more than the one before, {facts.length(one)}",
                fix=f"all are taken from wall {joists.along}, in order",
            )
    units = facts.config.units
    if joists.spacing is not None and not LEAST_SPACING.mm(units) <= joists.spacing <= MOST_SPACING.mm(units):
        yield Breach(
            path=(*path, "spacing"),
            what=f"got {facts.length(joists.spacing)}, must be from {LEAST_SPACING.text(units)} "
            f"to {MOST_SPACING.text(units)}",
        )


def shop_rules(facts: Facts) -> Iterator[Breach]:
    """Saw and boards."""
    shop = facts.config.shop
    units = facts.config.units
    if shop.kerf > WIDEST_KERF.mm(units):
        yield Breach(
            path=("shop", "kerf"), what=f"got {facts.length(shop.kerf)}, must be {WIDEST_KERF.text(units)} or less"
        )
    if shop.board and shop.longest is not None and min(board.length for board in shop.board) > shop.longest:
        yield Breach(
            path=("shop", "longest"),
            what=f"got {facts.length(shop.longest)}, must be as long as the shortest board, "
            f"{facts.length(min(board.length for board in shop.board))}",
            also=(("shop", "board"), ("shop", "boards")),
        )
    yield from _boards(facts)
    yield from _packs(facts)
    yield from _sheets(facts)
    yield from _coats(facts)


def _packs(facts: Facts) -> Iterator[Breach]:
    packs = facts.config.shop.pack
    yield from unique({("shop", "pack", n, "name"): pack.name for n, pack in enumerate(packs)}, "pack")
    for n, pack in enumerate(packs):
        if pack.coverage is not None and pack.name not in PAINTS:
            yield Breach(
                path=("shop", "pack", n, "coverage"),
                what=f'"{pack.name}" is no paint, must be left out',
                also=(("shop", "pack", n, "name"),),
            )


def _sheets(facts: Facts) -> Iterator[Breach]:
    """How many sheets are bought: one way to say it."""
    for n, sheet in enumerate(facts.config.shop.sheet):
        path: KeyPath = ("shop", "sheet", n)
        covers, count = (*path, "covers"), (*path, "count")
        if sheet.covers is not None and sheet.count is not None:
            yield Breach(path=count, what="both covers and count are given, must be one of them", also=(covers,))
        elif sheet.covers is None and sheet.count is None:
            yield Breach(
                path=path,
                what="says not how many, must have covers or count",
                fix='covers = "floor", "coffers" or "ceiling", or count = 3',
                also=(covers, count),
            )
        elif sheet.covers is None and sheet.spare is not None:
            yield Breach(
                path=(*path, "spare"),
                what="sheets that are counted have none, must be left out",
                fix="add it to count",
                also=(covers, count),
            )


def _coats(facts: Facts) -> Iterator[Breach]:
    """Coats out of one can say the same of the can."""
    coats = facts.config.finish.coats if facts.config.finish else ()
    seen: dict[tuple[str | None, ...], dict[str, tuple[int, float]]] = {}
    for n, coat in enumerate(coats):
        can = seen.setdefault((coat.kind, coat.colour, coat.sheen), {})
        for key in ("price", "holds", "coverage"):
            value: float | None = getattr(coat, key)
            if value is None:
                continue
            first, known = can.setdefault(key, (n, value))
            if known != value:
                yield Breach(
                    path=("finish", "coats", n, key),
                    what=f"the same finish has another {key} in finish.coats[{first + 1}], must be the same",
                    fix="say it once, or tell the two apart by colour or sheen",
                )


def _boards(facts: Facts) -> Iterator[Breach]:
    config = facts.config
    used = shop_stock(config)
    seen: set[tuple[str, float]] = set()
    for n, board in enumerate(config.shop.board):
        if "shop.boards" not in facts.given and board.stock not in used and not _is_section(board.stock, facts, used):
            yield Breach(
                path=("shop", "board", n, "stock"),
                what=f'got "{board.stock}", must be a nominal size, a section by its two sides, or a stock used here: '
                + ", ".join(sorted(used)),
                fix=f'did you mean "{nearest_stock(board.stock, used)}"?',
                also=(("slats", "stock"), ("trim", "stock"), ("cross_beams", "stock")),
            )
        if (board.stock, board.length) in seen:
            yield Breach(
                path=("shop", "board", n),
                what=f"{board.stock} of {facts.length(board.length)} stands twice, must stand once",
                fix="add up what is on hand",
            )
        seen.add((board.stock, board.length))
        if board.actual is not None and abs(board.actual - board.length) > OFF_LENGTH.mm(config.units):
            yield Breach(
                path=("shop", "board", n, "actual"),
                what=f"got {facts.length(board.actual)}, must be within {OFF_LENGTH.text(config.units)} of its length, "
                f"{facts.length(board.length)}",
                fix="a board of another length is a row of its own",
            )


def _is_section(name: str, facts: Facts, used: Sequence[str]) -> bool:
    """Whether a stock that nothing is made of may be one all the same: another design, or an override, may use it."""
    if find_lumber(name) is not None:
        return True
    sides = sides_of(name)
    if sides is None:
        return False
    units = facts.config.units
    turned = "x".join(reversed(name.split("x")))
    is_nominal = units == "in" and all(side.denominator == 1 for side in sides) and sides[1] > 1
    if is_nominal or turned in used or turned in LUMBER:
        return False
    small, large = (float(side) * (INCH if units == "in" else 1.0) for side in sides)
    return THINNEST.mm(units) <= small and large <= WIDEST.mm(units)


def later_rules(facts: Facts) -> Iterator[Breach]:
    """The tables that stages to come will use."""
    config = facts.config
    indoor = config.house.indoor
    if indoor.dry > indoor.humid:
        yield Breach(
            path=("house", "indoor", "humid"),
            what=f"got {indoor.humid:g}, must be dry ({indoor.dry:g}) or more",
            also=(("house", "indoor", "dry"),),
        )
    for n, camera in enumerate(config.camera):
        yield from placed(facts, camera.at, ("camera", n, "at"))
        height = facts.height()
        if height is not None and camera.eye >= height:
            yield Breach(
                path=("camera", n, "eye"),
                what=f"got {facts.length(camera.eye)}, must be below the ceiling at {facts.length(height)}",
                also=(("room", "height"), ("room", "heights")),
            )
    yield from unique({("camera", n, "name"): camera.name for n, camera in enumerate(config.camera)}, "camera")
    for n, strip in enumerate(config.no_nail):
        yield from placed(facts, strip.from_, ("no_nail", n, "from"))
        yield from placed(facts, strip.to, ("no_nail", n, "to"))
    for name, row in config.field.items():
        if row.shortest is not None and row.longest is not None and row.shortest > row.longest:
            yield Breach(
                path=("field", name, "shortest"),
                what=f"got {facts.length(row.shortest)}, must be longest ({facts.length(row.longest)}) or less",
            )
