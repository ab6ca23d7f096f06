"""Points on walls that distances are taken to: the room's marks, and where the beams that hang there meet the walls."""

from collections.abc import Mapping

from lacunar.config.config import Config
from lacunar.config.names import beam_mark, distance_ends, known_end
from lacunar.config.room_tables import BeamEnd


def beam_marks(config: Config) -> Mapping[str, BeamEnd]:
    """Both ends of every beam as measured, by the name that a distance gives them ("E1.AB"); new beams have none."""
    return {beam_mark(beam.name, end.wall): end for beam in config.beam if not beam.new for end in beam.ends}


def measured_ends(config: Config) -> Mapping[str, tuple[str, str]]:
    """The two ends of every key of `room.measured`; a beam's end as `beam_marks` names it, even where it says BA."""
    beams = tuple(beam_marks(config))
    found: dict[str, tuple[str, str]] = {}
    for key in config.room.measured:
        first, second = distance_ends(key)
        found[key] = (known_end(first, beams), known_end(second, beams))
    return found


def distances_across(config: Config) -> frozenset[frozenset[str]]:
    """Ends of the distances that do not lie along one wall: those that tell the room's shape."""
    pairs = (ends for ends in measured_ends(config).values() if not _on(config, ends[0]) & _on(config, ends[1]))
    return frozenset(frozenset(ends) for ends in pairs)


def _on(config: Config, end: str) -> set[frozenset[str]]:
    """The walls that an end of a distance lies on."""
    on = config.room.marks.get(end) or beam_marks(config).get(end)
    return {frozenset(wall) for wall in ([on.wall] if on else config.room.walls) if on or end in wall}
