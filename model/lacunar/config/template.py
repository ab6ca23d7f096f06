"""The commented config that a person starts from: `room.template`, filled in."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from string import Template

from lacunar.config.ceiling_tables import Slats
from lacunar.config.room_tables import Fixture, WindowTable
from lacunar.config.table import Table, default_of
from lacunar.config.work_tables import ShopSheet
from lacunar.units import Units


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """One thing that is asked on a terminal before the file is written.

    Attributes:
        key: of the config ("room.measured.AB").
        ask: the question, with how to measure.
        inches: what is written where nothing is answered, in an inch room.
        metric: the same in a metric room.
    """

    key: str
    ask: str
    inches: str
    metric: str


QUESTIONS = (
    Question(key="title", ask="What is the room called?", inches="My room", metric="My room"),
    Question(key="room.height", ask="How high is the ceiling, floor to ceiling?", inches="8 ft 7 in", metric="2620 mm"),
    Question(
        key="room.measured.AB",
        ask="Stand facing the wall under which you will mostly look up. Its left corner is A, its right corner B. "
        "How long is it?",
        inches="12 ft 2 in",
        metric="3710 mm",
    ),
    Question(key="room.measured.BC", ask="The next wall to the right, B to C?", inches="11 ft 5 in", metric="3480 mm"),
    Question(key="room.measured.CD", ask="The wall behind you, C to D?", inches="12 ft 1 1/2 in", metric="3695 mm"),
    Question(key="room.measured.DA", ask="The last wall, D back to A?", inches="11 ft 4 in", metric="3455 mm"),
    Question(key="beams.count", ask="How many beams hang there now?", inches="2", metric="2"),
    Question(key="beams.width", ask="How wide is one, seen from below?", inches="3 1/2 in", metric="90 mm"),
    Question(key="beams.depth", ask="How deep, ceiling to underside?", inches="5 1/2 in", metric="140 mm"),
    Question(key="cross_beams.rows", ask="How many rows of cross beams between them?", inches="2", metric="2"),
)
"""What `lacunar new` asks, in order. The answers in it build as they stand."""

_OTHER = {
    "ac": ("16 ft 7 7/8 in", "5075 mm"),
    "bd": ("16 ft 7 1/2 in", "5070 mm"),
    "m1_c": ("12 ft 11 1/8 in", "3935 mm"),
    "m1_d": ("12 ft 10 3/8 in", "3920 mm"),
    "sag": ("8 ft 6 1/2 in", "2605 mm"),
    "mark": ("6 ft 1 in", "1855 mm"),
    "beam_at": ("3 ft 11 in", "1190 mm"),
    "shell": ("hollow 3/4 in", "hollow 19 mm"),
    "joist_first": ("9 in", "230 mm"),
    "joist_spacing": ("16 in", "400 mm"),
    "plaster": ("7/8 in", "22 mm"),
    "lamp_ab": ("5 ft 8 in", "1730 mm"),
    "lamp_da": ("6 ft 1 in", "1850 mm"),
    "board": ("8 ft", "2400 mm"),
    "longest": ("12 ft", "3600 mm"),
    "heaviest": ("550 lb", "250 kg"),
    "can": ("1 qt", "1 l"),
    "coverage": ("400 sq ft/gal", "10 m2/l"),
    "opening_at": ("3 ft", "900 mm"),
    "opening": ("3 ft", "900 mm"),
}
"""What stands in the notes, in an inch room and in a metric one."""

_DEFAULTS: tuple[tuple[str, type[Table], str], ...] = (
    ("gap", Slats, "gap"),
    ("lamp", Fixture, "size"),
    ("sill", WindowTable, "sill"),
    ("head", WindowTable, "head"),
    ("sheet_length", ShopSheet, "length"),
    ("sheet_width", ShopSheet, "width"),
)
"""Those of them that are taken where the file has none."""

_NO_BEAMS = "# [beams]                          # none hang there now\n"

_BEAMS = """\
[beams]                            # what hangs there now, evenly spread
count   = $count
between = ["AB", "CD"]             # the two walls that they run to
width   = $width
depth   = $depth  # ceiling to underside
# made  = "$shell"  # or "solid"; left out = unknown
"""


def template_text(units: Units = "in", answers: Mapping[str, str] | None = None) -> str:
    """A commented config that builds as it stands.

    Args:
        units: of the room.
        answers: what was answered, by the key of `QUESTIONS`; the rest is as in QUESTIONS. "0" for `beams.count` leaves
            the beams out.
    """
    given = answers or {}
    texts = {
        question.key: given.get(question.key) or (question.inches if units == "in" else question.metric)
        for question in QUESTIONS
    }
    values = {name: pair[0 if units == "in" else 1] for name, pair in _OTHER.items()}
    values |= {name: default_of(table, key).text(units) for name, table, key in _DEFAULTS}
    values |= {key.rpartition(".")[2]: _quoted(text) for key, text in texts.items()}
    values |= {"count": texts["beams.count"], "rows": texts["cross_beams.rows"], "units": units}
    beams = _NO_BEAMS if texts["beams.count"].strip() == "0" else Template(_BEAMS).substitute(values)
    notes = files("lacunar.config").joinpath("room.template").read_text(encoding="utf-8")
    return Template(notes).substitute(values, beams=beams.rstrip("\n"))


def _quoted(text: str) -> str:
    """A TOML text; inch marks and backslashes get a backslash."""
    return '"' + text.strip().replace("\\", "\\\\").replace('"', '\\"') + '"'
