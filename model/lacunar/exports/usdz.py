"""USDZ in metres with y up: the same model for the other kind of phone.

A prim's name holds no dash, so a part's is `C1_S01`, and the name that is shown is the part's id. This one module
speaks to the library.
"""
# usd-core need not be installed, and has no types that a checker can follow.
# pyright: basic
# pyright: reportMissingImports=false, reportAttributeAccessIssue=false

import struct
import zipfile
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

import numpy as np
from pxr import Gf, Kind, Sdf, Tf, Usd, UsdGeom, UsdShade, UsdUtils, Vt

from lacunar.errors import ExportError, Problem
from lacunar.exports.model import Mesh, Model, Surface, Thing
from lacunar.exports.tree import ROOT


def write_package(model: Model, path: Path) -> None:
    """Write a model as a package: ceiling > coffer > thing.

    Raises:
        ExportError: the library does not write it.
    """
    with TemporaryDirectory() as folder:
        layer = Path(folder) / "ceiling.usdc"
        stage = Usd.Stage.CreateNew(str(layer))
        UsdGeom.SetStageUpAxis(stage, UsdGeom.Tokens.y)
        UsdGeom.SetStageMetersPerUnit(stage, 1.0)
        root = UsdGeom.Xform.Define(stage, f"/{ROOT}")
        root.AddRotateXOp().Set(-90.0)
        root.GetPrim().SetDisplayName(model.title or ROOT)
        Usd.ModelAPI(root.GetPrim()).SetKind(Kind.Tokens.component)
        stage.SetDefaultPrim(root.GetPrim())
        materials = [_material(stage, n, surface, Path(folder)) for n, surface in enumerate(model.surfaces)]
        for group, members in groupby(model.things, key=lambda thing: thing.group):
            over = UsdGeom.Xform.Define(stage, root.GetPath().AppendChild(Tf.MakeValidIdentifier(group)))
            over.GetPrim().SetDisplayName(group)
            for thing in members:
                _thing(stage, over.GetPath(), thing, model, materials[thing.surface])
        stage.Save()
        if not UsdUtils.CreateNewUsdzPackage(Sdf.AssetPath(str(layer)), str(path)):
            raise ExportError([Problem(where=path.name, what="usd-core does not write it", fix="try a newer usd-core")])
    _undate(path)


def _undate(path: Path) -> None:
    """Set the files' times in a package to the first day that it can tell, so that the same model is the same file.

    Source: APPNOTE.TXT - .ZIP File Format Specification 6.3, 4.3.7, 4.3.12: time and date are the four bytes at 10 in a
    file's local header, at 12 in its central one.
    """
    data = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as package:
        central = package.start_dir
        for file in package.infolist():
            data[file.header_offset + 10 : file.header_offset + 14] = FIRST_DAY
            data[central + 12 : central + 16] = FIRST_DAY
            name, extra, comment = struct.unpack_from("<3H", data, central + 28)
            central += 46 + name + extra + comment
    path.write_bytes(data)


FIRST_DAY: Final = bytes([0, 0, 0b0010_0001, 0])
"""Midnight, 1 January 1980."""


def _thing(stage: Usd.Stage, over: Sdf.Path, thing: Thing, model: Model, material: UsdShade.Material) -> None:
    shape, surface = model.meshes[thing.mesh], model.surfaces[thing.surface]
    mesh = UsdGeom.Mesh.Define(stage, over.AppendChild(Tf.MakeValidIdentifier(thing.name)))
    prim = mesh.GetPrim()
    prim.SetDisplayName(thing.name)
    if thing.part:
        for key, value in (("id", thing.part.id), ("kind", thing.part.kind), ("length", thing.part.length)):
            prim.SetCustomDataByKey(key, value)
    if thing.placement:
        (c, s), origin = thing.placement.direction, [number / 1000.0 for number in thing.placement.origin]
        mesh.AddTranslateOp().Set(Gf.Vec3d(*origin))
        mesh.AddRotateZOp(UsdGeom.XformOp.PrecisionDouble).Set(float(np.degrees(np.arctan2(s, c))))
    _drawn(mesh, shape, surface)
    shade = np.ones(len(shape.points)) if thing.shade is None else thing.shade / 255.0
    api = UsdGeom.PrimvarsAPI(prim)
    for name, kind, values in _values(thing, surface, shade.astype(np.float32)):
        api.CreatePrimvar(name, kind, UsdGeom.Tokens.vertex).Set(values)
    UsdShade.MaterialBindingAPI.Apply(prim).Bind(material)


