"""Slats at an angle: what is left in a coffer's two outermost corners, against a dense sweep over their places."""

import math
import random
import re
from dataclasses import dataclass
from functools import cache

import pytest
from shapely import LineString, Polygon

from checks.sample import ceiling, found
from lacunar.analysis import Subject, make_subject
from lacunar.analysis.shapes import polygons_in
from lacunar.checks import Finding
from lacunar.config import Config
from lacunar.layout import Coffer, arrange_layout
from lacunar.parts import make_parts
from lacunar.survey import solve_survey
from strategies import config_of, quad

STEPS = 200
"""Places that the sweep tries over one slat and gap."""

TEXT = """
title = "Angled"
units = "mm"
read_to = 1
[room]
height = 2600
[room.measured]
{measured}
[cross_beams]
rows = 0
[slats]
width = {width}
thickness = 18
run = "{angle} deg"
gap = {gap}
end_gap = {end_gap}
edge_gap = {edge_gap}
narrowest_rip = {narrowest_rip}
[trim]
width = {trim}
height = 20
least_overlap = {overlap}
"""


def rooms(count: int, seed: int, *, awkward: bool = False) -> list[str]:
    """Out-of-square rooms, boards and trim of every width that a shop has, slats 10 to 80 degrees from AB either way.

    Awkward ones have wide gaps, no rips under half a board, and trim that hides little more than the end gap.
    """
    draw = random.Random(seed)
    texts: list[str] = []
    for _ in range(count):
        b, cx, cy, dx, dy = (draw.uniform(-80.0, 80.0) for _ in range(5))
        room = quad(draw.uniform(1200.0, 5000.0), draw.uniform(1200.0, 4000.0), (b, cx, cy, dx, dy))
        width, trim, overlap = draw.uniform(60.0, 190.0), draw.uniform(16.0, 45.0), draw.uniform(3.0, 8.0)
        hidden = trim - overlap
        texts.append(
            TEXT.format(
                measured=room.measured(),
                width=width,
                angle=draw.choice([-1.0, 1.0]) * draw.uniform(10.0, 80.0),
                gap=draw.choice([20.0, 25.0, 30.0] if awkward else [0.0, 3.0, 6.0, 12.0, 25.0]),
                end_gap=draw.uniform(hidden - 2.0 if awkward else 2.0, hidden),
                edge_gap=draw.choice([1.5, 6.0]),
                narrowest_rip=width * (0.5 if awkward else draw.choice([0.1, 0.3, 0.5])),
                trim=trim,
                overlap=overlap,
            )
        )
    return texts


@cache
def bare() -> Subject:
    return ceiling()


def laid(text: str) -> Subject:
    """The layout's parts as designed; the plan is another room's, since no edge hangs on it."""
    config = config_of(text)
    room = solve_survey(config)
    layout = arrange_layout(room, config)
    return make_subject(config, room, layout, make_parts(layout), bare().plan, bare().cost)


@dataclass(frozen=True)
class Sweep:
    """One coffer across its slats, as polygons of another library: slats are strips of what they may cover."""

    covered: Polygon
    seen: Polygon
    across: tuple[float, float]
    config: Config

    @staticmethod
    def of(coffer: Coffer, config: Config) -> "Sweep":
        outline = Polygon(coffer.outline)
        dx, dy = coffer.direction
        return Sweep(
            covered=outline.buffer(-config.slats.end_gap, join_style="mitre"),
            seen=outline.buffer(-config.trim.width, join_style="mitre"),
            across=(-dy, dx),
            config=config,
        )

    def at(self, x: float, y: float) -> float:
        return x * self.across[0] + y * self.across[1]

    def line(self, place: float, reach: float = 1e5) -> LineString:
        (ax, ay) = self.across
        return LineString([(place * ax - s * reach * ay, place * ay + s * reach * ax) for s in (-1.0, 1.0)])

    def slat(self, low: float) -> Polygon:
        high = low + self.config.slats.width
        a, b = self.line(low).coords, self.line(high).coords
        (shape,) = polygons_in(self.covered.intersection(Polygon([a[0], a[1], b[1], b[0]]))) or (Polygon(),)
        return shape

    def shows(self, low: float) -> bool:
        return self.slat(low).intersection(self.seen).area > 1e-3

    def hides(self, low: float) -> bool:
        """Whether slats one of which begins at `low` hide both corners, and none is narrower than the narrowest rip."""
        slats, trim = self.config.slats, self.config.trim
        pitch = slats.width + slats.gap
        reach = [self.at(*p) for p in self.covered.exterior.coords]
        first = low - math.ceil((low - min(reach)) / pitch) * pitch
        lows = [first + i * pitch for i in range(math.ceil((max(reach) - first) / pitch) + 1)]
        first, last = next(filter(self.shows, lows)), next(filter(self.shows, reversed(lows)))
        for low, edge in ((first, first), (last, last + slats.width)):
            places = [self.at(*p) for p in self.slat(low).exterior.coords]
            if max(places) - min(places) < slats.narrowest_rip - 1e-6:
                return False
            outer = self.line(edge).intersection(self.covered)
            if outer.length > 1e-6 and outer.distance(self.seen) < trim.least_overlap - 1e-6:
                return False
        return True

    def finds_one(self) -> bool:
        pitch = self.config.slats.width + self.config.slats.gap
        return any(self.hides(pitch * i / STEPS) for i in range(STEPS))


