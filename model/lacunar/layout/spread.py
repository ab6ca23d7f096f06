"""Beams and rows shared out so that what stays clear is equal: rules 2 and 3."""

from lacunar.geometry import Line, Point, Segment
from lacunar.layout.saying import Say, refusal
from lacunar.tolerances import ARITHMETIC


def across_on(stretch: Segment, centre: Line, width: float) -> float:
    """How much of a stretch a bar of that width takes up, measured along the stretch."""
    ux, uy = stretch.line.direction
    dx, dy = centre.direction
    return width / abs(ux * dy - uy * dx)


def spread(first: Segment, second: Segment, count: int, width: float, what: str, say: Say) -> tuple[Line, ...]:
    """Centre lines from the first stretch to the second, equal clear lengths on each of them.

    How much a bar covers of a stretch depends on its slant and the slant on the places, so the places are found by
    repetition; the slants of a room settle to rounding in a few rounds.

    Args:
        first: where the bars start; its start and the second's lie on the same side.
        second: where they end.
        count: how many bars.
        width: of each.
        what: names the bars in a message.
        say: prints a length in a message.

    Returns:
        Lines whose points lie on the first stretch, in order along it.

    Raises:
        LayoutError: the bars are wider together than a stretch is long.
    """
    places = [[s.length * (i + 1) / (count + 1) for i in range(count)] for s in (first, second)]
    for _ in range(100):
        centres = [Line.through(first.line.at(a), second.line.at(b)) for a, b in zip(*places, strict=True)]
        new = [_places(stretch, centres, width, what, say) for stretch in (first, second)]
        moved = max(
            (abs(a - b) for old, now in zip(places, new, strict=True) for a, b in zip(old, now, strict=True)),
            default=0.0,
        )
        places = new
        if moved < ARITHMETIC * 1e-4:
            break
    return tuple(Line.through(first.line.at(a), second.line.at(b)) for a, b in zip(*places, strict=True))


def _places(stretch: Segment, centres: list[Line], width: float, what: str, say: Say) -> list[float]:
    taken = [across_on(stretch, centre, width) for centre in centres]
    clear = (stretch.length - sum(taken)) / (len(taken) + 1)
    if clear <= 0.0:
        wide = f"{len(taken)} of them take {say(sum(taken))} of a wall that is {say(stretch.length)} long"
        raise refusal(what, wide, "take fewer or narrower ones")
    places: list[float] = []
    at = 0.0
    for width_here in taken:
        places.append(at + clear + width_here / 2.0)
        at += clear + width_here
    return places


def moved_to(
    centres: tuple[Line, ...], width: float, first: Segment, second: Segment, target: Point
) -> tuple[Line, ...]:
    """The centre lines moved together along both stretches, so that a cell's middle line passes through a point.

    The cells are what stays clear between the bars and the ends of the stretches; the nearest one's middle is moved.
    """
    starts = [first.line.along(c.point) for c in centres]
    ends = [second.line.along(c.crossing(second.line)) for c in centres]

    def placed(step: float) -> tuple[Line, ...]:
        return tuple(
            Line.through(first.line.at(s + step), second.line.at(e + step)) for s, e in zip(starts, ends, strict=True)
        )

    def misses(step: float) -> list[float]:
        lines = placed(step)
        lows = _middles(first, [s + step for s in starts], lines, width)
        highs = _middles(second, [e + step for e in ends], lines, width)
        return [
            Line.through(first.line.at(a), second.line.at(b)).offset(target) for a, b in zip(lows, highs, strict=True)
        ]

    at_rest = misses(0.0)
    nearest = min(range(len(at_rest)), key=lambda i: abs(at_rest[i]))
    step = 0.0
    for _ in range(50):
        here = misses(step)[nearest]
        if abs(here) < ARITHMETIC * 1e-4:
            break
        step -= here / (misses(step + 1.0)[nearest] - here)
    return placed(step)


def _middles(stretch: Segment, places: list[float], centres: tuple[Line, ...], width: float) -> list[float]:
    halves = [across_on(stretch, centre, width) / 2.0 for centre in centres]
    lows = [0.0, *(p + h for p, h in zip(places, halves, strict=True))]
    highs = [*(p - h for p, h in zip(places, halves, strict=True)), stretch.length]
    return [(low + high) / 2.0 for low, high in zip(lows, highs, strict=True)]