def _drawn(mesh: UsdGeom.Mesh, shape: Mesh, surface: Surface) -> None:
    mesh.CreatePointsAttr(Vt.Vec3fArray.FromNumpy(shape.points))
    mesh.CreateFaceVertexCountsAttr(Vt.IntArray.FromNumpy(np.full(len(shape.faces), 3, dtype=np.int32)))
    mesh.CreateFaceVertexIndicesAttr(Vt.IntArray.FromNumpy(shape.faces.ravel()))
    mesh.CreateNormalsAttr(Vt.Vec3fArray.FromNumpy(shape.normals))
    mesh.SetNormalsInterpolation(UsdGeom.Tokens.vertex)
    mesh.CreateExtentAttr(Vt.Vec3fArray.FromNumpy(np.stack([shape.points.min(axis=0), shape.points.max(axis=0)])))
    mesh.CreateSubdivisionSchemeAttr(UsdGeom.Tokens.none)
    mesh.CreateDoubleSidedAttr(surface.both)


def _values(thing: Thing, surface: Surface, shade: np.ndarray) -> Iterator[tuple[str, Sdf.ValueTypeName, object]]:
    """What varies over a thing: the shade by itself, and as a colour for viewers that read nothing else."""
    colour = (shade[:, None] * np.array(surface.colour, dtype=np.float32)).astype(np.float32)
    yield "displayColor", Sdf.ValueTypeNames.Color3fArray, Vt.Vec3fArray.FromNumpy(colour)
    yield "occlusion", Sdf.ValueTypeNames.FloatArray, Vt.FloatArray.FromNumpy(shade)
    if thing.uv is not None:
        # Rows of a picture are counted up here.
        st = np.ascontiguousarray(np.column_stack([thing.uv[:, 0], 1.0 - thing.uv[:, 1]]), dtype=np.float32)
        yield "st", Sdf.ValueTypeNames.TexCoord2fArray, Vt.Vec2fArray.FromNumpy(st)


def _material(stage: Usd.Stage, number: int, surface: Surface, folder: Path) -> UsdShade.Material:
    at = Sdf.Path(f"/{ROOT}/materials").AppendChild(Tf.MakeValidIdentifier(surface.name))
    UsdGeom.Scope.Define(stage, at.GetParentPath())
    material = UsdShade.Material.Define(stage, at)
    material.GetPrim().SetDisplayName(surface.name)
    look = _shader(stage, at, "look", "UsdPreviewSurface")
    material.CreateSurfaceOutput().ConnectToSource(look.CreateOutput("surface", Sdf.ValueTypeNames.Token))
    look.CreateInput("roughness", Sdf.ValueTypeNames.Float).Set(surface.rough)
    look.CreateInput("metallic", Sdf.ValueTypeNames.Float).Set(0.0)
    shade = _reader(stage, at, "occlusion", "float", Sdf.ValueTypeNames.Float)
    look.CreateInput("occlusion", Sdf.ValueTypeNames.Float).ConnectToSource(shade)
    colour = look.CreateInput("diffuseColor", Sdf.ValueTypeNames.Color3f)
    if surface.picture is None:
        colour.Set(Gf.Vec3f(*surface.colour))
        return material
    (folder / f"wood{number}.jpg").write_bytes(surface.picture)
    picture = _shader(stage, at, "picture", "UsdUVTexture")
    picture.CreateInput("file", Sdf.ValueTypeNames.Asset).Set(f"./wood{number}.jpg")
    picture.CreateInput("sourceColorSpace", Sdf.ValueTypeNames.Token).Set("sRGB")
    for way in ("wrapS", "wrapT"):
        picture.CreateInput(way, Sdf.ValueTypeNames.Token).Set("repeat")
    place = _reader(stage, at, "st", "float2", Sdf.ValueTypeNames.Float2)
    picture.CreateInput("st", Sdf.ValueTypeNames.Float2).ConnectToSource(place)
    colour.ConnectToSource(picture.CreateOutput("rgb", Sdf.ValueTypeNames.Float3))
    return material


def _shader(stage: Usd.Stage, at: Sdf.Path, name: str, kind: str) -> UsdShade.Shader:
    shader = UsdShade.Shader.Define(stage, at.AppendChild(name))
    shader.CreateIdAttr(kind)
    return shader


def _reader(stage: Usd.Stage, at: Sdf.Path, varying: str, kind: str, type_: Sdf.ValueTypeName) -> UsdShade.Output:
    """What varies over a thing, for its material."""
    reader = _shader(stage, at, varying, f"UsdPrimvarReader_{kind}")
    reader.CreateInput("varname", Sdf.ValueTypeNames.String).Set(varying)
    return reader.CreateOutput("result", type_)
