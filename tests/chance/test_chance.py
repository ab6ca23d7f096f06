"""Fit by chance: against normal tails and integrals, and what must hold of every ceiling."""

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from statistics import NormalDist

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from lacunar.chance import JOINT, SPRING, Chance, Errors, chance, errors_of, percent, slat_sds, slat_windows
from lacunar.chance.slats import slat_errors
from lacunar.config import Config
from lacunar.layout import Layout, arrange_layout
from lacunar.parts import Part, make_parts
from lacunar.survey import solve_survey
from strategies import Wish, config_of, quad, text_of

INCH = 25.4
TRIALS = 40_000
EXACT = Errors(reading=1.5, per_length=0.0002, slat_mark=0.0, trim_mark=0.0)
"""No marks: every reading and cut is normal."""

phi = NormalDist().cdf


@cache
def ceiling(
    end_gap: float = 3.5, wish: Wish | None = None, skew: float = 20.0
) -> tuple[Config, Layout, tuple[Part, ...]]:
    """Nine coffers out of square, with a light that severs a slat."""
    room = quad(4200.0, 3850.0, (skew, -1.5 * skew, 0.6 * skew, 0.75 * skew, -0.4 * skew))
    light = '[[fixture]]\nname = "light"\nsize = 100\nat = { AB = 720, DA = 660 }\n'
    text = text_of(room, wish or Wish(), light).replace(
        f"end_gap = {0.25 * INCH}\nleast", f"end_gap = {end_gap}\nleast"
    )
    config = config_of(text)
    assert config.slats.end_gap == end_gap
    layout = arrange_layout(solve_survey(config), config)
    return config, layout, make_parts(layout)


@cache
def tried(end_gap: float = 3.5, errors: Errors = EXACT, wish: Wish | None = None, trials: int = TRIALS) -> Chance:
    return chance(*ceiling(end_gap, wish), trials=trials, errors=errors)


def shares(result: Chance) -> Mapping[str, float]:
    return {piece.part: piece.fits for piece in result.pieces}


def near(share: float, trials: int = TRIALS) -> float:
    """Four standard deviations of a share of trials."""
    return 4.0 * math.sqrt(max(share * (1.0 - share), 1.0 / trials) / trials)


def test_a_slat_is_two_normal_tails() -> None:
    """Slats at the first and the last reading: the error of one reading and of one cut."""
    _, layout, parts = ceiling()
    by_id, found, seen = {part.id: part for part in parts}, shares(tried()), 0
    for coffer in layout.coffers:
        slats = [slat for slat in layout.slats if slat.coffer == coffer.id]
        for slat in (slats[0], slats[-1]):
            part = by_id[slat.id]
            assert part.interval is not None
            sigma = math.hypot(1.5 + 0.0002 * slat.tight, 0.5)
            share = phi((part.interval[1] - part.length) / sigma) - phi((part.interval[0] - part.length) / sigma)
            assert found[slat.id] == pytest.approx(share, abs=near(share))
            seen += 0.02 < 1.0 - share < 0.5
    assert seen >= 8  # most of them really may fail


