"""HTML put together so that a text can never become markup: only what is `Html` goes in as it is."""

from collections.abc import Iterable
from html import escape
from typing import Final

VOID: Final = frozenset({"br", "img", "input", "meta"})
"""Elements that have no end."""


class Html(str):
    """Markup, ready."""

    __slots__ = ()


def element(name: str, /, *inside: str, **attributes: str | int | bool) -> Html:
    """One element; text in it is escaped, and so are the values of attributes.

    Args:
        name: of the element.
        inside: texts, and `Html` as it is.
        attributes: a trailing _ is left out and another _ is a dash (class_, aria_label); True stands without a value,
            False is left out.
    """
    told = "".join(_attribute(key.rstrip("_").replace("_", "-"), value) for key, value in attributes.items())
    return Html(f"<{name}{told}>" if name in VOID else f"<{name}{told}>{joined(inside)}</{name}>")


def joined(inside: Iterable[str]) -> Html:
    """Texts and markup one after the other."""
    return Html("".join(one if isinstance(one, Html) else escape(one) for one in inside))


def named(text: str) -> Html:
    """A text that somebody wrote: in whatever direction it runs, what stands around it keeps its own."""
    return element("bdi", text)


def isolated(text: str) -> str:
    """The same where no markup can stand."""
    return f"\u2068{text}\u2069"


def _attribute(key: str, value: str | int | bool) -> str:
    if value is False:
        return ""
    return f" {key}" if value is True else f' {key}="{escape(str(value))}"'
