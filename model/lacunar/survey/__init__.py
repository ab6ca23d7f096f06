"""The room as measured: corners, heights, how well the measurements agree, and what else to measure."""

from lacunar.survey.advise import Advice, recommend
from lacunar.survey.bow import Bow, find_bows
from lacunar.survey.chance import W_CRITICAL, chi_square_limit
from lacunar.survey.doubt import Misread, find_misread
from lacunar.survey.explain import distrust
from lacunar.survey.folds import fold_crossings
from lacunar.survey.heights import best_plane
from lacunar.survey.level import Heights, ceiling_run, describe_heights
from lacunar.survey.room import (
    ON_FOLD,
    Measured,
    Room,
    ceiling_facets,
    ceiling_height,
    ceiling_rim,
    point_from_walls,
    wall_point,
)
from lacunar.survey.slips import usual_slips
from lacunar.survey.solve import solve_survey
from lacunar.survey.tapes import MIDDLE

__all__ = [
    "MIDDLE",
    "ON_FOLD",
    "W_CRITICAL",
    "Advice",
    "Bow",
    "Heights",
    "Measured",
    "Misread",
    "Room",
    "best_plane",
    "ceiling_facets",
    "ceiling_height",
    "ceiling_rim",
    "ceiling_run",
    "chi_square_limit",
    "describe_heights",
    "distrust",
    "find_bows",
    "find_misread",
    "fold_crossings",
    "point_from_walls",
    "recommend",
    "solve_survey",
    "usual_slips",
    "wall_point",
]
