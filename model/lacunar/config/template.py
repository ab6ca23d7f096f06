"""The commented config that a person starts from."""

from collections.abc import Mapping
from dataclasses import dataclass
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

_TEMPLATE = """\
# A coffered ceiling: one room, measured by hand, in one file.
#
#   lacunar check  FILE.toml           is it all right, and what is missing?
#   lacunar build  FILE.toml -o OUT    model, cut list, pictures
#
# Lengths are as on the tape: "12 ft 4 1/2 in", "12' 4-1/2\\"", "3.76 m", "3760 mm"; bare numbers are in `units`.
# Lines that begin with # are notes. A setting behind a # is off: take the # away to use it.
# What you leave out is assumed, and every report says so.
#
# BEFORE ANYBODY DRILLS, NAILS OR CLIMBS
#   Wires and pipes   Switch the circuit off at the panel and test that it is dead. A lamp that moves, and the box that
#                     must come out to the face of the new wood, are work for a licensed electrician.
#   Old paint, plaster, texture   A house from before 1978 may have lead paint; plaster, texture and insulation from
#                     before about 1981 may hold asbestos. Have a sample tested before you make dust.
#   Loose plaster     Press it up with the flat hand every foot or so. Where it moves or cracks, have it fixed first.
#   Work overhead     Two people for a beam, a firm platform, eye protection, a dust mask. Oily rags dry outdoors, flat.
#   What is allowed   Local code and the licensed trades decide, not this file.

title = $title
units = "$units"

[room]
# Floor to ceiling. Measure at every corner: old ceilings are seldom level. If they differ, give each instead of height
# (the centre too: that shows a sag).
height = $height
# heights = { A = $height, B = $height, C = $height, D = $height, centre = "$sag" }

[room.measured]
# Corners are lettered clockwise seen from above: stand inside, turn right. Along each wall, as high up as you can:
AB = $AB
BC = $BC
CD = $CD
DA = $DA
# Corner to corner across the room. Without a diagonal the corner at A is taken as square, and it hardly ever is.
# Measure both: then a misread one shows.
# AC = "$ac"
# BD = "$bd"
# Better still: a mark at the middle of each wall, and from it to the two far corners.
# "m1-C" = "$m1_c"
# "m1-D" = "$m1_d"
# [room.marks]
# m1 = { wall = "AB", from = "A", at = "$mark" }

$beams
# Solid or hollow? Old ceilings often have boxes of boards that look like beams, and a screw needs wood to bite.
#   Knock: a box sounds like a drum. Look along the lower edges: a fine line along the corner is a joint of boards.
#   Be sure: drill a 1/8 in (3 mm) hole where the new wood will hide it, close under the ceiling. If the bit falls
#   through, the depth of the hole is the boards' thickness: made = "$shell".
# To buy and to cut, measure each beam at both ends instead of [beams]: from a corner to the near face of the beam.
# [[beam]]
# name  = "E1"
# width = $width
# depth = $depth
# ends  = [ { wall = "AB", from = "A", at = "$beam_at" }, { wall = "CD", from = "D", at = "$beam_at" } ]
# made  = "solid"
# Its ends are marks too: in [room.measured], "E1.AB-C" (in quotes) is the distance from where its near face meets wall
# AB to corner C. Two of these to far corners tell a misread end.

[cross_beams]                      # fitted between the others, to make the grid
rows = $rows
# stock  = "4x6"                   # left out: the size of the beams that hang there
# bottom = "up $gap"              # a small step hides what flush shows

[slats]                            # the boards between the beams
stock   = "1x4"
species = "eastern white pine"
run     = "across"                 # or "with" the beams, "alternate", "joists", a wall's name: see lacunar compare
gap     = "$gap"

# [[fixture]]                      # the lamp: measure from two walls to its middle, and across its box
# name = "light"
# size = "$lamp"
# at   = { AB = "$lamp_ab", DA = "$lamp_da" }

# [[window]]
# wall  = "AB"
# from  = "A"                      # distances along the wall are taken from this corner, to the near side
# at    = "$opening_at"
# width = "$opening"
# sill  = "$sill"
# head  = "$head"

# [framing]
# WHERE ARE THE JOISTS? The slats hang on nails that must reach them.
#   Direction: look from the attic, or at the floor boards above: those lie across the joists. Mostly joists span the
#   shorter way. In plasterboard, the long seams and the rows of nails tell; hold a magnet under the ceiling: the nails
#   that it finds lie in straight lines under the joists.
#   Place: where the magnet or a stud finder says so, push a thin nail up close to a wall, where trim will hide the
#   hole. Find both edges of one joist; its middle lies between. Then measure to the next: commonly 16 in (400 mm),
#   also 12 or 24 in, and in old houses anything. Find the last one too: do not trust the spacing across a room.
#   No wires: probe no deeper than the ceiling is thick, with the circuit off.
# joists = { along = "DA", first = "$joist_first", spacing = "$joist_spacing" }  # from wall DA; or at = [...] as found
# WHAT IS THE CEILING MADE OF, AND HOW THICK?
#   At the hole of the lamp (circuit off): hook a bent wire behind the edge and mark it. Plaster on wood lath shows
#   strips of wood with gaps, and is often 7/8 in (22 mm) in all; plasterboard is an even, chalky sheet with paper on
#   it, mostly 1/2 in (12.5 mm). There may be a second layer.
# old_ceiling = { kind = "plaster on wood lath", thickness = "$plaster" }

# [shop]                           # prices make the plan count money; longest and heaviest are what your car takes
# longest  = "$longest"
# heaviest = "$heaviest"
# tax      = 0.07                  # a share, added to all goods
# delivery = 60
# contingency = 0.10               # kept back for what goes wrong
# budget   = 3500
# [[shop.board]]
# stock  = "1x4"
# length = "$board"
# price  = 9.80
# [[shop.pack]]                    # also "pocket screw", "plug", "trim nail", "adhesive", "putty", "behind paint"
# name   = "slat nail"
# holds  = 1000
# price  = 21.50
# [[shop.sheet]]                   # plywood, hardboard: on the floor, under a loose ceiling, for a trial piece
# name   = "hardboard"             # of $sheet_length x $sheet_width, where length and width are left out
# covers = "floor"                 # or "coffers", "ceiling"; or count = 3
# price  = 11.40
# [finish]
# behind = "flat black"            # on the old ceiling, before the slats go up: it shows through every gap
# when   = "before"                # all four sides of every piece, on horses; or "after", in place
# coats  = [ { kind = "clear", holds = "$can", coverage = "$coverage", price = 27.50 } ]
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
    return Template(_TEMPLATE).substitute(values, beams=beams.rstrip("\n"))


def _quoted(text: str) -> str:
    """A TOML text; inch marks and backslashes get a backslash."""
    return '"' + text.strip().replace("\\", "\\\\").replace('"', '\\"') + '"'
