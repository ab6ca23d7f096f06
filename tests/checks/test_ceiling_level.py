"""Ceilings out of level, twisted and sagging: what they do to beams, furring and slats, against closed forms."""

import pytest

from checks.sample import SKEWED, SQUARE, analysed, ceiling, edited, found, one
from lacunar.checks import Finding
from lacunar.layout import ceiling_gaps, ceiling_steps

LIMIT = 25.4 / 8.0


def _square(heights: str, *changes: tuple[str, str]) -> str:
    return edited(SQUARE, ("height = 2500", f"heights = {{ {heights} }}"), *changes)


def _spoken(text: str) -> dict[str, Finding]:
    return {finding.where: finding for finding in found("ceiling-level", ceiling(text))}


def test_one_height_is_a_question() -> None:
    finding = one("ceiling-level", ceiling())
    assert (finding.level, finding.where) == ("ask", "room.height")
    assert "2500 mm: the ceiling is taken as level" in finding.message
    assert "room.heights" in finding.fix


def test_a_level_ceiling_passes_with_its_numbers() -> None:
    finding = one("ceiling-level", ceiling(_square("A = 2500, B = 2502, C = 2500, D = 2500, centre = 2500")))
    assert (finding.level, finding.limit) == ("pass", pytest.approx(LIMIT))
    # Best plane: 0.4 off in the middle, 0.5 along x and y to the corners; residuals 0.6, 0.6, -0.4, -0.4, -0.4.
    assert finding.value == pytest.approx(2.0)
    assert "level within 2 mm and flat within 1 mm at 5 places" in finding.message


def test_a_middle_that_nobody_measured_is_a_question() -> None:
    finding = one("ceiling-level", ceiling(_square("A = 2500, B = 2500, C = 2500, D = 2500")))
    assert finding.level == "ask"
    assert "at 4 places" in finding.message
    assert finding.assumed == ("the middle does not sag",)
    assert "heights.centre" in finding.fix


def test_a_tilted_ceiling_is_out_of_level_and_nothing_else() -> None:
    finding = one("ceiling-level", ceiling(_square("A = 2500, B = 2520, C = 2520, D = 2500, centre = 2510")))
    assert (finding.level, finding.where) == ("warn", "A")
    assert finding.value == pytest.approx(20.0)
    assert "20 mm lower at A than at" in finding.message
    assert "falls towards DA" in finding.message


@pytest.mark.parametrize(("b", "over", "under"), [(2510, "BD", "AC"), (2490, "AC", "BD")])
def test_a_twist_says_which_diagonal_is_high(b: int, over: str, under: str) -> None:
    finding = _spoken(_square(f"A = 2500, B = {b}, C = 2500, D = {b}, centre = {(2500 + b) / 2}"))["the ceiling"]
    assert finding.value == pytest.approx(10.0)
    assert f"the middle of {over} lies 10 mm above that of {under}" in finding.message


@pytest.mark.parametrize(
    ("centre", "words"), [(2480, "sags: its middle hangs 20 mm below"), (2512, "stands 12 mm above")]
)
def test_a_middle_off_the_corners(centre: int, words: str) -> None:
    finding = _spoken(_square(f"A = 2500, B = 2500, C = 2500, D = 2500, centre = {centre}"))["the ceiling"]
    assert finding.value == pytest.approx(abs(centre - 2500))
    assert words in finding.message


SAG = "A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480"
FURRED = ("[trim]", "[furring]\nuse = true\n[trim]")


@pytest.mark.parametrize(("changes", "what"), [((), "slats hang"), ((FURRED,), "furring hangs")])
def test_what_stays_open_above_each_coffer(changes: tuple[tuple[str, str], ...], what: str) -> None:
    """The four coffers mirror each other: one is told for all, with the same numbers as in the layout."""
    subject = ceiling(_square(SAG, *changes))
    (finding,) = (f for f in found("ceiling-level", subject) if " on one plane, " in f.message)
    gaps = ceiling_gaps(subject.room, subject.layout)
    worst = max(gaps, key=lambda gap: gap.largest)
    assert finding.level == "warn"
    assert finding.value == pytest.approx(worst.largest)
    assert f"4 coffers alike, the worst is {finding.where}: its {what} on one plane" in finding.message
    assert "under the old ceiling in the corner of" in finding.message
    # A fold runs through each coffer from corner to corner, 19.4 deep: a plane on one side of it leaves as much open in
    # the other corner, one that leans evenly half of it in both.
    assert 9.0 < worst.largest < 11.0
    assert 0.0 < worst.shim <= worst.largest
    assert f"shims of up to {round(worst.shim)} mm behind its {what.split()[0]}" in finding.fix


def test_coffers_that_hang_at_two_heights() -> None:
    """Lower at D: the coffers beside it follow, those across E1 do not."""
    subject = ceiling(_square("A = 2500, B = 2500, C = 2500, D = 2440, centre = 2500"))
    (told,) = (f for f in found("ceiling-level", subject) if "lower beside it" in f.message)
    steps = [step for step in ceiling_steps(subject.layout) if step.size > LIMIT]
    step = max(steps, key=lambda step: step.size)
    assert (told.level, told.where, told.value) == ("warn", step.bar, pytest.approx(step.size))
    assert f"{len(steps)} pairs of coffers alike" in told.message
    assert f"lower beside it in {step.lower} than in {step.higher}" in told.message
    assert f"or hang {step.higher} lower on thicker shims" in told.fix


def test_a_flat_ceiling_leaves_nothing_open() -> None:
    messages = " ".join(f.message for f in found("ceiling-level", ceiling(_square(SAG.replace("2480", "2500")))))
    assert "plane" not in messages
    assert "lower beside" not in messages


def test_pieces_tell_gap_and_scribe_at_ends_and_half_way() -> None:
    subject = ceiling(_square("A = 2500, B = 2500, C = 2500, D = 2500, centre = 2480"))
    told = [f for f in found("ceiling-level", subject) if "half way" in f.message]
    assert told
    for finding in told:
        above = next(beam.above for beam in analysed(subject).beams if beam.part == finding.where)
        assert finding.value == pytest.approx(max(map(abs, above)))
        assert ("gap" in finding.message) == any(over >= 0.5 for over in above)
        assert ("scribe off" in finding.message) == any(over <= -0.5 for over in above)


def test_a_mark_along_a_wall_may_be_the_lowest_place() -> None:
    marks = ("[[beam]]", '[room.marks]\nm1 = { wall = "BC", from = "B", at = 1000 }\n[[beam]]')
    heights = "A = 2500, B = 2500, C = 2500, D = 2500, m1 = 2490, centre = 2500"
    finding = _spoken(_square(heights, marks))["m1"]
    assert finding.value == pytest.approx(10.0)
    assert "10 mm lower at m1" in finding.message


def test_a_skewed_ceiling_speaks_in_inches() -> None:
    text = "\n".join(finding.message for finding in found("ceiling-level", ceiling(SKEWED)))
    # 9 ft 1/2 in at B, 8 ft 11 1/2 in at D.
    assert "it is 1 in lower at D than at B" in text
    assert " mm" not in text
