"""End gaps and edge gaps of slats behind the trim: the explanations stand at the checks."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from lacunar.analysis import EdgeFit, Subject, end_fits, side_edge_fits
from lacunar.checks.finding import Finding
from lacunar.checks.remedies import Change, Remedy, first_that_helps
from lacunar.checks.voice import Found, Voice, assumed_shape, check, least_each, settle
from lacunar.parts import end_name
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

MOST_WIDER = 2.0 * INCH
"""mm. No trim is told to be so much wider. Source: own choice, more than any moulding is."""


@dataclass(frozen=True, slots=True)
class _Words:
    """What is said of ends, and of edges."""

    what: str
    lies: str


END, EDGE = _Words("end", "at"), _Words("edge", "beside")

DEFAULTS = "of the config; their defaults are common practice, no source"


@check("overlap-end", f"trim.least_overlap and slats.least_end_gap {DEFAULTS}")
def check_overlap_end(voice: Voice) -> Found:
    """Is every end gap hidden behind trim?

    What: from each slat's cut corners to what is seen of its coffer: the trim must reach past the gap by the least
    overlap, and the end must keep the least end gap from the beam or wall.
    Why: a gap that the trim does not cover shows the old ceiling; an end without a gap jams, and buckles when the wood
    swells.
    Fix: cut the slat to another length inside its interval, take wider trim, or cut the ends to the angle of the side.
    Source: the config's trim.least_overlap and slats.least_end_gap, by default 1/4 and 1/16 in: common practice, no
    source.
    """
    ends = voice.analysis.ends
    if not ends:
        return (voice.say("pass", "the ceiling", "no slat ends at a side"),)
    return settle(_bad_ends(voice, ends), _passed(voice, ends, END), assumed_shape(voice.subject))


@check("overlap-edge", f"trim.least_overlap and slats.least_edge_gap {DEFAULTS}")
def check_overlap_edge(voice: Voice) -> Found:
    """Is every edge gap hidden behind trim?

    What: the outer edge of the first and the last slat, at both ends of it, must lie behind the trim by the least
    overlap, and keep the least edge gap from the beam or wall.
    Why: where beams are not parallel the gap opens along the coffer; past the trim it is a dark wedge that everyone
    sees.
    Fix: taper the last slat or fan the gaps (slats.wedge), start from the other side, or take wider trim. Slats at an
    angle have no such sides: there the first change of one number that hides their corners is named.
    Source: the config's trim.least_overlap and slats.least_edge_gap, by default 1/4 and 1/16 in: common practice, no
    source.
    """
    edges = voice.analysis.edges
    if not edges:
        return (voice.say("pass", "the ceiling", "no slat lies beside a side"),)
    bad = voice.gather(_with_remedy(voice, _bad_edges(voice, edges)))
    return settle(bad, _passed(voice, edges, EDGE), assumed_shape(voice.subject))


def bad_overlaps(voice: Voice, subject: Subject) -> int:
    """How many findings the slats of a ceiling that is tried would give."""
    other = replace(voice, subject=subject)
    edges = other.gather([finding for finding, _ in _bad_edges(other, side_edge_fits(subject))])
    return len(_bad_ends(other, end_fits(subject))) + len(edges)


def _bad_ends(voice: Voice, ends: Sequence[EdgeFit]) -> list[Finding]:
    """The worst of each slat: what shows, and what jams."""
    trim, slats = voice.config.trim, voice.config.slats
    short = [_end_shows(voice, end) for end in ends if end.overlap < trim.least_overlap - CONTACT]
    jammed = [_end_jams(voice, end) for end in ends if end.gap < slats.least_end_gap - CONTACT]
    worst = (
        least_each(found, lambda finding: finding.where, lambda finding: finding.value or 0.0)
        for found in (short, jammed)
    )
    return [finding for found in worst for finding in voice.gather(found)]


def _bad_edges(voice: Voice, edges: Sequence[EdgeFit]) -> list[tuple[Finding, EdgeFit]]:
    trim, least = voice.config.trim, _least_edge_gap(voice.subject)
    shown = [(_edge_shows(voice, edge), edge) for edge in edges if edge.overlap < trim.least_overlap - CONTACT]
    return shown + [(_edge_tight(voice, edge, least), edge) for edge in edges if edge.gap < least - CONTACT]


def _least_edge_gap(subject: Subject) -> float:
    return min(subject.config.slats.edge_gap, subject.config.slats.least_edge_gap)


def _shows(voice: Voice, edge: EdgeFit, words: _Words, fix: str, more: str = "") -> Finding:
    trim = voice.config.trim
    gap = voice.length(trim.width - edge.overlap)
    hides = voice.length(max(trim.width - trim.least_overlap, 0.0))
    message = f"{words.what} gap {gap} {words.lies} {edge.against}, trim hides {hides}{more}"
    return voice.say("fail", edge.part, message, value=edge.overlap, limit=trim.least_overlap, fix=fix)


def _tight(voice: Voice, edge: EdgeFit, words: _Words, least: float, fix: str) -> Finding:
    gap, what = edge.gap, words.what
    inside = f"its {what} is {voice.length(-gap)} inside"
    stands = f"{what} gap only {voice.length(gap)} {words.lies}" if gap >= 0.0 else inside
    message = f"{stands} {edge.against}, {voice.length(least)} is the least gap"
    return voice.say("fail", edge.part, message, value=gap, limit=least, fix=fix)


def _end_shows(voice: Voice, end: EdgeFit) -> Finding:
    """Longer by what both ends take together, where the interval still allows it."""
    part, at, missing = voice.part(end.part), end.end or 0, voice.config.trim.least_overlap - end.overlap
    longer = missing / (part.grow[at] or 1.0)
    wider = f"use trim {voice.at_least(missing)} wider"
    fix = f"{wider}, or cut the {end_name(part, at)} to the angle of the side"
    if part.interval is None or part.length + longer <= part.interval[1] + CONTACT:
        fix = f"cut the slat {voice.at_least(longer)} longer or {wider}"
    return _shows(voice, end, END, fix)


def _end_jams(voice: Voice, end: EdgeFit) -> Finding:
    least, share = voice.config.slats.least_end_gap, voice.part(end.part).grow[end.end or 0] or 1.0
    return _tight(voice, end, END, least, f"cut the slat {voice.at_least((least - end.gap) / share)} shorter")


def _edge_shows(voice: Voice, edge: EdgeFit) -> Finding:
    trim, slats = voice.config.trim, voice.config.slats
    hidden = trim.width - trim.least_overlap
    wider = f"use trim {voice.at_least(trim.least_overlap - edge.overlap)} wider"
    fix = f"taper or fan the slats (slats.wedge), or {wider}"
    if slats.edge_gap > hidden + CONTACT:
        fix = f"set slats.edge_gap to {voice.length(max(hidden, 0.0))} or less, or {wider}"
    return _shows(
        voice, edge, EDGE, fix, "" if edge.aligned else ", and no other place of the slats hides both corners"
    )


def _edge_tight(voice: Voice, edge: EdgeFit, least: float) -> Finding:
    return _tight(voice, edge, EDGE, least, f"rip {voice.at_least(least - edge.gap)} off its edge to {edge.against}")


def _passed(voice: Voice, edges: Sequence[EdgeFit], words: _Words) -> Finding:
    least, tightest = min(edges, key=lambda edge: edge.overlap), min(edges, key=lambda edge: edge.gap)
    which = "" if tightest.end is None else f", {end_name(voice.part(tightest.part), tightest.end)}"
    message = (
        f"least overlap {voice.length(least.overlap)}; least {words.what} gap {voice.length(tightest.gap)}"
        f" at {tightest.part}{which}"
    )
    limit = voice.config.trim.least_overlap
    return voice.say("pass", least.part, message, value=least.overlap, limit=limit)


def _with_remedy(voice: Voice, found: Sequence[tuple[Finding, EdgeFit]]) -> list[Finding]:
    """The findings, those on slats at an angle with what helps there."""
    angled = [finding for finding, edge in found if not edge.aligned]
    if not angled:
        return [finding for finding, _ in found]
    missing = max((finding.limit or 0.0) - (finding.value or 0.0) for finding in angled)
    # Even where wood is cut: such a gap is one of the design, that no measured length closes.
    remedy = first_that_helps(voice, _changes(voice, missing), _hides_corners, even_cut=True)
    fix = 'let the slats run along the sides (slats.run = "with" or "across")' if remedy is None else remedy[0].text
    return [finding if edge.aligned else replace(finding, fix=voice.told(fix)) for finding, edge in found]


def _changes(voice: Voice, missing: float) -> Iterator[Remedy]:
    """Changes of one number, each with its fix as text."""
    slats, trim, mark = voice.config.slats, voice.config.trim, voice.mark
    hidden = math.floor((trim.width - trim.least_overlap) / mark + 1e-3) * mark
    near = math.ceil(slats.least_edge_gap / mark - 1e-3) * mark
    gaps = [hidden] if slats.end_gap > hidden >= slats.least_end_gap else []
    for gap in (*gaps, near) if slats.end_gap < near else gaps:
        yield (Change("slats.end_gap", gap, f"set slats.end_gap to {voice.length(gap)}"),)
    step, more = math.ceil(missing / mark - 1e-3), 1
    while step * mark <= MOST_WIDER:
        yield (Change("trim.width", trim.width + step * mark, f"use trim {voice.at_least(step * mark)} wider"),)
        # What is missing nearly always does, and every try is a layout of the whole ceiling.
        step, more = step + more, 2 * more


def _hides_corners(subject: Subject) -> bool:
    """Every edge of slats at an angle is hidden and keeps its gap."""
    least, overlap = _least_edge_gap(subject), subject.config.trim.least_overlap
    edges = [edge for edge in side_edge_fits(subject) if not edge.aligned]
    return all(edge.gap >= least - CONTACT and edge.overlap >= overlap - CONTACT for edge in edges)
