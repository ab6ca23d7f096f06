"""USDZ files, read back by the format's own library."""
# usd-core need not be installed, and has no types that a checker can follow.
# pyright: basic
# pyright: reportMissingImports=false, reportAttributeAccessIssue=false

import zipfile
from pathlib import Path

import numpy as np
import pytest

from exports.sample_model import box_model, shaded
from lacunar.exports import write_usdz
from scene.sample_room import box_room

pytest.importorskip("pxr", reason="the extra usdz is not installed")


@pytest.fixture(scope="module")
def path(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("usdz") / "ceiling.usdz"
    write_usdz(box_model(), path)
    return path


@pytest.fixture(scope="module")
def stage(path: Path):
    from pxr import Usd

    return Usd.Stage.Open(str(path))


def found(stage) -> list[str]:
    """What all validators find."""
    from pxr import UsdValidation

    validators = UsdValidation.ValidationRegistry().GetOrLoadAllValidators()
    assert len(validators) >= 30
    return [error.GetErrorAsString() for error in UsdValidation.ValidationContext(validators).Validate(stage)]


def test_the_validators_find_nothing(stage) -> None:
    assert found(stage) == []


def test_the_validators_can_find_something(stage) -> None:
    from pxr import Usd

    broken = Usd.Stage.CreateInMemory()
    broken.GetRootLayer().TransferContent(stage.Flatten())
    broken.ClearDefaultPrim()
    assert any("defaultPrim" in error for error in found(broken))


def test_every_mesh_holds_together(stage) -> None:
    from pxr import UsdGeom

    meshes = [UsdGeom.Mesh(prim) for prim in stage.Traverse() if prim.IsA(UsdGeom.Mesh)]
    assert len(meshes) == len(box_model().things)
    for mesh in meshes:
        n = len(mesh.GetPointsAttr().Get())
        faces, counts = mesh.GetFaceVertexIndicesAttr().Get(), mesh.GetFaceVertexCountsAttr().Get()
        assert UsdGeom.Mesh.ValidateTopology(faces, counts, n)[0], mesh.GetPath()


def test_it_is_in_metres_with_y_up_and_stands_on_the_floor(stage) -> None:
    from pxr import Usd, UsdGeom

    assert UsdGeom.GetStageMetersPerUnit(stage) == 1.0
    assert UsdGeom.GetStageUpAxis(stage) == "Y"
    box = UsdGeom.BBoxCache(Usd.TimeCode.Default(), ["default"]).ComputeWorldBound(stage.GetDefaultPrim())
    low, high = box.ComputeAlignedRange().GetMin(), box.ComputeAlignedRange().GetMax()
    hung = np.concatenate([body.points for body in shaded().bodies if body.layer in ("beams", "slats", "trim")])
    room = np.array(shaded().outline)
    assert list(low) == pytest.approx([room[:, 0].min(), 0.0, -room[:, 1].max()], abs=2e-3)
    assert high[0] == pytest.approx(room[:, 0].max(), abs=2e-3)
    assert high[1] == pytest.approx(hung[:, 2].max(), abs=1e-4)


def test_a_part_has_a_name_that_is_allowed_and_one_that_is_shown(stage) -> None:
    for part in box_room().parts:
        name = part.id.replace("-", "_")
        prim = stage.GetPrimAtPath(f"/ceiling/{part.coffer or 'beams'}/{name}")
        assert prim.GetDisplayName() == part.id
        assert prim.GetCustomDataByKey("kind") == part.kind
    assert stage.GetPrimAtPath("/ceiling/floor/corner_A").IsValid()


def test_shade_comes_as_a_colour_and_to_the_material(stage) -> None:
    from pxr import UsdGeom, UsdShade

    prim = stage.GetPrimAtPath("/ceiling/beams/E1")
    shade = np.array(UsdGeom.PrimvarsAPI(prim).GetPrimvar("occlusion").Get())
    colour = np.array(UsdGeom.PrimvarsAPI(prim).GetPrimvar("displayColor").Get())
    assert shade.min() < 0.6 < 0.95 < shade.max()
    assert colour == pytest.approx(shade[:, None] * np.array(shaded().materials["old beam"].mean), abs=1e-6)
    material = UsdShade.MaterialBindingAPI(prim).ComputeBoundMaterial()[0]
    look = material.ComputeSurfaceSource()[0]
    assert look.GetIdAttr().Get() == "UsdPreviewSurface"
    assert look.GetInput("occlusion").HasConnectedSource()
    assert look.GetInput("diffuseColor").HasConnectedSource()


def test_the_package_holds_the_scene_first_and_its_pictures(path: Path) -> None:
    names = zipfile.ZipFile(path).namelist()
    assert names[0].endswith(".usdc")
    assert sorted(Path(name).suffix for name in names[1:]) == [".jpg"] * 3
