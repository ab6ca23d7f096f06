# pyright: basic, reportAttributeAccessIssue=false, reportMissingImports=false
# The kernel's Python binding carries no types.
"""The kernel's documents: an assembly of named and coloured solids, and their way into a STEP file."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.Quantity import Quantity_Color, Quantity_TypeOfColor
from OCP.STEPCAFControl import STEPCAFControl_Controller, STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_StepModelType
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool

from lacunar.errors import ExportError, Problem
from lacunar.exports.colours import colour_of
from lacunar.exports.tree import ROOT, groups, pattern_names, plain
from lacunar.parts import Part
from lacunar.solids import Solids, location_of


def write_document(solids: Solids, parts: Sequence[Part], path: Path, title: str) -> None:
    """Write parts as an assembly: ceiling > coffer > part, alike parts as occurrences of one product.

    The tree is our own, because names have to stand on products and on their occurrences alike.

    Args:
        solids: of these parts.
        parts: in the order of the tree.
        path: of the file.
        title: of the ceiling, for the header; accents are dropped.

    Raises:
        ExportError: the file cannot be written.
    """
    document = _document(solids, parts)
    # No pcurves: they double the file, and flat faces and cylinders do without.
    with _settings({"write.step.schema": "AP242DIS", "write.surfacecurve.mode": "Off", "write.step.assembly": "On"}):
        _write(document, path, plain(title))


def _document(solids: Solids, parts: Sequence[Part]) -> Any:
    document = TDocStd_Document(TCollection_ExtendedString("BinXCAF"))
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    products = _products(solids, parts, shapes, colours)
    root = _named(shapes.NewShape(), ROOT)
    for name, members in groups(parts).items():
        group = _named(shapes.NewShape(), name)
        _named(shapes.AddComponent(root, group, TopLoc_Location()), name)
        for part in members:
            placed = solids.placed[part.id]
            occurrence = shapes.AddComponent(group, products[placed.pattern], location_of(placed.placement))
            _coloured(colours, _named(occurrence, part.id), part)
    shapes.UpdateAssemblies()
    return document


def _products(solids: Solids, parts: Sequence[Part], shapes: Any, colours: Any) -> dict[int, Any]:
    """One label for each shape in use."""
    counts = Counter(solids.placed[part.id].pattern for part in parts)
    first = {solids.placed[part.id].pattern: part for part in reversed(parts)}
    numbers = list(counts)
    names = pattern_names([first[number] for number in numbers], [counts[number] for number in numbers])
    found: dict[int, Any] = {}
    for number, name in zip(numbers, names, strict=True):
        found[number] = _named(shapes.AddShape(solids.shapes[number], False), name)
        _coloured(colours, found[number], first[number])
    return found


def _named(label: Any, name: str) -> Any:
    TDataStd_Name.Set_s(label, TCollection_ExtendedString(plain(name), True))
    return label


def _coloured(colours: Any, label: Any, part: Part) -> None:
    colours.SetColor(
        label,
        Quantity_Color(*colour_of(part), Quantity_TypeOfColor.Quantity_TOC_sRGB),
        XCAFDoc_ColorType.XCAFDoc_ColorSurf,
    )


def _write(document: Any, path: Path, title: str) -> None:
    writer = STEPCAFControl_Writer()
    writer.SetColorMode(True)
    writer.SetNameMode(True)
    if not writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs):
        raise ExportError([Problem(where=str(path), what="the kernel could not turn the parts into STEP")])
    header = APIHeaderSection_MakeHeader(writer.ChangeWriter().Model())
    header.SetName(TCollection_HAsciiString(title or ROOT))
    header.SetDescriptionValue(1, TCollection_HAsciiString("coffered ceiling, one product for each shape of part"))
    header.SetAuthorValue(1, TCollection_HAsciiString(""))
    header.SetOrganizationValue(1, TCollection_HAsciiString(""))
    header.SetOriginatingSystem(TCollection_HAsciiString("lacunar"))
    if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
        raise ExportError([Problem(where=str(path), what="the file cannot be written", fix="is its folder there?")])


@contextmanager
def _settings(values: Mapping[str, str]) -> Iterator[None]:
    """The kernel keeps settings for the whole process and reports on the terminal: change that, and put it back."""
    STEPCAFControl_Controller.Init_s()
    before = {key: Interface_Static.CVal_s(key) for key in values}
    printers = [(printer, printer.GetTraceLevel()) for printer in Message.DefaultMessenger_s().Printers()]
    try:
        for printer, _ in printers:
            printer.SetTraceLevel(Message_Gravity.Message_Fail)
        for key, value in values.items():
            Interface_Static.SetCVal_s(key, value)
        yield
    finally:
        for key, value in before.items():
            Interface_Static.SetCVal_s(key, value)
        for printer, level in printers:
            printer.SetTraceLevel(level)
