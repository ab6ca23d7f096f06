"""Species against the Wood Handbook, FPL-GTR-190 (2010), Tables 5-3 and 13-5, and NDS 2018, Table 12.3.3A.

Printed numbers; "m" marks those written down from memory, "p" those read in a published page.
"""

import pytest

from lacunar.materials import SPECIES, find_species, nearest_species

# name, G at 12 %, weight at 12 % in kg/m3, G oven-dry (NDS), C_R, C_T, provenance of the three
PRINTED = [
    ("eastern white pine", 0.35, 392.0, 0.36, 0.00071, 0.00212, "mpm"),
    ("douglas fir", 0.48, 537.6, 0.50, 0.00165, 0.00267, "mpm"),
    ("red oak", 0.63, 705.6, 0.67, 0.00158, 0.00369, "mpp"),
    ("white oak", 0.68, 761.6, 0.73, 0.00180, 0.00365, "mpp"),
    ("yellow poplar", 0.42, 470.4, 0.43, 0.00158, 0.00289, "mpm"),
    ("western red cedar", 0.32, 358.4, 0.36, 0.00111, 0.00234, "mpm"),
    ("sugar maple", 0.63, 705.6, None, 0.00165, 0.00353, "m-p"),
    ("black walnut", 0.55, 616.0, None, 0.00190, 0.00274, "m-p"),
    ("black cherry", 0.50, 560.0, None, 0.00126, 0.00248, "m-p"),
    ("southern pine", 0.51, 571.2, 0.55, 0.00165, 0.00259, "mpm"),
    ("ponderosa pine", 0.40, 448.0, 0.43, 0.00133, 0.00216, "ppm"),
    ("sitka spruce", 0.40, 448.0, 0.43, 0.00148, 0.00263, "mpm"),
    ("western hemlock", 0.45, 504.0, 0.47, 0.00144, 0.00274, "mpm"),
    ("redwood", 0.35, 392.0, 0.37, 0.00101, 0.00229, "ppm"),
    ("baldcypress", 0.46, 515.2, None, 0.00130, 0.00216, "m-m"),
    ("white ash", 0.60, 672.0, None, 0.00169, 0.00274, "m-p"),
    ("yellow birch", 0.62, 694.4, None, 0.00256, 0.00338, "m-p"),
    ("red alder", 0.41, 459.2, None, 0.00151, 0.00256, "m-p"),
    ("basswood", 0.37, 414.4, None, 0.00230, 0.00330, "m-p"),
    # EN 350 (2016): 460 kg/m3 at 12 %, from memory; movement: general literature, from memory
    ("european spruce", 0.41, 460.0, 0.42, 0.00130, 0.00274, "mmm"),
]


@pytest.mark.parametrize(("name", "gravity", "weight", "dry", "radial", "tangential", "read"), PRINTED)
def test_printed_numbers(
    name: str, gravity: float, weight: float, dry: float | None, radial: float, tangential: float, read: str
) -> None:
    species = SPECIES[name]
    assert species.gravity == gravity
    assert species.density == pytest.approx(weight, rel=0.005)  # as printed, to 0.5 %
    assert species.gravity_dry == dry
    assert (species.radial, species.tangential) == (radial, tangential)
    sources = (species.gravity_source, species.gravity_dry_source, species.movement_source)
    for source, how in zip(sources, read, strict=True):
        assert source.endswith(", from memory") == (how == "m")


def test_all_species_are_in_the_table_above() -> None:
    assert set(SPECIES) == {row[0] for row in PRINTED}
    assert len(SPECIES) >= 10


# total shrinkage green to oven-dry, percent, radial and tangential. Wood Handbook, Table 4-3; the last two from memory
SHRINKAGE = [
    ("white ash", 4.9, 7.8),
    ("black walnut", 5.5, 7.8),
    ("black cherry", 3.7, 7.1),
    ("basswood", 6.6, 9.3),
    ("yellow birch", 7.3, 9.5),
    ("red alder", 4.4, 7.3),
    ("sugar maple", 4.8, 9.9),
    ("yellow poplar", 4.6, 8.2),
    ("eastern white pine", 2.1, 6.1),
    ("douglas fir", 4.8, 7.6),
]


@pytest.mark.parametrize(("name", "radial", "tangential"), SHRINKAGE)
def test_movement_follows_from_shrinkage_at_30_percent_saturation(name: str, radial: float, tangential: float) -> None:
    """C = (S / 3000) / (1 - S / 150), to the printed digit."""
    for coefficient, percent in ((SPECIES[name].radial, radial), (SPECIES[name].tangential, tangential)):
        assert coefficient == pytest.approx(percent / 3000.0 / (1.0 - percent / 150.0), abs=0.000011)


@pytest.mark.parametrize(("name", "radial", "tangential"), [("western red cedar", 2.4, 5.0), ("redwood", 2.2, 4.9)])
def test_redcedar_and_redwood_do_not(name: str, radial: float, tangential: float) -> None:
    """They fit a saturation of 22 %: C = (S / 2200) / (1 - S (22 - 10) / 2200)."""
    species = SPECIES[name]
    for coefficient, percent in ((species.radial, radial), (species.tangential, tangential)):
        assert coefficient > 1.3 * percent / 3000.0 / (1.0 - percent / 150.0)
        assert coefficient == pytest.approx(percent / 2200.0 / (1.0 - percent * 12.0 / 2200.0), abs=0.000015)


def test_the_two_specific_gravities_are_not_the_same() -> None:
    """Oven-dry volume is smaller than volume at 12 %, so its specific gravity is the larger."""
    for species in SPECIES.values():
        assert species.gravity_dry is None or species.gravity_dry > species.gravity


def test_wood_moves_more_along_the_rings_than_across() -> None:
    assert all(species.tangential > species.radial for species in SPECIES.values())


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("Red Oak", "red oak"),
        ("  douglas   fir ", "douglas fir"),
        ("poplar", "yellow poplar"),
        ("norway spruce", "european spruce"),
    ],
)
def test_names_in_other_words(written: str, name: str) -> None:
    species = find_species(written)
    assert species is not None
    assert species.name == name


def test_unknown_and_nearest() -> None:
    assert find_species("red oka") is None
    assert nearest_species("red oka") == "red oak"
