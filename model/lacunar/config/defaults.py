"""What is taken where the file gives nothing. Every number is common practice, no source, unless it says otherwise."""

import math
from fractions import Fraction
from typing import Any, TypeVar

from lacunar.config.ceiling_tables import RUNS, CrossBeams, Slats, SlatsOfCoffer, TrimTable
from lacunar.config.config import Config
from lacunar.config.label_sheets import filled_grid
from lacunar.config.lengths import NOT_GIVEN
from lacunar.config.room_tables import Beam, Fixture
from lacunar.config.table import Default, Table, default_of, is_tables
from lacunar.config.work_tables import Framing, FurringScrew, FurringTable
from lacunar.materials import (
    DEFAULT_OLD_CEILING,
    LEAST_IN_JOIST,
    OLD_CEILINGS,
    find_lumber,
    lumber_of_section,
    shortest_screw_over,
)
from lacunar.tolerances import ARITHMETIC
from lacunar.units import INCH, Units, read_angle

SLAT_STOCK = "1x4"
CROSS_BEAM_STOCK = "4x6"
FURRING_STOCK = "1x3"

BATTEN = (24.0, 48.0)
"""mm. Furring in a metric room, thickness and width. Source: DIN 4070-1, from memory."""
CROSS_BEAM_ROWS = 2

AnyTable = TypeVar("AnyTable", bound=Table)


def section_name(thickness: float, width: float, units: Units) -> str:
    """What a section is called that the lumber table does not have: "18x95" (mm), "5/8x3" (in)."""
    lumber = lumber_of_section(thickness, width)
    if lumber is not None:
        return lumber.nominal
    if units == "mm":
        return f"{thickness:.4g}x{width:.4g}"
    return f"{_inches(thickness)}x{_inches(width)}"


def _inches(mm: float) -> str:
    whole, rest = divmod(Fraction(round(mm / INCH * 64), 64), 1)
    return "-".join(part for part in (str(whole) if whole else "", str(rest) if rest else "") if part) or "0"


def fill_defaults(config: Config) -> Config:
    """The config with every default in its place; what rests on something unknown stays not a number."""
    units = config.units
    slats, furring = _slats(config), _furring(config.furring, units)
    cross = _cross_beams(config.cross_beams, config, slats.species) if config.cross_beams else None
    bar_species = cross.species if cross else slats.species
    filled = config.changed(
        title=config.title or config.name,
        slats=slats,
        trim=_trim(config.trim, slats.species, units),
        cross_beams=cross,
        beam=tuple(_beam(config, beam, n, bar_species) for n, beam in enumerate(config.beam)),
        window=tuple(window.changed(from_=window.from_ or window.wall[0]) for window in config.window),
        door=tuple(door.changed(from_=door.from_ or door.wall[0]) for door in config.door),
        fixture=tuple(_fixture(fixture, n, units) for n, fixture in enumerate(config.fixture, 1)),
        framing=_framing(config.framing),
        furring=furring,
        labels=config.labels.changed(grid=filled_grid(config.labels.grid, units)),
        fasteners=config.fasteners.changed(furring=_furring_screw(config, furring.thickness)),
    )
    return _with_lengths(filled, units)


def _with_lengths(table: AnyTable, units: Units) -> AnyTable:
    """The table and those in it, with the default of every length that is still not a number."""
    updates: dict[str, Any] = {}
    for name, field in type(table).model_fields.items():
        value: object = getattr(table, name)
        default = field.json_schema_extra
        if isinstance(value, Table):
            updates[name] = _with_lengths(value, units)
        elif is_tables(value):
            updates[name] = tuple(_with_lengths(item, units) for item in value)
        elif isinstance(default, Default) and default.size and isinstance(value, float) and math.isnan(value):
            updates[name] = default.size.mm(units)
    return table.changed(**updates)


def _first(*values: float) -> float:
    """The first that is a number; not a number where none is."""
    return next((value for value in values if not math.isnan(value)), NOT_GIVEN)


def _dressed(stock: str) -> tuple[float, float]:
    """Thickness and width of a nominal size; not numbers where the table does not have it."""
    lumber = find_lumber(stock)
    return (lumber.thickness, lumber.width) if lumber else (NOT_GIVEN, NOT_GIVEN)


def _section(stock: str, small: float, large: float, usual: str | tuple[float, float]) -> tuple[str, float, float]:
    """Name and both sides: as given, else those of the stock, else the usual ones or those of the usual stock."""
    if not stock and math.isnan(small + large) and isinstance(usual, str):
        stock = usual
    dressed = _dressed(stock) if stock or isinstance(usual, str) else usual
    return stock, _first(small, dressed[0]), _first(large, dressed[1])


