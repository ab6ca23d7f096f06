"""Money in words."""

import math

ESTIMATE = "an estimate, ask for quotes"
"""Stands wherever a total does."""


def money_text(amount: float, currency: str) -> str:
    """Money as a person reads it: whole units from a hundred on, for no estimate is better than that."""
    return f"{currency} {math.floor(amount + 0.5):,}" if abs(amount) >= 100.0 else f"{currency} {amount:.2f}"
