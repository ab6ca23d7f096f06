"""What a book is about: everything that is known of one ceiling, and what only the job knows."""

from dataclasses import dataclass
from pathlib import Path

from lacunar.analysis import Analysis
from lacunar.checks import Finding
from lacunar.config import Config, Trust
from lacunar.cost import Cost
from lacunar.layout import Layout
from lacunar.parts import Part
from lacunar.plan import Plan
from lacunar.schedule import Calendar
from lacunar.survey import Room


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """One ceiling, as its book tells of it.

    Attributes:
        parts: every part as it is cut.
        trust: how far it can be trusted, sheet by sheet.
        code: of the plan.
        picture: of the room from its door; None where none could be drawn.
    """

    config: Config
    room: Room
    layout: Layout
    parts: tuple[Part, ...]
    plan: Plan
    cost: Cost
    analysis: Analysis
    calendar: Calendar
    findings: tuple[Finding, ...]
    trust: Trust
    code: str
    picture: Path | None
