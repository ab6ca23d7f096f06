"""The page, put together: one file that asks for nothing from elsewhere, and runs nothing but its own scripts."""

from base64 import b64encode
from collections.abc import Sequence
from hashlib import sha256
from importlib.resources import files
from typing import Final, Protocol

from lacunar.share.answers import Answer, Line
from lacunar.share.facts import Choice, Facts, Step
from lacunar.share.markup import Html, element, isolated, joined, named
from lacunar.share.shots import Shots

COMPUTED: Final = "pictures are computed"

NO_PICTURES: Final = "There are no pictures in this page: they could not be drawn where it was made."


class Inset(Protocol):
    """Something with styles and scripts of its own, that stands in the page; its markup is taken as it is."""

    @property
    def markup(self) -> str:
        """All that is seen."""
        ...

    @property
    def styles(self) -> str:
        """One sheet."""
        ...

    @property
    def scripts(self) -> Sequence[str]:
        """In order."""
        ...


def page_text(facts: Facts, shots: Shots, figure: Inset | None = None) -> str:
    """The whole file.

    Args:
        facts: what it says.
        shots: pictures by view: today, door, evening, up, corner, and those of alternatives.
        figure: to look round in; the sheet is left out without.
    """
    styles = [_file("style.css"), *([figure.styles] if figure else [])]
    scripts = [*(figure.scripts if figure else ()), _file("page.js")]
    sheets = [_today(facts, shots), _choices(facts, shots), _figure(figure), _asked(facts, shots)]
    head = joined(
        (
            element("meta", charset="utf-8"),
            element("meta", http_equiv="Content-Security-Policy", content=policy(styles, scripts)),
            element("meta", name="viewport", content="width=device-width, initial-scale=1"),
            element("meta", name="color-scheme", content="light dark"),
            element("title", f"{isolated(facts.title)}, plan {facts.code}"),
            *(_block("style", text) for text in styles),
        )
    )
    body = joined(
        (
            _title_block(facts),
            element("main", *filter(None, sheets)),
            element("footer", element("p", f"Plan {facts.code}; {facts.good_for}; {COMPUTED}.")),
            *(_block("script", text) for text in scripts),
        )
    )
    page = element("html", element("head", head), element("body", body), lang="en")
    return f"<!doctype html>\n{page}\n"


def policy(styles: Sequence[str], scripts: Sequence[str]) -> str:
    """What the page may do: show pictures that it holds, and take these very styles and scripts, nothing else."""
    kinds = (("style-src", styles), ("script-src", scripts))
    hashed = (" ".join((kind, *map(_hash, texts))) for kind, texts in kinds)
    return "; ".join(("default-src 'none'", "img-src data: blob:", *hashed, "base-uri 'none'", "form-action 'none'"))


def _hash(text: str) -> str:
    """How a policy names a block. Source: W3C, Content Security Policy Level 3, hash-source."""
    return f"'sha256-{b64encode(sha256(text.encode()).digest()).decode()}'"


def _block(name: str, text: str) -> Html:
    """Styles or a script as they are; nothing in them may end the block."""
    if f"</{name}" in text.lower():
        raise ValueError(f"a {name} holds its own end")
    return Html(f"<{name}>{text}</{name}>")


def _file(name: str) -> str:
    return files("lacunar.share").joinpath(name).read_text(encoding="utf-8")


def _title_block(facts: Facts) -> Html:
    """As on a drawing: what it is of, which plan, when, and how far it can be trusted."""
    blank = element("span", element("span", "to be written in", class_="unseen"), class_="blank")
    cells = (
        ("plan", element("code", facts.code)),
        ("date", facts.date or blank),
        ("good for", joined((element("strong", facts.good_for.removeprefix("good for: ")), f" ({facts.means})"))),
        ("pictures", COMPUTED),
    )
    rows = (element("div", element("dt", word), element("dd", value)) for word, value in cells)
    return element("header", element("h1", named(facts.title)), element("dl", *rows), class_="block")


def _sheet(name: str, heading: str, *inside: str) -> Html:
    known = f"{name}-heading"
    return element("section", element("h2", heading, id=known), *inside, class_="sheet", id=name, aria_labelledby=known)


def _today(facts: Facts, shots: Shots) -> Html:
    room = "The room from its door"
    finished = f"{room} by day with the new ceiling: {facts.shows}"
    before = ("today", "today", f"{room} as it is today: {facts.today}")
    after = ("door", "finished", finished)
    evening = ("evening", "in the evening", f"{room} in the evening with its lamps lit, and the new ceiling")
    by_day = ("door", "by day", finished)
    same = "Today beside finished, from the door, in one light."
    pairs = (
        _pair(shots, before, after, "How much of the room is shown as it is today", same),
        _pair(shots, by_day, evening, "How much of the room is shown by day", "By day and in the evening."),
    )
    plates = [pair for pair in pairs if pair] or [element("p", NO_PICTURES)]
    told = element("p", f"New: {facts.shows}. Today: {facts.today}.")
    return _sheet("finished", "Today and finished", told, element("div", *plates, class_="plates"))


