"""What is to be measured of a config: the rows of every stage."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

from lacunar.config import Config
from lacunar.errors import LacunarError, Problem
from lacunar.field.coffers import coffer_rows
from lacunar.field.holes import last_rows
from lacunar.field.openings import opening_rows
from lacunar.field.room_rows import room_rows
from lacunar.field.sheet_row import STAGES, Row, Stage
from lacunar.field.sketch import Sketch, sketch
from lacunar.field.trim import trim_rows
from lacunar.layout import Layout, arrange_layout
from lacunar.survey import Room, recommend, solve_survey


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A config as far as it can be worked out, and what to measure of it.

    Attributes:
        rows: by stage; none where the ceiling has nothing to measure then.
        problems: why there is no layout, and so only the room's sheet.
    """

    config: Config
    sketch: Sketch
    rows: Mapping[Stage, tuple[Row, ...]]
    problems: tuple[Problem, ...]

    @property
    def layout(self) -> Layout | None:
        """None where nothing can be arranged yet."""
        return self.sketch.layout


def design(config: Config) -> Design:
    """The rows of every stage. The room's can be had before its measurements make a room."""
    room: Room | None = None
    layout: Layout | None = None
    problems: tuple[Problem, ...] = ()
    try:
        room = solve_survey(config)
        layout = arrange_layout(room, config)
    except LacunarError as error:
        problems = error.problems
    advice = recommend(config)
    drawn = sketch(config, advice, room, layout)
    made: dict[Stage, Iterable[Row]] = dict.fromkeys(STAGES, ())
    made["room"] = room_rows(drawn, advice)
    if room is not None and layout is not None:
        made["openings"] = opening_rows(layout)
        made["coffers"] = coffer_rows(room, layout)
        made["last"] = last_rows(layout)
        made["trim"] = trim_rows(layout)
    rows: dict[Stage, tuple[Row, ...]] = {
        stage: tuple(replace(row, number=number) for number, row in enumerate(made[stage], start=1)) for stage in STAGES
    }
    return Design(config=config, sketch=drawn, rows=rows, problems=problems)
