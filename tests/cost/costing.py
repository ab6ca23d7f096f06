"""A rectangular room of one coffer, priced as a test likes it."""

from dataclasses import replace
from typing import Any

from lacunar.config import Config
from lacunar.cost import Cost, Item, make_cost
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Part, cut_to, make_parts
from lacunar.plan import Buy, Plan, make_plan
from lacunar.survey import Room, solve_survey
from strategies import config_of

WIDTH, DEPTH, HEIGHT = 4000.0, 3000.0, 2500.0

ROOM = """
units = "mm"
read_to = 1
[room]
height = 2500
[room.measured]
AB = 4000
BC = 3000
CD = 4000
DA = 3000
AC = 5000
[slats]
width = 90
thickness = 20
gap = 6
[trim]
width = 20
height = 20
"""

BEAM = """
[[beam]]
name = "E1"
width = 100
depth = 140
keep = {keep}
ends = [{{ wall = "AB", from = "A", at = 1950 }}, {{ wall = "CD", from = "D", at = 1950 }}]
"""

CONFIG_PRICES = """
[[shop.board]]
stock = "20x90"
length = 4200
price = 8
[[shop.board]]
stock = "20x20"
length = 4200
price = 3
"""


class Case:
    """Every stage of one config."""

    config: Config
    room: Room
    layout: Layout
    parts: tuple[Part, ...]
    plan: Plan

    def __init__(self, more: str = "", room: str = ROOM) -> None:
        self.config = config_of(room + more)
        self.room = solve_survey(self.config)
        self.layout = arrange_layout(self.room, self.config)
        designed = make_parts(self.layout)
        self.plan = make_plan(designed, self.config)
        self.parts = cut_to(designed, self.plan.lengths)

    def cost(self, parts: tuple[Part, ...] | None = None, config: Config | None = None, **plan: Any) -> Cost:
        """Its cost, with other parts, another config or another plan."""
        return make_cost(
            config or self.config,
            self.room,
            self.layout,
            self.parts if parts is None else parts,
            replace(self.plan, **plan),
        )


def item(cost: Cost, name: str) -> Item:
    """The only item of this name."""
    (found,) = (one for one in cost.items if one.name == name)
    return found


def buy(count: int, spare: int, price: float | None, stock: str = "20x90", length: float = 4200.0) -> Buy:
    """One line of a shopping list."""
    return Buy(
        stock=stock,
        species="eastern white pine",
        length=length,
        count=count,
        spare=spare,
        price=price,
        total=None if price is None else (count + spare) * price,
    )
