"""`lacunar render`: one picture."""

from pathlib import Path
from typing import Annotated

import typer

from lacunar_cli import options
from lacunar_cli.progress import progress_bar
from lacunar_cli.show import GOOD, show_notes
from lacunar_cli.terminal import say, wrapped


def render(
    room: options.Room,
    view: Annotated[str, typer.Option(help=options.VIEW_HELP)] = "door",
    quality: Annotated[options.Quality, typer.Option(help="How good the picture is.")] = options.Quality.fine,
    furnish: options.Furnish = False,
    budget: options.Budget = "",
    out: Annotated[Path | None, typer.Option("--output", "-o", metavar="PNG", help="Default: ROOM-VIEW.png.")] = None,
) -> int:
    """Render one picture of a room."""
    from lacunar.config import read_config
    from lacunar.folder import check_file, in_place
    from lacunar.job import check_view, run_job, standing_by, write_picture

    limit = options.seconds(budget, quality)
    config = read_config(room, options.furnished(furnish))
    check_view(view, config.camera)
    target = out or room.parent / f"{config.name}-{view}.png"
    check_file(target, ".png")
    with standing_by("scene"), progress_bar() as progress:
        job = run_job(config, lambda text, share: progress(text, 0.4 * share), weighed=False, advised=False)

        def tell(text: str, share: float) -> None:
            progress(text, 0.4 + 0.6 * share)

        notes = write_picture(job, view, target, quality.value, tell, limit)
    with in_place(f"{target} is written"):
        say(wrapped(f"wrote {target}"))
        show_notes(notes)
        return GOOD
