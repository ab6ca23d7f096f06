"""The pictures that README shows, made anew: python tests/gallery.py. Cameras are fixed, so a change is seen."""

import argparse
import shutil
import tempfile
from pathlib import Path
from typing import cast

from PIL import Image

from field.pdf_look import page_texts, picture
from lacunar.book import crew_book
from lacunar.config import read_config
from lacunar.drawings import board_pages, document_bytes, svg_text
from lacunar.job import Quality, book_of, run_job, write_comparison, write_picture
from lacunar.pictures import save, side_by_side

ROOT = Path(__file__).resolve().parents[1]
CONFIGS, RENDERS = ROOT / "configs", ROOT / "renders"
INCH = CONFIGS / "4-inch.toml"
TRACED = ("door", "up")
"""By following light, where the extra for that is installed."""

VIEWS = ("door", "up", "today", "evening", "hidden", "section", "exploded", "overlap", "steps")
BOOK_PAGES = ("Rows on the beams and walls", "START at AB, trim C2-T1", "stop-14: 1x4")
GAP = 12
RUNS = ("with", "across", "alternate")


def inch_room(quality: Quality) -> None:
    """The inch room in every view that README shows."""
    job = run_job(read_config(INCH))
    for view in VIEWS:
        write_picture(job, view, RENDERS / f"inch-{view}.png", "traced" if view in TRACED else quality)


def boards() -> None:
    """The first page of the inch room's boards."""
    job = run_job(read_config(INCH))
    first = board_pages(job.plan, job.parts, job.config)[0]
    (RENDERS / "inch-boards.svg").write_text(svg_text(first, job.config.title), encoding="utf-8", newline="\n")


def book() -> None:
    """Three pages of the inch room's crew book: rows on the beams, a coffer, stops of the saw."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.pdf"
        path.write_bytes(document_bytes(crew_book(book_of(run_job(read_config(INCH))))))
        texts = page_texts(path)
        pages = [
            picture(path, next(i for i, text in enumerate(texts) if words in text)).reduce(3) for words in BOOK_PAGES
        ]
    wide, tall = (side + GAP for side in pages[0].size)
    whole = Image.new("L", (wide * len(pages) + GAP, tall + GAP), 176)
    for i, page in enumerate(pages):
        whole.paste(page, (i * wide + GAP, GAP))
    whole.save(RENDERS / "inch-book.png", optimize=True)


def alternatives(quality: Quality) -> None:
    """The inch room's runs of slats, side by side."""
    jobs = [run_job(read_config(INCH, [("slats.run", run)])) for run in RUNS]
    with tempfile.TemporaryDirectory() as folder:
        (sheet, _), _ = write_comparison(jobs, RUNS, "door", Path(folder) / "compare.png", quality)
        shutil.copy(sheet, RENDERS)


def rooms(quality: Quality) -> None:
    """Every shipped room from its door, on one sheet."""
    paths = sorted(CONFIGS.glob("*.toml"))
    with tempfile.TemporaryDirectory() as folder:
        pictures: list[Path] = []
        for path in paths:
            pictures.append(Path(folder) / f"{path.stem}.png")
            write_picture(run_job(read_config(path)), "door", pictures[-1], quality)
        save(side_by_side(pictures, [path.stem for path in paths]), RENDERS / "rooms.png")


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quality", choices=("draft", "fine", "large", "traced"), default="fine")
    quality = cast("Quality", parser.parse_args().quality)
    RENDERS.mkdir(exist_ok=True)
    boards()
    book()
    inch_room(quality)
    alternatives("draft")
    rooms("draft")


if __name__ == "__main__":
    main()
