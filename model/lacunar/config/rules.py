"""What must hold between keys, all of it."""

from collections.abc import Iterator

from lacunar.config.ceiling_rules import cross_beam_rules, slat_rules, trim_rules
from lacunar.config.facts import Breach, Facts
from lacunar.config.room_rules import beam_rules, fixture_rules, opening_rules, room_rules
from lacunar.config.work_rules import framing_rules, later_rules, shop_rules

_RULES = (
    room_rules,
    opening_rules,
    beam_rules,
    cross_beam_rules,
    slat_rules,
    trim_rules,
    fixture_rules,
    framing_rules,
    shop_rules,
    later_rules,
)


def broken_rules(facts: Facts) -> Iterator[Breach]:
    """Every rule that does not hold."""
    for rules in _RULES:
        yield from rules(facts)
