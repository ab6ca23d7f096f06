"""Everything that is worked out of a finished ceiling."""

from dataclasses import dataclass, field

from lacunar.analysis.beam_ends import BeamEnd, beam_ends
from lacunar.analysis.beams import BeamFit, beam_fits
from lacunar.analysis.boards import BoardFit, board_fits
from lacunar.analysis.bows import BowFit, bow_fits
from lacunar.analysis.bundle import Bundle, bundle_of
from lacunar.analysis.depths import Depth, fastener_depths
from lacunar.analysis.done_fits import DoneFit, done_fits
from lacunar.analysis.edges import EdgeFit, end_fits, side_edge_fits
from lacunar.analysis.fixtures import DoorSweep, FixtureFit, door_sweeps, fixture_fits
from lacunar.analysis.margins import Margins, margins_of
from lacunar.analysis.nailed import NailedSlat, ScrewedStrip, nailed_slats, screwed_strips
from lacunar.analysis.overlap import Overlaps, find_overlaps
from lacunar.analysis.pockets import PocketFit, pocket_fits
from lacunar.analysis.slat_gaps import BarePlaces, RipView, SlatGap, bare_places, rip_views, slat_gaps
from lacunar.analysis.standing import GapPlace, Standing, beyond_walls, gap_places, into_ceiling, low_points
from lacunar.analysis.subject import Subject
from lacunar.chance import Chance, chance
from lacunar.layout import OpenGap, PlaneStep, ceiling_gaps, ceiling_steps
from lacunar.plan import Flip, find_flips
from lacunar.survey import Misread, find_misread
from lacunar.tolerances import CONTACT

TRIALS = 2000
"""Enough for a share of 0.95 to be good to 0.01 (two standard deviations)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Analysis:
    """What is worked out once of a ceiling as it will be cut, and read by many. Lengths in mm.

    Attributes:
        misread: the distances of the room of which one does not fit; None where all do.
        gaps: between the old ceiling and each coffer's plane.
        gap_places: where these are largest.
        steps: between the planes of coffers on both sides of a beam.
        depths: of nails and screws.
        nailed: every slat and what its nails find.
        screwed: every strip of furring and what its screws find.
        beams: every beam and piece in its opening and beside the trim.
        beam_ends: both ends of every beam and piece that goes up.
        bows: widths taken half way, and what they do to the pieces.
        ends: slats' ends behind the trim.
        edges: outermost long edges of slats behind the trim.
        rips: what is seen of ripped slats.
        slat_gaps: between neighbouring slats.
        bundle: how far boards are off what they are sold as.
        bare: coffers with places that nothing covers.
        pockets: every pocket.
        overlaps: parts that want the same place.
        outside: parts that leave the room.
        risen: parts that rise into the old ceiling.
        lowest: height of each part's lowest point above the floor, in the order of the parts.
        fixtures: every fixture and what stands in it.
        doors: doors that open into the room and what they meet.
        chance: how likely slats and trim fit the first time.
        margins: that measured slats keep.
        flips: how little changes what is bought.
        boards: as the plan cuts them.
        done: sizes of pieces that are cut, against their places as measured.
    """

    misread: Misread | None
    # The report tells both coffer by coffer.
    gaps: tuple[OpenGap, ...] = field(default=(), metadata={"exclude": True})
    steps: tuple[PlaneStep, ...] = field(default=(), metadata={"exclude": True})
    gap_places: tuple[GapPlace, ...]
    depths: tuple[Depth, ...]
    nailed: tuple[NailedSlat, ...]
    screwed: tuple[ScrewedStrip, ...]
    beams: tuple[BeamFit, ...]
    beam_ends: tuple[BeamEnd, ...]
    bows: tuple[BowFit, ...]
    ends: tuple[EdgeFit, ...]
    edges: tuple[EdgeFit, ...]
    rips: tuple[RipView, ...]
    slat_gaps: tuple[SlatGap, ...]
    bundle: Bundle
    bare: tuple[BarePlaces, ...]
    pockets: tuple[PocketFit, ...]
    overlaps: Overlaps
    outside: tuple[Standing, ...]
    risen: tuple[Standing, ...]
    # The report tells it part by part.
    lowest: tuple[float, ...] = field(default=(), metadata={"exclude": True})
    fixtures: tuple[FixtureFit, ...]
    doors: tuple[DoorSweep, ...]
    chance: Chance
    margins: Margins
    flips: tuple[Flip, ...]
    boards: tuple[BoardFit, ...]
    done: tuple[DoneFit, ...]


def analyse(subject: Subject) -> Analysis:
    """Everything, once; what is tried instead of a ceiling asks the single functions."""
    config, layout = subject.config, subject.layout
    gaps = ceiling_gaps(subject.room, layout)
    return Analysis(
        misread=find_misread(config, subject.room),
        gaps=gaps,
        gap_places=gap_places(layout, gaps),
        steps=ceiling_steps(layout),
        depths=fastener_depths(config, layout, gaps),
        nailed=nailed_slats(subject),
        screwed=screwed_strips(subject),
        beams=beam_fits(subject),
        beam_ends=beam_ends(subject),
        bows=bow_fits(subject),
        ends=end_fits(subject),
        edges=side_edge_fits(subject),
        rips=rip_views(subject),
        slat_gaps=slat_gaps(subject),
        bundle=bundle_of(subject),
        bare=bare_places(subject),
        pockets=pocket_fits(subject),
        overlaps=find_overlaps(subject.parts, subject.polygons, CONTACT),
        outside=beyond_walls(subject),
        risen=into_ceiling(subject),
        lowest=low_points(subject),
        fixtures=fixture_fits(subject),
        doors=door_sweeps(subject),
        chance=chance_of(subject),
        margins=margins_of(subject),
        flips=find_flips(subject.parts, subject.plan, config),
        boards=board_fits(subject),
        done=done_fits(subject),
    )


def chance_of(subject: Subject) -> Chance:
    """How likely slats and trim fit the first time."""
    return chance(subject.config, subject.layout, subject.parts, trials=TRIALS)
