"""Lettering a room from another corner, and building it larger, changes no length but by that."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from lacunar.errors import LayoutError
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import make_parts
from lacunar.survey import solve_survey
from strategies import Quad, Wish, config_of, quads, sampled, text_of, wishes

INCH = 25.4
MANY = settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow])
TURNED = {"AB": "DA", "BC": "AB", "CD": "BC", "DA": "CD"}
"""The walls' new names when B becomes A."""

# What goes by letters and not by the shape: the centred or alternating start, joists that nobody has found, a room
# without beams whose pairs of sides are told by name.
BY_LETTER = {'"centre"', "alternate", "joists"}


def lengths(layout: Layout, kind: str) -> list[float]:
    return sorted(part.length for part in make_parts(layout) if part.kind == kind)


def arranged(room: Quad, wish: Wish) -> Layout | None:
    """None where the wish cannot be met in the room."""
    config = config_of(text_of(room, wish))
    try:
        return arrange_layout(solve_survey(config), config)
    except LayoutError:
        return None


def turned(wish: Wish) -> Wish:
    start, between = wish.start, wish.between
    walls = [[wall.strip().strip('"') for wall in text[1:-1].split(",")] for text in (start, between)]
    first, second = ("[" + ", ".join(f'"{TURNED[wall]}"' for wall in each) + "]" for each in walls)
    return replace(wish, start=first, between=second, run=TURNED.get(wish.run, wish.run))


@MANY
@given(room=quads(), wish=wishes())
def test_lettering_from_another_corner_changes_no_length(room: Quad, wish: Wish) -> None:
    if wish.beams == 0 or {wish.start, wish.run} & BY_LETTER:
        return
    wish = replace(wish, corners="mitre")  # butted strips go by letters: the first and the third are whole
    other = Quad(room.b, room.c, room.d, room.a)
    made = [arranged(shape, asked) for shape, asked in ((room, wish), (other, turned(wish)))]
    assert (made[0] is None) == (made[1] is None)
    if made[0] is None or made[1] is None:
        return
    for kind in ("cross beam", "half beam", "existing beam", "trim", "slat"):
        if kind == "trim" and wish.corners == "butt":
            continue  # which strips run through goes by T1, the side facing AB
        mark = INCH / 16 + 1e-6 if kind == "slat" else 1e-5
        assert lengths(made[0], kind) == pytest.approx(lengths(made[1], kind), abs=mark)


def text_times(room: Quad, k: float) -> str:
    """A ceiling of which every length is k times as large."""
    larger = Quad(*((k * x, k * y) for x, y in (room.a, room.b, room.c, room.d)))
    return f"""
units = "mm"
read_to = {k * 1.5}
[room]
height = 2700
[room.measured]
{larger.measured()}
[beams]
count = 2
between = ["AB", "CD"]
width = {k * 90}
depth = {k * 140}
[cross_beams]
rows = 2
width = {k * 90}
depth = {k * 140}
joint = {{ clearance = {k * 0.8} }}
[slats]
width = {k * 90}
thickness = {k * 18}
gap = {k * 6}
edge_gap = {k * 6}
end_gap = {k * 6}
least_end_gap = {k * 1.5}
least_edge_gap = {k * 1.5}
narrowest_rip = {k * 45}
wedge = "leave"
[trim]
width = {k * 20}
height = {k * 20}
least_overlap = {k * 6}
[shop]
kerf = {k * 3}
"""


@sampled(15, 40, room=quads(), k=st.sampled_from([0.5, 0.75, 1.5, 2.0]))
def test_a_ceiling_k_times_as_large_has_lengths_k_times_as_long(room: Quad, k: float) -> None:
    configs = [config_of(text_times(room, by)) for by in (1.0, k)]
    layouts = [arrange_layout(solve_survey(config), config) for config in configs]
    for kind in ("cross beam", "existing beam", "trim"):
        small, large = (lengths(layout, kind) for layout in layouts)
        assert [k * length for length in small] == pytest.approx(large, abs=1e-5)
    for one, other in zip(layouts[0].coffers, layouts[1].coffers, strict=True):
        if (one.n_full, len(one.rips)) != (other.n_full, len(other.rips)):
            continue  # what is too little to rip is a number of its own, and does not grow with the room
        slats = [[slat.length for slat in layout.slats if slat.coffer == one.id] for layout in layouts]
        assert [k * length for length in slats[0]] == pytest.approx(slats[1], abs=k * 1.5 + 1e-6)
