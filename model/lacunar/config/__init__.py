"""A room and the ceiling that is wanted in it, read from a TOML file and validated."""

from lacunar.config.ceiling_tables import CrossBeams, Joint, Slats, SlatsOfCoffer, Trim
from lacunar.config.config import Config
from lacunar.config.read import read_config, read_config_text
from lacunar.config.room_tables import Beam, BeamEnd, Beams, Door, Fixture, Made, Mark, Moulding, RoomTable, Window
from lacunar.config.schema import json_schema
from lacunar.config.template import QUESTIONS, Question, template_text
from lacunar.config.trust import SheetTrust, Trust, trust, used_stock
from lacunar.config.words import distance_ends
from lacunar.config.work_tables import FieldRow, Joists, OldCeilingTable, Shop, ShopBoard
from lacunar.config.write import FieldRows, config_text, write_field

__all__ = [
    "QUESTIONS",
    "Beam",
    "BeamEnd",
    "Beams",
    "Config",
    "CrossBeams",
    "Door",
    "FieldRow",
    "FieldRows",
    "Fixture",
    "Joint",
    "Joists",
    "Made",
    "Mark",
    "Moulding",
    "OldCeilingTable",
    "Question",
    "RoomTable",
    "SheetTrust",
    "Shop",
    "ShopBoard",
    "Slats",
    "SlatsOfCoffer",
    "Trim",
    "Trust",
    "Window",
    "config_text",
    "distance_ends",
    "json_schema",
    "read_config",
    "read_config_text",
    "template_text",
    "trust",
    "used_stock",
    "write_field",
]
