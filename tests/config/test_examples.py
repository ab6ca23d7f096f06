"""The ten-line first look and the config with everything in it: read to the last number."""

import math
from pathlib import Path

import pytest

from lacunar.config import Config, read_config

HERE = Path(__file__).resolve().parent
INCH = 25.4


def inches(*numbers: float) -> list[float]:
    return [pytest.approx(number * INCH, rel=1e-15) for number in numbers]  # type: ignore[misc]


@pytest.fixture(scope="module")
def look() -> Config:
    return read_config(HERE / "first_look.toml")


@pytest.fixture(scope="module")
def every() -> Config:
    return read_config(HERE / "everything.toml")


def test_first_look_as_written(look: Config) -> None:
    assert (look.title, look.name, look.units, look.currency) == ("Study", "first_look", "in", "USD")
    assert look.path == HERE / "first_look.toml"
    assert [look.room.height] == inches(103)
    assert list(look.room.measured) == ["AB", "BC", "CD", "DA"]
    assert list(look.room.measured.values()) == inches(146, 137, 145.5, 136)
    assert look.beams is not None
    assert (look.beams.count, look.beams.between) == (2, ("AB", "CD"))
    assert [look.beams.width, look.beams.depth] == inches(3.5, 5.5)
    assert (look.beams.made.kind, look.beams.made.shell, look.beams.keep) == ("unknown", 0.0, True)


def test_first_look_defaults(look: Config) -> None:
    cross = look.cross_beams
    assert cross is not None
    assert (cross.stock, cross.rows, cross.at, cross.align, cross.bottom) == ("4x6", 2, (), None, 0.0)
    assert [cross.width, cross.depth] == inches(3.5, 5.5)  # of the beams that hang there
    assert (cross.walls, cross.wall_end, cross.species) == ("trim", "unknown", "eastern white pine")
    joint = cross.joint
    assert (joint.high, joint.low) == (2, 1)
    assert joint.angle == pytest.approx(math.radians(15.0))
    sizes = [joint.clearance, joint.bore, joint.pilot, joint.offset, joint.drop, joint.screw]
    assert sizes == inches(1 / 32, 3 / 8, 1 / 8, 3 / 4, 9 / 8, 5 / 2)
    slats = look.slats
    assert (slats.stock, slats.species, slats.run, slats.run_angle) == ("1x4", "eastern white pine", "across", None)
    assert [slats.width, slats.thickness, slats.gap, slats.end_gap, slats.edge_gap] == inches(
        3.5, 0.75, 0.25, 0.25, 0.25
    )
    assert [slats.least_end_gap, slats.least_edge_gap, slats.narrowest_rip] == inches(1 / 16, 1 / 16, 1.75)
    assert (slats.from_, slats.wedge, slats.ten, dict(slats.coffer)) == (("AB", "BC"), "auto", None, {})
    trim = look.trim
    assert [trim.width, trim.height, trim.least_overlap] == inches(0.75, 0.75, 0.25)
    assert (trim.profile, trim.stock, trim.species, trim.corners) == (
        "square",
        "3/4x3/4",
        "eastern white pine",
        "mitre",
    )
    nail = look.fasteners.slat
    assert (nail.kind, nail.gauge, nail.per_joist, [nail.length]) == ("finish nail", 16, 2, inches(2.5))
    shop = look.shop
    assert [look.read_to, shop.kerf, shop.end_waste] == inches(1 / 16, 1 / 8, 1 / 4)
    assert (shop.cull, shop.longest, shop.boards, shop.board, shop.budget) == (0.10, None, None, (), None)
    assert (look.window, look.door, look.beam, look.fixture, look.camera, look.no_nail) == ((), (), (), (), (), ())
    assert (look.framing.joists, look.framing.old_ceiling, look.room.moulding, look.finish) == (None,) * 4
    assert (look.survey.sd, look.survey.sd_per_length) == (1.5, 0.0002)


