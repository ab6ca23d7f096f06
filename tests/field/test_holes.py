"""Both holes of a coffer that has a rip along either side: rows, widths, and that what fits is what was measured.

The room of 3-square.toml from the centre: coffers 40 1/2 in, boards 3 1/2 in, gaps and edge gaps 1/4 in. Ten full slats
and nine gaps between them leave 40 1/2 - 35 - 2 1/4 = 3 1/4 in: no room for two rips of half a board, so nine full ones
(31 1/2 and 2) leave 7 in, 3 1/2 at each side: less a gap and an edge gap, rips of 3 in. Once a hole is measured its
edge gap lies half way between the least, 1/16 in, and the 1/2 in that trim hides: 9/32 in, or four standard deviations
of what it may be off from the least where that is less.
"""

import math
from collections.abc import Mapping
from itertools import chain
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from commands import change
from field.by_hand import copied, rows_of, sheet
from lacunar.chance import Errors, errors_of
from lacunar.config import read_config
from lacunar.errors import LayoutError
from lacunar.field import apply_measures
from lacunar.field.holes import fit_last, holes, last_rows
from lacunar.layout import arrange_layout
from lacunar.parts import make_parts
from lacunar.survey import solve_survey
from lacunar.units import INCH
from strategies import Quad, Wish, config_of, quads, text_of

NAMES = tuple(f"C1 {which} hole at {beside}" for which in ("first", "last") for beside in ("E1", "DA"))

WIDTHS = ("C1 width at E1", "C1 width at DA")


@pytest.fixture
def centred(configs: Path, tmp_path: Path) -> Path:
    path = copied(configs / "3-square.toml", tmp_path)
    change(path, "[slats]", '[slats]\nfrom = "centre"')
    return path


def widths(path: Path, values: Mapping[str, str]) -> Mapping[str, tuple[float | None, float | None]]:
    """Of the rips in inches, once these holes are applied; the second time must change nothing."""
    filled = sheet(path, "last", values)
    assert apply_measures(path, filled).changed
    once = path.read_bytes()
    assert not apply_measures(path, filled).changed
    assert path.read_bytes() == once
    return {
        part: tuple(None if mm is None else mm / INCH for mm in (row.width, row.width_end))
        for part, row in read_config(path).field.items()
    }  # pyright: ignore[reportReturnType] - a pair


def sd_of_hole(errors: Errors, mm: float) -> float:
    return math.hypot(errors.sd(mm), errors.trim_mark / math.sqrt(12.0))


def adjusted(sd: float, read: tuple[float, float], other: float, change: float) -> tuple[tuple[float, float], float]:
    """Two ends by least squares, and what they may be off: each is read, and their difference is told by two others."""
    sds = np.array([sd, sd, math.sqrt(2.0) * other])
    rows = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 1.0]]) / sds[:, None]
    told = np.array([*read, change]) / sds
    first, second = np.linalg.lstsq(rows, told)[0]
    return (float(first), float(second)), float(np.sqrt(np.linalg.inv(rows.T @ rows)[0, 0]))


def test_each_hole_has_a_row_at_both_ends(centred: Path) -> None:
    rows = {name: row for name, row in rows_of(centred, "last").items() if row.card == "C1"}
    assert tuple(rows) == NAMES
    assert [row.design / INCH for row in rows.values()] == pytest.approx([3.5] * 4, abs=2e-3)
    assert [row.note for row in rows.values()] == ["for C1-S01"] * 2 + ["for C1-S11"] * 2


def test_both_rips_are_cut_to_their_own_holes(centred: Path) -> None:
    """3 5/8 and 3 3/8, less a gap and an edge gap."""
    found = widths(centred, dict(zip(NAMES, ("3 5/8", "3 5/8", "3 3/8", "3 3/8"), strict=True)))
    assert set(found) == {"C1-S01", "C1-S11"}
    errors = errors_of(read_config(centred).survey, read_config(centred).tape)
    _, off = adjusted(sd_of_hole(errors, 3.5 * INCH), (0.0, 0.0), errors.put_up, 0.0)
    safe = 1 / 16 + 4.0 * math.hypot(off, errors.trim_mark / math.sqrt(12.0), errors.slat_cut) / INCH
    assert found["C1-S01"] == (pytest.approx(3.375 - safe, abs=6e-4), None)  # written to a thousandth of an inch
    assert found["C1-S11"] == (pytest.approx(3.125 - 9 / 32, abs=1e-6), None)


