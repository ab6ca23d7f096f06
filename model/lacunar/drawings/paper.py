"""The paper that is in the printer."""

from lacunar.config import Config
from lacunar.drawings.page import A4, LETTER, Spot


def paper_size(config: Config) -> Spot:
    """Upright, mm: letter or A4, what labels are printed on, else what goes with the units."""
    sheet = config.labels.grid.sheet if config.is_given("labels.grid.sheet") else ""
    return LETTER if sheet == "letter" or (not sheet and config.units == "in") else A4
