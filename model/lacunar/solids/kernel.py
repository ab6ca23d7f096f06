# pyright: basic, reportAttributeAccessIssue=false, reportMissingImports=false
# The kernel's Python binding carries no types: its solids leave this module as Any, everything else typed.
"""The few calls of the geometry kernel that make, measure and move a solid. It takes a second to load: import late."""

import math
from collections.abc import Iterable, Sequence
from typing import Any

from OCP.BRep import BRep_Builder
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeVertex
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.BRepPrimAPI import BRepPrimAPI_MakeRevol
from OCP.gp import gp_Ax1, gp_Dir, gp_Pln, gp_Pnt, gp_Trsf
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS, TopoDS_Shell, TopoDS_Solid, TopoDS_Wire
from OCP.TopTools import TopTools_ListOfShape

from lacunar.geometry import Plane, Point, Point3, Ring
from lacunar.parts import Drilling, Face, Part, lift
from lacunar.solids.place import Placement

_BEYOND = 2.0
"""mm that a drill reaches past the wood at either end, so that no face of it lies on one of the wood's."""

_INTEGRATION = 1e-10
"""Relative error asked of the kernel's integration over curved faces: a tenth of VOLUME_RELATIVE."""


def make(part: Part, holes: Sequence[Drilling]) -> Any:
    """The part's solid with its stepped holes; None where the kernel cannot make one."""
    try:
        solid = _prism(part)
        return _drilled(solid, holes) if holes else solid
    except Exception:  # The binding gives the kernel's many errors no common class.
        return None


def is_valid(solid: Any) -> bool:
    """Whether the kernel's own check of edges, faces and shells passes."""
    return bool(BRepCheck_Analyzer(solid).IsValid())


def volume_of(solid: Any, *, fine: bool) -> float:
    """Volume in mm3 as the kernel integrates it: by a fixed rule, exact for flat faces, or `fine` to a given error."""
    found = GProp_GProps()
    if fine:
        BRepGProp.VolumeProperties_s(solid, found, _INTEGRATION)
    else:
        BRepGProp.VolumeProperties_s(solid, found)
    return float(found.Mass())


def location(placement: Placement) -> Any:
    """A placement as the kernel keeps it."""
    (c, s), (x, y, z) = placement.direction, placement.origin
    move = gp_Trsf()
    move.SetValues(c, -s, 0.0, x, s, c, 0.0, y, 0.0, 0.0, 1.0, z)
    return TopLoc_Location(move)


def moved(solid: Any, placement: Placement) -> Any:
    """The same solid, shared, standing at a place."""
    return TopoDS.Solid_s(solid.Moved(location(placement)))


def _prism(part: Part) -> Any:
    """A solid of the part before it is drilled: flat faces that share their edges, so nothing has to be sewn."""
    builder, shell, solid = BRep_Builder(), TopoDS_Shell(), TopoDS_Solid()
    builder.MakeShell(shell)
    rings = [_Edges(ring, part.bottom, part.top) for ring in (part.outline, *part.holes)]
    lower, upper = [ring.lower for ring in rings], [ring.upper for ring in rings]
    for face in (_cap(part.bottom, part.outline[0], lower, -1.0), _cap(part.top, part.outline[0], upper, 1.0)):
        builder.Add(shell, face)
    for number, ring in enumerate(rings):
        for face in ring.walls(1.0 if number == 0 else -1.0):
            builder.Add(shell, face)
    shell.Closed(True)
    builder.MakeSolid(solid)
    builder.Add(solid, shell)
    return solid


def _drilled(solid: Any, holes: Sequence[Drilling]) -> Any:
    """The solid less all its stepped holes, in one cut; None where the kernel gives no single solid."""
    bodies, tools = TopTools_ListOfShape(), TopTools_ListOfShape()
    bodies.Append(solid)
    for hole in holes:
        tools.Append(_drill_bit(hole))
    cut = BRepAlgoAPI_Cut()
    cut.SetArguments(bodies)
    cut.SetTools(tools)
    cut.Build()
    found = TopExp_Explorer(cut.Shape(), TopAbs_ShapeEnum.TopAbs_SOLID)
    if not cut.IsDone() or not found.More():
        return None
    only = TopoDS.Solid_s(found.Current())
    found.Next()
    return None if found.More() else only