def _slats(config: Config) -> Slats:
    slats = config.slats
    stock, thickness, nominal = _section(slats.stock, slats.thickness, slats.width, SLAT_STOCK)
    keys = ("gap", "end_gap", "least_end_gap", "least_edge_gap")
    usual = {key: default_of(Slats, key).mm(config.units) for key in keys}
    spacer = _first(slats.gap, NOT_GIVEN if slats.ten is not None else usual["gap"])
    width, gap = (nominal, spacer) if slats.ten is None else _on_the_bench(nominal, spacer, slats.ten)
    end_gap = _first(slats.end_gap, usual["end_gap"])
    edge_gap = _first(slats.edge_gap, gap)
    return slats.changed(
        stock=stock or section_name(thickness, nominal, config.units),
        width=width,
        nominal_width=nominal,
        thickness=thickness,
        gap=gap,
        spacer=None if math.isnan(spacer) else spacer,
        end_gap=end_gap,
        edge_gap=edge_gap,
        least_end_gap=_first(slats.least_end_gap, min(end_gap, usual["least_end_gap"])),
        least_edge_gap=_first(slats.least_edge_gap, min(edge_gap, usual["least_edge_gap"])),
        narrowest_rip=_narrowest_rip(slats.narrowest_rip, nominal, width),
        from_=slats.from_ or config.room.walls[:2],
        coffer={name: _run(coffer) for name, coffer in slats.coffer.items()},
        **_angle(slats.run),
    )


def _on_the_bench(nominal: float, spacer: float, ten: float) -> tuple[float, float]:
    """A board's width and the gap beside it, together a tenth of `ten`.

    The spacer is known by itself, so what is left of the pitch is the board; without it the board is taken as nominal.
    """
    width = ten / 10.0 - spacer
    if math.isnan(width - nominal):
        return nominal, ten / 10.0 - nominal
    return (nominal if abs(width - nominal) <= ARITHMETIC else width), spacer


def _narrowest_rip(given: float, nominal: float, width: float) -> float:
    """Half a board; half of one that runs under, where half a nominal one was asked for."""
    half = width / 2.0
    return min(given, half) if given <= nominal / 2.0 else _first(given, half)


def _run(coffer: SlatsOfCoffer) -> SlatsOfCoffer:
    return coffer.changed(**_angle(coffer.run)) if coffer.run else coffer


def _angle(run: str) -> dict[str, Any]:
    """A run that is an angle, as the word and the number."""
    if run in RUNS or run.isalpha():
        return {}
    return {"run": "angle", "run_angle": read_angle(run)}


def _trim(trim: TrimTable, species: str, units: Units) -> TrimTable:
    usual = (default_of(TrimTable, "height").mm(units), default_of(TrimTable, "width").mm(units))
    # bought flat: it reaches out with its wider side
    stock, height, width = _section(trim.stock, trim.height, trim.width, usual)
    stock = stock or section_name(min(width, height), max(width, height), units)
    return trim.changed(stock=stock, height=height, width=width, species=trim.species or species)


def existing_section(config: Config) -> tuple[float, float] | None:
    """Width and depth of the existing beams (of the first, where they are measured one by one); None without any."""
    if config.beams:
        return config.beams.width, config.beams.depth
    existing = next((beam for beam in config.beam if not beam.new), None)
    return (existing.width, existing.depth) if existing else None


def _cross_beams(cross: CrossBeams, config: Config, species: str) -> CrossBeams:
    usual = existing_section(config) or CROSS_BEAM_STOCK
    stock, width, depth = _section(cross.stock, cross.width, cross.depth, usual)
    if not stock and not math.isnan(width + depth):
        stock = section_name(min(width, depth), max(width, depth), config.units)
    rows = CROSS_BEAM_ROWS if cross.rows is None and not cross.at else cross.rows
    return cross.changed(stock=stock, width=width, depth=depth, rows=rows, species=cross.species or species)


def _beam(config: Config, beam: Beam, number: int, species: str) -> Beam:
    _, width, depth = _section(beam.stock or "", beam.width, beam.depth, (NOT_GIVEN, NOT_GIVEN))
    return beam.changed(
        name=beam.name or f"E{number + 1}",
        width=width,
        depth=depth,
        keep=beam.keep if config.is_given("beam", number, "keep") else not beam.new,
        species=beam.species or species,
    )


def _fixture(fixture: Fixture, number: int, units: Units) -> Fixture:
    size = (default_of(Fixture, "size").mm(units),) * 2 if math.isnan(fixture.size[0]) else fixture.size
    return fixture.changed(name=fixture.name or f"fixture {number}", size=size)


def _furring(furring: FurringTable, units: Units) -> FurringTable:
    usual = BATTEN if units == "mm" else FURRING_STOCK
    stock, thickness, width = _section(furring.stock, furring.thickness, furring.width, usual)
    return furring.changed(stock=stock or section_name(thickness, width, units), thickness=thickness, width=width)


def _furring_screw(config: Config, thickness: float) -> FurringScrew:
    """Long enough for an inch in the joist behind the furring and the old ceiling."""
    screw = config.fasteners.furring
    old = _framing(config.framing).old_ceiling or DEFAULT_OLD_CEILING
    if not math.isnan(screw.length) or math.isnan(thickness + old.thickness):
        return screw
    needed = thickness + old.thickness + LEAST_IN_JOIST
    usual = default_of(FurringScrew, "length").mm(config.units)
    return screw.changed(length=max(usual, shortest_screw_over(needed, config.units)))


def _framing(framing: Framing) -> Framing:
    old = framing.old_ceiling
    if old is None:
        return framing
    kind = old.kind or DEFAULT_OLD_CEILING.kind
    thickness = _first(old.thickness, OLD_CEILINGS[kind].thickness)
    return framing.changed(old_ceiling=old.changed(kind=kind, thickness=thickness))
