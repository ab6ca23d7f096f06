"""The library as a script uses it."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

import lacunar

ROOT = Path(__file__).resolve().parents[2]


def test_the_example_of_the_readme_runs(
    tmp_path: Path, configs: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (example,) = re.findall(r"```python\n(.*?)```", (ROOT / "README.md").read_text(encoding="utf-8"), re.DOTALL)
    (tmp_path / "room.toml").write_bytes((configs / "2-one-coffer.toml").read_bytes())
    monkeypatch.chdir(tmp_path)
    exec(compile(example, "README.md", "exec"), {})
    said = capsys.readouterr().out.split("\n")
    assert said[0].startswith("good for look, 1 coffers")
    assert lacunar.read_report(tmp_path / "out" / "report.json").title == "Pantry"
    assert (tmp_path / "out" / "cut-list.csv").exists()


def test_importing_it_loads_no_library() -> None:
    code = "import sys, lacunar; print({'numpy', 'pydantic', 'shapely', 'typer'} & set(sys.modules))"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True)
    assert done.stdout == "set()\n"


@pytest.mark.parametrize("module", ["lacunar", "lacunar.job"])
def test_every_name_that_is_offered_is_there(module: str) -> None:
    code = f"import {module} as one\nfor name in one.__all__: getattr(one, name)\nassert not hasattr(one, 'nonsense')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=False)
    assert (done.returncode, done.stderr) == (0, "")
