"""STEP files read back by the kernel in a process of its own, and by a reader of the text that knows no kernel."""

import importlib
import json
import re
import subprocess
import sys
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

from exports.part21 import Part21
from lacunar.errors import ExportError
from lacunar.exports import write_step
from lacunar.parts import Part, mesh, rings, volume
from lacunar.solids import build_solids
from solids.sample_parts import every_shape, slat, trim

READER = Path(__file__).with_name("read_step.py")
PINE = (0xD7 / 255, 0xAB / 255, 0x79 / 255)
"""Eastern white pine: what slats wear."""


def sample_parts() -> list[Part]:
    """Every shape, with alike parts in two coffers and, by a strip, the other way round."""
    return [
        *every_shape(),
        slat("C1-S06", origin=(5000.0, 2000.0), angle=1.0),
        slat("C2-S03", origin=(5000.0, 3000.0), angle=2.5),
        trim("C2-T3", origin=(800.0, 5000.0), angle=-2.0),
    ]


@dataclass(frozen=True)
class Case:
    parts: list[Part]
    path: Path
    found: list[dict[str, Any]]
    leaves: dict[str, dict[str, Any]]
    text: Part21


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory) -> Case:
    path = tmp_path_factory.mktemp("step") / "ceiling.step"
    parts = sample_parts()
    write_step(build_solids(parts), parts, path, "O'Neil's café")
    found = read(path)
    return Case(parts, path, found, {leaf["path"][-1]: leaf for leaf in found}, Part21(path))


def read(path: Path) -> list[dict[str, Any]]:
    """What the kernel finds in a file."""
    done = subprocess.run(
        [sys.executable, str(READER), str(path)], capture_output=True, text=True, timeout=120, check=True
    )
    return json.loads(done.stdout.splitlines()[-1])


def box(part: Part) -> list[float]:
    """Least and greatest x, y, z of a part's corners."""
    points = [point for ring in rings(part) for point in ring]
    return [pick(point[k] for point in points) for pick in (min, max) for k in range(3)]


def test_every_part_is_there_once_under_its_coffer(case: Case) -> None:
    assert sorted(leaf["path"][-1] for leaf in case.found) == sorted(part.id for part in case.parts)
    for part in case.parts:
        assert case.leaves[part.id]["path"] == ["ceiling", part.coffer or "beams", part.id]
        assert case.leaves[part.id]["type"] == "SOLID"
        assert case.leaves[part.id]["valid"]


def test_volumes(case: Case) -> None:
    for part in case.parts:
        assert case.leaves[part.id]["volume"] == pytest.approx(volume(part), rel=1e-6), part.id


def test_positions(case: Case) -> None:
    for part in case.parts:
        found, one = case.leaves[part.id], mesh(part, 200)
        assert found["box"] == pytest.approx(box(part), abs=1e-3), part.id
        body = trimesh.Trimesh(one.vertices, one.faces, process=False)
        assert found["centre"] == pytest.approx(body.center_mass, abs=1e-3), part.id


def test_colours_stand_on_products_and_occurrences(case: Case) -> None:
    for leaf in case.leaves.values():
        assert leaf["colour"] == pytest.approx(leaf["product_colour"], abs=1e-6)
    assert case.leaves["C1-S01"]["colour"] == pytest.approx(PINE, abs=1e-6)
    assert len({tuple(round(c, 4) for c in leaf["colour"]) for leaf in case.leaves.values()}) == 3


def test_alike_parts_are_one_product(case: Case) -> None:
    products = {name: leaf["product"] for name, leaf in case.leaves.items()}
    shared = {products[name] for name in ("C1-S01", "C1-S06", "C2-S03")}
    assert shared == {"slat 1x4 1000.0 mm"}
    assert products["C1-T1"] == products["C2-T3"] == "trim 1x2 900.0 mm"
    assert products["X1-1"] == "X1-1"
    assert len(set(products.values())) == len(case.parts) - 3


def test_text_has_no_reference_to_nothing(case: Case) -> None:
    assert case.text.dangling() == set()


