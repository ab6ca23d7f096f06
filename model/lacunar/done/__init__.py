"""What is bought, cut, up and spoilt: said by people in names of parts and boards, kept in the config."""

from lacunar.done.ask import Ask, read_ask
from lacunar.done.record import Recorded, record, take_back
from lacunar.done.so_far import DoneSoFar, done_line, done_so_far
from lacunar.done.ticks import TICK, TICK_COLUMNS, is_tick_list, read_ticks, tick_rows, tick_text
from lacunar.done.write import write_done

__all__ = [
    "TICK",
    "TICK_COLUMNS",
    "Ask",
    "DoneSoFar",
    "Recorded",
    "done_line",
    "done_so_far",
    "is_tick_list",
    "read_ask",
    "read_ticks",
    "record",
    "take_back",
    "tick_rows",
    "tick_text",
    "write_done",
]
