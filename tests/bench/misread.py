"""How often a distance misread by 20 mm is found, and named, in rooms of four, five and six corners.

Every room is measured by the set of distances that is advised for it; each tape has its error. Never part of a test
run. Run by name: python tests/bench/misread.py [rooms of each shape]
"""

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from lacunar.survey import W_CRITICAL, recommend
from survey.crew import Crew
from survey.measuring import Corners, config_from, distances, walls

ROOMS = 250


def rectangle(x: float, y: float) -> Corners:
    return {"A": (0.0, y), "B": (x, y), "C": (x, 0.0), "D": (0.0, 0.0)}


def bay(x: float, y: float, cut: float) -> Corners:
    """One corner cut off."""
    return {"A": (0.0, y), "B": (x, y), "C": (x, cut), "D": (x - cut, 0.0), "E": (0.0, 0.0)}


def ell(x: float, y: float, cut_x: float, cut_y: float) -> Corners:
    """Reflex at D."""
    ring = [(0.0, y), (x, y), (x, cut_y), (cut_x, cut_y), (cut_x, 0.0), (0.0, 0.0)]
    return dict(zip("ABCDEF", ring, strict=True))


SHAPES: dict[int, tuple[Corners, ...]] = {
    4: (rectangle(5200.0, 4100.0), rectangle(3600.0, 3000.0), rectangle(7000.0, 3600.0), rectangle(5000.0, 5000.0)),
    5: (bay(5000.0, 4000.0, 1000.0), bay(6000.0, 4500.0, 1500.0), bay(4200.0, 5200.0, 900.0)),
    6: (ell(6000.0, 5000.0, 3500.0, 2000.0), ell(5200.0, 4600.0, 2800.0, 2500.0), ell(4300.0, 4000.0, 2700.0, 1500.0)),
}


def main() -> None:
    rooms = int(sys.argv[1]) if len(sys.argv) > 1 else ROOMS
    for corners, sketches in SHAPES.items():
        crew, tried, found, named, wrongly, started = Crew(corners), 0, 0, 0, 0, time.process_time()
        for sketch in sketches:
            advice = recommend(config_from(distances(sketch, walls(sketch)), "".join(sketch)))
            marks = {one.between.partition("-")[2]: (one.wall, one.expected) for one in advice if one.kind == "mark"}
            tapes = [one.between for one in advice if one.kind != "mark"]
            for _ in range(rooms):
                name, room = crew.survey(crew.true_room(sketch), tapes, marks)
                suspects = [one.between for one in room.measured if one.suspect]
                tried += 1
                found += max(abs(one.w or 0.0) for one in room.measured) > W_CRITICAL
                named += suspects == [name]
                wrongly += suspects not in ([], [name])
        print(  # noqa: T201
            f"{corners} corners, {tried} rooms: found {found / tried:.1%}, named {named / tried:.1%}, "
            f"wrongly {wrongly / tried:.2%}; {time.process_time() - started:.0f} s"
        )


if __name__ == "__main__":
    main()
