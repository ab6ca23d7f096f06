"""`lacunar new`: a commented config to start from."""

import sys
from pathlib import Path
from typing import Annotated, Literal

import typer

from lacunar_cli import options
from lacunar_cli.show import GOOD
from lacunar_cli.terminal import complain, is_watched, say, wrapped

UnitName = Literal["in", "mm"]

INTRODUCTION = (
    "A few questions; Enter takes what stands in [brackets]. Lengths as on the tape: 12' 4 1/2\", 12 ft 4 in, 3.76 m, "
    "3760 mm. Everything can be changed in the file later."
)


def new(
    room: options.Room,
    units: Annotated[options.UnitChoice | None, typer.Option(help="in or mm. Asked for on a terminal.")] = None,
) -> int:
    """Write a commented config to start from.

    On a terminal it asks a few questions first. It replaces nothing.
    """
    from lacunar.config import template_text
    from lacunar.files import write_whole

    _refuse_taken(room)
    chosen: UnitName | None = units.value if units else None
    is_asked = is_watched(sys.stdin) and is_watched(sys.stdout)
    text = _asked(chosen, room) if is_asked else template_text(chosen or "in", {})
    _refuse_taken(room)  # since it was asked for
    write_whole(room, text.encode("utf-8"))
    say(wrapped(f"wrote {room}: read its notes, then run lacunar check {room}"))
    return GOOD


def _refuse_taken(room: Path) -> None:
    from lacunar.errors import ExportError, Problem

    if room.exists() or room.is_symlink():
        fix = "give another name; nothing is replaced"
        raise ExportError([Problem(where=str(room), what="is there already", fix=fix)])


def _asked(units: UnitName | None, room: Path) -> str:
    """The template with what a person answers, each answer checked as the config will be."""
    from lacunar.config import QUESTIONS, template_text

    say(wrapped(INTRODUCTION, ""))
    while units is None:
        answer = typer.prompt("Inches or millimetres (in, mm)?", default="in").strip().lower()
        units = "mm" if answer in ("mm", "millimetres", "millimeters") else "in" if answer in ("in", "inches") else None
    answers: dict[str, str] = {}
    for question in QUESTIONS:
        if answers.get("beams.count") == "0" and question.key.startswith("beams."):
            continue
        default = question.inches if units == "in" else question.metric
        wrong = ["unasked"]
        while wrong:
            answers[question.key] = typer.prompt(wrapped(question.ask, ""), default=default).strip()
            wrong = _problems(units, answers, question.key, room)
            for problem in wrong:
                complain(wrapped(problem))
            if question.key == "room.height" and not wrong and not _meant(units, answers[question.key]):
                wrong = ["not meant"]
    return template_text(units, answers)


def _meant(units: UnitName, height: str) -> bool:
    """Whether a height is a usual one, or meant all the same."""
    from lacunar.config import unusual_height
    from lacunar.units import read_length

    doubt = unusual_height(read_length(height, units), units)
    return not doubt or typer.confirm(wrapped(f"{doubt}. Is that right?", ""))


def _problems(units: UnitName, answers: dict[str, str], key: str, room: Path) -> list[str]:
    """What is wrong with the answer just given, the others as they are by default."""
    from lacunar.config import read_config_text, template_text
    from lacunar.errors import ConfigError

    try:
        read_config_text(template_text(units, {key: answers[key]}), room)
    except ConfigError as error:
        return [f"{problem.what}; {problem.fix}".removesuffix("; ") for problem in error.problems]
    return []
