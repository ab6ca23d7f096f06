"""Fit by chance: how likely everything fits the first time, with the errors of reading and cutting."""

from lacunar.chance.errors import Errors, errors_of
from lacunar.chance.run import chance
from lacunar.chance.slats import Windows, slat_sds, slat_windows
from lacunar.chance.trim import JOINT, SPRING
from lacunar.chance.types import Chance, PieceChance, percent

__all__ = [
    "JOINT",
    "SPRING",
    "Chance",
    "Errors",
    "PieceChance",
    "Windows",
    "chance",
    "errors_of",
    "percent",
    "slat_sds",
    "slat_windows",
]
