"""The page read back: what it says is what the report says, and what people wrote is text and nothing else."""

import io
import re
from base64 import b64decode, b64encode
from collections.abc import Iterator
from dataclasses import replace
from hashlib import sha256
from itertools import pairwise, product
from pathlib import Path
from typing import Any, cast

import numpy as np
import pytest
from PIL import Image

from lacunar.config import Config
from lacunar.cost import money_text
from lacunar.job import Job, report_of, trust_of
from lacunar.job import share as job_share
from lacunar.reports import Report, report_values
from lacunar.share import Inset, make_facts, page_text
from lacunar.share.shots import WIDEST, shot
from lacunar.units import Style, format_length
from share.conftest import HOSTILE, VIEWS, colour, pictures
from share.reading import Node, numbers, read


def text_of(job: Job, report: Report | None = None) -> str:
    return page_text(make_facts(report or report_of(job), job.config, trust_of(job)), {})


@pytest.fixture(scope="module")
def tree(page: Path) -> Node:
    return read(page.read_text(encoding="utf-8"))


# --- numbers -------------------------------------------------------------------------------------------------------


def _leaves(value: Any) -> Iterator[Any]:
    if isinstance(value, dict | list):
        for item in cast("dict[str, Any]", value).values() if isinstance(value, dict) else cast("list[Any]", value):
            yield from _leaves(item)
    else:
        yield value


