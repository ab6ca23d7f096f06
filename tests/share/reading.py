"""A page read back, by the standard library's parser."""

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser
from typing import Final

NO_END: Final = ("br", "img", "input", "link", "meta")


@dataclass
class Node:
    """An element, or with no name a text."""

    name: str
    attributes: dict[str, str | None] = field(default_factory=dict[str, str | None])
    inside: list["Node"] = field(default_factory=list["Node"])
    words: str = ""

    def all(self, name: str) -> Iterator["Node"]:
        """Every element of a name below, in order."""
        for node in self.inside:
            if node.name == name:
                yield node
            yield from node.all(name)

    @property
    def text(self) -> str:
        """Of it and all below."""
        return self.words + "".join(node.text for node in self.inside)

    @property
    def spaced(self) -> str:
        """The same, what stands in two elements apart."""
        return self.words + " ".join(node.spaced for node in self.inside)


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open = [Node("")]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = Node(tag, dict(attrs))
        self.open[-1].inside.append(node)
        if tag not in NO_END:
            self.open.append(node)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop().name == tag

    def handle_data(self, data: str) -> None:
        self.open[-1].inside.append(Node("", words=data))


def read(text: str) -> Node:
    """The document; an end that has no beginning is an error."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    assert len(reader.open) == 1
    return reader.open[0]


def numbers(text: str) -> set[str]:
    """Every number in a text, thousands joined."""
    return set(re.findall(r"\d+(?:\.\d+)?", re.sub(r"(?<=\d),(?=\d{3})", "", text)))
