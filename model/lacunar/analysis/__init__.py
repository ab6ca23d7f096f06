"""What is worked out of a finished ceiling, once: fits, gaps, overlaps, depths, chances. Checks judge it."""

from lacunar.analysis.analyse import TRIALS, Analysis, analyse, chance_of
from lacunar.analysis.beam_ends import BeamEnd
from lacunar.analysis.beams import BeamFit, SideFit, sunk_beams
from lacunar.analysis.boards import BoardFit, CutFit, RipFit
from lacunar.analysis.bows import BowFit
from lacunar.analysis.depths import Depth
from lacunar.analysis.done_fits import DoneFit, done_fits
from lacunar.analysis.edges import EdgeFit, end_fits, side_edge_fits
from lacunar.analysis.fixtures import DoorSweep, FixtureFit
from lacunar.analysis.making import arrange, plan_parts
from lacunar.analysis.margins import Margins, margins_of
from lacunar.analysis.nailed import Grip, NailedSlat, ScrewedStrip, nailed_slats, screwed_strips
from lacunar.analysis.overlap import Overlap, Overlaps
from lacunar.analysis.pockets import CHUCK, DRILL, Fate, PocketFit, pocket_fits
from lacunar.analysis.slat_gaps import WIDER_SHOWS, BarePlaces, RipView, SlatGap
from lacunar.analysis.standing import Standing
from lacunar.analysis.subject import HANGING, NEW_BEAMS, Subject, make_subject

__all__ = [
    "CHUCK",
    "DRILL",
    "HANGING",
    "NEW_BEAMS",
    "TRIALS",
    "WIDER_SHOWS",
    "Analysis",
    "BarePlaces",
    "BeamEnd",
    "BeamFit",
    "BoardFit",
    "BowFit",
    "CutFit",
    "Depth",
    "DoneFit",
    "DoorSweep",
    "EdgeFit",
    "Fate",
    "FixtureFit",
    "Grip",
    "Margins",
    "NailedSlat",
    "Overlap",
    "Overlaps",
    "PocketFit",
    "RipFit",
    "RipView",
    "ScrewedStrip",
    "SideFit",
    "SlatGap",
    "Standing",
    "Subject",
    "analyse",
    "arrange",
    "chance_of",
    "done_fits",
    "end_fits",
    "make_subject",
    "margins_of",
    "nailed_slats",
    "plan_parts",
    "pocket_fits",
    "screwed_strips",
    "side_edge_fits",
    "sunk_beams",
]
