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

from lacunar.checks.edges import OuterEdge, facing_side, gap_across, outer_edges, overlaps_of
from lacunar.checks.finding import Finding
from lacunar.checks.overlap_angled import with_remedy
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_shape, coffers_of, gather, settle
from lacunar.tolerances import CONTACT

NAME = "overlap-edge"
SOURCE = "trim.least_overlap and slats.least_edge_gap of the config; their defaults are common practice, no source"


def check_overlap_edge(subject: Subject) -> tuple[Finding, ...]:
    """Findings on the outer edges of each coffer's first and last slat."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    edges = outer_edges(subject, ends=False)
    if not edges:
        return (voice.say("pass", "the ceiling", "no slat lies beside a side"),)
    overlaps = overlaps_of(subject, edges)
    gaps = tuple(gap_across(edge) for edge in edges)
    shown = [_showing(voice, edge, overlap) for edge, overlap in zip(edges, overlaps, strict=True)]
    tight = [_tight(voice, edge, gap) for edge, gap in zip(edges, gaps, strict=True)]
    found = [finding for finding in (*shown, *tight) if finding is not None]
    found = gather(with_remedy(voice, found, edges), coffers_of(subject))
    return settle(found, _passed(voice, edges, overlaps, gaps), assumed_shape(subject))


def _showing(voice: Voice, edge: OuterEdge, overlap: float) -> Finding | None:
    config = voice.subject.config
    least = config.trim.least_overlap
    if overlap >= least - CONTACT:
        return None
    gap = config.trim.width - overlap
    hides = voice.length(max(config.trim.width - least, 0.0))
    message = f"edge gap {voice.length(gap)} beside {facing_side(edge).against}, trim hides {hides}"
    if edge.coffer.cut_to_shape:
        message += ", and no other place of the slats hides both corners"
    hidden = config.trim.width - least
    wider = f"use trim {voice.at_least(least - overlap)} wider"
    if config.slats.edge_gap > hidden + CONTACT:
        fix = f"set slats.edge_gap to {voice.length(max(hidden, 0.0))} or less, or {wider}"
    else:
        fix = f"taper or fan the slats (slats.wedge), or {wider}"
    return voice.say("fail", edge.part.id, message, value=overlap, limit=least, fix=fix)


def _tight(voice: Voice, edge: OuterEdge, gap: float) -> Finding | None:
    slats = voice.subject.config.slats
    least = min(slats.edge_gap, slats.least_edge_gap)
    if gap >= least - CONTACT:
        return None
    against = facing_side(edge).against
    stands = f"edge gap only {voice.length(gap)} beside" if gap >= 0.0 else f"its edge is {voice.length(-gap)} inside"
    message = f"{stands} {against}, {voice.length(least)} is the least gap"
    fix = f"rip {voice.at_least(least - gap)} off its edge to {against}"
    return voice.say("fail", edge.part.id, message, value=gap, limit=least, fix=fix)


def _passed(
    voice: Voice, edges: tuple[OuterEdge, ...], overlaps: tuple[float, ...], gaps: tuple[float, ...]
) -> Finding:
    least = min(range(len(edges)), key=overlaps.__getitem__)
    tightest = min(range(len(edges)), key=gaps.__getitem__)
    message = (
        f"least overlap {voice.length(overlaps[least])}; least edge gap {voice.length(gaps[tightest])}"
        f" at {edges[tightest].part.id}"
    )
    limit = voice.subject.config.trim.least_overlap
    return voice.say("pass", edges[least].part.id, message, value=overlaps[least], limit=limit)
