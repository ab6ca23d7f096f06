"""Rooms of six and eight corners from noisy readings: never folded, never mirrored."""

import math
import random

import pytest

from lacunar.survey import solve_survey
from survey.measuring import L_ROOM, Corners, config_from, distances, framed, walls

THIN: Corners = {
    "A": (0.0, 3600.0),
    "B": (7200.0, 3615.0),
    "C": (7190.0, 2500.0),
    "D": (1210.0, 2480.0),
    "E": (1200.0, 0.0),
    "F": (-10.0, 10.0),
}
NOTCHED: Corners = {
    "A": (0.0, 4000.0),
    "B": (5000.0, 4000.0),
    "C": (5010.0, 900.0),
    "D": (4400.0, 905.0),
    "E": (4395.0, 0.0),
    "F": (0.0, -10.0),
}
SLANTED: Corners = {
    "A": (0.0, 4000.0),
    "B": (5200.0, 4300.0),
    "C": (5300.0, 1700.0),
    "D": (3100.0, 2100.0),
    "E": (2700.0, -300.0),
    "F": (100.0, 0.0),
}
CHIMNEY: Corners = {
    "A": (0.0, 4000.0),
    "B": (5000.0, 4000.0),
    "C": (5010.0, 2600.0),
    "D": (4600.0, 2605.0),
    "E": (4595.0, 1300.0),
    "F": (5005.0, 1290.0),
    "G": (5000.0, 0.0),
    "H": (0.0, -10.0),
}


@pytest.mark.parametrize(
    ("corners", "more", "within"),
    [
        (L_ROOM, ["AC", "AD", "AE", "BD", "BF", "DF"], 25.0),
        (L_ROOM, ["AD", "BD", "DF"], 60.0),
        (THIN, ["AD", "BD", "DF"], 60.0),
        (NOTCHED, ["AD", "BD", "DF"], 60.0),
        (SLANTED, ["AC", "AD", "AE", "BD", "DF"], 25.0),
        (CHIMNEY, ["AC", "AD", "AE", "AG", "BD", "BH", "DH", "EH", "FH", "EG"], 25.0),
    ],
    ids=["L", "L just fixed", "thin L just fixed", "notch just fixed", "slanted L", "chimney breast"],
)
@pytest.mark.parametrize("trials", [70, pytest.param(200, marks=pytest.mark.long)])
def test_the_true_shape_in_noisy_trials(corners: Corners, more: list[str], within: float, trials: int) -> None:
    """A fold moves a corner by twice a wing or an alcove, 400 mm at the least; reading errors never by `within`."""
    draw = random.Random(7)
    true = distances(corners, [*walls(corners), *more])
    expected = framed(corners)
    for _ in range(trials):
        read = {name: value + draw.gauss(0.0, 1.5 + 0.0002 * value) for name, value in true.items()}
        room = solve_survey(config_from(read, corners="".join(corners)))
        assert max(math.dist(p, q) for p, q in zip(room.points, expected, strict=True)) < within
