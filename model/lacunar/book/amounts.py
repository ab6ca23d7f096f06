"""Amounts of goods in the units that a shop sells them by."""

from lacunar.config import POUND_KG
from lacunar.cost import Item
from lacunar.units import FOOT, Units, area_text


def amount_text(value: float, unit: str, units: Units) -> str:
    """So many pieces, so much of a bead or roll, so much area."""
    if unit == "piece":
        return f"{value:,.0f}"
    if unit == "mm":
        return f"{value / FOOT:,.0f} ft" if units == "in" else f"{value / 1000.0:,.1f} m"
    return area_text(value, units)


def need_text(item: Item, units: Units) -> str:
    """What the work takes of it."""
    return amount_text(item.need, item.unit, units)


def mass_text(kg: float, units: Units) -> str:
    """A mass, kg."""
    return f"{kg / POUND_KG:,.0f} lb" if units == "in" else f"{kg:,.0f} kg"
