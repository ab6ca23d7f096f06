"""Cutting cases in the style of a ceiling: lengths in 1/32 in, prices in cents.

Made up for this purpose; each optimum was proved by another program, with a certificate in whole numbers that was
checked. A set of parts fits a board where sum(length + kerf) <= board - 2 end_waste + kerf.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Case:
    name: str
    kerf: int
    end_waste: int
    boards: tuple[tuple[int, int], ...]
    lengths: tuple[int, ...]
    demands: tuple[int, ...]
    optimum: int


CASES = (
    Case(
        name="ceil_s100_m20_n100_prop",
        kerf=4,
        end_waste=8,
        boards=((2304, 450), (3072, 600), (3840, 750), (4608, 900), (6144, 1200)),
        lengths=(
            1712,
            1706,
            1702,
            1700,
            1690,
            1688,
            1686,
            1684,
            1680,
            1380,
            1368,
            1356,
            1346,
            1282,
            1250,
            946,
            934,
            922,
            614,
            532,
        ),
        demands=(3, 7, 6, 3, 5, 5, 5, 3, 5, 5, 5, 8, 3, 4, 5, 7, 5, 4, 9, 3),
        optimum=26250,
    ),
    Case(
        name="ceil_s100_m20_n100_short",
        kerf=4,
        end_waste=8,
        boards=((2304, 548), (3072, 698), (3840, 828), (4608, 958), (6144, 1218)),
        lengths=(
            1712,
            1706,
            1702,
            1700,
            1690,
            1688,
            1686,
            1684,
            1680,
            1380,
            1368,
            1356,
            1346,
            1282,
            1250,
            946,
            934,
            922,
            614,
            532,
        ),
        demands=(3, 7, 6, 3, 5, 5, 5, 3, 5, 5, 5, 8, 3, 4, 5, 7, 5, 4, 9, 3),
        optimum=26796,
    ),
    Case(
        name="ceil_s103_m20_n100_odd",
        kerf=4,
        end_waste=8,
        boards=((2304, 487), (3072, 611), (3840, 817), (4608, 903), (6144, 1259)),
        lengths=(1722, 1710, 1700, 964, 958, 956, 948, 946, 942, 940, 936, 848, 840, 838, 828, 818, 778, 774, 766, 752),
        demands=(3, 7, 7, 6, 9, 2, 4, 6, 3, 5, 5, 9, 9, 4, 5, 3, 3, 5, 1, 4),
        optimum=20882,
    ),
    Case(
        name="unif_s200_m20_n100_10-60_long",
        kerf=4,
        end_waste=8,
        boards=((2304, 438), (3072, 598), (3840, 798), (4608, 1018), (6144, 1498)),
        lengths=(
            1728,
            1442,
            1398,
            1362,
            1332,
            1226,
            1194,
            1176,
            1156,
            1080,
            1070,
            1010,
            916,
            912,
            848,
            688,
            600,
            416,
            378,
            366,
        ),
        demands=(6, 4, 3, 4, 6, 6, 6, 7, 6, 5, 3, 6, 2, 6, 4, 5, 8, 7, 4, 2),
        optimum=20080,
    ),
)