def failed(subject: Subject) -> list[Finding]:
    return [finding for finding in found("overlap-edge", subject) if finding.level == "fail"]


def hides(subject: Subject) -> tuple[bool, bool]:
    """Whether the layout's slats hide both corners, and whether slats anywhere would, both by the other library."""
    (coffer,) = subject.layout.coffers
    sweep = Sweep.of(coffer, subject.config)
    places = sorted(min(sweep.at(*p) for p in slat.outline) for slat in subject.layout.slats)
    return sweep.hides(places[1]), sweep.finds_one()


@pytest.mark.parametrize("text", [*rooms(120, seed=20), *rooms(60, seed=21, awkward=True)])
def test_corners_are_hidden_wherever_a_sweep_can_hide_them(text: str) -> None:
    subject = laid(text)
    ours, sweeps = hides(subject)
    assert ours or not sweeps
    assert ours == (not failed(subject))


def changed(text: str, fix: str) -> str:
    """The config with what a finding tells."""
    config = config_of(text)
    if wider := re.fullmatch(r"use trim (\d+) mm wider", fix):
        return text.replace(f"width = {config.trim.width}\n", f"width = {config.trim.width + int(wider[1])}\n")
    end_gap = re.fullmatch(r"set slats.end_gap to (\d+) mm", fix)
    assert end_gap, fix
    return text.replace(f"\nend_gap = {config.slats.end_gap}\n", f"\nend_gap = {end_gap[1]}\n")


def test_where_no_place_hides_both_corners_the_advice_does() -> None:
    told = 0
    for text in rooms(60, seed=21, awkward=True):
        for finding in failed(laid(text)):
            assert "no other place of the slats hides both corners" in finding.message
            assert not failed(laid(changed(text, finding.fix)))
            told += 1
    assert told >= 10


SHALLOW = TEXT.format(
    measured="AB = 3000\nBC = 2400\nCD = 3000\nDA = 2400\nAC = 3841.87\nBD = 3841.87",
    width=95,
    angle=10,
    gap=6,
    end_gap="{end_gap}",
    edge_gap=6,
    narrowest_rip=40,
    trim=20,
    overlap=6,
)
"""At 10 degrees a side cuts a slat's corner off along so much of it that it counts as an edge."""


@pytest.mark.parametrize(("end_gap", "fix"), [(16.0, "set slats.end_gap to 14 mm"), (1.0, "set slats.end_gap to 2 mm")])
def test_an_end_gap_that_is_no_edge_gap_is_named(end_gap: float, fix: str) -> None:
    text = SHALLOW.format(end_gap=end_gap).replace("[trim]", "least_end_gap = 0.5\n[trim]")
    findings = failed(laid(text))
    assert findings
    assert {finding.fix for finding in findings} == {fix}
    assert not failed(laid(changed(text, fix)))


ANGLED = """
title = "Angled"
units = "mm"
[room]
height = 2600
[room.measured]
AB = 2980
BC = 2400
CD = 2980
DA = 2400
AC = 3826.3
BD = 3826.3
[cross_beams]
rows = 0
[slats]
width = 95
thickness = 18
run = "30 deg"
gap = 6
[trim]
width = 20
height = 20
least_overlap = 6
"""


def test_the_set_of_slats_moves_where_it_left_a_corner_bare() -> None:
    """From the corner on, 35 slats would end 24 mm before the other one."""
    subject = laid(ANGLED)
    assert not failed(subject)
    assert len(subject.layout.slats) == 36
    assert min(slat.width for slat in subject.layout.slats) >= 95.0 / 2.0