def test_the_scan_sees_a_point_that_is_missing(case: Case, tmp_path: Path) -> None:
    """A reader that met such a file would end its process: the scan comes first."""
    points = re.findall(r"^#(\d+) = CARTESIAN_POINT\(.*?\);\n", case.path.read_text(), flags=re.MULTILINE)
    lost = points[len(points) // 2]
    holed = tmp_path / "holed.step"
    holed.write_text(re.sub(rf"^#{lost} = .*?;\n", "", case.path.read_text(), count=1, flags=re.MULTILINE))
    assert Part21(holed).dangling() == {int(lost)}


def test_text_names_every_part_and_every_product_once(case: Case) -> None:
    occurrences = [use.name for use in case.text.occurrences()]
    assert sorted(occurrences) == sorted([*(part.id for part in case.parts), "beams", "C1", "C2"])
    products = case.text.products()
    assert len(set(products)) == len(products)
    assert {use.parent for use in case.text.occurrences()} == {"ceiling", "beams", "C1", "C2"}


def test_text_holds_the_volumes_of_flat_faced_parts(case: Case) -> None:
    """Without the kernel: faces' polygons out of the text, and the divergence theorem."""
    solids, by_id = case.text.solids(), {part.id: part for part in case.parts}
    checked = 0
    for use in case.text.occurrences():
        if use.product in solids and case.text.is_flat(solids[use.product]):
            assert case.text.volume(solids[use.product]) == pytest.approx(volume(by_id[use.name]), rel=1e-9), use.name
            checked += 1
    assert checked == len(case.parts) - 1


def test_text_puts_every_part_in_its_place(case: Case) -> None:
    solids, by_id = case.text.solids(), {part.id: part for part in case.parts}
    for use in case.text.occurrences():
        if use.name not in by_id:
            assert use.frame == pytest.approx(np.eye(4), abs=0.0), use.name
        elif case.text.is_flat(solids[use.product]):
            corners = case.text.corners(solids[use.product]) @ use.frame[:3, :3].T + use.frame[:3, 3]
            assert [*corners.min(axis=0), *corners.max(axis=0)] == pytest.approx(box(by_id[use.name]), abs=1e-3)


def test_header(case: Case) -> None:
    header = " ".join(case.text.header.split())
    assert header.startswith("ISO-10303-21; HEADER;")
    assert "AP242_MANAGED_MODEL_BASED_3D_ENGINEERING" in header
    assert "FILE_NAME('O''Neil''s cafe'" in header
    assert "'lacunar'" in header
    assert case.text.tail.strip() == "END-ISO-10303-21;"
    assert case.path.read_bytes().isascii()


def test_lengths_are_in_mm_and_curves_on_surfaces_are_left_out(case: Case) -> None:
    assert set(re.findall(r"SI_UNIT\(([^)]*),\.METRE\.\)", case.text.data)) == {".MILLI."}
    assert case.text.of_type("PCURVE") == []


def test_one_box_of_arithmetic(tmp_path: Path) -> None:
    """Boxes of 100 x 38 x 89 and 38 x 400 x 89 mm: 338200 and 1352800 mm3."""
    boxes = [slat("C1-S01", length=100.0, width=38.0), slat("C1-S02", length=400.0, width=38.0, origin=(0.0, 500.0))]
    boxes = [replace(one, top=one.bottom.lifted(89.0)) for one in boxes]
    path = tmp_path / "boxes.step"
    write_step(build_solids(boxes), boxes, path)
    assert [leaf["volume"] for leaf in read(path)] == pytest.approx([338200.0, 1352800.0], rel=1e-12)


def setting(key: str) -> str:
    """One of the kernel's settings for the whole process."""
    interface: Any = importlib.import_module("OCP.Interface")
    return interface.Interface_Static.CVal_s(key)


def test_the_terminal_and_the_kernel_s_settings_are_left_alone(
    tmp_path: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    keys = ("write.step.schema", "write.surfacecurve.mode", "write.step.assembly")
    parts = [slat("C1-S01")]
    solids = build_solids(parts)
    write_step(solids, parts, tmp_path / "one.step")
    before = [setting(key) for key in keys]
    capfd.readouterr()
    write_step(solids, parts, tmp_path / "two.step")
    assert capfd.readouterr() == ("", "")
    assert [setting(key) for key in keys] == before


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    parts = [slat("C1-S01")]
    with pytest.raises(ExportError, match=r"nowhere.*cannot be written"):
        write_step(build_solids(parts), parts, tmp_path / "nowhere" / "a.step")
