"""What must hold in framing, fasteners, shop, and the tables of stages to come."""

from collections.abc import Sequence

from lacunar.config.amounts import PAINTS
from lacunar.config.ceiling_rules import known_stock
from lacunar.config.done_tables import SAID, Done
from lacunar.config.judge import Breach, Breaches, Judge, below, unique
from lacunar.config.lengths import Limit
from lacunar.config.lines import KeyPath
from lacunar.config.reading import listed
from lacunar.config.trust import shop_stock
from lacunar.config.work_tables import JoistsTable
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


def framing_rules(judge: Judge) -> Breaches:
    """Joists, and what is driven into them."""
    joists, slats = judge.config.framing.joists, judge.config.slats
    if joists is not None:
        yield from _placing(joists)
        yield from _spacing(judge, joists)
        yield from known_stock(joists.stock, ("framing", "joists", "stock"), float("nan"))
    length = judge.config.fasteners.slat.length
    if length <= slats.thickness:
        path, also = ("fasteners", "slat", "length"), below("slats", "thickness", "stock")
        yield judge.size(path, length, "longer than the slat is thick, {}", slats.thickness, also=also)
    yield from _furring(judge)


def _furring(judge: Judge) -> Breaches:
    """Strips that screws and nails reach through."""
    config, furring, length = judge.config, judge.config.furring, judge.config.fasteners.furring.length
    unknown = [*known_stock(furring.stock, ("furring", "stock"), furring.width + furring.thickness)]
    if unknown:
        yield unknown[0]
        return
    for key, size, limit in (
        ("width", furring.width, MOST_FURRING[1]),
        ("thickness", furring.thickness, MOST_FURRING[0]),
    ):
        if size > limit + ARITHMETIC:  # in or mm, a 2x2 is as thick as the limit
            strips = '"1x2", "1x3", "1x4" or "2x2"' if config.units == "in" else "24 by 48 or 30 by 50 mm, say"
            what = f"its {key} is {judge.length(size)}, must be {judge.length(limit)} or less"
            path = ("furring", key if config.is_given("furring", key) else "stock")
            yield Breach(path, what, f"furring is a strip: {strips}")
    if length <= furring.thickness:
        path, also = ("fasteners", "furring", "length"), below("furring", "stock", "thickness")
        yield judge.size(path, length, "longer than the furring is thick, {}", furring.thickness, also=also)


def _placing(joists: JoistsTable) -> Breaches:
    path: KeyPath = ("framing", "joists")
    missing = [key for key, value in (("first", joists.first), ("spacing", joists.spacing)) if value is None]
    if joists.at and len(missing) < 2:
        yield Breach((*path, "at"), "both at and first and spacing are given, must be one way")
    elif not joists.at and missing:
        both = len(missing) == 2
        what = "says not where they are, must have at, or first and spacing" if both else "missing, must be given"
        fix = 'at = ["9 in", "24 3/4 in"], or first = "9 in" and spacing = "16 in"'
        yield Breach(path if both else (*path, missing[0]), what, fix, below(path, "at", "first", "spacing"))


def _spacing(judge: Judge, joists: JoistsTable) -> Breaches:
    path: KeyPath = ("framing", "joists")
    for n, (one, next_one) in enumerate(zip(joists.at, joists.at[1:], strict=False), start=1):
        if next_one <= one:
            fix = f"all are taken from wall {joists.along}, in order"
            yield judge.size((*path, "at", n), next_one, "more than the one before, {}", one, fix)
    units, apart = judge.config.units, joists.spacing
    if apart is not None and not LEAST_SPACING.mm(units) <= apart <= MOST_SPACING.mm(units):
        must = f"from {LEAST_SPACING.text(units)} to {MOST_SPACING.text(units)}"
        yield judge.size((*path, "spacing"), apart, must, apart)


def shop_rules(judge: Judge) -> Breaches:
    """Saw and boards."""
    shop, units = judge.config.shop, judge.config.units
    if shop.kerf > WIDEST_KERF.mm(units):
        yield judge.size(("shop", "kerf"), shop.kerf, f"{WIDEST_KERF.text(units)} or less", shop.kerf)
    shortest = min((board.length for board in shop.board), default=0.0)
    if shop.longest is not None and shortest > shop.longest:
        path, must = ("shop", "longest"), "as long as the shortest board, {}"
        yield judge.size(path, shop.longest, must, shortest, also=below("shop", "board", "boards"))
    yield from _boards(judge)
    yield from _packs(judge)
    yield from _sheets(judge)
    yield from _coats(judge)


def _packs(judge: Judge) -> Breaches:
    packs = judge.config.shop.pack
    yield from unique({("shop", "pack", n, "name"): pack.name for n, pack in enumerate(packs)}, "pack")
    for n, pack in enumerate(packs):
        if pack.coverage is not None and pack.name not in PAINTS:
            path, also = below(("shop", "pack", n), "coverage", "name")
            yield Breach(path, f'"{pack.name}" is no paint, must be left out', also=(also,))


