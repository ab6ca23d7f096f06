"""People who measure rooms: with the error of every tape, and one distance misread."""

import random
from collections.abc import Mapping, Sequence

from lacunar.survey import Room, solve_survey
from survey.measuring import Corners, config_from, distances

BLUNDER = 20.0
"""mm."""


class Crew:
    """Reads tapes with the error that the config states."""

    def __init__(self, seed: int) -> None:
        self.draw = random.Random(seed)

    def error(self, value: float) -> float:
        """mm, of a tape of that length."""
        return self.draw.gauss(0.0, 1.5 + 0.0002 * value)

    def true_room(self, sketch: Corners) -> Corners:
        return {
            name: (x + self.draw.uniform(-100.0, 100.0), y + self.draw.uniform(-100.0, 100.0))
            for name, (x, y) in sketch.items()
        }

    def survey(
        self, room: Corners, tapes: Sequence[str], marks: Mapping[str, tuple[str, float]], wrong: bool = True
    ) -> tuple[str, Room]:
        """One distance misread by 20 mm, that of a mark too; its name, and the room as solved."""
        there = {name: (wall, at + self.error(at)) for name, (wall, at) in marks.items()}
        read = {name: value + self.error(value) for name, value in distances(room, tapes, there).items()}
        written = dict(marks)
        name = self.draw.choice([*tapes, *marks])
        by = self.draw.choice((-BLUNDER, BLUNDER)) if wrong else 0.0
        if name in marks:
            wall, at = marks[name]
            written[name] = (wall, at + by)
            name = f"{wall[0]}-{name}"
        else:
            read[name] += by
        return name, solve_survey(config_from(read, "".join(room), written))
