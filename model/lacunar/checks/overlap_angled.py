"""What helps where slats at an angle leave a gap in a corner: tried on the layout before it is said."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from lacunar.checks.edges import OuterEdge, gap_across, outer_edges, overlaps_of
from lacunar.checks.finding import Finding
from lacunar.checks.subject import Subject, make_subject
from lacunar.checks.voice import Voice
from lacunar.config import Config
from lacunar.errors import LacunarError
from lacunar.layout import arrange_layout
from lacunar.parts import make_parts
from lacunar.tolerances import CONTACT
from lacunar.units import INCH

MOST = 2.0 * INCH
"""mm. No trim is told to be so much wider. Source: own choice, more than any moulding is."""


def with_remedy(voice: Voice, found: Sequence[Finding], edges: Sequence[OuterEdge]) -> tuple[Finding, ...]:
    """The findings, those on slats at an angle with what helps there.

    Args:
        voice: of the check.
        found: on outer edges, each with what was found and its limit.
        edges: all of them.
    """
    angled = {edge.part.id for edge in edges if _is_angled(edge)}
    mine = [finding for finding in found if finding.where in angled]
    if not mine:
        return tuple(found)
    fix = _remedy(voice, max((finding.limit or 0.0) - (finding.value or 0.0) for finding in mine))
    return tuple(replace(finding, fix=fix) if finding.where in angled else finding for finding in found)


def _is_angled(edge: OuterEdge) -> bool:
    return edge.coffer.cut_to_shape


def _remedy(voice: Voice, missing: float) -> str:
    """The first change of one number that hides every corner of such coffers, else which way slats hide theirs."""
    found = (words for words, config in _changes(voice, missing) if _hides(voice.subject, config))
    return next(found, 'let the slats run along the sides (slats.run = "with" or "across")')


def _changes(voice: Voice, missing: float) -> Iterator[tuple[str, Config]]:
    config, mark = voice.subject.config, voice.mark
    slats, trim = config.slats, config.trim
    hidden = math.floor((trim.width - trim.least_overlap) / mark + 1e-3) * mark
    if slats.end_gap > hidden >= slats.least_end_gap:
        yield f"set slats.end_gap to {voice.length(hidden)}", _with(config, "slats", end_gap=hidden)
    near = math.ceil(slats.least_edge_gap / mark - 1e-3) * mark
    if slats.end_gap < near:
        yield f"set slats.end_gap to {voice.length(near)}", _with(config, "slats", end_gap=near)
    step, more = math.ceil(missing / mark - 1e-3), 1
    while step * mark <= MOST:
        yield f"use trim {voice.at_least(step * mark)} wider", _with(config, "trim", width=trim.width + step * mark)
        # What is missing nearly always does, and every try is a layout of the whole ceiling.
        step, more = step + more, 2 * more


def _with(config: Config, table: str, **values: float) -> Config:
    return config.model_copy(update={table: getattr(config, table).model_copy(update=values)})


def _hides(subject: Subject, config: Config) -> bool:
    try:
        layout = arrange_layout(subject.room, config)
    except LacunarError:
        return False
    tried = make_subject(config, subject.room, layout, make_parts(layout), subject.plan, subject.cost)
    edges = [edge for edge in outer_edges(tried, ends=False) if _is_angled(edge)]
    least = min(config.slats.edge_gap, config.slats.least_edge_gap)
    return all(gap_across(edge) >= least - CONTACT for edge in edges) and all(
        overlap >= config.trim.least_overlap - CONTACT for overlap in overlaps_of(tried, edges)
    )
