"""A room and the ceiling that is wanted in it, read from a TOML file and validated."""

from lacunar.config.amounts import GALLON_LITRES, POUND_KG, JobName, PackName
from lacunar.config.assumed import UNUSED
from lacunar.config.ceiling_tables import CrossBeams, Joint, Slats, SlatsOfCoffer, TrimTable
from lacunar.config.config import Config
from lacunar.config.defaults import section_name
from lacunar.config.done_tables import SAID, Bought, BoughtBoards, Done, DoneBoard, DonePiece, Said
from lacunar.config.label_sheets import PAPERS
from lacunar.config.lengths import LONGEST_BOARD, fine_length, plain_length, safe_length, unusual_height
from lacunar.config.marks import beam_marks, measured_ends
from lacunar.config.names import beam_mark, distance_ends
from lacunar.config.printed import BLANK, printed_day, printed_on, told_day
from lacunar.config.read import read_config, read_config_text
from lacunar.config.reading import did_you_mean, first_of
from lacunar.config.room_tables import (
    Beam,
    BeamEnd,
    Beams,
    Door,
    Fixture,
    Mark,
    Moulding,
    NoNail,
    RoomTable,
    WindowTable,
)
from lacunar.config.schema import json_schema
from lacunar.config.table_file import read_table
from lacunar.config.template import QUESTIONS, template_text
from lacunar.config.trust import Doubt, GoodFor, Sheet, SheetState, SheetTrust, Trust, sheets_trusted, trust, used_stock
from lacunar.config.work_tables import (
    CameraTable,
    CoatTable,
    Fasteners,
    FieldRow,
    Finish,
    Framing,
    JoistsTable,
    OldCeilingTable,
    Pack,
    Shop,
    ShopBoard,
    ShopSheet,
    SurveyTable,
    When,
)
from lacunar.config.write import (
    Measures,
    add_key,
    config_text,
    edit_config,
    measure_text,
    with_line_ends_of,
    write_field,
)

__all__ = [
    "BLANK",
    "GALLON_LITRES",
    "LONGEST_BOARD",
    "PAPERS",
    "POUND_KG",
    "QUESTIONS",
    "SAID",
    "UNUSED",
    "Beam",
    "BeamEnd",
    "Beams",
    "Bought",
    "BoughtBoards",
    "CameraTable",
    "CoatTable",
    "Config",
    "CrossBeams",
    "Done",
    "DoneBoard",
    "DonePiece",
    "Door",
    "Doubt",
    "Fasteners",
    "FieldRow",
    "Finish",
    "Fixture",
    "Framing",
    "GoodFor",
    "JobName",
    "Joint",
    "JoistsTable",
    "Mark",
    "Measures",
    "Moulding",
    "NoNail",
    "OldCeilingTable",
    "Pack",
    "PackName",
    "RoomTable",
    "Said",
    "Sheet",
    "SheetState",
    "SheetTrust",
    "Shop",
    "ShopBoard",
    "ShopSheet",
    "Slats",
    "SlatsOfCoffer",
    "SurveyTable",
    "TrimTable",
    "Trust",
    "When",
    "WindowTable",
    "add_key",
    "beam_mark",
    "beam_marks",
    "config_text",
    "did_you_mean",
    "distance_ends",
    "edit_config",
    "fine_length",
    "first_of",
    "json_schema",
    "measure_text",
    "measured_ends",
    "plain_length",
    "printed_day",
    "printed_on",
    "read_config",
    "read_config_text",
    "read_table",
    "safe_length",
    "section_name",
    "sheets_trusted",
    "template_text",
    "told_day",
    "trust",
    "unusual_height",
    "used_stock",
    "with_line_ends_of",
    "write_field",
]
