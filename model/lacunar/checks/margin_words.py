"""How far slats that were measured keep from both ends of their intervals, and what would give them more, in words."""

from lacunar.analysis import Margins
from lacunar.checks.remedies import named_section, written
from lacunar.config import Config, first_of
from lacunar.cost import money_text

MOST_NAMES = 3

AGAIN = " and the coffers' sheet applied again"
"""What wider trim needs once coffers are measured: [field] holds the lengths that will do with the trim as it was."""


def margin_words(margins: Margins, config: Config) -> str:
    """What is kept, which slats keep less, why, and what helps; "" where no slat was measured."""
    if margins.wanted is None or margins.least is None:
        return ""
    low, high, least = (config.tape.words(mm, config.tape.written) for mm in (*margins.wanted, margins.least))
    rule = "slats.margin" if config.is_given("slats.margin") else "three standard deviations"
    kept = margins.slats - len(margins.lacking)
    said = f"{kept} of {margins.slats} measured slats keep {rule} ({low if low == high else f'{low} to {high}'})"
    said += " from both ends of the lengths that will do"
    if margins.cost or margins.more_boards:
        more = money_text(margins.cost, config.currency) if margins.cost else config.tape.words(margins.more_boards)
        said += f", for {more} more of boards: less than the wood of those that would be cut too short"
    if margins.narrow:
        few = f"too narrow for {first_of(margins.narrow, MOST_NAMES)}"
        said += f"; these are {few}{_cure(margins, config)}"
    short = [name for name in margins.lacking if name not in margins.narrow]
    if short:
        said += f"; the cheapest boards are too short for {first_of(short, MOST_NAMES)}"
    return said + (f"; the least that is kept is {least}" if margins.lacking else "")


def _cure(margins: Margins, config: Config) -> str:
    """What gives it to every slat whose interval is too narrow."""
    cures = list[str]()
    if margins.wider_trim is not None:
        width = config.tape.words(config.trim.width + margins.wider_trim, config.tape.written)
        stock = written(named_section(config, "trim.stock", config.trim.width + margins.wider_trim, config.trim.height))
        cures.append(f'trim.width = "{width}"{f" and {stock}" if stock else ""}{AGAIN}')
    if margins.narrow == margins.read_twice:
        cures.append("every length of those coffers read twice")
    return f" (enough would be {', or '.join(cures)})" if cures else ""
