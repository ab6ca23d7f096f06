"""The page that a household or a client opens."""

from lacunar.share.facts import Facts, make_facts
from lacunar.share.figure import Figure, Shown, figure_parts
from lacunar.share.page import Inset, page_text
from lacunar.share.shots import Shots, read_shots
from lacunar.share.watched import watched_page

__all__ = [
    "Facts",
    "Figure",
    "Inset",
    "Shots",
    "Shown",
    "figure_parts",
    "make_facts",
    "page_text",
    "read_shots",
    "watched_page",
]
