"""The whole config as frozen values. Attributes bear the names of the TOML keys."""

import itertools
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated

from pydantic import AliasPath, BeforeValidator, Field, PrivateAttr

from lacunar.config.ceiling_tables import CrossBeams, Slats, TrimTable
from lacunar.config.choice_tables import AlternativeTable, DecideTable
from lacunar.config.done_tables import Done
from lacunar.config.lengths import Fine, Limit, Typed
from lacunar.config.lines import KeyPath
from lacunar.config.names import Currency, Day, PartName, Text, one_of
from lacunar.config.raw import is_table
from lacunar.config.room_tables import Beam, Beams, Door, Fixture, House, NoNail, RoomTable, WindowTable
from lacunar.config.table import Table, default
from lacunar.config.work_tables import (
    CameraTable,
    Colours,
    Crew,
    Fasteners,
    FieldRow,
    Finish,
    Framing,
    FurringTable,
    Labels,
    Shop,
    SurveyTable,
)
from lacunar.tape import Tape
from lacunar.units import Units


def _parts_alone(value: object) -> object:
    """[field] without its readings."""
    return {key: row for key, row in value.items() if key != "readings"} if is_table(value) else value


class Config(Table):
    """A room and the ceiling that is wanted in it: every length in mm, every angle in radians, defaults filled in.

    What was not given and has no default is None. `readings` stand in [field.readings], beside the parts of `field`.
    """

    title: Text = Field(default="", description="Printed on everything. Default: the file's name.")
    date: Day | None = Field(
        default=None, description="Printed on sheets; else that of SOURCE_DATE_EPOCH, else a blank."
    )
    units: Annotated[Units, one_of(Units)] = Field(
        default="in", description="What bare numbers are in, and what is printed."
    )
    read_to: Fine = default("Finest mark read and cut to.", Limit("1/16 in", "1 mm"))
    currency: Currency = Field(default="USD", description="Of every price.")
    house: House = Field(default=House(), description="The house around the room.")
    room: RoomTable = Field(default=RoomTable(), description="Walls and heights as measured.")
    window: tuple[WindowTable, ...] = Field(default=(), description="Windows.")
    door: tuple[Door, ...] = Field(default=(), description="Doors.")
    beam: tuple[Beam, ...] = Field(default=(), description="Beams as measured, one by one.")
    beams: Beams | None = Field(default=None, description="Existing beams, evenly spread.")
    cross_beams: CrossBeams | None = Field(default=None, description="Beams fitted between, to make a grid.")
    slats: Slats = Field(default=Slats(), description="The boards that cover a coffer.")
    trim: TrimTable = Field(default=TrimTable(), description="The strips along the sides of every coffer.")
    fixture: tuple[Fixture, ...] = Field(default=(), description="Lamps and what else is in the ceiling; [] for none.")
    framing: Framing = Field(default=Framing(), description="What is above the old ceiling.")
    fasteners: Fasteners = Field(default=Fasteners(), description="Nails and screws.")
    shop: Shop = Field(default=Shop(), description="Saw and lumber yard.")
    finish: Finish | None = Field(default=None, description="Paint behind the slats and what goes onto the wood.")
    furring: FurringTable = Field(default=FurringTable(), description="Strips added to nail into.")
    survey: SurveyTable = Field(default=SurveyTable(), description="How well distances are read.")
    crew: Crew = Field(default=Crew(), description="Who does the work.")
    labels: Labels = Field(default=Labels(), description="Labels for the parts.")
    camera: tuple[CameraTable, ...] = Field(default=(), description="Views of one's own.")
    colour: Colours = Field(default=Colours(), description="Measured colours.")
    alternative: tuple[AlternativeTable, ...] = Field(
        default=(), description="Designs to choose from beside this one; `lacunar build` shows and prices them too."
    )
    decide: tuple[DecideTable, ...] = Field(default=(), description="What the household has to decide, and by when.")
    no_nail: tuple[NoNail, ...] = Field(default=(), description="Pipes and wires above.")
    field: Annotated[Mapping[PartName, FieldRow], BeforeValidator(_parts_alone)] = Field(
        default={}, description="Parts measured again on the wood; written by the measuring sheet."
    )
    readings: Mapping[Text, Typed] = Field(
        default={},
        validation_alias=AliasPath("field", "readings"),
        description="What was read for them, as it was typed, by the row of the measuring sheet.",
    )
    done: Done = Field(default=Done(), description="What is bought, cut and up; written by `lacunar done`.")

    _path: Path = PrivateAttr(default=Path("config.toml"))
    _overrides: tuple[tuple[str, str], ...] = PrivateAttr(default=())
    _given: frozenset[KeyPath] = PrivateAttr(default=frozenset())
    _assumed: tuple[str, ...] = PrivateAttr(default=())

    @property
    def path(self) -> Path:
        """The file it was read from."""
        return self._path

    @property
    def overrides(self) -> tuple[tuple[str, str], ...]:
        """Dotted key and value that it was read with, beside what the file says."""
        return self._overrides

    @property
    def name(self) -> str:
        """The file's name without its ending."""
        return self._path.stem

    @property
    def tape(self) -> Tape:
        """What lengths are read, told and cut by."""
        return Tape(units=self.units, read_to=self.read_to)

    @property
    def assumed(self) -> tuple[str, ...]:
        """Sentences: what was not given, and what was taken instead."""
        return self._assumed

    def is_given(self, *path: str | int) -> bool:
        """Whether a key or table stands in the file: "framing.joists", or step by step, "beam", 0, "width"."""
        steps = (step.split(".") if isinstance(step, str) else (step,) for step in path)
        return tuple(itertools.chain.from_iterable(steps)) in self._given