Plate = tuple[str, str, str]
"""A view, a word on it, and what it shows."""


def _pair(shots: Shots, one: Plate, other: Plate, label: str, caption: str) -> Html | None:
    """Two pictures from one place, the second over the first from a slider on; side by side without scripts.

    None where one of them is not there.
    """
    if one[0] not in shots or other[0] not in shots:
        return None
    seen = (
        element("div", _image(shots, view, alt), element("span", word, class_="tag"), class_="shot")
        for view, word, alt in (one, other)
    )
    label = f"{label}, in percent"
    slider = element("input", type="range", min=0, max=100, value=50, class_="slide scripted", aria_label=label)
    return element("figure", element("div", *seen, slider, class_="pair"), element("figcaption", caption))


def _image(shots: Shots, view: str, alt: str) -> Html:
    return element("img", src=shots[view], alt=alt, width=1600, height=1000)


def _choices(facts: Facts, shots: Shots) -> Html | None:
    if not facts.choices:
        return None
    designs = (_choice(number, one, shots) for number, one in enumerate(facts.choices))
    reply = element(
        "div",
        element("label", "Text to copy into a reply", for_="reply"),
        element("textarea", "Mark one of the designs above.", id="reply", rows=2, readonly=True),
        element("button", "Copy", type="button", id="copy"),
        element("span", id="copied", role="status"),
        class_="reply scripted",
    )
    told = "Seen from the same places and in the same light; the first is the one of the sheets and lists."
    return _sheet("choose", "To choose from", element("p", told), element("div", *designs, class_="designs"), reply)


def _choice(number: int, one: Choice, shots: Shots) -> Html:
    heading = element("h3", named(one.name))
    if one.refused:
        return element("article", heading, element("p", one.refused), class_="design")
    views = ("door", "up") if number == 0 else tuple(f"alternative-{number}-{view}" for view in ("door", "up"))
    words = ("from the door", "straight up")
    seen = [
        element("figure", _image(shots, view, f"{one.name}: the ceiling {word}"), element("figcaption", word))
        for view, word in zip(views, words, strict=True)
        if view in shots
    ]
    rows = (element("div", element("dt", word), element("dd", value)) for word, value in one.words)
    mark = element(
        "label",
        element("input", type="radio", name="choice", data_reply=one.reply),
        " We choose this",
        class_="mark scripted",
    )
    return element(
        "article",
        heading,
        element("div", *seen, class_="views"),
        element("dl", *rows),
        element("h4", "What stands against it"),
        element("ul", *(element("li", text) for text in one.against)),
        mark,
        element("p", "To choose it, write: ", element("q", named(one.reply)), class_="say"),
        class_="design",
    )


def _figure(figure: Inset | None) -> Html | None:
    return None if figure is None else _sheet("look", "To look round in", Html(figure.markup))


def _asked(facts: Facts, shots: Shots) -> Html:
    near: list[Html] = []
    if "corner" in shots:
        image = _image(shots, "corner", "Close to a corner of the new ceiling: slats, gaps, trim and beams")
        near = [element("figure", image, element("figcaption", "Close to a corner: gaps, trim, beams."))]
    told = element("div", *near, *map(_answer, facts.answers), class_="answers")
    return _sheet("asked", "Questions and answers", told, _calendar(facts.steps))


def _answer(answer: Answer) -> Html:
    lines = element("ul", *map(_line, answer.lines))
    return element("div", element("h3", answer.question), lines, class_="answer")


def _line(line: Line) -> Html:
    mark = (" ", element("small", "common practice", class_="practice")) if line.practice else ()
    return element("li", line.text, *mark)


def _calendar(steps: Sequence[Step]) -> Html:
    """The work day by day."""
    heads = ("work", "days, if it goes quickly", "days, if it goes slowly", "in the house")
    rows = (
        element(
            "tr",
            element("th", one.name, element("span", f" {one.what}", class_="faint") if one.what else "", scope="row"),
            element("td", one.quick),
            element("td", one.slow),
            element("td", ", ".join(one.marks)),
        )
        for one in steps
    )
    table = element(
        "table",
        element("caption", "The work, day by day"),
        element("thead", element("tr", *(element("th", head, scope="col") for head in heads))),
        element("tbody", *rows),
    )
    return element("div", table, class_="calendar")
