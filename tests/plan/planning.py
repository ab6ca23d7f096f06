"""Parts and shops for plans."""

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from lacunar.config import Config, read_config, read_config_text
from lacunar.parts import End, Part
from lacunar.plan import Plan, make_plan
from samples import slat
from strategies import parts_of

CONFIGS = sorted((Path(__file__).resolve().parents[2] / "configs").glob("*.toml"))
INCH = 25.4
FOOT = 304.8


def part(name: str, length: float, **other: Any) -> Part:
    """A slat of this length; anything else by keyword."""
    return replace(slat(), **{"id": name, "length": length, "interval": None, **other})


def parts(lengths: Sequence[float], prefix: str = "C1-S", **other: Any) -> tuple[Part, ...]:
    """Numbered parts of these lengths."""
    return tuple(part(f"{prefix}{i:03d}", length, **other) for i, length in enumerate(lengths, 1))


def mitred(name: str, length: float, mitres: tuple[float, float], **other: Any) -> Part:
    """A strip of trim with these end cuts."""
    ends = tuple(End(mitre_deg=angle) for angle in mitres)
    kind = {"kind": "trim", "stock": "1x2", "width": 19.05, "thickness": 19.05, "ends": ends}
    return part(name, length, **{**kind, **other})


@cache
def config(shop: str = "", units: str = "in", more: str = "") -> Config:
    """A small room with this [shop]."""
    measured = 'AB = "12 ft"\nBC = "11 ft"'
    slats = "" if "[slats]" in more else "[slats]\nmargin = 0\n"
    text = f'units = "{units}"\n{more}\n{slats}[room]\nheight = "9 ft"\n[room.measured]\n{measured}\n[shop]\n{shop}\n'
    return read_config_text(text, Path("room.toml"))


@cache
def planned(path: Path, changes: tuple[tuple[str, str], ...] = ()) -> tuple[tuple[Part, ...], Config, Plan]:
    """The parts of a room in a file, with some keys changed, and how they are cut: once for all tests."""
    room = read_config(path, changes)
    wanted = parts_of(room)
    return wanted, room, make_plan(wanted, room)


def board(
    stock: str, length: str, price: float | None = None, on_hand: int = 0, supply: int | None = None, actual: str = ""
) -> str:
    """One line of the shop table."""
    rows = [f'stock = "{stock}"', f'length = "{length}"', f"on_hand = {on_hand}"]
    rows += [] if price is None else [f"price = {price}"]
    rows += [] if supply is None else [f"supply = {supply}"]
    rows += [f'actual = "{actual}"'] if actual else []
    return "\n[[shop.board]]\n" + "\n".join(rows) + "\n"
