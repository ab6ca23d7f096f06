"""What must hold between keys, all of it."""

from lacunar.config.ceiling_rules import cross_beam_rules, slat_rules, trim_rules
from lacunar.config.config import Config
from lacunar.config.judge import Breaches, Judge
from lacunar.config.label_sheets import label_rules
from lacunar.config.room_rules import beam_rules, fixture_rules, opening_rules, room_rules
from lacunar.config.work_rules import framing_rules, later_rules, shop_rules

_RULES = (
    *(room_rules, opening_rules, beam_rules, cross_beam_rules, slat_rules, trim_rules, fixture_rules),
    *(framing_rules, shop_rules, label_rules, later_rules),
)


def broken_rules(config: Config) -> Breaches:
    """Every rule that does not hold in a config with its defaults filled in."""
    for rules in _RULES:
        yield from rules(Judge(config=config))
