# pyright: basic, reportAttributeAccessIssue=false, reportMissingImports=false
# The kernel's Python binding carries no types.
"""Run in a process of its own (a file with a hole in it ends the process): print what a STEP file holds, as JSON."""

import json
import sys

from OCP.Bnd import Bnd_Box
from OCP.BRep import BRep_Tool
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopLoc import TopLoc_Location
from OCP.TopoDS import TopoDS
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool, XCAFDoc_ShapeTool


def name_of(label):
    name = TDataStd_Name()
    return name.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), name) else None


def colour_of(colours, label):
    colour = Quantity_Color()
    for kind in (XCAFDoc_ColorType.XCAFDoc_ColorSurf, XCAFDoc_ColorType.XCAFDoc_ColorGen):
        if colours.GetColor_s(label, kind, colour):
            return colour.Values(Quantity_TypeOfColor.Quantity_TOC_sRGB)
    return None


def corners(shape):
    box, found = Bnd_Box(), TopExp_Explorer(shape, TopAbs_ShapeEnum.TopAbs_VERTEX)
    while found.More():
        box.Add(BRep_Tool.Pnt_s(TopoDS.Vertex_s(found.Current())))
        found.Next()
    box.SetGap(0.0)
    return box.Get()


def leaf(path, label, product, shape, colours):
    mass = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, mass, 1e-10)
    middle = mass.CentreOfMass()
    return {
        "path": path,
        "product": name_of(product),
        "volume": mass.Mass(),
        "centre": [middle.X(), middle.Y(), middle.Z()],
        "box": list(corners(shape)),
        "valid": BRepCheck_Analyzer(shape).IsValid(),
        "type": str(shape.ShapeType()).rsplit("_", 1)[-1],
        "colour": colour_of(colours, label),
        "product_colour": colour_of(colours, product),
    }


def walk(path, label, location, colours, found):
    parts = TDF_LabelSequence()
    XCAFDoc_ShapeTool.GetComponents_s(label, parts)
    for place in range(1, parts.Length() + 1):
        part, product = parts.Value(place), TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(part, product)
        there = location.Multiplied(XCAFDoc_ShapeTool.GetLocation_s(part))
        here = [*path, name_of(part)]
        if XCAFDoc_ShapeTool.IsAssembly_s(product):
            walk(here, product, there, colours, found)
        else:
            shape = XCAFDoc_ShapeTool.GetShape_s(product).Moved(there)
            found.append(leaf(here, part, product, shape, colours))


def main(path):
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    reader.SetColorMode(True)
    reader.ReadFile(path)
    reader.Transfer(document)
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    roots, found = TDF_LabelSequence(), []
    shapes.GetFreeShapes(roots)
    for place in range(1, roots.Length() + 1):
        root = roots.Value(place)
        walk([name_of(root)], root, TopLoc_Location(), colours, found)
    sys.stdout.write("\n" + json.dumps(found))


main(sys.argv[1])
