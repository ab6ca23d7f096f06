"""What can go wrong with a ceiling, found before anything is cut: one finding or more from every check."""

from lacunar.checks.finding import Finding, Level
from lacunar.checks.run import CHECKS, explain, run_checks

__all__ = ["CHECKS", "Finding", "Level", "explain", "run_checks"]
