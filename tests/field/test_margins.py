"""Slats of measured coffers that cannot be kept clear of both ends: named, with changes that really help."""

import json
import math
import re
from dataclasses import replace
from pathlib import Path

import pytest

from commands import change
from field.by_hand import as_designed, copied
from lacunar.chance import chance, errors_of, percent
from lacunar.checks import margin_words
from lacunar.checks.fit_chance import ENOUGH
from lacunar.config import read_config
from lacunar.field import apply_measures
from lacunar.job import Job, report_of, run_job
from lacunar.reports import report_text

INCH = 25.4
READING = '\n[survey]\nsd = "1/8 in"\n'
"""So badly read that the lengths that will do are wide enough for some slats only."""


def measured(configs: Path, folder: Path, more: str = READING) -> Path:
    """The inch room, its coffers measured and found as designed."""
    path = copied(configs / "4-inch.toml", folder)
    path.write_text(path.read_text(encoding="utf-8") + more, encoding="utf-8")
    apply_measures(path, as_designed(path, ["coffers"]))
    return path


@pytest.fixture(scope="module")
def narrow(configs: Path, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Job]:
    path = measured(configs, tmp_path_factory.mktemp("narrow"))
    return path, run_job(read_config(path))


def test_those_that_cannot_are_named_and_the_others_can(narrow: tuple[Path, Job]) -> None:
    _, job = narrow
    margins, slats = job.analysis.margins, {part.id: part for part in job.parts if part.kind == "slat"}
    assert margins.slats == len(slats) == 210
    assert margins.wanted is not None
    assert 0 < len(margins.narrow) < margins.slats
    for name, part in slats.items():
        assert part.interval is not None
        half = (part.interval[1] - part.interval[0]) / 2.0
        kept = min(part.length - part.interval[0], part.interval[1] - part.length)
        assert kept >= (margins.wanted[0] if name not in margins.lacking else half - INCH / 32.0) - 0.01
    assert margin_words(margins, job.config).startswith(
        f"{210 - len(margins.lacking)} of 210 measured slats keep three"
    )
    row = json.loads(report_text(report_of(job)))["analysis"]["margins"]
    assert (row["narrow"], row["wider_trim"]) == (list(margins.narrow), margins.wider_trim)


def test_wider_trim_is_no_wider_than_it_must_be(narrow: tuple[Path, Job], tmp_path: Path) -> None:
    path, job = narrow
    wider = job.analysis.margins.wider_trim
    assert wider is not None
    left: list[tuple[str, ...]] = []
    for by in (wider - job.config.read_to, wider):
        other = copied(path, tmp_path)
        width = f"{0.75 + by / INCH} in"
        change(other, 'width         = "3/4 in"', f'width         = "{width}"')
        apply_measures(other, as_designed(other, ["coffers"]))
        left.append(run_job(read_config(other)).analysis.margins.narrow)
    assert left[0] != ()
    assert left[1] == ()


def test_a_second_reading_is_told_only_where_it_does(configs: Path, narrow: tuple[Path, Job]) -> None:
    _, job = narrow
    twice, once = job.analysis.margins.read_twice, errors_of(job.config.survey, job.config.tape)
    assert twice
    by = 1.0 / math.sqrt(2.0)
    errors = replace(once, reading=by * once.reading, per_length=by * once.per_length, slat_mark=0.0)
    fits = chance(job.config, job.layout, job.parts, trials=20_000, errors=errors)
    shares = {piece.part: piece.fits for piece in fits.pieces}
    # Three standard deviations at both ends, and four of a share of so many trials.
    assert min(shares[name] for name in twice) >= 0.9973 - 4.0 * math.sqrt(0.0027 / 20_000)


def test_what_is_said_to_help_measured_slats_does(narrow: tuple[Path, Job], tmp_path: Path) -> None:
    path, job = narrow
    found = next(finding for finding in job.findings if finding.check == "fit-chance")
    assert found.level == "warn"
    assert margin_words(job.analysis.margins, job.config) in found.message
    width, share = re.findall(r'^trim\.width = "(.*)" and the coffers\' sheet applied again makes it (.*);', found.fix)[
        0
    ]
    other = copied(path, tmp_path)
    change(other, 'width         = "3/4 in"', f'width         = "{width}"')
    apply_measures(other, as_designed(other, ["coffers"]))
    after = run_job(read_config(other)).analysis.chance
    assert percent(after.all_slats, after.trials) == share
    assert after.all_slats >= ENOUGH
    # Alone it does nothing: [field] holds the lengths that will do with the trim as it was.
    alone = copied(path, tmp_path)
    change(alone, 'width         = "3/4 in"', f'width         = "{width}"')
    assert {*run_job(read_config(alone)).analysis.margins.narrow} >= {*job.analysis.margins.narrow}


def test_a_margin_that_was_given_is_what_is_wanted(configs: Path, tmp_path: Path) -> None:
    path = measured(configs, tmp_path, "")
    change(path, 'end_gap  = "1/4 in"', 'end_gap  = "1/4 in"\nmargin = "1/8 in"')
    job = run_job(read_config(path))
    margins = job.analysis.margins
    assert margins.wanted == (INCH / 8.0, INCH / 8.0)
    assert margin_words(margins, job.config).startswith(
        "210 of 210 measured slats keep slats.margin (1/8 in) from both"
    )
    change(path, "margin = ", "# margin = ")
    bare = run_job(read_config(path)).analysis.margins
    assert bare.lacking == ()
    assert bare.wanted is not None
    assert bare.least is not None
    assert margins.least is not None
    assert margins.least < bare.wanted[0] <= bare.least


def test_of_what_was_not_measured_nothing_is_said(configs: Path) -> None:
    job = run_job(read_config(configs / "4-inch.toml"))
    assert (job.analysis.margins.slats, job.analysis.margins.wanted) == (0, None)
    assert margin_words(job.analysis.margins, job.config) == ""
