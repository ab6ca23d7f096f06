"""The pictures that README shows, made anew: python tests/gallery.py. Cameras are fixed, so a change is seen."""

import argparse
import shutil
import tempfile
from pathlib import Path
from typing import cast

from PIL import Image

from lacunar.config import read_config
from lacunar.drawings import board_pages, svg_text
from lacunar.job import Quality, run_job, with_alternatives, write_comparison, write_job, write_picture
from lacunar.pictures import save, side_by_side
from share.browser import LACKING, page_in_browser

ROOT = Path(__file__).resolve().parents[1]
CONFIGS, RENDERS = ROOT / "configs", ROOT / "renders"
INCH = CONFIGS / "4-inch.toml"
TRACED = ("door", "up")
"""By following light, where the extra for that is installed."""

VIEWS = ("door", "up", "today", "evening", "hidden", "section", "exploded", "overlap", "steps")
RUNS = ("with", "across", "alternate")
OTHERS = {"with": "with the beams", "alternate": "alternating"}


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


def alternatives(quality: Quality) -> None:
    """The inch room's runs of slats, side by side."""
    jobs = [run_job(read_config(INCH, [("slats.run", run)])) for run in RUNS]
    with tempfile.TemporaryDirectory() as folder:
        (sheet, _), _ = write_comparison(jobs, RUNS, "door", Path(folder) / "compare.png", quality)
        shutil.copy(sheet, RENDERS)


def share(quality: Quality) -> None:
    """Two looks at the inch room's page on a phone, where there is a browser."""
    if LACKING:
        print(f"no picture of the page: {LACKING}")  # noqa: T201
        return
    job = with_alternatives(
        run_job(read_config(INCH)), [(words, (("slats.run", run),)) for run, words in OTHERS.items()]
    )
    with tempfile.TemporaryDirectory() as folder:
        write_job(job, Path(folder) / "out", ("pictures", "share"), quality)
        shots = [Path(folder) / f"{sheet}.png" for sheet in ("finished", "choose")]
        with page_in_browser(Path(folder) / "out" / "share.html", 390, 844, touch=True) as page:
            page.screenshot(shots[0])
            page.script("document.querySelector('#choose').scrollIntoView()")
            page.screenshot(shots[1])
        looks = [Image.open(path).convert("RGB") for path in shots]
    sheet = Image.new("RGB", (2 * 390 + 60, 844 + 40), "#8a8a86")
    for number, look in enumerate(looks):
        sheet.paste(look, (20 + 410 * number, 20))
    sheet.save(RENDERS / "share-phone.png", optimize=True)


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
    inch_room(quality)
    alternatives("draft")
    share(quality)
    rooms("draft")


if __name__ == "__main__":
    main()
