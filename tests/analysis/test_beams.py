"""Beams against the old ceiling and what their ends come up to, in closed form."""

import math

import pytest

from checks.sample import SQUARE, analysed, ceiling, edited


def test_room_above_a_piece_is_ceiling_less_section() -> None:
    """The row crosses the middle of the room: its two pieces run from wall DA and BC to the beam."""
    heights = "heights = { A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480 }"
    subject = ceiling(edited(SQUARE, ("height = 2500", heights)))
    above = {beam.part: beam.above for beam in analysed(subject).beams}
    assert above["E1"] == ()
    for piece in subject.layout.pieces:
        for over, share in zip(above[piece.id], (0.0, 0.5, 1.0), strict=True):
            (ax, ay), (bx, by) = piece.axis
            x, y = ax + share * (bx - ax), ay + share * (by - ay)
            # On the line between the walls' middles the ceiling falls 20 mm in 2 m from each wall.
            ceiling_there = 2500.0 - 20.0 * min(x, 4000.0 - x) / 2000.0
            assert y == pytest.approx(1500.0)
            assert over == pytest.approx(ceiling_there - piece.bottom.at((x, y)) - 140.0)


@pytest.mark.parametrize(
    ("shell", "bite"),
    # The screw leaves half an inch past the shoulder's half: what is past the joint of 0.5 mm bites, at most.
    [(18.0, 18.0 / math.cos(math.radians(15.0))), (90.0, 31.75 - 0.5 / math.cos(math.radians(15.0)))],
)
def test_what_of_a_screw_bites_in_a_shell(shell: float, bite: float) -> None:
    hollow = edited(SQUARE, ('made = "solid"', f'made = "hollow {shell} mm"'))
    ends = analysed(ceiling(hollow)).beam_ends
    assert [(end.part, end.against) for end in ends] == [("X1-1", "DA"), ("X1-1", "E1"), ("X1-2", "E1"), ("X1-2", "BC")]
    at_walls, at_beam = [[end for end in ends if (end.against == "E1") == beam] for beam in (False, True)]
    assert [end.bite for end in at_beam] == pytest.approx([bite, bite])
    assert [(end.off, end.bite, end.edge) for end in at_walls] == [(None, None, None)] * 2
    bare = edited(hollow, ("low = 0, clearance", "low = 0, high = 0, clearance"))
    assert [(end.bite, end.edge) for end in analysed(ceiling(bare)).beam_ends if end.against == "E1"] == [
        (0.0, None)
    ] * 2


@pytest.mark.parametrize(("rows", "share"), [("rows = 1", 1.0), ("at = [750]", 0.75), ("at = [300]", 0.36)])
def test_a_bowed_beam_shortens_pieces_by_a_parabola(rows: str, share: float) -> None:
    """4 t (1 - t) of half the bow of 16 mm, at t of 3 m: one half, one quarter, one tenth."""
    (one,) = analysed(ceiling(edited(SQUARE, ("middle = 100", "middle = 116"), ("rows = 1", rows)))).bows
    assert (one.bow.name, one.bow.amount) == ("E1", 16.0)
    assert {piece.part: piece.by for piece in one.pieces} == pytest.approx({"X1-1": 8.0 * share, "X1-2": 8.0 * share})
