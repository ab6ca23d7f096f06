"""Beams and walls that are not straight, by a width taken half way."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from lacunar.config import Beam, Config
from lacunar.survey.adjust import adjust
from lacunar.survey.chance import W_CRITICAL
from lacunar.survey.network import Network, in_order, read_network
from lacunar.survey.notebook import notebook_of
from lacunar.survey.room import Room
from lacunar.survey.tapes import MIDDLE


@dataclass(frozen=True, slots=True, kw_only=True)
class Bow:
    """One width half way against what straight faces would have.

    Attributes:
        name: of the beam, or of the measurement between two walls ("mAB-mCD").
        between: the two faces: the beam's name twice, or two walls.
        expected: mm, between straight faces.
        measured: mm.
        surely: it is more than reading error would do.
    """

    name: str
    between: tuple[str, str]
    expected: float
    measured: float
    surely: bool

    @property
    def amount(self) -> float:
        """How much wider it is half way than straight faces would have it, mm; negative where narrower."""
        return self.measured - self.expected


def find_bows(config: Config, room: Room) -> tuple[Bow, ...]:
    """Of every width that was taken half way: of beams, then between walls."""
    book = notebook_of(config)
    return (*_beam_bows(config.beam, book.sd), *_wall_bows(in_order(read_network(book)), room))


def _beam_bows(beams: Iterable[Beam], sd: float) -> Iterator[Bow]:
    """Beams whose width half way is given. Both widths are read with one reading's error."""
    error = W_CRITICAL * math.sqrt(2.0) * sd
    return (
        Bow(
            name=beam.name,
            between=(beam.name, beam.name),
            expected=beam.width,
            measured=beam.middle,
            surely=abs(beam.middle - beam.width) > error,
        )
        for beam in beams
        if beam.middle is not None
    )


def _wall_bows(network: Network, room: Room) -> Iterator[Bow]:
    """Widths from the middle of one wall to that of another, against the room that the other distances make."""
    length = {m: math.dist(*(room.corner(c) for c in line)) for m, line in network.marks.items()}
    at = {m: math.dist(room.corner(line[0]), room.marks[m]) for m, line in network.marks.items()}
    halfway = {m for m in network.marks if abs(at[m] / length[m] - 0.5) <= MIDDLE}
    judged = {one.between: one for one in room.measured}
    for i, reading in enumerate(network.readings):
        if not set(reading.ends) <= halfway or judged[reading.name].finds is None:
            continue
        expected = adjust(network.with_instead(i, reading.loose), room.points, at).lengths[i]
        one, other = ("".join(network.marks[m]) for m in reading.ends)
        yield Bow(
            name=reading.name,
            between=(one, other),
            expected=expected,
            measured=reading.value,
            surely=abs(judged[reading.name].w or 0.0) > W_CRITICAL,
        )
