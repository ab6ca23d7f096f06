"""`lacunar render`: one picture."""

from pathlib import Path
from typing import Annotated

import typer

from lacunar_cli import options
from lacunar_cli.progress import Progress
from lacunar_cli.show import GOOD, say, show_notes, wrapped


def render(
    room: options.Room,
    view: Annotated[str, typer.Option(help=options.VIEW_HELP)] = "door",
    quality: Annotated[options.Quality, typer.Option(help="How good the picture is.")] = options.Quality.fine,
    out: Annotated[Path | None, typer.Option("--output", "-o", metavar="PNG", help="Default: ROOM-VIEW.png.")] = None,
) -> int:
    """Render one picture of a room."""
    from lacunar.config import read_config
    from lacunar.job import check_view, run_job, write_picture

    config = read_config(room)
    check_view(config, view)
    target = out or room.parent / f"{config.name}-{view}.png"
    with Progress() as progress:
        job = run_job(config, lambda text, share: progress(text, 0.4 * share))
        progress(f"picture {view}", 0.4)
        notes = write_picture(job, view, target, quality.value)
    say(wrapped(f"wrote {target}"))
    show_notes(notes)
    return GOOD
