"""A misread distance in the finished room: its name where the others tell, else what to measure so that they do."""

from dataclasses import dataclass

from lacunar.config import Config
from lacunar.survey.adjust import adjust
from lacunar.survey.advise import Advice, would_tell
from lacunar.survey.misread import blame
from lacunar.survey.missing import with_squares
from lacunar.survey.network import in_order, read_network
from lacunar.survey.notebook import Notebook, notebook_of
from lacunar.survey.progress import along_walls
from lacunar.survey.room import Room
from lacunar.survey.tapes import Floor


@dataclass(frozen=True, slots=True, kw_only=True)
class Misread:
    """A reading that does not fit, or several of which one does not.

    Attributes:
        between: the readings that may be it, the likeliest first; one where the others can tell.
        read: mm, as measured.
        off: by how much each is read too long, mm, if it is the one; negative where too short.
        fits: without the likeliest the others agree within reading error.
        on_walls: whether both ends of each are marks on walls: then a bowed wall would do it too.
        would_tell: what to measure so that they tell; empty where one is named, or where nothing helps.
        would_leave: how many readings may still be alike then; 1 where one will be named.
    """

    between: tuple[str, ...]
    read: tuple[float, ...]
    off: tuple[float, ...]
    fits: bool
    on_walls: tuple[bool, ...]
    would_tell: tuple[Advice, ...]
    would_leave: int


def find_misread(config: Config, room: Room) -> Misread | None:
    """What is misread, if anything is.

    Args:
        config: the measurements.
        room: as solved from them.
    """
    floor = _measured(notebook_of(config), room)
    network = floor.network
    found = blame(network, adjust(network, floor.ring, along_walls(floor)))
    if found is None:
        return None
    readings = [network.readings[i] for i in found.readings]
    names = tuple(r.name for r in readings)
    tell, left = ((), 1) if len(names) == 1 else would_tell(floor, names, found.off)
    return Misread(
        between=names,
        read=tuple(r.value for r in readings),
        off=found.off,
        fits=found.fits,
        on_walls=tuple(set(r.ends) <= set(network.marks) for r in readings),
        would_tell=tell,
        would_leave=left,
    )


def _measured(book: Notebook, room: Room) -> Floor:
    """The adjusted room with all its readings."""
    network = in_order(read_network(book))
    if room.square_assumed:
        network = with_squares(network) or network
    places = {**dict(zip(room.corners, room.points, strict=True)), **room.marks}
    return Floor(places=places, ring=room.points, network=network, book=book)
