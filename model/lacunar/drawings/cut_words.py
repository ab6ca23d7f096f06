"""How a piece is cut, in the same words on boards and in lists: its ends, its widths, its notches."""

from collections.abc import Mapping, Sequence

from lacunar.geometry import Line, extent
from lacunar.parts import Cutaway, Hand, Part, beside, end_name, face_name, longer_face, reach_past
from lacunar.plan import Plan, Setting
from lacunar.tape import Tape
from lacunar.units import nearest_mark

SAME_PLACE = 1.0
"""mm. A cut-out that comes so near to an edge or an end reaches it."""


def settings_by_part(plan: Plan) -> Mapping[str, tuple[Setting, ...]]:
    """Every setting that a part is cut at, the stop first."""
    found: dict[str, tuple[Setting, ...]] = {}
    for setting in sorted(plan.settings, key=lambda setting: setting.stop is None):
        for part in setting.parts:
            found[part] = (*found.get(part, ()), setting)
    return found


def mitre_settings(part: Part, settings: Sequence[Setting]) -> tuple[Setting | None, Setting | None]:
    """The angle that each end is cut at; None where it is cut square."""
    angled = [setting for setting in settings if setting.mitre_deg is not None]
    first, second = (
        min((None, *angled), key=lambda one: abs((one.mitre_deg or 0.0 if one else 0.0) - end.mitre_deg))
        for end in part.ends
    )
    return first, second


def ends_text(part: Part, settings: Sequence[Setting], tape: Tape, *, turned: bool = False) -> str:
    """Both ends as the saw is set for them: "square at E1 and E2", "0.5 deg at E1, AB face longer by 1/32 in; ...".

    Args:
        part: as cut.
        settings: that it is cut at.
        tape: that lengths are told by.
        turned: the end that comes second along its axis is told first.
    """
    ends = (1, 0) if turned else (0, 1)
    cuts = mitre_settings(part, settings)
    (first, more), (second, other) = (_end(part, end, cuts[end], tape) for end in ends)
    places = [part.meets[end] for end in ends]
    if more == other:
        both = f"{first} at {places[0]} and {'' if first == second else f'{second} at '}{places[1]}{more}"
        return f"{both} at each" if more else both
    return f"{first} at {places[0]}{more}; {second} at {places[1]}{other}"


def short_point(part: Part, settings: Sequence[Setting], length: float) -> float:
    """The length of the shorter face of a piece with mitred ends, mm.

    Args:
        part: as cut.
        settings: that it is cut at.
        length: from long point to long point, as the stop is set.
    """
    angles = [0.0 if cut is None else cut.mitre_deg or 0.0 for cut in mitre_settings(part, settings)]
    return length - max(sum(reach_past(part, a) for a in angles if (a > 0.0) is outer) for outer in (True, False))


def _end(part: Part, end: int, cut: Setting | None, tape: Tape) -> tuple[str, str]:
    """The cut, and what follows its place."""
    angle, tilt = 0.0 if cut is None else cut.mitre_deg or 0.0, part.ends[end].bevel_deg
    bevel = f", bevel {degrees(tilt)}" if tilt else ""
    if not angle:
        return "square", bevel
    by = tape.cut_text(nearest_mark(reach_past(part, angle), tape.fine), "inches")
    return degrees(angle), f", {face_name(part, longer_face(part, end))} longer by {by}{bevel}"


def degrees(angle: float) -> str:
    """Away from square, whichever way."""
    return f"{abs(angle):.2f}".rstrip("0").rstrip(".") + " deg"


def wider_at(part: Part) -> str:
    """The end of a tapered piece where it is wider."""
    return end_name(part, 0 if part.width >= (part.width_end or 0.0) else 1)


def rip_text(part: Part, fence: Setting, tape: Tape, *, turned: bool = False) -> str:
    """The width that a piece is ripped to; of a tapered one both, with the ends where they are."""
    assert fence.fence is not None
    widths = [tape.cut_text(mm, "inches") for mm in (fence.fence, fence.fence_end) if mm is not None]
    if len(widths) == 1:
        return widths[0]
    wide_first = wider_at(part) == end_name(part, 0)
    at = [f"{width} at {part.meets[end]}" for width, end in zip(widths, (0, 1) if wide_first else (1, 0), strict=True)]
    return " to ".join(at if wide_first is not turned else at[::-1])


def notch_texts(part: Part, tape: Tape) -> list[str]:
    """What fixtures take out of a piece: how deep and where, from ends and edges that it has."""
    return [text for notch in part.notches if (text := _notch(part, notch, tape))]


def _notch(part: Part, notch: Cutaway, tape: Tape) -> str:
    axis = Line.through(*part.axis)
    reach, (low, high) = axis.along(part.axis[1]), extent(notch.outline, axis)
    stretch = part.top.stretch(axis.direction)
    at_end = [end for end, out in enumerate((low, reach - high)) if out < -SAME_PLACE and not part.grow[end]]
    if at_end:
        (end,) = at_end
        depth = high if end == 0 else reach - low
        # An end that a straight cut-out made is as square as any other.
        return (
            f"{end_name(part, end)} cut out round it, {_said(depth * stretch, tape)} deep" if depth > SAME_PLACE else ""
        )
    # From the nearer of the ends that no cut-out made.
    end = min((0, 1), key=lambda end: (not part.grow[end], (low, reach - high)[end]))
    span = (low, high) if end == 0 else (reach - high, reach - low)
    place = f"{_range((span[0] * stretch, span[1] * stretch), tape)} from the {end_name(part, end)}"
    share = (low + high) / 2.0 / reach
    half = (part.width + ((part.width_end or part.width) - part.width) * share) / 2.0
    offsets = [axis.offset(point) for point in notch.outline]
    return _bite(part, notch, (half - max(offsets), half + min(offsets)), 2.0 * half, place, tape)


def _bite(part: Part, notch: Cutaway, gaps: tuple[float, float], width: float, place: str, tape: Tape) -> str:
    """`gaps` are between a cut-out and the left and the right edge."""
    nearer: Hand = "left" if gaps[0] <= gaps[1] else "right"
    side = beside(part, nearer)
    if notch.inside or min(gaps) > SAME_PLACE:
        across = (min(gaps), width - max(gaps))
        return f"hole for {notch.fixture}, {place}, {_range(across, tape)} from the {side} edge"
    depth = _said(width - max(max(gaps), 0.0), tape)
    return f"notch for {notch.fixture} {depth} deep, {place}, to the {side} side"


def _said(mm: float, tape: Tape) -> str:
    return tape.text(max(mm, 0.0), "inches")


def _range(span: tuple[float, float], tape: Tape) -> str:
    start, finish = (_said(mm, tape) for mm in span)
    return f"{start.removesuffix(' in').removesuffix(' mm')} to {finish}"
