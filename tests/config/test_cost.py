"""Reading a config must be cheap: `lacunar check` waits for it."""

import subprocess
import sys

import pytest

HEAVY = ("numpy", "scipy", "shapely", "cadquery", "OCP", "pyvista", "vtkmodules", "trimesh", "tomlkit", "typer")


def loaded(module: str) -> set[str]:
    code = f"import sys, {module}; print(' '.join(sys.modules))"
    return set(subprocess.run([sys.executable, "-c", code], check=True, capture_output=True, text=True).stdout.split())


@pytest.mark.parametrize("module", ["lacunar.config", "lacunar.materials", "lacunar.units"])
def test_nothing_heavy_is_loaded(module: str) -> None:
    assert not loaded(module) & set(HEAVY)


def test_units_and_materials_need_no_pydantic() -> None:
    assert "pydantic" not in loaded("lacunar.materials")
