"""The command `lacunar`. Stages are imported inside the commands that need them: `--help` loads none."""

from typing import Annotated

import typer

from lacunar_cli.build import build
from lacunar_cli.check import check
from lacunar_cli.compare import compare
from lacunar_cli.done import done
from lacunar_cli.explain import explain
from lacunar_cli.measure import measure
from lacunar_cli.new import new
from lacunar_cli.render import render
from lacunar_cli.schema import schema
from lacunar_cli.show import answered
from lacunar_cli.view import view

EPILOG = "Exit status: 0 good, 1 a finding of level fail, 2 bad input or usage, 3 a fault of lacunar, 130, 143 stopped."

app = typer.Typer(
    name="lacunar",
    no_args_is_help=True,
    rich_markup_mode=None,
    add_completion=False,
    pretty_exceptions_enable=False,
    epilog=EPILOG,
)


def _version(wanted: bool) -> None:
    if wanted:
        from lacunar import __version__

        typer.echo(f"lacunar {__version__}")
        raise typer.Exit


@app.callback()
def lacunar(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Wood coffered ceilings from tape measurements: layout, checks, cut lists, previews."""


app.command()(answered(new))
app.command()(answered(check))
app.command()(answered(build))
app.command()(answered(compare))
app.command()(answered(render))
app.command()(answered(measure))
app.command()(answered(done))
app.command()(answered(view))
app.command()(answered(explain))
app.command()(answered(schema))
