"""A plan made by hand that holds everything a drawn board can show."""

from dataclasses import replace
from functools import cache
from typing import Any

from lacunar.config import Config, read_config_text
from lacunar.parts import End, Part
from lacunar.plan import Board, Buy, Cut, Plan, Setting, Turn
from lacunar.units import INCH
from samples import slat

TEXT = """
title = "Tea & <music> room"
units = "in"
[room]
height = "8 ft 7 in"
[room.measured]
AB = "12 ft 2 in"
BC = "11 ft 5 in"
[shop]
kerf = "1/8 in"
end_waste = "1/4 in"
[[shop.board]]
stock = "1x4"
length = "8 ft"
price = 10
"""

KERF, WASTE, WIDTH = 0.125 * INCH, 0.25 * INCH, 3.5 * INCH
FEET = 12.0 * INCH

SHORT = ("C1-S01a", "C1-S02a", "C1-S03a", "C1-S04a")
"""Ends beside a cut-out, 2 in long."""


@cache
def config() -> Config:
    return read_config_text(TEXT, "room.toml")


@cache
def parts() -> tuple[Part, ...]:
    return tuple(
        replace(slat(), id=cut.part, length=cut.end - cut.start, **{"width": WIDTH, **_odd(cut.part)})
        for cut in dict.fromkeys(cut for board in plan().boards for cut in board.cuts)
    )


def _odd(part: str) -> dict[str, Any]:
    """What is not like a plain slat of some parts."""
    if part in ("C1-S11", "C2-S11"):
        wide, narrow = (1.75, 1.25) if part == "C1-S11" else (2.0, 1.5)
        return {"width": narrow * INCH, "width_end": wide * INCH, "ripped": True, "sawn_edges": (True, False)}
    if "-T" in part:
        reach, half = 1000.0, WIDTH / 2.0
        ring = ((0.0, -half), (reach, -half), (reach - WIDTH, half), (WIDTH, half))
        ends = (End(mitre_deg=45.0), End(mitre_deg=45.0))
        return {"kind": "trim", "stock": "2x4", "outline": ring, "ends": ends, "meets": ("E1", "E2")}
    return {}


def row(*pieces: tuple[str, float], at: float = WASTE) -> tuple[Cut, ...]:
    """Pieces of full width one after the other, inches, a kerf between each two."""
    cuts: list[Cut] = []
    for part, inches in pieces:
        cuts.append(Cut(part=part, start=at, end=at + inches * INCH))
        at = cuts[-1].end + KERF
    return tuple(cuts)


def tapered_pair() -> tuple[Cut, ...]:
    """Two tapered rips side by side in a section of 40 in; the far one is shorter and lies end for end."""
    start = WASTE
    blank = (start, start + 40.0 * INCH)
    near = Cut(
        part="C1-S11",
        start=start,
        end=start + 40.0 * INCH,
        across=(0.0, 1.25 * INCH),
        across_end=(0.0, 1.75 * INCH),
        blank=blank,
    )
    far = Cut(
        part="C2-S11",
        start=start,
        end=start + 36.0 * INCH,
        across=(1.5 * INCH, WIDTH),
        across_end=(2.0 * INCH, WIDTH),
        blank=blank,
        turned=True,
    )
    return near, far, *row(("C2-S01", 40.0), at=blank[1] + KERF)


def mitred() -> tuple[Cut, ...]:
    """Two strips that share a mitre of 45 degrees: their long points overlap by a strip's width, less the kerf."""
    first = Cut(part="C1-T1", start=WASTE, end=WASTE + 30.0 * INCH, slants=(-45.0, 45.0))
    start = first.end - WIDTH + KERF * 2.0**0.5
    return first, Cut(part="C1-T2", start=start, end=start + 30.0 * INCH, slants=(45.0, -45.0))


def board(name: str, cuts: tuple[Cut, ...], turn: int, feet: float = 8.0, **more: object) -> Board:
    """Of 1x4 pine, 8 ft for 10 dollars."""
    length = feet * FEET
    offcut = max(length - WASTE - KERF - max(cut.end for cut in cuts), 0.0)
    made = Board(
        id=name,
        stock="1x4",
        species="eastern white pine",
        length=length,
        price=10.0,
        on_hand=False,
        cuts=cuts,
        offcut=offcut,
        keep=False,
        turn=turn,
    )
    return replace(made, **more)  # pyright: ignore[reportArgumentType]


def _setting(name: str, parts: tuple[str, ...], **more: object) -> Setting:
    made = Setting(
        id=name, stock="1x4", species="eastern white pine", stop=None, fence=None, mitre_deg=None, parts=parts
    )
    return replace(made, **more)  # pyright: ignore[reportArgumentType]


@cache
def boards() -> tuple[Board, ...]:
    ends = row(("C3-S01", 46.0), *((name, 2.0) for name in SHORT), ("C3-S02", 36.0))
    return (
        board("B1", row(("C1-S01", 40.0), ("C1-S02", 40.0)), 1),
        board("B2", row(("C1-S03", 40.0), ("C1-S04", 40.0)), 1),
        board("B3", tapered_pair(), 2),
        board("B4", ends, 3),
        board("B5", row(("C4-S01", 40.0)), 4, keep=True),
        board("B6", row(("C4-S02", 40.0)), 5, feet=4.0, on_hand=True, price=0.0),
        board("B7", mitred(), 6, stock="2x4", price=None),
    )


@cache
def plan() -> Plan:
    lengths = {cut.part: cut.end - cut.start for one in boards() for cut in one.cuts}
    stops: dict[float, list[str]] = {}
    for part, length in lengths.items():
        stops.setdefault(round(length, 6), []).append(part)
    settings = [
        _setting(f"stop-{i}", tuple(names), stop=length, apart=length < 100.0)
        for i, (length, names) in enumerate(stops.items(), 1)
    ]
    ids = {part: setting.id for setting in settings for part in setting.parts}
    settings += [
        _setting("fence-1", ("C1-S11",), fence=1.75 * INCH, fence_end=1.25 * INCH),
        _setting("fence-2", ("C2-S11",), fence=2.0 * INCH, fence_end=1.5 * INCH),
        _setting("mitre-1", ("C1-T1", "C1-T2"), mitre_deg=45.0, stock="2x4"),
    ]
    turns: list[Turn] = []
    for number in sorted({one.turn for one in boards()}):
        mine = [one for one in boards() if one.turn == number]
        used = tuple(dict.fromkeys(ids[cut.part] for cut in mine[0].cuts))
        turns.append(Turn(number=number, boards=tuple(one.id for one in mine), stops=used, placed=used[:1]))
    return Plan(
        lengths=lengths,
        settings=tuple(settings),
        boards=boards(),
        turns=tuple(turns),
        sections=(),
        buy=(
            Buy(stock="1x4", species="eastern white pine", length=8 * FEET, count=5, spare=1, price=10.0, total=60.0),
        ),
        unserved=(),
        slots={},
        cost=60.0,
        lower_bound=60.0,
        gap=0.0,
        proven=True,
        board_length=0.0,
        used_length=0.0,
        waste=0.0,
    )
