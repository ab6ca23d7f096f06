"""Arguments and options that several commands share."""

import re
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class Quality(StrEnum):
    """How much work goes into a picture; traced: light is followed, which needs an extra."""

    draft = "draft"
    fine = "fine"
    large = "large"
    traced = "traced"


BUDGET_HELP = (
    "With --quality traced: how long each traced picture may take (60s, 2m), for as many samples as go into it. "
    "Default: 8 + 4 samples, of the sky and of the sun."
)
Budget = Annotated[str, typer.Option("--budget", metavar="TIME", help=BUDGET_HELP)]


def seconds(budget: str, quality: Quality) -> float | None:
    """Seconds of a time like 60s or 2m; None where none is given.

    Raises:
        ConfigError: it is no such time, or there is nothing to trace.
    """
    from lacunar.errors import ConfigError, Problem

    if not budget:
        return None
    if quality is not Quality.traced:
        raise ConfigError(
            [Problem(where="--budget", what=f"got {budget} with --quality {quality}, must be with traced")]
        )
    found = re.fullmatch(r"(\d+(?:\.\d+)?) ?(s|m|min)?", budget.strip())
    value = float(found[1]) * (60.0 if found[2] in ("m", "min") else 1.0) if found else 0.0
    if not 1.0 <= value <= 86_400.0:
        raise ConfigError(
            [Problem(where="--budget", what=f'got "{budget}", must be a time from 1s to 1440m, like 60s')]
        )
    return value


Room = Annotated[Path, typer.Argument(metavar="ROOM.toml", help="The config of the room.", show_default=False)]
Json = Annotated[bool, typer.Option("--json", help="Print the report as JSON, and nothing else.")]
All = Annotated[bool, typer.Option("--all", help="Say everything: what passed, what is assumed, what is proved.")]
Furnish = Annotated[bool, typer.Option("--furnish", help="Show a plain sofa, a table and a person, for scale.")]
RUN_HELP = "Runs of the slats, like with,across,alternate."
SET_HELP = (
    "A key and its values; may be repeated. A value is TOML or bare text; one with a comma in it stands in quotes or "
    'brackets: --set \'slats.from=["AB", "BC"],centre\'.'
)
Run = Annotated[str, typer.Option("--run", metavar="RUNS", help=RUN_HELP)]
Sets = Annotated[list[str] | None, typer.Option("--set", metavar="KEY=V1,V2", help=SET_HELP)]
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
