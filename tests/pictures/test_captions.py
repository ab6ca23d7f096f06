"""Words on pictures: whole, and out of each other's way."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from lacunar.pictures.captions import PAPER, Canvas, strip_height, with_strip

WORDS = st.text(alphabet="abcdefghij kl\"'/0123456789", min_size=1, max_size=18)


def blank(width: int = 640, height: int = 400) -> np.ndarray:
    return np.full((height, width, 3), PAPER, dtype=np.uint8)


def apart(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(WORDS, st.floats(0, 640), st.floats(0, 400)), min_size=2, max_size=30))
def test_placed_words_never_meet_and_are_never_cut(wanted: list[tuple[str, float, float]]) -> None:
    sheet = Canvas(blank())
    for text, x, y in wanted:
        sheet.place(text, [(x, y), (x, y + 30), (x, y - 30), (320.0, 200.0)])
    for i, box in enumerate(sheet.taken):
        assert box[0] >= 0
        assert box[1] >= 0
        assert box[2] <= 640
        assert box[3] <= 400
        assert all(apart(box, other) for other in sheet.taken[i + 1 :])


def test_a_placed_word_is_there_and_nowhere_else() -> None:
    sheet = Canvas(blank())
    at = sheet.place("beam E1", [(320.0, 200.0)])
    assert at == (320.0, 200.0)
    ((x0, y0, x1, y1),) = sheet.taken
    dark = np.argwhere(sheet.pixels.sum(axis=2) < 300)
    assert len(dark) > 30
    (top, left), (low, right) = dark.min(axis=0), dark.max(axis=0)
    assert x0 <= left < right <= x1
    assert y0 <= top < low <= y1


def test_there_is_no_room_for_a_second_word_on_the_first() -> None:
    sheet = Canvas(blank())
    assert sheet.place("slat", [(100.0, 100.0)])
    assert sheet.place("trim", [(102.0, 100.0)]) is None


@pytest.mark.parametrize("title", ["Study", "A very long title " * 12, "Größe, 書斎, ½"])
def test_a_strip_holds_any_title(title: str) -> None:
    picture = np.zeros((300, 640, 3), dtype=np.uint8)
    out = with_strip(picture, title, "good for: look")
    assert out.shape == (300 + strip_height(640), 640, 3)
    assert np.array_equal(out[:300], picture)
    ink = np.flatnonzero((out[300:] < 150).any(axis=(0, 2)))
    assert ink.min() >= 3
    assert ink.max() < 637


def test_a_long_remark_has_lines_of_its_own_and_is_whole() -> None:
    picture = np.zeros((300, 640, 3), dtype=np.uint8)
    remark = "good for: look; not for buying yet: " + "; ".join(["slat ends that show or jam: C5-S03"] * 4)
    out = with_strip(picture, "Study", remark)
    one = strip_height(640)
    lines = strip_height(640, remark) // one
    assert lines == 3  # the name, and two of the remark
    assert out.shape == (300 + lines * one, 640, 3)
    for line in range(lines):
        ink = np.flatnonzero((out[300 + line * one : 300 + (line + 1) * one] < 200).any(axis=(0, 2)))
        assert 3 <= ink.min() < ink.max() < 637
    assert strip_height(640, "good for: look") == one


@pytest.mark.parametrize("text", ["All hidden.", "None of 36 pockets is open to view " * 6])
def test_a_headline_is_whole_and_nothing_else_stands_on_it(text: str) -> None:
    sheet = Canvas(np.zeros((400, 640, 3), dtype=np.uint8))
    foot = sheet.headline(text)
    head = sheet.pixels[: round(foot) - 1]
    ink = np.argwhere((head < 100).any(axis=2))
    assert 2 < ink[:, 1].min() < ink[:, 1].max() < 636
    assert 2 < ink[:, 0].min() < ink[:, 0].max() < foot - 3
    assert sheet.place("beam", [(100.0, foot / 2)]) is None