def test_a_first_hole_out_of_parallel(centred: Path) -> None:
    """Up to 1/4 in stays in the edge gap, half of it at either end; more is tapered."""
    found = widths(centred, dict(zip(NAMES, ("3 1/2", "3 1/4", "3 1/2", "3 1/2"), strict=True)))
    assert found["C1-S01"] == (pytest.approx(3.0 - (9 / 32 - 1 / 8), abs=1e-6), None)
    found = widths(centred, dict(zip(NAMES, ("3 1/2", "3 1/8", "3 1/2", "3 1/2"), strict=True)))
    step = 3 / 8 / 40.5 / 4  # the slat ends 1/4 in before the coffer's corners
    # The first end of a slat is the one nearer A, at DA.
    assert found["C1-S01"] == (
        pytest.approx(2.875 - 9 / 32 + step, abs=2e-3),
        pytest.approx(3.25 - 9 / 32 - step, abs=2e-3),
    )


def test_widths_of_the_coffer_tell_how_its_last_hole_changes(centred: Path) -> None:
    """A hole that reads 7/16 in less at one end, in a coffer that is 1/4 in narrower there."""
    design = {name: row.design for name, row in rows_of(centred, "coffers").items()}
    widths_of = {name: design[name] - less for name, less in zip(WIDTHS, (0.0, 0.25 * INCH), strict=True)}
    typed = {name: f"{mm!r} mm" for name, mm in {**design, **widths_of}.items() if name.startswith("C1 ")}
    alone = widths(centred, dict(zip(NAMES[2:], ("3 1/2", "3 1/16"), strict=True)))["C1-S11"]
    apply_measures(
        centred, sheet(centred, "coffers", {name: text for name, text in typed.items() if "depth" not in name})
    )
    found = widths(centred, dict(zip(NAMES[2:], ("3 1/2", "3 1/16 in"), strict=True)))["C1-S11"]
    assert alone[1] is not None
    assert found[1] is not None
    errors = errors_of(read_config(centred).survey, read_config(centred).tape)
    wide = math.hypot(errors.sd(40.5 * INCH), errors.slat_mark / math.sqrt(12.0), errors.put_up)
    ends, _ = adjusted(sd_of_hole(errors, 3.5 * INCH), (0.0, -7 / 16 * INCH), wide, -0.25 * INCH)
    step = (ends[0] - ends[1]) / INCH / 40.5 / 4
    # At DA, its first end, the hole is narrower.
    assert found == pytest.approx(
        (3.25 - 9 / 32 + ends[1] / INCH + step, 3.25 - 9 / 32 + ends[0] / INCH - step), abs=2e-3
    )
    assert alone == pytest.approx((2.8125 - 9 / 32 + 7 / 16 / 40.5 / 4, 3.25 - 9 / 32 - 7 / 16 / 40.5 / 4), abs=2e-3)


def test_a_hole_that_contradicts_its_coffer_is_told_and_taken_as_read(centred: Path) -> None:
    design = {name: row.design for name, row in rows_of(centred, "coffers").items()}
    typed = {name: f"{mm!r} mm" for name, mm in design.items() if name.startswith("C1 ") and "depth" not in name}
    apply_measures(centred, sheet(centred, "coffers", typed))
    done = apply_measures(
        centred, sheet(centred, "last", dict(zip(NAMES, ("3 7/8", "3 1/16", "3 7/8", "3 1/16"), strict=True)))
    )
    what = "from end to end it changes otherwise than its coffer; read hole and widths again; they differ by"
    assert done.notes == (f"C1 first hole: {what} 13/16 in", f"C1 last hole: {what} 13/16 in")
    ends = read_config(centred).field["C1-S11"]
    assert ends.width is not None
    assert ends.width_end is not None
    assert (ends.width_end - ends.width) / INCH == pytest.approx(13 / 16 - 13 / 16 / 40.5 / 2, abs=2e-3)


