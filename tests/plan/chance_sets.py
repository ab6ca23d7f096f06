"""Random parts and shops for Hypothesis."""

from hypothesis import strategies as st

from lacunar.config import Config
from lacunar.parts import Part
from plan.planning import board, config, mitred, part

LENGTHS = {"in": (96, 120, 144, 192), "mm": (2400, 3000, 3600, 4800)}


@st.composite
def shops(draw: st.DrawFn, stocks: tuple[str, ...] = ("1x4", "1x2", "4x8"), most_boards: int = 3) -> Config:
    """Both units, odd kerfs and wastes, boards on hand, limited ones, ones of other than their nominal length."""
    units = draw(st.sampled_from(["in", "mm"]))
    unit = "in" if units == "in" else "mm"
    size = 1.0 if units == "in" else 25.4
    lines = [
        f"kerf = {draw(st.floats(0.05, 0.2)) * size!r}",
        f"end_waste = {draw(st.floats(0.0, 1.0)) * size!r}",
        f"cull = {draw(st.sampled_from([0.0, 0.05, 0.1, 0.25]))}",
        f"flip_stops = {draw(st.integers(1, 3))}",
        f"stack = {draw(st.integers(1, 4))}",
    ]
    if draw(st.integers(0, 5)) == 0:
        lines.append(f'longest = "{LENGTHS[units][2]} {unit}"')
    rows: list[str] = []
    priced = draw(st.booleans())
    for stock in stocks if draw(st.integers(0, 4)) else ():
        for length in draw(st.lists(st.sampled_from(LENGTHS[units]), min_size=1, max_size=most_boards, unique=True)):
            off = draw(st.sampled_from([0.0, 0.0, 0.25, -0.125, 0.01])) * size
            limit = draw(st.sampled_from([None, None, None, 0, 2, 5]))
            rows.append(
                board(
                    stock,
                    f"{length} {unit}",
                    draw(st.integers(500, 4000)) / 100.0 if priced else None,
                    on_hand=draw(st.sampled_from([0, 0, 1, 3])),
                    supply=limit,
                    actual=f"{length + off} {unit}" if off else "",
                )
            )
    more = 'read_to = "1/8 in"\n' if units == "in" and draw(st.booleans()) else ""
    return config("\n".join(lines) + "".join(rows), units=units, more=more + '[slats]\nstock = "1x4"\n')


@st.composite
def slats(draw: st.DrawFn, name: str) -> Part:
    """With an interval, one too narrow for any mark, a set length, or no choice."""
    length = draw(st.floats(200.0, 2300.0))
    low, high = draw(st.floats(0.0, 25.0)), draw(st.floats(0.0, 15.0))
    kind = draw(st.integers(0, 5))
    interval = None if kind == 0 else (length, length) if kind == 1 else (length - low, length + high)
    if kind == 2:
        interval = (length - 0.3, length + 0.3)
    return part(name, length, interval=interval, width=88.9, coffer=name.split("-")[0])


@st.composite
def rips(draw: st.DrawFn, name: str) -> Part:
    """Straight or tapered, most of them narrow enough for two in one board."""
    base = draw(slats(name))
    wide, narrow = draw(st.floats(10.0, 88.0)), draw(st.floats(10.0, 45.0))
    end = draw(st.sampled_from([None, None, narrow, narrow + 25.0]))
    width = draw(st.sampled_from([wide, narrow]))
    interval, length = base.interval, base.length
    if draw(st.booleans()):
        # Like others, so that pairs come about.
        length, interval = 800.0, (790.0, 806.0)
    return part(name, length, interval=interval, width=width, width_end=end, ripped=True, coffer=base.coffer)


@st.composite
def strips(draw: st.DrawFn, name: str) -> Part:
    """Mitred: near 45 degrees, square, steep, or the wrong way round."""
    angle = st.one_of(
        st.just(45.0), st.floats(42.0, 48.0), st.sampled_from([0.0, 30.0, 60.0, -45.0, -30.0, 67.5, 22.5])
    )
    length = draw(st.one_of(st.sampled_from([500.0, 900.0]), st.floats(200.0, 1500.0)))
    return mitred(name, length, (draw(angle), draw(angle)))


@st.composite
def sets(draw: st.DrawFn, most: int = 10) -> tuple[Part, ...]:
    """Slats, rips, strips and beams of some coffers."""
    out: list[Part] = []
    for letter, kind in (("S", slats), ("R", rips), ("T", strips)):
        count = draw(st.integers(0, most))
        out += [draw(kind(f"C{n % 3 + 1}-{letter}{n:02d}")) for n in range(count)]
    for n in range(draw(st.integers(0, 3))):
        length = draw(st.floats(500.0, 3000.0))
        out.append(part(f"X1-{n}", length, kind="cross beam", stock="4x8", width=88.9, coffer=None))
    return tuple(out)
