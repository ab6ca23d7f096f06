"""`lacunar done`: what is bought, cut, up and spoilt, written into the config."""

from typing import TYPE_CHECKING, Annotated

import typer

from lacunar.errors import ConfigError, Problem
from lacunar_cli import options
from lacunar_cli.progress import progress_bar
from lacunar_cli.show import GOOD, show_list
from lacunar_cli.terminal import say, wrapped

if TYPE_CHECKING:
    from lacunar.job import Job, Progress

NAMES = "NAMES"
NAMES_HELP = "Parts, coffers, rows, kinds or ranges, by commas: C5-S03, C1, X1, slats, C1-S01-S09, all."
CUT_HELP = f"Cut as planned, or to the length that is given: C1-S03='39 5/8 in'. {NAMES_HELP}"
UP_HELP = "Cut, and up where they belong."
SPOILT_HELP = "Cut, and no good: they are cut again, from the spares first."
BOARDS_HELP = "Boards of the plan that are cut up, every piece of them: B1-B12."
BOUGHT_HELP = "The whole buying list is bought, spares too."
UNDO_HELP = "Take back what was said last of these."

Names = Annotated[list[str] | None, typer.Option(metavar=NAMES)]


def done(
    room: options.Room,
    cut: Annotated[list[str] | None, typer.Option(metavar=NAMES, help=CUT_HELP)] = None,
    up: Annotated[list[str] | None, typer.Option(metavar=NAMES, help=UP_HELP)] = None,
    spoilt: Annotated[list[str] | None, typer.Option(metavar=NAMES, help=SPOILT_HELP)] = None,
    boards: Annotated[list[str] | None, typer.Option(metavar="BOARDS", help=BOARDS_HELP)] = None,
    bought: Annotated[bool, typer.Option("--bought", help=BOUGHT_HELP)] = False,
    undo: Annotated[list[str] | None, typer.Option(metavar=NAMES, help=UNDO_HELP)] = None,
) -> int:
    """Write down what is bought, cut or up; plan the rest anew.

    What is cut keeps its length and its board. Everything else is planned again, and what that changes is told.
    """
    given = {"cut": cut, "up": up, "spoilt": spoilt, "boards": boards, "undo": undo}
    words = {option: texts for option, texts in given.items() if texts}
    if not words and not bought:
        options_there = ", ".join(f"--{option}" for option in given)
        what = "nothing is said to be done"
        raise ConfigError(
            [Problem(where="lacunar done", what=what, fix=f"give one or more of {options_there}, --bought")]
        )
    from lacunar.job import tell_done

    with progress_bar():
        progress = tell_done(room, words, bought=bought)
    show_progress(progress)
    return GOOD


def show_progress(progress: "Progress") -> None:
    """What was written, and what it changes."""
    from lacunar.done import done_line, done_so_far

    after = progress.after
    path, so_far = after.config.path, done_so_far(after.parts, after.config)
    say(wrapped(f"wrote {path}" if progress.changed else f"{path} stays as it is: nothing of that is new to it"))
    show_list("not written:", progress.notes)
    if so_far is not None:
        say(wrapped(done_line(so_far)))
    if progress.before is not None:
        show_change(progress.before, after)


def show_change(before: "Job", after: "Job") -> None:
    """What is other in the later plan."""
    from lacunar.reports import change_lines, changed

    change = changed((before.plan, before.parts), (after.plan, after.parts), after.config)
    show_list("planned anew:", change_lines(change, after.config.currency))