def test_everything_room(every: Config) -> None:
    room = every.room
    assert (room.corners, every.house.built) == ("ABCD", 1908)
    indoor = every.house.indoor
    assert (indoor.dry, indoor.humid) == (0.25, 0.60)
    assert indoor.temperature == pytest.approx(20.0)
    assert room.moulding is not None
    assert [room.moulding.out, room.moulding.down] == inches(2, 3)
    assert room.moulding.keep is False
    assert list(room.measured) == ["AB", "BC", "CD", "DA", "AC", "BD", "m1-C"]
    assert room.measured["m1-C"] == pytest.approx(172.25 * INCH)
    mark = room.marks["m1"]
    assert (mark.wall, mark.from_, [mark.at]) == ("AB", "A", inches(91.5))
    (window,) = every.window
    assert (window.wall, window.from_) == ("BC", "B")
    assert [window.at, window.width, window.sill, window.head] == inches(30, 36, 32, 86)
    (door,) = every.door
    assert (door.wall, door.from_, door.swing, door.hinge) == ("DA", "D", "in", "left")
    assert [door.at, door.width, door.height] == inches(14, 32, 80)
    (light,) = every.fixture
    assert (light.name, light.kind, light.shape) == ("light", "ceiling box", "round")
    assert [*light.size, light.canopy] == inches(4, 4, 5)
    assert list(light.at) == ["AB", "DA"]
    assert list(light.at.values()) == inches(73, 92)


def test_everything_wood(every: Config) -> None:
    (beam,) = every.beam
    assert (beam.name, beam.made.kind, beam.keep, beam.new, beam.stock) == ("E1", "solid", True, False, None)
    assert [beam.width, beam.depth, beam.middle] == inches(3.5, 7.25, 3.625)
    assert [(end.wall, end.from_) for end in beam.ends] == [("AB", "A"), ("CD", "D")]
    assert [end.at for end in beam.ends] == inches(58, 57.25)
    cross = every.cross_beams
    assert cross is not None
    assert (cross.stock, [cross.width, cross.depth], cross.moisture) == ("4x8", inches(3.5, 7.25), 0.19)
    slats = every.slats
    assert slats.ten == pytest.approx(37.5 * INCH)
    assert slats.gap == pytest.approx(0.25 * INCH)  # 37 1/2 in / 10 - 3 1/2 in
    assert slats.coffer["C5"].run == "with"
    assert slats.coffer["C5"].from_ is None


def test_everything_above_and_shop(every: Config) -> None:
    joists = every.framing.joists
    assert joists is not None
    assert (joists.along, joists.stock, joists.first, joists.spacing) == ("DA", "2x8", None, None)
    assert list(joists.at) == inches(9, 24.75, 41)
    assert [joists.span] == inches(144)
    old = every.framing.old_ceiling
    assert old is not None
    assert (old.kind, [old.thickness]) == ("plaster on wood lath", inches(0.875))
    shop = every.shop
    assert [shop.longest] == inches(144)
    assert (shop.tax, shop.delivery, shop.contingency, shop.budget, shop.flip_stops) == (0.07, 45.0, 0.10, 2500.0, 1)
    (board,) = shop.board
    assert (board.stock, [board.length], board.price, board.on_hand) == ("1x4", inches(96), 9.80, 0)


def test_everything_of_later_stages(every: Config) -> None:
    assert every.finish is not None
    assert [coat.kind for coat in every.finish.coats] == ["gel stain", "clear"]
    assert (every.finish.behind, every.finish.when) == ("flat black", "before")
    assert (every.furring.use, every.furring.stock, every.crew.people) == ("auto", "1x3", 2)
    assert (every.labels.grid.columns, every.labels.grid.rows, every.labels.grid.sheet) == (3, 10, "letter")
    (camera,) = every.camera
    assert (camera.name, camera.look_at, [camera.eye]) == ("sofa", "C5", inches(44))
    assert every.colour.beams == "#4a3020"
    (strip,) = every.no_nail
    assert (list(strip.from_), list(strip.to), [strip.within]) == (["AB", "DA"], ["AB", "DA"], inches(2))
    assert dict(every.field) == {}


def test_what_is_given(look: Config, every: Config) -> None:
    assert look.is_given("beams")
    assert look.is_given("room.measured.AB")
    assert not look.is_given("framing.joists")
    assert not look.is_given("beam")
    assert every.is_given("beam", 0, "ends", 1, "at")
    assert every.is_given("framing.joists.at")
    assert every.is_given("field")
    assert not every.is_given("framing.joists.first")


def test_a_config_is_frozen(look: Config) -> None:
    with pytest.raises(ValueError, match="frozen"):
        look.slats.gap = 3.0  # pyright: ignore[reportAttributeAccessIssue]
