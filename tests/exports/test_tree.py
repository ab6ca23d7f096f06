"""Names, groups and colours that the model files share."""

import subprocess
import sys
from dataclasses import replace
from typing import get_args

import pytest

from lacunar.exports import colour_of
from lacunar.exports.tree import groups, pattern_names, plain
from lacunar.materials import SPECIES
from lacunar.parts import PartKind
from lacunar.scene import decode
from lacunar.scene.grain import SLATS
from lacunar.scene.materials import wood
from solids.sample_parts import slat, timber, trim


def test_groups_keep_the_order_and_put_beams_first() -> None:
    parts = [slat("C2-S01"), trim("C1-T1"), slat("C2-S02"), timber("X1-1")]
    found = {name: [part.id for part in members] for name, members in groups(parts).items()}
    assert list(found) == ["beams", "C2", "C1"]
    assert found == {"beams": ["X1-1"], "C2": ["C2-S01", "C2-S02"], "C1": ["C1-T1"]}


def test_no_group_is_empty() -> None:
    assert list(groups([slat("C2-S01")])) == ["C2"]


def test_a_shape_of_its_own_bears_the_part_s_id_and_a_shared_one_its_size() -> None:
    shared, alone, bare = slat("C1-S01"), slat("C1-S02"), replace(slat("C1-S03"), stock="")
    names = pattern_names([shared, alone, bare], [12, 1, 2])
    assert names == ["slat 1x4 1000.0 mm", "C1-S02", "slat 1000.0 mm"]


def test_names_that_would_be_alike_are_numbered() -> None:
    strips = [trim("C1-T1"), trim("C1-T2"), trim("C1-T3")]
    names = pattern_names(strips, [4, 4, 2])
    assert names == ["trim 1x2 900.0 mm", "trim 1x2 900.0 mm (2)", "trim 1x2 900.0 mm (3)"]


@pytest.mark.parametrize(
    ("text", "ascii_text"), [("Café Zürich", "Cafe Zurich"), ("½ in", "1/2 in"), ("X1-1", "X1-1"), ("木", "&#26408;")]
)
def test_plain(text: str, ascii_text: str) -> None:
    assert plain(text) == ascii_text


def test_every_kind_has_a_shade_of_its_own() -> None:
    colours = [colour_of(replace(slat("C1-S01"), kind=kind)) for kind in get_args(PartKind)]
    assert len(set(colours)) == len(get_args(PartKind))
    assert all(0.0 < channel <= 1.0 for colour in colours for channel in colour)


def test_an_unknown_species_is_still_wood() -> None:
    assert colour_of(replace(slat("C1-S01"), species="")) == colour_of(replace(slat("C1-S01"), species="pine"))


@pytest.mark.parametrize(
    "species", [one if n % 4 == 0 else pytest.param(one, marks=pytest.mark.long) for n, one in enumerate(SPECIES)]
)
def test_a_wood_has_one_colour_in_model_files_and_in_pictures(species: str) -> None:
    """A slat's, and what its boards in pictures have on an average before any finish."""
    shown = wood(species, species, SLATS, (), None).mean
    coded = colour_of(replace(slat("C1-S01"), species=species))
    assert decode([255.0 * channel for channel in coded]) == pytest.approx(shown, abs=0.08)  # knots, clouds


def test_importing_the_stage_loads_no_kernel() -> None:
    code = "import sys, lacunar.exports, lacunar.solids; print('OCP' in sys.modules or 'cadquery' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout.strip() == "False"
