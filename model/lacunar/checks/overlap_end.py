"""Is every end gap hidden behind trim?

What: from each slat's cut corners to what is seen of its coffer: the trim must reach past the gap by the least
overlap, and the end must keep the least end gap from the beam or wall.
Why: a gap that the trim does not cover shows the old ceiling; an end without a gap jams, and buckles when the wood
swells.
Fix: cut the slat to another length inside its interval, take wider trim, or cut the ends to the angle of the side.
Source: the config's trim.least_overlap and slats.least_end_gap, by default 1/4 and 1/16 in: common practice, no
source.
"""

from collections.abc import Iterable

from lacunar.checks.edges import OuterEdge, gap_along, outer_edges, overlaps_of
from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject
from lacunar.checks.voice import Voice, assumed_shape, coffers_of, gather, settle
from lacunar.parts import end_name
from lacunar.tolerances import CONTACT

NAME = "overlap-end"
SOURCE = "trim.least_overlap and slats.least_end_gap of the config; their defaults are common practice, no source"


def check_overlap_end(subject: Subject) -> tuple[Finding, ...]:
    """Findings on the ends of slats."""
    voice = Voice(check=NAME, source=SOURCE, subject=subject)
    edges = outer_edges(subject, ends=True)
    if not edges:
        return (voice.say("pass", "the ceiling", "no slat ends at a side"),)
    overlaps = overlaps_of(subject, edges)
    gaps = tuple(gap_along(edge) for edge in edges)
    coffers = coffers_of(subject)
    short = _one_each(_showing(voice, edge, overlap) for edge, overlap in zip(edges, overlaps, strict=True))
    jammed = _one_each(_jammed(voice, edge, gap) for edge, gap in zip(edges, gaps, strict=True))
    passed = _passed(voice, edges, overlaps, gaps)
    return settle([*gather(short, coffers), *gather(jammed, coffers)], passed, assumed_shape(subject))


def _showing(voice: Voice, edge: OuterEdge, overlap: float) -> Finding | None:
    config = voice.subject.config
    least = config.trim.least_overlap
    if overlap >= least - CONTACT:
        return None
    missing = least - overlap
    gap = config.trim.width - overlap
    hides = voice.length(max(config.trim.width - least, 0.0))
    message = f"end gap {voice.length(gap)} at {edge.part.meets[edge.end]}, trim hides {hides}"
    fix = _fix(voice, edge, missing)
    return voice.say("fail", edge.part.id, message, value=overlap, limit=least, fix=fix)


def _fix(voice: Voice, edge: OuterEdge, missing: float) -> str:
    """Longer by what both ends take together, where the interval still allows it."""
    part = edge.part
    share = part.grow[edge.end] or 1.0
    longer = missing / share
    wider = f"use trim {voice.at_least(missing)} wider"
    if part.interval is None or part.length + longer <= part.interval[1] + CONTACT:
        return f"cut the slat {voice.at_least(longer)} longer or {wider}"
    return f"{wider}, or cut the {end_name(part, edge.end)} to the angle of the side"


def _jammed(voice: Voice, edge: OuterEdge, gap: float) -> Finding | None:
    least = voice.subject.config.slats.least_end_gap
    if gap >= least - CONTACT:
        return None
    stands = f"end gap only {voice.length(gap)} at" if gap >= 0.0 else f"its end is {voice.length(-gap)} inside"
    message = f"{stands} {edge.part.meets[edge.end]}, {voice.length(least)} is the least gap"
    fix = f"cut the slat {voice.at_least((least - gap) / (edge.part.grow[edge.end] or 1.0))} shorter"
    return voice.say("fail", edge.part.id, message, value=gap, limit=least, fix=fix)


def _passed(
    voice: Voice, edges: tuple[OuterEdge, ...], overlaps: tuple[float, ...], gaps: tuple[float, ...]
) -> Finding:
    least = min(range(len(edges)), key=overlaps.__getitem__)
    tightest = min(range(len(edges)), key=gaps.__getitem__)
    message = (
        f"least overlap {voice.length(overlaps[least])}; least end gap {voice.length(gaps[tightest])}"
        f" at {edges[tightest].part.id}, {end_name(edges[tightest].part, edges[tightest].end)}"
    )
    limit = voice.subject.config.trim.least_overlap
    return voice.say("pass", edges[least].part.id, message, value=overlaps[least], limit=limit)


def _one_each(found: Iterable[Finding | None]) -> list[Finding]:
    """The worst finding of each part."""
    worst: dict[str, Finding] = {}
    for finding in found:
        if finding is None:
            continue
        before = worst.get(finding.where)
        if before is None or (finding.value or 0.0) < (before.value or 0.0):
            worst[finding.where] = finding
    return list(worst.values())
