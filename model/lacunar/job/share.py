"""The page to share: pictures of this very build, or drawn for it, and what the report says."""

import tempfile
from functools import partial
from pathlib import Path

from lacunar.job.apart import run_apart
from lacunar.job.figure import figure_of
from lacunar.job.pictures import CHOSEN_BY, alternative_view, draw_views
from lacunar.job.run import Job, OnStep, Quality, report_of, trust_of

SHOWN = ("today", "door", "evening", "up", "corner")
"""Views of the job's own design."""


def write_page(job: Job, path: Path, quality: Quality, step: OnStep) -> list[str]:
    """Write the page; sentences: what it lacks, and why."""
    from lacunar.share import make_facts, page_text, read_shots

    others = (number for number, one in enumerate(job.alternatives) if number and one.job)
    views = (*SHOWN, *(alternative_view(number, view) for number in others for view in CHOSEN_BY))
    folder, notes = path.parent / "pictures", list[str]()
    with tempfile.TemporaryDirectory() as own:
        if not (folder / "door.png").exists():
            folder = Path(own)
            notes = _drawn(job, folder, quality, step)
        shots = read_shots(folder, views)
    facts = make_facts(report_of(job), job.config, trust_of(job))
    step("figure", 0.9)
    figure = figure_of(job)
    path.write_text(page_text(facts, shots, figure), encoding="utf-8", newline="\n")
    return [*notes, *figure.notes]


def _drawn(job: Job, folder: Path, quality: Quality, step: OnStep) -> list[str]:
    """The pictures that the page shows, where this build has none; a sentence where there are none here either."""
    from lacunar.pictures import NO_OPENGL

    said = run_apart({"pictures": ("scene", partial(draw_views, job, folder, quality, names=SHOWN))}, step)["pictures"]
    if any(folder.iterdir()):
        return []
    why = NO_OPENGL if said is None else (said[-1].removeprefix("pictures: ") if said else "none was drawn")
    return [f"share.html has no pictures: {why}"]
