"""A ceiling with everything that can be measured again, and the same with rows of [field]."""

from collections.abc import Mapping
from functools import cache

from lacunar.config import Config
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Part, apply_field, make_parts, shaped
from lacunar.survey import solve_survey
from strategies import Wish, config_of, quad, text_of

LIGHT = """
[[fixture]]
name = "light"
size = 100
at = { AB = 720, DA = 660 }
"""
PLAIN = Wish()
Rows = Mapping[str, Mapping[str, float]]


def field_text(rows: Rows) -> str:
    """[field] as TOML, exact."""
    lines = [f"{part} = {{ {', '.join(f'{key} = {mm!r}' for key, mm in row.items())} }}" for part, row in rows.items()]
    return "\n[field]\n" + "\n".join(lines) + "\n"


def config(rows: Rows | None = None, wish: Wish = PLAIN, more: str = LIGHT) -> Config:
    """A room out of square, in mm: two beams, two rows, a light that severs or notches slats."""
    room = quad(4200.0, 3850.0, (20.0, -30.0, 12.0, 15.0, -8.0))
    return config_of(text_of(room, wish, more + (field_text(rows) if rows else "")))


@cache
def layout(wish: Wish = PLAIN, more: str = LIGHT) -> Layout:
    plain = config(None, wish, more)
    return arrange_layout(solve_survey(plain), plain)


@cache
def designed(wish: Wish = PLAIN, more: str = LIGHT) -> tuple[Part, ...]:
    return make_parts(layout(wish, more))


def measured(rows: Rows, wish: Wish = PLAIN, more: str = LIGHT) -> dict[str, Part]:
    """The parts with these rows in the shapes of their sizes, by id."""
    return {part.id: part for part in shaped(apply_field(designed(wish, more), config(rows, wish, more)))}


def as_rows(parts: tuple[Part, ...]) -> Rows:
    """Every bought part as if it had been measured and found as designed."""
    rows: dict[str, dict[str, float]] = {}
    for part in (part for part in parts if part.bought):
        row = {"length": part.length}
        if part.kind == "slat":
            row["width"] = part.width
            row |= {} if part.width_end is None else {"width_end": part.width_end}
            if part.interval is not None:
                row |= {"shortest": part.interval[0], "longest": part.interval[1]}
        rows[part.id] = row
    return rows
