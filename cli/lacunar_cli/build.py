"""`lacunar build`: every file of one ceiling, in one folder."""

from pathlib import Path
from typing import Annotated

import typer

from lacunar.job import GROUPS
from lacunar_cli import options
from lacunar_cli.progress import progress_bar
from lacunar_cli.show import show_job, show_written, status_of
from lacunar_cli.terminal import say
from lacunar_cli.variants import combinations, label

OUT_HELP = "The folder to write: absent, empty, or one of an earlier build. Default: named after the config, beside it."
ONLY_HELP = f"Write only these, by commas: {', '.join(GROUPS)}. OUT keeps the rest."


def build(
    room: options.Room,
    out: Annotated[Path | None, typer.Option("--output", "-o", metavar="OUT", help=OUT_HELP)] = None,
    only: Annotated[str, typer.Option(metavar="LIST", help=ONLY_HELP)] = "",
    quality: Annotated[options.Quality, typer.Option(help="How good the pictures are.")] = options.Quality.fine,
    furnish: options.Furnish = False,
    budget: options.Budget = "",
    run: options.Run = "",
    sets: options.Sets = None,
    every: options.All = False,
) -> int:
    """Write model, cut list, pictures, report: all or nothing.

    Alternatives of the file, and all combinations of --run and --set, are priced and shown beside its own design.
    """
    from lacunar.config import read_config
    from lacunar.folder import IN_PLACE, in_place, products
    from lacunar.job import PRODUCTS, read_groups, run_job, standing_by, with_alternatives, with_budget, write_job

    groups, limit = read_groups(only), options.seconds(budget, quality)
    rows = PRODUCTS if limit is None else with_budget(limit)
    furnished = options.furnished(furnish)
    config = read_config(room, furnished)
    more = [(label(overrides), overrides) for overrides in combinations(run, sets or []) if overrides]
    for _, overrides in more:
        read_config(room, (*furnished, *overrides))  # is it one? before any work
    folder = out or room.parent / config.name
    products(folder)  # is it ours to replace? before any work
    slow = {row.needs for row in rows if groups is None or row.group in groups} & {"solids", "scene"}
    with standing_by(*sorted(slow)), progress_bar() as progress:
        job = run_job(config, lambda text, share: progress(text, 0.1 * share))
        job = with_alternatives(job, more, lambda text, share: progress(text, 0.1 + 0.1 * share))

        def tell(text: str, share: float) -> None:
            progress(text, 0.2 + 0.8 * share)

        written = write_job(job, folder, groups, quality.value, tell, rows)
    with in_place(IN_PLACE):
        show_job(job, every=every, built=True)
        say()
        show_written(written)
        return status_of(job.findings)
