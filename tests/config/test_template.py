"""What `lacunar new` writes: it builds as it stands, and so does every setting that is off in it."""

import re

import pytest

from lacunar.config import QUESTIONS, read_config_text, template_text
from lacunar.units import Units

UNITS: tuple[Units, ...] = ("in", "mm")
SETTING = re.compile(r'^# (\[{1,2}[a-z_.]+\]{1,2}|"?[A-Za-z][\w-]*"? *= .*)$')


@pytest.mark.parametrize("units", UNITS)
def test_it_reads_as_it_stands(units: Units) -> None:
    config = read_config_text(template_text(units), "room.toml")
    assert config.units == units
    assert config.title == "My room"
    assert config.beams is not None
    assert config.beams.count == 2
    assert len(config.room.measured) == 4


@pytest.mark.parametrize("units", UNITS)
def test_every_setting_that_is_off_is_good_when_switched_on(units: Units) -> None:
    text = template_text(units)
    off = [line for line in text.splitlines() if SETTING.match(line)]
    assert len(off) > 25
    # heights stand instead of height, [[beam]] instead of [beams]
    on = re.sub(r"(?m)^# (?=\[{1,2}[a-z_.]+\]{1,2}|\"?[A-Za-z][\w-]*\"? *= )", "", text)
    on = re.sub(r"(?m)^height = .*$", "", on, count=1)
    on = re.sub(r"(?ms)^\[beams\].*?(?=^# Solid)", "", on)
    config = read_config_text(on, "room.toml")
    assert set(config.room.heights) == {"A", "B", "C", "D", "centre"}
    assert [beam.made.kind for beam in config.beam] == ["solid"]
    assert {"AC", "BD", "m1-C", "m1-D"} <= set(config.room.measured)
    assert config.framing.joists is not None
    assert config.framing.old_ceiling is not None
    assert (len(config.fixture), len(config.window), len(config.shop.board)) == (1, 1, 1)
    assert (len(config.shop.pack), len(config.shop.sheet)) == (1, 1)
    assert (config.house.tested.lead, config.alternative[0].overrides) == ("none", (("slats.run", "with"),))
    assert len(config.decide) == 1


def test_answers_go_in() -> None:
    answers = {
        "title": 'Bob\'s "den" \\',
        "room.height": "9' 2 1/2\"",
        "room.measured.BC": "11'",
        "cross_beams.rows": "3",
    }
    config = read_config_text(template_text("in", answers), "room.toml")
    assert config.title == 'Bob\'s "den" \\'
    assert config.room.height == pytest.approx(110.5 * 25.4)
    assert config.room.measured["BC"] == pytest.approx(132 * 25.4)
    assert config.cross_beams is not None
    assert config.cross_beams.rows == 3


def test_no_beams() -> None:
    config = read_config_text(template_text("in", {"beams.count": "0"}), "room.toml")
    assert config.beams is None
    assert not config.is_given("beams")


@pytest.mark.parametrize(
    "hint",
    [
        "WHERE ARE THE JOISTS?",
        "magnet",
        "attic",
        "HOW THICK?",
        "Solid or hollow?",
        "Knock",
        "electrician",
        "asbestos",
        "lead paint",
        "Local code and the licensed trades decide",
        "circuit off",
    ],
)
def test_it_tells_what_a_person_cannot_know(hint: str) -> None:
    assert hint in template_text()


def test_lines_fit_a_page_and_questions_have_both_units() -> None:
    for units in UNITS:
        assert max(map(len, template_text(units).splitlines())) <= 120
    assert len({question.key for question in QUESTIONS}) == len(QUESTIONS)
    assert all(question.inches and question.metric and question.ask.endswith("?") for question in QUESTIONS)