def _told(value: Any, config: Config) -> Iterator[str]:
    """How a value of the report may stand in a page: as it is, as money, as a length."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, int | float) and not isinstance(value, bool):
        yield f"{value:g}"
        yield money_text(abs(value), config.currency)
        styles: tuple[Style, ...] = ("words", "marks")
        for mark, style in product((config.tape.told, config.read_to), styles):
            yield format_length(value, config.units, mark, style)


def _allowed(job: Job) -> set[str]:
    """Numbers that the report holds, and those of what the household is asked."""
    values = report_values(report_of(job))
    said = [text for value in _leaves(values) for text in _told(value, job.config)]
    counts = (sum(part["kind"] == kind for part in values["parts"]) for kind in ("slat", "existing beam"))  # type: ignore[index,union-attr]
    asked = [f"{one.what} {one.before}" for one in job.config.decide]
    return numbers(" ".join((*said, *map(str, counts), str(len(report_of(job).coffers)), *asked)))


def _shown(text: str) -> set[str]:
    """Numbers that a person reads in a page: not those of scripts and styles."""
    (body,) = read(text).all("body")
    body.inside = [node for node in body.inside if node.name != "script"]
    return numbers(body.spaced.replace(HOSTILE, ""))


def test_every_number_is_the_report_s(job: Job) -> None:
    assert _shown(text_of(job)) - _allowed(job) == set()


def test_a_number_that_is_not_the_report_s_would_be_found(job: Job) -> None:
    report = report_of(job)
    money = replace(report.plan.money, total=report.plan.money.total + 1234.0)
    other = replace(report, plan=replace(report.plan, money=money))
    assert _shown(text_of(job, other)) - _allowed(job)


def test_designs_stand_with_their_rows(job: Job, tree: Node) -> None:
    rows = report_of(job).alternatives
    articles = list(tree.all("article"))
    assert [next(article.all("h3")).text for article in articles] == [row.name for row in rows]
    for article, row in zip(articles, rows, strict=True):
        words = dict(zip((n.text for n in article.all("dt")), (n.text for n in article.all("dd")), strict=True))
        if row.choice is None:
            assert words == {}
            assert row.refused[0] in article.text
            continue
        assert row.choice.cost is not None
        assert words["cost"].startswith(f"{money_text(row.choice.cost, 'USD')}, ")
        assert numbers(words["days"]) == set(map(str, (*row.choice.days, *row.choice.room_days)))
        assert numbers(words["slats to rip"]) == {str(row.choice.rips), str(row.choice.slats)}
        assert (words["boards to buy"], words["stops of the saw"]) == (str(row.choice.boards), str(row.choice.stops))
        assert [item.text for item in article.all("li")] == list(row.choice.against)


def test_a_choice_is_written_down_in_words(tree: Node) -> None:
    said = [node.text for node in tree.all("q")]
    assert said[1].startswith("we chose across, 3/16 in, yellow poplar (plan ")
    radios = [
        node.attributes.get("data-reply") for node in tree.all("input") if node.attributes.get("name") == "choice"
    ]
    assert radios == said


def test_the_calendar_is_the_report_s(job: Job, tree: Node) -> None:
    tasks = [task for task in report_of(job).plan.calendar.tasks if task.hours[1]]
    rows = [[cell.text for cell in row.inside] for row in list(tree.all("tbody"))[-1].all("tr")]
    assert [row[0] for row in rows] == [f"{task.name} {task.what}".strip() for task in tasks]
    for (_, quick, slow, marks), task in zip(rows, tasks, strict=True):
        assert [numbers(quick), numbers(slow)] == [
            {str(first), str(last)} for first, last in zip(task.begins, task.ends, strict=True)
        ]
        assert ("loud" in marks, "smells" in marks) == (task.is_loud, task.smells)


@pytest.mark.parametrize(
    "words",
    [
        "Lead in the old paint: tested, none found.",
        "Asbestos in the old ceiling: not tested.",
        "which stain: before 20 March 2026.",
        "who paints the walls: before the slats go up.",
        "Colours: not compared.",
        "Walls painted again: not in it.",
        "work, tools, platform and what a licensed trade does are not counted",
        "Gaps of 1/4 in between the slats; the old ceiling's colour shows in them.",
        "pictures are computed",
        "to look at and to choose by, not yet to buy wood by",
    ],
)
def test_a_client_is_answered(tree: Node, words: str) -> None:
    (body,) = tree.all("body")
    assert words.casefold() in re.sub("[\u2068\u2069]", "", body.text).casefold()


def test_standing_texts_are_marked(tree: Node) -> None:
    marked = [item.text for item in tree.all("li") if list(item.all("small"))]
    assert len(marked) >= 5
    assert all(text.endswith(" common practice") for text in marked)
    assert not any(numbers(text) for text in marked)


def test_the_title_block(job: Job, tree: Node, monkeypatch: pytest.MonkeyPatch) -> None:
    block = next(tree.all("header"))
    words = dict(zip((n.text for n in block.all("dt")), (n.text for n in block.all("dd")), strict=True))
    assert (words["plan"], words["date"]) == (report_of(job).plan.code, "to be written in")
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1773446400")
    assert make_facts(report_of(job), job.config, trust_of(job)).date == "14 March 2026"


# --- what people wrote ---------------------------------------------------------------------------------------------


def test_what_people_wrote_is_text(page: Path, tree: Node) -> None:
    assert next(tree.all("h1")).text == HOSTILE
    assert HOSTILE in next(tree.all("title")).text
    assert all(node.inside[0].name == "bdi" for node in (*tree.all("h1"), *tree.all("h3")) if node.text == HOSTILE)
    inside = page.read_text(encoding="utf-8")
    assert "<script>bad" not in inside
    names = {name for node in _nodes(tree) for name in node.attributes}
    assert not any(name.startswith("on") or name == "style" for name in names)


def _nodes(node: Node) -> Iterator[Node]:
    yield node
    for one in node.inside:
        yield from _nodes(one)


# --- policy --------------------------------------------------------------------------------------------------------


def test_the_policy_names_every_block_and_nothing_else(tree: Node) -> None:
    (policy,) = (n.attributes["content"] for n in tree.all("meta") if "http-equiv" in n.attributes)
    assert policy is not None
    rules = {rule.split()[0]: rule.split()[1:] for rule in policy.split(";")}
    for kind in ("script", "style"):
        run = (block.text for block in tree.all(kind) if "type" not in block.attributes)  # else it is data
        hashes = [b64encode(sha256(text.encode()).digest()).decode() for text in run]
        assert hashes
        assert rules.pop(f"{kind}-src") == [f"'sha256-{one}'" for one in hashes]
    assert rules == {
        "default-src": ["'none'"],
        "img-src": ["data:", "blob:"],
        "base-uri": ["'none'"],
        "form-action": ["'none'"],
    }


def test_nothing_is_asked_for_from_elsewhere(tree: Node) -> None:
    sources = [node.attributes[key] or "" for node in _nodes(tree) for key in ("src", "href") if key in node.attributes]
    assert sources
    assert all(source.startswith(("data:image/jpeg;base64,", "#")) for source in sources)
    assert not any(re.search(r"url\(|@import", block.text) for block in tree.all("style"))
    assert not list(tree.all("link"))


class _Figure:
    markup, styles, scripts = "<b id='turn'>it turns</b>", ".turn { color: red }", ("'one';", "'two';")


def test_a_figure_comes_with_its_blocks(job: Job) -> None:
    figure: Inset = _Figure()
    tree = read(page_text(make_facts(report_of(job), job.config, trust_of(job)), {}, figure))
    assert [node.text for node in tree.all("b")] == ["it turns"]
    assert [node.text for node in tree.all("script")][:2] == ["'one';", "'two';"]
    test_the_policy_names_every_block_and_nothing_else(tree)
    assert [node.attributes["id"] for node in tree.all("section")] == ["finished", "choose", "look", "asked"]


# --- pictures ------------------------------------------------------------------------------------------------------


def test_order_of_the_sheets_and_of_headings(tree: Node) -> None:
    sheets = [node.attributes["id"] for node in tree.all("section")]
    assert [name for name in sheets if name != "look"] == ["finished", "choose", "asked"]
    levels = [int(node.name[1]) for node in _nodes(tree) if re.fullmatch("h[1-6]", node.name)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_pictures_stand_where_they_belong(tree: Node) -> None:
    images = [(node.attributes["src"] or "", node.attributes["alt"] or "") for node in tree.all("img")]
    seen = [VIEWS[_nearest(source)] for source, _ in images]
    own, other = ["door", "up"], ["alternative-1-door", "alternative-1-up"]
    assert seen == ["today", "door", "door", "evening", *own, *other, "corner"]
    assert all(len(alt) > 15 for _, alt in images)


def _nearest(source: str) -> int:
    with Image.open(io.BytesIO(b64decode(source.partition(",")[2]))) as image:
        assert image.size == (320, 200), "the strip below is left out"
        seen = image.convert("RGB").getpixel((160, 199))
    assert isinstance(seen, tuple)
    off = [sum(abs(a - b) for a, b in zip(seen, colour(n), strict=True)) for n in range(len(VIEWS))]
    return off.index(min(off))


def test_a_picture_is_no_wider_than_a_screen(tmp_path: Path) -> None:
    Image.effect_noise((2400, 1558), 60.0).save(tmp_path / "large.png", compress_level=1)
    data = b64decode(shot(tmp_path / "large.png").partition(",")[2])
    with Image.open(io.BytesIO(data)) as image:
        assert (image.format, image.size) == ("JPEG", (WIDEST, 1000))


def test_without_pictures_it_says_so(job: Job) -> None:
    (body,) = read(text_of(job)).all("body")
    assert "There are no pictures in this page" in body.text
    assert not list(body.all("img"))


def test_a_page_alone_draws_what_it_shows(job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[str, ...]] = []

    def drawn(errands: Any, _step: object) -> dict[str, tuple[str, ...]]:
        ((need, errand),) = errands.values()
        assert need == "scene"
        asked.append(errand.keywords["names"])
        errand.args[1].rmdir()
        pictures(errand.args[1])
        return {"pictures": ()}

    monkeypatch.setattr(job_share, "run_apart", drawn)
    assert job_share.write_page(job, tmp_path / "share.html", "draft", lambda _text, _share: None) == []
    assert asked == [job_share.SHOWN]
    assert (tmp_path / "share.html").read_text(encoding="utf-8").count('<img src="data:image/jpeg') == 9


@pytest.mark.parametrize(
    ("said", "note"),
    [(None, "Pictures need an OpenGL library"), (("pictures: no screen",), "no screen")],
)
def test_where_nothing_can_be_drawn_the_page_is_written(
    job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, said: object, note: str
) -> None:
    def died(*_: object) -> dict[str, object]:
        return {"pictures": said}

    monkeypatch.setattr(job_share, "run_apart", died)
    (told,) = job_share.write_page(job, tmp_path / "share.html", "draft", lambda _text, _share: None)
    assert told.startswith(f"share.html has no pictures: {note}")
    assert "There are no pictures" in (tmp_path / "share.html").read_text(encoding="utf-8")


def test_alternatives_are_drawn_by_the_own_design_s_camera(
    job: Job, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from lacunar.job.pictures import draw_views
    from lacunar.pictures import SIZES, can_render

    if advice := can_render():
        pytest.skip(advice)
    monkeypatch.setitem(SIZES, "draft", (320, 207))
    told: list[tuple[str, float]] = []
    draw_views(job, tmp_path, "draft", lambda text, share: told.append((text, share)), names=("door", "up"))
    assert {path.stem for path in tmp_path.iterdir()} == {"door", "up", "alternative-1-door", "alternative-1-up"}
    shares = [share for _, share in told]
    assert shares == sorted(shares)
    assert any("across" in text for text, _ in told)
    for view in ("door", "up"):
        own, other = (np.asarray(Image.open(tmp_path / f"{name}{view}.png"), float) for name in ("", "alternative-1-"))
        off = np.abs(own - other)[:195].max(axis=2)
        assert 0.005 < (off > 20.0).mean() < 0.5, "slats run another way, and the room stands where it stood"