class _Edges:
    """The edges over one ring: along the underside, along the upper side, and plumb ones at the corners."""

    def __init__(self, ring: Ring, bottom: Plane, top: Plane) -> None:
        self.ring = ring
        feet, heads = (
            [BRepBuilderAPI_MakeVertex(gp_Pnt(*point)).Vertex() for point in lift(ring, plane)]
            for plane in (bottom, top)
        )
        self.lower, self.upper = _closed(feet), _closed(heads)
        self.plumb = [BRepBuilderAPI_MakeEdge(foot, head).Edge() for foot, head in zip(feet, heads, strict=True)]

    def walls(self, way: float) -> Iterable[Any]:
        """Upright faces, their normals to the right of the ring where `way` is 1, to the left where it is -1."""
        for i, (lower, upper) in enumerate(zip(self.lower, self.upper, strict=True)):
            j = (i + 1) % len(self.ring)
            (ax, ay), (bx, by) = self.ring[i], self.ring[j]
            normal = (way * (by - ay), way * (ax - bx), 0.0)
            edges = [lower, self.plumb[j], upper.Reversed(), self.plumb[i].Reversed()]
            yield _face(normal, (ax, ay, 0.0), [_wire(edges, way)])


def _closed(corners: Sequence[Any]) -> list[Any]:
    return [
        BRepBuilderAPI_MakeEdge(start, end).Edge()
        for start, end in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]


def _wire(edges: Sequence[Any], way: float) -> Any:
    """A closed wire, run the other way where `way` is -1."""
    builder, wire = BRep_Builder(), TopoDS_Wire()
    builder.MakeWire(wire)
    for edge in edges:
        builder.Add(wire, edge)
    wire.Closed(True)
    return wire if way > 0.0 else wire.Reversed()


def _cap(plane: Plane, point: Point, rings: Sequence[Sequence[Any]], way: float) -> Any:
    normal = (-way * plane.sx, -way * plane.sy, way)
    wires = [_wire(edges, way if number == 0 else -way) for number, edges in enumerate(rings)]
    return _face(normal, (*point, plane.at(point)), wires)


def _face(normal: Point3, point: Point3, wires: Sequence[Any]) -> Any:
    """A flat face: the first wire bounds it, the others are its holes."""
    maker = BRepBuilderAPI_MakeFace(gp_Pln(gp_Pnt(*point), gp_Dir(*normal)), TopoDS.Wire_s(wires[0]), False)
    for wire in wires[1:]:
        maker.Add(TopoDS.Wire_s(wire))
    return maker.Face()


def _drill_bit(hole: Drilling) -> Any:
    """What a pocket takes: a stepped profile turned round the axis, longer than the hole at both ends."""
    pocket = hole.pocket
    wide, thin, shoulder = pocket.bore / 2.0, pocket.pilot / 2.0, pocket.bore_length
    start = -_overrun(pocket.direction, hole.mouth_face, wide)
    stop = shoulder + pocket.pilot_length + _overrun(pocket.direction, hole.exit_face, thin)
    profile = [(start, 0.0), (start, wide), (shoulder, wide), (shoulder, thin), (stop, thin), (stop, 0.0)]
    across = _across(pocket.direction)
    corners = [
        BRepBuilderAPI_MakeVertex(gp_Pnt(*_at(pocket.mouth, pocket.direction, along, across, out))).Vertex()
        for along, out in profile
    ]
    face = _face(_cross(across, pocket.direction), pocket.mouth, [_wire(_closed(corners), 1.0)])
    return BRepPrimAPI_MakeRevol(face, gp_Ax1(gp_Pnt(*pocket.mouth), gp_Dir(*pocket.direction))).Shape()


def _overrun(direction: Point3, face: Face, radius: float) -> float:
    """How far past a face, along its axis, a hole must run so that no part of it ends inside the wood."""
    sine = min(1.0, abs(sum(a * b for a, b in zip(direction, face.normal, strict=True))))
    return radius / math.tan(math.asin(sine)) + _BEYOND


def _across(direction: Point3) -> Point3:
    """A unit vector square to a direction."""
    across = _cross((0.0, 0.0, 1.0) if abs(direction[2]) < 0.9 else (1.0, 0.0, 0.0), direction)
    size = math.hypot(*across)
    return (across[0] / size, across[1] / size, across[2] / size)


def _at(point: Point3, axis: Point3, along: float, across: Point3, out: float) -> Point3:
    x, y, z = (p + along * a + out * b for p, a, b in zip(point, axis, across, strict=True))
    return (x, y, z)


def _cross(a: Point3, b: Point3) -> Point3:
    return (a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0])