def _sheets(judge: Judge) -> Breaches:
    """How many sheets are bought: one way to say it."""
    for n, sheet in enumerate(judge.config.shop.sheet):
        path: KeyPath = ("shop", "sheet", n)
        also = below(path, "covers", "count")
        if sheet.covers is not None and sheet.count is not None:
            yield Breach(also[1], "both covers and count are given, must be one of them", also=also[:1])
        elif sheet.covers is None and sheet.count is None:
            fix = 'covers = "floor", "coffers" or "ceiling", or count = 3'
            yield Breach(path, "says not how many, must have covers or count", fix, also)
        elif sheet.covers is None and sheet.spare is not None:
            what = "sheets that are counted have none, must be left out"
            yield Breach((*path, "spare"), what, "add it to count", also)


def _coats(judge: Judge) -> Breaches:
    """Coats out of one can say the same of the can."""
    coats = judge.config.finish.coats if judge.config.finish else ()
    seen: dict[tuple[str | None, ...], tuple[int, float]] = {}
    for n, coat in enumerate(coats):
        for key, value in (("price", coat.price), ("holds", coat.holds), ("coverage", coat.coverage)):
            if value is None:
                continue
            first, known = seen.setdefault((coat.kind, coat.colour, coat.sheen, key), (n, value))
            if known != value:
                what = f"the same finish has another {key} in finish.coats[{first + 1}], must be the same"
                fix = "say it once, or tell the two apart by colour or sheen"
                yield Breach(("finish", "coats", n, key), what, fix)


def _boards(judge: Judge) -> Breaches:
    config = judge.config
    used = shop_stock(config)
    seen: set[tuple[str, float]] = set()
    for n, board in enumerate(config.shop.board):
        path: KeyPath = ("shop", "board", n)
        if not config.is_given("shop.boards") and board.stock not in used and not _is_section(board.stock, judge, used):
            must = "must be a nominal size, a section by its two sides, or a stock used here"
            what = f'got "{board.stock}", {must}: {", ".join(sorted(used))}'
            also = tuple((table, "stock") for table in ("slats", "trim", "cross_beams"))
            yield Breach((*path, "stock"), what, f'did you mean "{nearest_stock(board.stock, used)}"?', also)
        if (board.stock, board.length) in seen:
            what = f"{board.stock} of {judge.length(board.length)} stands twice, must stand once"
            yield Breach(path, what, "add up what is on hand")
        seen.add((board.stock, board.length))
        if board.actual is not None and abs(board.actual - board.length) > OFF_LENGTH.mm(config.units):
            must = f"within {OFF_LENGTH.text(config.units)} of its length, {{}}"
            fix = "a board of another length is a row of its own"
            yield judge.size((*path, "actual"), board.actual, must, board.length, fix)


def _is_section(name: str, judge: Judge, used: Sequence[str]) -> bool:
    """Whether a stock that nothing is made of may be one all the same: another design, or an override, may use it."""
    if find_lumber(name) is not None:
        return True
    sides = sides_of(name)
    if sides is None:
        return False
    units = judge.config.units
    turned = "x".join(reversed(name.split("x")))
    is_nominal = units == "in" and all(side.denominator == 1 for side in sides) and sides[1] > 1
    if is_nominal or turned in used or turned in LUMBER:
        return False
    small, large = (float(side) * (INCH if units == "in" else 1.0) for side in sides)
    return THINNEST.mm(units) <= small and large <= WIDEST.mm(units)


def later_rules(judge: Judge) -> Breaches:
    """The tables that stages to come will use."""
    config = judge.config
    indoor = config.house.indoor
    if indoor.dry > indoor.humid:
        path, dry = below(("house", "indoor"), "humid", "dry")
        yield Breach(path, f"got {indoor.humid:g}, must be dry ({indoor.dry:g}) or more", also=(dry,))
    for n, camera in enumerate(config.camera):
        yield from judge.placed(camera.at, ("camera", n, "at"))
        yield from judge.below_ceiling(("camera", n, "eye"), camera.eye)
    yield from unique({("camera", n, "name"): camera.name for n, camera in enumerate(config.camera)}, "camera")
    names = {("alternative", n, "name"): one.name for n, one in enumerate(config.alternative)}
    yield from unique(names, "alternative")
    for n, strip in enumerate(config.no_nail):
        yield from judge.placed(strip.from_, ("no_nail", n, "from"))
        yield from judge.placed(strip.to, ("no_nail", n, "to"))
    for name, row in config.field.items():
        if row.shortest is not None and row.longest is not None and row.shortest > row.longest:
            yield judge.size(("field", name, "shortest"), row.shortest, "longest ({}) or less", row.longest)
        if row.faces is not None and row.length is not None:
            fix = "the angles of its ends follow from its faces, and its length from them"
            yield Breach(("field", name, "length"), "is given beside faces, must be left out", fix)
    yield from _done_rules(config.done)


def _done_rules(done: Done) -> Breaches:
    """Each part is cut once and good, and something is said of every piece."""
    pieces = {
        ("done", "board", b, "pieces", n): piece
        for b, board in enumerate(done.board)
        for n, piece in enumerate(board.pieces)
    }
    for path, piece in pieces.items():
        if not piece.said:
            yield Breach((*path, "said"), f"got an empty list, must be one or more of {listed(SAID)}")
    good = {(*path, "part"): piece.part for path, piece in pieces.items() if piece.said and piece.is_good}
    yield from unique(good, "piece that is cut")
