"""What was read with the tape: how well, and how it is told to whoever read it."""

from collections.abc import Mapping
from dataclasses import dataclass

from lacunar.config import BeamEnd, Config, RoomTable, beam_marks, measured_ends
from lacunar.errors import Problem
from lacunar.tape import Tape


@dataclass(frozen=True, slots=True, kw_only=True)
class Notebook:
    """Distances as written down.

    Attributes:
        where: the place in the config that survey problems point at.
        tape: that they were read with.
        sd: standard deviation of one reading, mm.
        sd_per_length: what is added to it per length measured.
        room: as measured.
        ends: the two ends of every distance in it.
        beam_ends: of measured beams, by name.
    """

    where: str
    tape: Tape
    sd: float
    sd_per_length: float
    room: RoomTable
    ends: Mapping[str, tuple[str, str]]
    beam_ends: Mapping[str, BeamEnd]

    def error(self, length: float) -> float:
        """Standard deviation of a reading of some length, mm."""
        return self.sd + self.sd_per_length * length

    @property
    def all_read(self) -> str:
        """Every distance with its name."""
        return ", ".join(f"{name} {self.tape.words(value)}" for name, value in self.room.measured.items())

    def problem(self, what: str, fix: str) -> Problem:
        """Something that is wrong with the distances."""
        return Problem(where=self.where, what=what, fix=fix)


def notebook_of(config: Config) -> Notebook:
    """All that the survey takes from a config."""
    return Notebook(
        where=f"{config.path.name} room.measured",
        tape=config.tape,
        sd=config.survey.sd,
        sd_per_length=config.survey.sd_per_length,
        room=config.room,
        ends=measured_ends(config),
        beam_ends=beam_marks(config),
    )
