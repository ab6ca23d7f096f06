"""The page that a household or a client opens."""

from lacunar.share.figure import Figure, Shown, figure_parts

__all__ = ["Figure", "Shown", "figure_parts"]
