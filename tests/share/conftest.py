"""One small job with alternatives, and its page with pictures of one colour, for all tests of the page."""

from dataclasses import replace
from pathlib import Path

import pytest
from PIL import Image

from lacunar.config import read_config
from lacunar.job import Job, run_job, with_alternatives
from lacunar.job.share import write_page

ALTERNATIVES = """
[[shop.board]]
stock = "1x4"
length = "8 ft"
price = 9.40
[house]
built = 1924
tested = { lead = "none" }
[[decide]]
what = "which stain"
before = "2026-03-20"
[[decide]]
what = "who paints the walls"
before = "the slats go up"
[[alternative]]
name = "across"
set = { "slats.run" = "across", "slats.gap" = "3/16 in" }
[[alternative]]
name = "forty rows"
set = { "cross_beams.rows" = 40 }
"""

VIEWS = ("today", "door", "evening", "up", "corner", "alternative-1-door", "alternative-1-up")


@pytest.fixture(scope="session")
def job(tmp_path_factory: pytest.TempPathFactory, configs: Path) -> Job:
    """Of the smallest shipped room."""
    path = tmp_path_factory.mktemp("room") / "room.toml"
    room = (configs / "2-one-coffer.toml").read_text(encoding="utf-8")
    path.write_text(room + ALTERNATIVES, encoding="utf-8")
    job = with_alternatives(run_job(read_config(path), weighed=False, advised=False))
    # Somebody writes a title that is to be no more than a text; what a reader refuses stands here too.
    return replace(job, config=job.config.model_copy(update={"title": HOSTILE}))


HOSTILE = "Room <script>bad = 1</script></style></title><img src=x onerror=bad=1> \"'&amp; \u202eשלום 🪵 " + "long" * 40


@pytest.fixture(scope="session")
def page(job: Job, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The page of that job."""
    folder = tmp_path_factory.mktemp("built")
    pictures(folder / "pictures")
    path = folder / "share.html"
    assert write_page(job, path, "draft", lambda _text, _share: None) == []
    return path


def pictures(folder: Path) -> None:
    """Pictures of all views, each of a colour of its own, with a black strip below as a build's have."""
    folder.mkdir()
    for number, view in enumerate(VIEWS):
        image = Image.new("RGB", (320, 207))
        image.paste(colour(number), (0, 0, 320, 200))
        image.save(folder / f"{view}.png")


def colour(number: int) -> tuple[int, int, int]:
    """Of a picture by its place in `VIEWS`."""
    return 30 * number + 20, 200 - 25 * number, 90