def test_between_two_readings_their_errors_share() -> None:
    """Half way between two readings, each counts for half."""
    _, layout, parts = ceiling()
    found = shares(tried())
    slats = [slat for slat in layout.slats if slat.coffer == "C9"]
    quarter = slats[len(slats) // 4]
    at = slats.index(quarter) / ((len(slats) - 1) / 2)
    part = next(part for part in parts if part.id == quarter.id)
    assert part.interval is not None
    # The last slat is a rip and lies a little nearer than a whole pitch: 0.02 of the way at most.
    sigma = math.hypot(math.hypot(at, 1.0 - at) * (1.5 + 0.0002 * quarter.tight), 0.5)
    share = phi((part.interval[1] - part.length) / sigma) - phi((part.interval[0] - part.length) / sigma)
    assert found[quarter.id] == pytest.approx(share, abs=near(share) + 0.01)


def test_a_standard_deviation_is_that_of_the_trials() -> None:
    """By propagation and by drawing: stumps, slats at a reading and between two; marks add an even spread."""
    config, layout, parts = ceiling()
    marked = replace(EXACT, slat_mark=INCH / 16.0)
    for errors in (EXACT, marked):
        sds, rng = slat_sds(parts, errors), np.random.default_rng(1)
        for windows in slat_windows(config.slats, config.trim, layout, parts):
            noise = rng.standard_normal((3, 40_000)) * [[errors.sd(mm)] for mm in windows.lengths.tolist()]
            marks = errors.slat_mark * (rng.random((3, 40_000)) - 0.5)
            off = (windows.weights @ (noise + marks)) * windows.ends[:, None] + 0.5 * rng.standard_normal((1, 40_000))
            drawn = slat_errors(windows, EXACT, rng, 40_000) if errors is EXACT else off
            assert [sds[part] for part in windows.parts] == pytest.approx(drawn.std(axis=1).tolist(), rel=0.02)


def test_a_severed_slat_bears_half() -> None:
    """One end hangs on the coffer: half the reading's error, a whole cut, and half the interval."""
    _, layout, parts = ceiling()
    stump = next(slat for slat in layout.slats if slat.id == "C1-S08b")
    part = next(part for part in parts if part.id == stump.id)
    assert part.interval is not None
    slats = [slat for slat in layout.slats if slat.coffer == "C1"]
    numbers = [slat.number for slat in slats]
    at = 2.0 * (stump.number - 1) / (max(numbers) - 1) - 1.0
    sigma = math.hypot(0.5 * math.hypot(1.0 - at, at) * (1.5 + 0.0002 * slats[0].tight), 0.5)
    share = phi((part.interval[1] - part.length) / sigma) - phi((part.interval[0] - part.length) / sigma)
    assert shares(tried())[stump.id] == pytest.approx(share, abs=near(share) + 0.01)


@pytest.mark.parametrize("corners", ["mitre", "butt"])
def test_a_strip_of_trim_is_one_integral(corners: str) -> None:
    """In a square room every side of a pair is alike, so the two joints of a strip ask the same of its neighbours."""
    config, layout, parts = ceiling(wish=Wish(corners=corners), skew=0.0)
    result = chance(config, layout, parts, trials=TRIALS, errors=EXACT)
    strips = [part for part in parts if part.kind == "trim" and part.coffer == "C5"]
    for i, strip in enumerate(strips):
        own, other = (math.hypot(1.5 + 0.0002 * one.length, 0.8) for one in (strip, strips[(i + 1) % 4]))
        butt = phi(SPRING / own) - phi(-2.0 * JOINT / own)
        share = butt if corners == "butt" else mitred_share(own, other)
        assert shares(result)[strip.id] == pytest.approx(share, abs=near(share))


def mitred_share(own: float, other: float) -> float:
    """Trapezoids over the strip's own error: what it leaves of the joint, both neighbours must keep to."""
    most = 2.0 * JOINT / math.cos(math.pi / 4.0)
    steps = 4000
    total = 0.0
    for i in range(steps + 1):
        error = -most + (SPRING + most) * i / steps
        left = most - max(-error, 0.0)
        weight = 0.5 if i in (0, steps) else 1.0
        total += weight * NormalDist(0.0, own).pdf(error) * phi(left / other) ** 2
    return total * (SPRING + most) / steps


def test_same_seed_same_trials() -> None:
    config, layout, parts = ceiling()
    one, two = (chance(config, layout, parts, trials=500, seed=7) for _ in range(2))
    assert one == two
    assert chance(config, layout, parts, trials=500, seed=8) != one


def test_coffers_do_not_share_their_luck() -> None:
    """Leaving a coffer out changes no other."""
    config, layout, parts = ceiling()
    without = tuple(part for part in parts if part.coffer != "C2")
    whole = shares(chance(config, layout, parts, trials=500))
    some = shares(chance(config, layout, without, trials=500))
    assert some == {part: share for part, share in whole.items() if not part.startswith("C2-")}


def test_without_errors_everything_fits() -> None:
    still = Errors(reading=0.0, per_length=0.0, slat_mark=0.0, trim_mark=0.0, slat_cut=0.0, trim_cut=0.0)
    result = tried(errors=still, trials=50)
    assert (result.all_fit, result.all_slats, result.all_trim) == (1.0, 1.0, 1.0)
    assert (result.slat_misfits, result.trim_misfits) == (0.0, 0.0)


def test_larger_errors_never_help_any_piece() -> None:
    """With the same luck scaled up, trial for trial."""
    before: Mapping[str, float] = {}
    for scale in (0.5, 1.0, 2.0, 4.0):
        errors = replace(
            EXACT, reading=1.5 * scale, per_length=0.0002 * scale, slat_cut=0.5 * scale, trim_cut=0.8 * scale
        )
        now = shares(tried(errors=errors, trials=2000))
        assert all(now[part] <= before.get(part, 1.0) for part in now)
        before = now


def test_a_coarse_mark_makes_steps() -> None:
    """Read to 1/4 in, the first slat is off by whole marks, each as likely as its stretch of the reading's error."""
    _, layout, parts = ceiling()
    slat, mark = next(slat for slat in layout.slats if slat.id == "C2-S01"), INCH / 4
    part = next(part for part in parts if part.id == slat.id)
    assert part.interval is not None
    low, high = part.interval[0] - part.length, part.interval[1] - part.length
    reading = NormalDist(slat.tight, 1.5 + 0.0002 * slat.tight)
    share = 0.0
    for k in range(round(slat.tight / mark) - 4, round(slat.tight / mark) + 5):
        likely = reading.cdf((k + 0.5) * mark) - reading.cdf((k - 0.5) * mark)
        off = round((k * mark - slat.tight) / mark) * mark
        share += likely * (phi((high - off) / 0.5) - phi((low - off) / 0.5))
    coarse = shares(tried(errors=replace(EXACT, slat_mark=mark)))
    assert 1.0 - share > 0.01
    assert coarse[slat.id] == pytest.approx(share, abs=near(share))


@pytest.mark.parametrize(
    ("share", "trials", "words"),
    [
        (0.819, 2000, "82 %"),
        (0.5, 2000, "50 %"),
        (0.9945, 2000, "99 %"),
        (0.995, 2000, "more than 99 %"),
        (1.0, 2000, "more than 99 %"),
        (1.0, 100, "more than 97 %"),
        (1.0, 2, "more than 0 %"),
        (0.0, 2000, "less than 1 %"),
        (0.0, 100, "less than 3 %"),
        (0.006, 2000, "1 %"),
    ],
)
def test_a_share_is_told_no_finer_than_its_trials_are(share: float, trials: int, words: str) -> None:
    assert percent(share, trials) == words


@given(share=st.floats(0.0, 1.0), trials=st.integers(4, 100_000))  # by the rule of three, fewer tell nothing
def test_nothing_is_told_to_be_certain(share: float, trials: int) -> None:
    assert "100 %" not in percent(share, trials)


def test_the_risks_are_the_slats_that_fail_most() -> None:
    risks = tried().risks(below=0.97)
    assert 0 < len(risks) < len(ceiling()[1].slats)
    assert [risk.fits for risk in risks] == sorted(risk.fits for risk in risks)
    assert all(risk.kind == "slat" and risk.fits < 0.97 for risk in risks)


def test_what_is_planned_counts_and_not_what_was_designed() -> None:
    """A slat that is cut to the end of its interval fails in half of the trials."""
    config, layout, parts = ceiling()
    first = next(part for part in parts if part.id == "C3-S01")
    assert first.interval is not None
    planned = replace(first, length=first.interval[1])
    result = chance(config, layout, (planned,), trials=TRIALS, errors=EXACT)
    assert shares(result)["C3-S01"] == pytest.approx(0.5, abs=near(0.5))


def test_the_configs_own_errors() -> None:
    text = text_of(quad(4200.0, 3850.0), Wish(), "[survey]\nsd = 0.7\nsd_per_length = 0.0005\n")
    config = config_of(text)
    errors = errors_of(config.survey, config.tape)
    assert (errors.reading, errors.per_length, errors.slat_mark, errors.trim_mark) == (0.7, 0.0005, INCH / 16, 0.5)
    assert errors.sd(2000.0) == pytest.approx(1.7)


def test_slats_at_an_angle_have_a_gap_at_each_side() -> None:
    """Their ends follow the sides: from the end gap to the least, and to what the trim hides."""
    result = tried(end_gap=6.35, wish=Wish(run="30 deg"), trials=4000)
    config, layout, parts = ceiling(6.35, Wish(run="30 deg"))
    slats = [slat for slat in layout.slats if slat.coffer == "C5" and slat.interval is None]
    middle = slats[0]
    part = next(part for part in parts if part.id == middle.id)
    sigma = math.hypot(1.5 + 0.0002 * part.length, 0.5)
    hidden = config.trim.width - config.trim.least_overlap
    share = phi(2.0 * (6.35 - config.slats.least_end_gap) / sigma) - phi(-2.0 * (hidden - 6.35) / sigma)
    assert shares(result)[middle.id] == pytest.approx(share, abs=near(share, 4000) + 0.005)
