"""Where pockets are and whether anyone sees one: what the picture says is what the checks say."""

import itertools
import re
from collections import Counter
from functools import lru_cache

import numpy as np
import pytest

from lacunar.checks import Finding
from lacunar.pictures.captions import Canvas
from lacunar.pictures.hidden import verdict
from lacunar.pictures.marks import FATES, stamp
from lacunar.pictures.plan import plan_in
from lacunar.pictures.pockets_plan import draw_signs
from lacunar.scene import Flat
from scene.sample_room import TEXT, Sample, box_room, box_scene, sample


@lru_cache(maxsize=1)
def low_trim() -> Sample:
    """The same room with trim too low for its pockets, and none of them low."""
    text = TEXT.replace("height = 20\n", "height = 4\n").replace("rows = 1\n", "rows = 1\njoint = { low = 0 }\n")
    return sample(text)


def said(room: Sample, check: str, where: str = "") -> list[Finding]:
    return [one for one in room.job.findings if one.check == check and where in one.where]


def numbers(text: str) -> list[int]:
    return [int(number) for number in re.findall(r"(?<![\w-])\d+(?![\w-])", text)]


def test_counts_are_those_of_both_checks() -> None:
    room = box_room()
    flat = room.flat
    total, hidden, plugged = numbers(verdict(flat))
    assert total == len(room.job.analysis.pockets) == hidden + plugged
    (shows,) = said(room, "what-shows", "cross_beams.joint.low")
    (passed,) = said(room, "pocket-hidden")
    assert plugged == shows.value
    assert numbers(passed.message)[0] == hidden
    assert f"{plugged} low ones are plugged" in passed.message


def test_pieces_with_a_pocket_in_view_are_those_of_the_check() -> None:
    room = low_trim()
    flat = room.flat
    counts = Counter(mark.fate for mark in flat.pockets)
    text = verdict(flat)
    assert counts["seen"] > 0
    assert counts["plugged"] == 0
    assert text.startswith(f"{counts['seen']} of {len(flat.pockets)} pockets can be seen (")
    warned = said(room, "pocket-hidden")
    assert {finding.level for finding in warned} == {"warn"}
    seen = {mark.part for mark in flat.pockets if mark.fate == "seen"}
    assert sum(finding.alike for finding in warned) == len(seen)
    assert all(part in text for part in sorted(seen)[:2])
    assert not said(room, "what-shows", "cross_beams.joint.low")


def test_a_ceiling_without_pockets_says_so() -> None:
    assert verdict(Flat()).startswith("No pockets")


def test_signs_of_the_plan_are_clear_of_each_other() -> None:
    scene = box_scene()
    sheet = Canvas(np.zeros((500, 960, 3), dtype=np.uint8))
    view = plan_in(sheet, scene, (560, 20, 950, 420))
    sheet.taken.clear()
    draw_signs(sheet, view, scene.flat.pockets, scene.flat.pockets[0].joint)
    assert len(sheet.taken) == len(scene.flat.pockets) == 12
    for a, b in itertools.combinations(sheet.taken, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@pytest.mark.parametrize("size", [9, 24])
def test_signs_differ_without_their_colours(size: int) -> None:
    """As black and white shapes, and pairwise by a fifth of their area at least."""
    shapes: list[np.ndarray] = []
    for fate in FATES:
        sheet = Canvas(np.full((40, 40, 3), 255, dtype=np.uint8))
        stamp(sheet, (20, 20), size / 2, fate)
        shapes.append(sheet.pixels.sum(axis=2) < 600)
    for a, b in itertools.combinations(shapes, 2):
        assert (a ^ b).sum() > 0.2 * max(a.sum(), b.sum())
