"""From a room to layout, parts and plan: the order of the stages, for a job and for whatever is tried instead."""

from lacunar.config import Config
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Part, as_done, cut_to, make_parts
from lacunar.plan import Plan, make_plan
from lacunar.survey import Room


def arrange(config: Config, room: Room) -> tuple[Layout, tuple[Part, ...]]:
    """The layout, and its parts as designed.

    Raises:
        LayoutError: the ceiling cannot be arranged.
    """
    layout = arrange_layout(room, config)
    return layout, make_parts(layout)


def plan_parts(
    parts: tuple[Part, ...], config: Config, stock: str | None = None, *, weighed: bool = False
) -> tuple[Plan, tuple[Part, ...]]:
    """A plan, and the parts at its lengths.

    Args:
        parts: as designed or measured.
        config: saw, shop, what is done.
        stock: boards of this stock only are planned.
        weighed: as for `make_plan`.
    """
    plan = make_plan([part for part in parts if stock in (None, part.stock)], config, weighed=weighed)
    return plan, as_done(cut_to(parts, plan.lengths), config)
