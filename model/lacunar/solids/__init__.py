"""Solids of the parts for CAD, valid and of the right volume, shared where parts are alike."""

from lacunar.solids.build import Solids, build_solids, location_of, solid_of
from lacunar.solids.place import Placed, Placement, Sharing, share_shapes

__all__ = ["Placed", "Placement", "Sharing", "Solids", "build_solids", "location_of", "share_shapes", "solid_of"]
