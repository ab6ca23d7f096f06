"""`lacunar compare`: alternatives side by side, as a table and as one picture."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lacunar_cli import options
from lacunar_cli.fieldwork import compare_field
from lacunar_cli.progress import progress_bar
from lacunar_cli.sentences import names
from lacunar_cli.show import show_notes, status_of
from lacunar_cli.terminal import say, say_json, say_row, wrapped
from lacunar_cli.variants import Override, combinations, label
from lacunar_cli.what_if import compare_what_if

if TYPE_CHECKING:
    from lacunar.config import Config
    from lacunar.errors import LayoutError
    from lacunar.job import Job, OnStep

OUT_HELP = "The picture. Default: ROOM-compare.png; beside it ROOM-compare-phone.png, a strip for a phone."
FIELD_HELP = "What the measures in [field] have changed: piece, old and new length. Alone, or with --pile."
WHAT_IF_HELP = "What wider trim, a row more or less, or slats another way would cost, each planned anew. Alone."
PILE_HELP = "With --field: pieces that are cut already (stock,length,width,count), dealt again to the slats."
HEAD = ("full", "ripped", "lengths", "boards", "waste", "overlap", "joists", "cost", "fail", "warn", "ask")
WIDTHS = (4, 6, 7, 8, 6, 7, 6, 8, 4, 4, 4)


def compare(
    room: options.Room,
    run: options.Run = "",
    sets: options.Sets = None,
    out: Annotated[Path | None, typer.Option("--output", "-o", metavar="PNG", help=OUT_HELP)] = None,
    view: Annotated[str, typer.Option(help=options.VIEW_HELP)] = "door",
    quality: Annotated[options.Quality, typer.Option(help="How good the picture is.")] = options.Quality.draft,
    field: Annotated[bool, typer.Option("--field", help=FIELD_HELP)] = False,
    pile: Annotated[Path | None, typer.Option(metavar="PILE.csv", help=PILE_HELP)] = None,
    what_if: Annotated[bool, typer.Option("--what-if", help=WHAT_IF_HELP)] = False,
    as_json: options.Json = False,
) -> int:
    """Compare alternatives: a table, and a picture of each from the view and straight up; also as a strip for a phone.

    All combinations of --run and --set are worked out, and seen by the same camera; one that cannot be laid out is
    named beside the others. With --json there is no picture.
    """
    others = {"--run": run, "--set": sets, "--output": out}
    if what_if:
        _alone("--what-if", {**others, "--field": field, "--pile": pile}, "it chooses the variants itself")
        return compare_what_if(room, as_json=as_json)
    if field or pile is not None:
        _alone("--field", others, "it compares one design with its measures")
        return compare_field(room, pile, as_json=as_json)
    from lacunar.config import read_config
    from lacunar.folder import check_file
    from lacunar.job import check_view, standing_by, write_comparison

    variants = combinations(run or ("" if sets else "with,across,alternate"), sets or [])
    configs = [read_config(room, overrides) for overrides in variants]
    check_view(view, configs[0].camera)
    target = out or room.parent / f"{configs[0].name}-compare.png"
    if not as_json:
        check_file(target, ".png")
    with standing_by(*(() if as_json else ("scene",))), progress_bar() as progress:
        made, refused = _run_all(configs, variants, progress, advised=as_json)
        jobs, captions = [job for job, _ in made], [label(overrides) for _, overrides in made]
        drawn, notes = tuple[Path, ...](), tuple[str, ...]()
        if not as_json:
            drawn, notes = write_comparison(
                jobs,
                _lettered(captions),
                view,
                target,
                quality.value,
                lambda text, share: progress(text, 0.3 + 0.7 * share),
            )
    if as_json:
        told = [{"set": dict(overrides), "refused": _reasons(error)} for error, overrides in refused]
        say_json(configs[0], variants=[*(_variant(*row) for row in made), *told])
    else:
        _table(jobs, captions)
        for error, overrides in refused:
            say(wrapped(f"not compared: {label(overrides)}: {'; '.join(_reasons(error))}"))
        say()
        for path in drawn:
            say(wrapped(f"wrote {path}"))
        show_notes(notes)
    return max(int(bool(refused)), *(status_of(job.findings) for job in jobs))


def _run_all(
    configs: Sequence["Config"], variants: Sequence[Sequence[Override]], progress: "OnStep", *, advised: bool
) -> tuple[list[tuple["Job", Sequence[Override]]], list[tuple["LayoutError", Sequence[Override]]]]:
    """What can be laid out, and what cannot.

    Raises:
        LayoutError: none can.
    """
    from lacunar.errors import LayoutError
    from lacunar.job import run_job

    made: list[tuple[Job, Sequence[Override]]] = []
    refused: list[tuple[LayoutError, Sequence[Override]]] = []
    for number, (config, overrides) in enumerate(zip(configs, variants, strict=True)):
        progress(label(overrides), 0.3 * number / len(configs))
        try:
            made.append((run_job(config, weighed=False, advised=advised), overrides))
        except LayoutError as error:
            refused.append((error, overrides))
    if not made:
        raise LayoutError(list(dict.fromkeys(problem for error, _ in refused for problem in error.problems)))
    return made, refused


def _reasons(error: "LayoutError") -> list[str]:
    return [str(problem) for problem in error.problems]


def _alone(option: str, others: Mapping[str, object], why: str) -> None:
    """Options that do not go together."""
    from lacunar.errors import ConfigError, Problem

    given = " and ".join(name for name, value in others.items() if value)
    if given:
        raise ConfigError([Problem(where=option, what=f"got {given} with {option}, must be alone: {why}")])


def _variant(job: "Job", overrides: Sequence[Override]) -> dict[str, object]:
    from lacunar.job import report_of, summarise
    from lacunar.reports import report_values

    report = report_values(report_of(job))
    told = {key: report[key] for key in ("good_for", "missing", "checks")}
    return {"set": dict(overrides), **asdict(summarise(job)), **told}


def _table(jobs: Sequence["Job"], captions: Sequence[str]) -> None:
    """One row a combination, after a line that says what each letter stands for; then what each is good for."""
    from lacunar.job import trust_of

    letters = [_letter(i) for i in range(len(jobs))]
    for caption in _lettered(captions):
        say(wrapped(caption, "    "))
    say()
    say_row("", HEAD, 3, WIDTHS)
    for letter, job in zip(letters, jobs, strict=True):
        say_row(letter, _cells(job), 3, WIDTHS)
    say()
    for letter, job in zip(letters, jobs, strict=True):
        say(wrapped(f"{letter:<3} {trust_of(job).words}", "    "))
    say()
    say(wrapped("boards: length to be cut, without spares; overlap, and joists or furring: the least of any slat", ""))
    say(wrapped(_about_cost(jobs), ""))


def _lettered(captions: Sequence[str]) -> list[str]:
    """Each after the letter that stands for it."""
    return [f"{_letter(i):<3} {caption}" for i, caption in enumerate(captions)]


def _about_cost(jobs: Sequence["Job"]) -> str:
    """What the money is."""
    from lacunar.cost import ESTIMATE

    if not any(job.cost.has_price for job in jobs):
        return "cost: no prices given"
    lacking = list(dict.fromkeys(name for job in jobs for name in job.cost.lacking))
    plus = f"; + lacks {names(lacking)}" if lacking else ""
    return f"cost: {jobs[0].config.currency} for the whole job, {ESTIMATE}{plus}"


def _letter(number: int) -> str:
    """A, B, ..., Z, AA, AB, ..."""
    head, last = divmod(number, 26)
    return (_letter(head - 1) if head else "") + chr(ord("a") + last)


def _cells(job: "Job") -> tuple[str, ...]:
    from lacunar.job import board_text, cost_text, summarise
    from lacunar.units import format_length, told_mark

    one, units = summarise(job), job.config.units
    overlap = "-" if one.overlap is None else format_length(one.overlap, units, told_mark(units))
    return (
        str(one.full),
        str(one.ripped),
        str(one.lengths),
        board_text(one, units),
        f"{100.0 * one.waste:.1f} %",
        overlap,
        str(one.joists),
        cost_text(one),
        *(str(one.findings[level]) for level in ("fail", "warn", "ask")),
    )
