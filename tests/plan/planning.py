"""Parts and shops for plans, and a saw that cuts a plan piece by piece."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from lacunar.config import Config, read_config_text
from lacunar.parts import End, Part
from lacunar.plan import Board, Plan
from samples import slat

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
    kind = {"kind": "trim", "stock": "1x1", "width": 19.05, "thickness": 19.05, "ends": ends}
    return part(name, length, **{**kind, **other})


def config(shop: str = "", units: str = "in", more: str = "") -> Config:
    """A small room with this [shop]."""
    measured = 'AB = "12 ft"\nBC = "11 ft"'
    text = f'units = "{units}"\n{more}\n[room]\nheight = "9 ft"\n[room.measured]\n{measured}\n[shop]\n{shop}\n'
    return read_config_text(text, Path("room.toml"))


def board(stock: str, length: str, price: float | None = None, on_hand: int = 0) -> str:
    """One line of the shop table."""
    rows = [f'stock = "{stock}"', f'length = "{length}"', f"on_hand = {on_hand}"]
    rows += [] if price is None else [f"price = {price}"]
    return "\n[[shop.board]]\n" + "\n".join(rows) + "\n"


def saw_up(plan: Plan, wanted: Sequence[Part], kerf: float, end_waste: float) -> None:
    """Cut every board, from one end to the other, and see that every part comes out once and whole.

    The blade takes a kerf at every cut. Both ends are squared first: that costs `end_waste` each, cut included.
    """
    lengths = {p.id: p.length for p in wanted if p.bought}
    out: list[str] = []
    for piece in plan.boards:
        out += _saw(piece, lengths, kerf, end_waste)
    assert sorted(out) == sorted(set(lengths) - {item.part for item in plan.unserved})


def _saw(piece: Board, lengths: dict[str, float], kerf: float, end_waste: float) -> list[str]:
    left = piece.length - 2.0 * end_waste
    dust = 2.0 * end_waste
    at = end_waste
    for cut in piece.cuts:
        assert abs(cut.start - at) < 1e-6, f"{piece.id}: {cut.part} starts at {cut.start}, the saw is at {at}"
        assert abs(cut.end - cut.start - lengths[cut.part]) < 1e-6
        left -= lengths[cut.part]
        assert left > -1e-6, f"{piece.id}: {cut.part} runs over the end"
        blade = min(kerf, max(left, 0.0))
        left -= blade
        dust += blade
        at = cut.end + kerf
    assert abs(left - piece.offcut) < 1e-6
    used = sum(lengths[cut.part] for cut in piece.cuts)
    assert abs(used + dust + piece.offcut - piece.length) < 1e-6
    return [cut.part for cut in piece.cuts]
