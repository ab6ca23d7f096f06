"""A job as its book sees it, and the book of it, with a picture of the room where one can be drawn."""

from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory

from lacunar.book import Book, crew_book
from lacunar.drawings import document_bytes, document_texts, letters_note
from lacunar.job.apart import run_apart
from lacunar.job.pictures import draw_view
from lacunar.job.run import Job, OnStep, Quality, code_of, trust_of


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


def write_book(job: Job, path: Path, _quality: Quality, step: OnStep) -> list[str]:
    """Write the book; the picture is the one that this build made, else a quick one; sentences.

    Raises:
        ExportError: its pages cannot be set.
    """
    with TemporaryDirectory(prefix="lacunar-") as folder:
        made, drawn = path.parent / "pictures" / "door.png", Path(folder) / "door.png"
        if not made.exists():
            run_apart({"picture": ("scene", partial(draw_view, job, "door", drawn, "draft", None))}, step)
        picture = next((file for file in (made, drawn) if file.exists()), None)
        step("crew book", 0.5)
        document = crew_book(book_of(job, picture))
        path.write_bytes(document_bytes(document))
    return [f"{path.name}: {note}" for note in letters_note((document.title, *document_texts(document.blocks)))]
