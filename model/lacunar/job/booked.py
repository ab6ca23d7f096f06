"""A job as its book sees it."""

from pathlib import Path

from lacunar.book import Book
from lacunar.job.run import Job, code_of, trust_of


def book_of(job: Job, picture: Path | None = None) -> Book:
    """What labels, templates and the crew book are made of.

    Args:
        job: of `run_job`.
        picture: of the room from its door, where there is one.
    """
    return Book(
        config=job.config,
        room=job.room,
        layout=job.layout,
        parts=job.parts,
        plan=job.plan,
        cost=job.cost,
        analysis=job.analysis,
        calendar=job.calendar,
        findings=job.findings,
        trust=trust_of(job),
        code=code_of(job),
        picture=picture,
    )
