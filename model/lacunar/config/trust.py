"""How far a result can be trusted, from what was measured."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from lacunar.config.config import Config
from lacunar.config.marks import distances_across
from lacunar.config.reading import first_of
from lacunar.config.work_tables import FieldRow

GoodFor = Literal["look", "buy", "cut"]
Sheet = Literal["beam pieces", "slats", "rips", "trim"]

SheetState = Literal["not yet", "cut now", "cut"]
"""Of a sheet: it waits for a measure, it is measured, all of it is cut."""

Wanted = Mapping[Sheet, Mapping[str, Sequence[str]]]
"""By sheet, the parts that hang on it and the keys that [field] must give for each."""

_MEASURES: Mapping[Sheet, str] = {
    "beam pieces": "openings",
    "slats": "coffers",
    "rips": "last holes",
    "trim": "sides",
}
"""What is measured on the wood for each sheet."""

_FIELD_MEASURES = "measured again on the wood as it goes up: " + "; ".join(
    f"{measure}, for {sheet}" for sheet, measure in _MEASURES.items()
)

_NEXT: Mapping[GoodFor, str] = {"look": "buying", "buy": "cutting"}
"""What a result is not good for yet."""

_MOST_NAMES = 3
"""Part ids named before "and n more"."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Something that is wrong, so that a result made of it is good for less.

    Attributes:
        words: what is wrong, a short phrase.
        buying: what would be bought may be wrong.
        sheets: whose parts would be cut wrong, even where they were measured again.
    """

    words: str
    buying: bool
    sheets: tuple[Sheet, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTrust:
    """Whether the parts of one sheet may be cut.

    Attributes:
        wanted: how many parts hang on it.
        missing: those that were neither measured again nor cut.
        wrong: what is wrong with them, a phrase each.
        cut: how many of them are cut.
    """

    sheet: Sheet
    wanted: int
    missing: tuple[str, ...]
    wrong: tuple[str, ...] = ()
    cut: int = 0

    @property
    def measure(self) -> str:
        """What is measured for it: "openings", "coffers", "last holes" or "sides"."""
        return _MEASURES[self.sheet]

    @property
    def unlocked(self) -> bool:
        """Every part of the sheet was measured again or is cut, and nothing is wrong with any."""
        return not self.missing and not self.wrong

    @property
    def state(self) -> SheetState:
        """What is to be done with it."""
        if self.cut == self.wanted:
            return "cut"
        return "cut now" if self.unlocked else "not yet"


@dataclass(frozen=True, slots=True, kw_only=True)
class Trust:
    """How far a result can be trusted.

    Attributes:
        good_for: "look", "buy" or "cut".
        missing: what the next level wants, one phrase each; empty at the last.
        wrong: those of them that something wrong is told by.
        sheets: of field measures, each with what it still wants; empty where nobody said which parts there are.
    """

    good_for: GoodFor
    missing: tuple[str, ...]
    wrong: tuple[str, ...] = ()
    sheets: tuple[SheetTrust, ...] = ()

    @property
    def not_yet(self) -> str:
        """What it is not good for yet: "buying", "cutting"; "" at the last level."""
        return _NEXT.get(self.good_for, "")

    @property
    def words(self) -> str:
        """In one line: "good for: look; not for buying yet: AB is misread"."""
        told = f"good for: {self.good_for}"
        return f"{told}; not for {self.not_yet} yet: {'; '.join(self.wrong)}" if self.wrong else told


def trust(config: Config, wanted: Wanted | None = None, doubts: Sequence[Doubt] = ()) -> Trust:
    """How far a result made of this config can be trusted, and what is missing for the next level.

    "look": walls and height, the rest assumed. "buy": a diagonal or two distances to wall marks, both ends of every
    beam, the light, joists, prices, and nothing wrong with what is bought. "cut": every part measured again on the
    wood and nothing wrong with it; then nothing rests on the survey.

    Args:
        config: as read.
        wanted: the parts that there are to measure; where None, nothing is good for cutting.
        doubts: what is wrong with what was made of the config.
    """
    sheets = sheets_trusted(config.field, wanted or {}, config.done.cut, doubts)
    if sheets and all(sheet.unlocked for sheet in sheets):
        return Trust(good_for="cut", missing=(), sheets=sheets)
    wrong = tuple(doubt.words for doubt in doubts if doubt.buying)
    missing = (*wrong, *_shape(config), *_beams(config), *_above(config), *_prices(config))
    if missing:
        return Trust(good_for="look", missing=missing, wrong=wrong, sheets=sheets)
    wrong = tuple(doubt.words for doubt in doubts if doubt.sheets)
    locked = tuple(_phrase(sheet) for sheet in sheets if sheet.missing) if sheets else (_FIELD_MEASURES,)
    return Trust(good_for="buy", missing=(*wrong, *locked), wrong=wrong, sheets=sheets)


def sheets_trusted(
    field: Mapping[str, FieldRow], wanted: Wanted, cut: Collection[str] = (), doubts: Sequence[Doubt] = ()
) -> tuple[SheetTrust, ...]:
    """Sheet by sheet of field measures, which of the parts may be cut, and how many are."""

    def lacks(part: str, keys: Sequence[str]) -> bool:
        return part not in cut and not all(_has(field.get(part), key) for key in keys)

    return tuple(
        SheetTrust(
            sheet=sheet,
            wanted=len(parts),
            missing=tuple(part for part, keys in parts.items() if lacks(part, keys)),
            cut=sum(part in cut for part in parts),
            wrong=tuple(doubt.words for doubt in doubts if sheet in doubt.sheets),
        )
        for sheet, parts in wanted.items()
    )


def _has(row: FieldRow | None, key: str) -> bool:
    """Whether [field] has a key of a part; an interval or faces say what a length is as well as the length itself."""
    if row is None:
        return False
    if key == "length" and (row.faces is not None or (row.shortest is not None and row.longest is not None)):
        return True
    return getattr(row, key) is not None


def _phrase(sheet: SheetTrust) -> str:
    taken = f"{sheet.measure}, for {sheet.sheet}"
    if len(sheet.missing) == sheet.wanted:
        return f"measured on the wood: {taken} ({sheet.wanted})"
    return f"measured on the wood: {taken}: {first_of(sheet.missing, _MOST_NAMES)} (of {sheet.wanted})"


def _shape(config: Config) -> Iterator[str]:
    """Walls, and enough distances across the room to fix its shape."""
    corners = config.room.corners
    if config.room.unmeasured:
        yield f"the length of {' and '.join(f'wall {wall}' for wall in config.room.unmeasured)}"
    across = distances_across(config)
    diagonals = {ends for ends in across if ends <= set(corners)}
    wanted = len(corners) - 3
    if len(diagonals) + len(across) < 2 * wanted:
        diagonal = "a diagonal" if wanted == 1 else f"{wanted} diagonals"
        yield f"{diagonal}, or {2 * wanted} distances from corners to marks on walls"


def _beams(config: Config) -> Iterator[str]:
    if config.beams:
        yield "both ends of every beam, measured ([[beam]] for each instead of [beams])"


def _above(config: Config) -> Iterator[str]:
    if not config.is_given("fixture"):
        yield "the light: a [[fixture]], or fixture = [] where there is none"
    if config.framing.joists is None:
        yield "where the joists are (framing.joists)"


def _prices(config: Config) -> Iterator[str]:
    priced = {board.stock for board in config.shop.board if board.price is not None}
    missing = [stock for stock in used_stock(config) if stock not in priced]
    if missing:
        yield f"a price for {', '.join(missing)} ([[shop.board]] or shop.boards)"


def shop_stock(config: Config) -> tuple[str, ...]:
    """Every stock that has a place in the shop table, once: what is used, and furring unless it is ruled out."""
    furring = [] if config.furring.use is False else [config.furring.stock]
    return tuple(dict.fromkeys([*used_stock(config), *furring]))


def used_stock(config: Config) -> tuple[str, ...]:
    """Every stock that has to be bought, once: slats, trim, cross beams, new beams, furring that is asked for."""
    cross = config.cross_beams
    rows = cross is not None and (bool(cross.rows) or bool(cross.at) or cross.walls == "half beam")
    names = [config.slats.stock, config.trim.stock]
    names += [cross.stock] if cross and rows else []
    names += [beam.stock for beam in config.beam if beam.new and beam.stock]
    names += [config.furring.stock] if config.furring.use is True else []
    return tuple(dict.fromkeys(names))