def test_where_a_tape_reads_well_the_edge_gap_is_as_wished(centred: Path) -> None:
    """3 5/8 less a gap and an edge gap is 3 1/8; 3 3/8 is 2 7/8."""
    centred.write_text(centred.read_text("utf-8") + '\n[survey]\nsd = "0.1 mm"\nsd_per_length = 0.0\n', "utf-8")
    found = widths(centred, dict(zip(NAMES, ("3 5/8", "3 5/8", "3 3/8", "3 3/8"), strict=True)))
    assert found["C1-S01"] == (pytest.approx(3.125, abs=1e-6), None)
    assert found["C1-S11"] == (pytest.approx(2.875, abs=1e-6), None)


def test_one_hole_does_not_wait_for_the_other(centred: Path) -> None:
    done = apply_measures(centred, sheet(centred, "last", {NAMES[0]: "3 1/2", NAMES[2]: "3 1/2", NAMES[3]: "3 1/2"}))
    assert done.parts == ("C1-S11",)
    assert done.notes == ("C1 waits for: C1 first hole at DA",)


def test_a_row_of_a_hole_that_there_is_not_names_the_nearest(configs: Path, tmp_path: Path) -> None:
    """From one side there is no first hole."""
    path = copied(configs / "3-square.toml", tmp_path)
    with pytest.raises(Exception, match="no row of this sheet has that name; did you mean C1 last hole at E1"):
        apply_measures(path, sheet(path, "last", {"C1 first hole at E1": "3 1/2"}))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(
    room=quads(40.0),
    run=st.sampled_from(["with", "across"]),
    start=st.sampled_from(['"centre"', '["AB", "DA"]', '["CD", "BC"]']),
    wedge=st.sampled_from(["auto", "taper", "fan"]),
    more=st.tuples(*[st.floats(-6.0, -1.0) | st.floats(1.0, 6.0)] * 2),
)
def test_holes_as_much_wider_make_rips_as_much_wider(
    room: Quad, run: str, start: str, wedge: str, more: tuple[float, float]
) -> None:
    """Whatever the room: both rips take what their own hole has more, and the holes share nothing."""
    config = config_of(text_of(room, Wish(beams=1, rows=1, run=run, start=start, wedge=wedge)))
    try:
        layout = arrange_layout(solve_survey(config), config)
    except LayoutError:
        assume(False)
        raise
    parts = {part.id: part for part in make_parts(layout)}
    sizes = {"first": more[0], "last": more[1]}
    rows = list(last_rows(layout))
    assume(rows)
    values = {row.name: row.design + sizes[row.name.split()[1]] for row in rows}
    fitted = fit_last(config, layout, parts, values).rows
    # Neither is the design, so the edge gaps of both are as far from what shows.
    narrower = fit_last(config, layout, parts, {name: mm - 0.5 for name, mm in values.items()}).rows
    rips = [part for part in parts.values() if any(part.sawn_edges)]
    assert set(fitted) == {part.id for part in rips}
    for hole in holes(layout):
        for id in chain(*hole.ids):
            for key, mm in fitted[id].items():
                assert isinstance(mm, float)
                if mm < config.slats.width:
                    assert narrower[id][key] == pytest.approx(mm - 0.5 / len(hole.ids), abs=1e-6)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(room=quads(40.0), run=st.sampled_from(["with", "across"]), start=st.sampled_from(['"centre"', '["AB", "DA"]']))
def test_holes_are_what_the_full_slats_leave(room: Quad, run: str, start: str) -> None:
    """Rips, their gaps and edge gaps fill each hole at both its ends, as long as slats are parallel to their side."""
    config = config_of(text_of(room, Wish(beams=1, rows=1, run=run, start=start, wedge="leave")))
    layout = arrange_layout(solve_survey(config), config)
    for hole in holes(layout):
        coffer = hole.frame.coffer
        rips = coffer.rips[: len(hole.ids)]
        filled = sum(rips) + len(rips) * coffer.gap + hole.edge_gap
        assert min(hole.depths) == pytest.approx(filled, abs=1e-6)
        changed = coffer.change if hole.which == "last" else 0.0
        assert max(hole.depths) == pytest.approx(filled + changed, abs=1e-6)
