"""Arguments and options that several commands share."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class Quality(StrEnum):
    """How much work goes into a picture."""

    draft = "draft"
    fine = "fine"
    photo = "photo"


Room = Annotated[Path, typer.Argument(metavar="ROOM.toml", help="The config of the room.", show_default=False)]
Json = Annotated[bool, typer.Option("--json", help="Print the report as JSON, and nothing else.")]
All = Annotated[bool, typer.Option("--all", help="Say everything: what passed, what is assumed, what is proved.")]
Furnish = Annotated[bool, typer.Option("--furnish", help="Show a plain sofa, a table and a person, for scale.")]
VIEW_HELP = (
    "door, seat, up, corner, exploded, section, hidden, overlap, steps, or a camera of the config; today or evening "
    "from the door, today-seat, evening-up and so on from elsewhere."
)


class UnitChoice(StrEnum):
    """What bare numbers are in."""

    inches = "in"
    millimetres = "mm"


def furnished(furnish: bool) -> list[tuple[str, str]]:
    """The override that `--furnish` is."""
    return [("room.furnished", "true")] if furnish else []
