"""The figure by itself, on a page that looks whether there is a newer one."""

from importlib.resources import files

from lacunar.share.figure import Figure
from lacunar.share.markup import Html, element, joined, named
from lacunar.share.page import policy


def watched_page(title: str, figure: Figure, number: int, wrong: str = "") -> str:
    """The whole page; it asks where it came from for `number`, and for itself where that is another.

    Args:
        title: of the ceiling.
        figure: of it.
        number: of this page.
        wrong: what keeps a newer one from being built.
    """
    folder = files("lacunar.share")
    styles = [folder.joinpath("style.css").read_text("utf-8"), figure.styles]
    scripts = [*figure.scripts, folder.joinpath("viewer", "watched.js").read_text("utf-8")]
    rules = f"{policy(styles, scripts)}; connect-src 'self'"
    told = [element("p", line, role="alert") for line in wrong.splitlines()]
    head = (
        element("meta", charset="utf-8"),
        element("meta", http_equiv="Content-Security-Policy", content=rules),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", name="color-scheme", content="light dark"),
        element("title", title),
        *(Html(f"<style>{text}</style>") for text in styles),
    )
    body = (
        element("main", element("h1", named(title)), *told, Html(figure.markup)),
        *(Html(f"<script>{text}</script>") for text in scripts),
    )
    page = element("html", element("head", *head), element("body", joined(body), data_number=number), lang="en")
    return f"<!doctype html>\n{page}\n"
