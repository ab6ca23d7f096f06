"""What can go wrong with a ceiling, found before anything is cut: one finding or more from every check."""

from lacunar.checks.doubts import HARMLESS, doubts
from lacunar.checks.finding import Finding, Level
from lacunar.checks.margin_words import margin_words
from lacunar.checks.run import CHECKS, explain, run_checks

__all__ = ["CHECKS", "HARMLESS", "Finding", "Level", "doubts", "explain", "margin_words", "run_checks"]
