"""The shape of the tree: who may import whom, how long a module may be, what a command loads."""

import ast
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
SOURCES = sorted([*ROOT.glob("model/**/*.py"), *ROOT.glob("cli/**/*.py")])
STAGES = sorted(path.parent for path in ROOT.glob("model/lacunar/*/__init__.py"))
HEAVY = ("cadquery", "OCP", "pyvista", "vtk", "vtkmodules", "trimesh")
NUMBERS = (*HEAVY, "numpy", "scipy", "shapely", "pydantic", "tomlkit", "rich")
FIRST_LOOK = ROOT / "configs" / "1-first-look.toml"
TOP_LEVEL = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", ".gitignore"} | {
    ".ci",
    "model",
    "cli",
    "tests",
    "configs",
    "renders",
}


def name(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def loaded_by(*arguments: str) -> tuple[int, set[str]]:
    """Exit status and top-level modules of one run of the command line in a process of its own."""
    code = (
        "import atexit, json, sys\n"
        "names = lambda: json.dumps(sorted({name.split('.')[0] for name in sys.modules}))\n"
        "atexit.register(lambda: sys.stderr.write('\\nLOADED' + names()))\n"
        f"sys.argv = {['lacunar', *arguments]!r}\n"
        "from lacunar_cli.main import main\n"
        "main()\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, timeout=120, check=False)
    return done.returncode, set(json.loads(done.stderr.rpartition("LOADED")[2]))


def test_import_contract_is_kept() -> None:
    lint_imports = Path(sys.executable).with_name("lint-imports")
    command = str(lint_imports) if lint_imports.exists() else shutil.which("lint-imports")
    assert command, "import-linter is among the test dependencies"
    done = subprocess.run([command, "--no-cache"], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_module_is_short_enough_to_be_read(path: Path) -> None:
    assert len(path.read_text(encoding="utf-8").splitlines()) <= 400


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_module_is_named_after_what_it_holds(path: Path) -> None:
    banned = {"utils", "helpers", "common", "base", "core", "manager"}
    assert not banned & {path.stem, path.parent.name}


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_a_folder_is_imported_as_a_whole(path: Path) -> None:
    """From outside only `lacunar.layout`, never `lacunar.layout.bars`; nobody imports the root itself."""
    own = path.relative_to(ROOT / "model").parts[1] if path.is_relative_to(ROOT / "model") else ""
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if not isinstance(node, ast.ImportFrom | ast.Import):
            continue
        whole = isinstance(node, ast.Import)
        for target in [alias.name for alias in node.names] if whole else [node.module or ""]:
            parts = target.split(".")
            if parts[0] == "lacunar" and len(parts) > 2:
                assert parts[1] == own, f"{name(path)}:{node.lineno} reaches into {target}"
            if parts == ["lacunar"] and isinstance(node, ast.ImportFrom):
                assert [alias.name for alias in node.names] == ["__version__"], (
                    f"{name(path)}:{node.lineno} imports the root"
                )


@pytest.mark.parametrize("path", SOURCES, ids=name)
def test_what_is_public_is_documented(path: Path) -> None:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    assert ast.get_docstring(tree), "the module says what it is for"
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef) and not node.name.startswith("_"):
            assert ast.get_docstring(node), f"{name(path)}:{node.lineno} {node.name} has no docstring"


@pytest.mark.parametrize("stage", STAGES, ids=lambda path: path.name)
def test_a_stage_says_what_it_exports(stage: Path) -> None:
    tree = ast.parse((stage / "__init__.py").read_text(encoding="utf-8"))
    imports = [node for node in tree.body if isinstance(node, ast.ImportFrom)]
    if imports:
        assert any(isinstance(n, ast.Assign) and ast.unparse(n.targets[0]) == "__all__" for n in tree.body)


def test_help_loads_no_stage_and_no_library() -> None:
    status, loaded = loaded_by("--help")
    assert status == 0
    assert not loaded & set(NUMBERS)


def test_version_loads_no_library() -> None:
    status, loaded = loaded_by("--version")
    assert status == 0
    assert not loaded & set(NUMBERS)


@pytest.mark.parametrize(
    "arguments",
    [("check",), ("check", "--json"), ("compare", "--json", "--run", "with,across")],
    ids=" ".join,
)
def test_checks_and_comparisons_load_no_kernel_and_no_renderer(arguments: tuple[str, ...]) -> None:
    command, *options = arguments
    status, loaded = loaded_by(command, str(FIRST_LOOK), *options)
    assert status == 0
    assert not loaded & set(HEAVY)


@pytest.mark.parametrize("arguments", [("explain",), ("explain", "clash")], ids=" ".join)
def test_explanations_load_no_kernel_and_no_renderer(arguments: tuple[str, ...]) -> None:
    status, loaded = loaded_by(*arguments)
    assert status == 0
    assert not loaded & set(HEAVY)


def tracked_texts() -> list[Path]:
    """Files of the tree that are text and not made by a tool."""
    kinds = {".py", ".md", ".toml", ".yml", ".csv", ".json", ".mjs", ".js", ""}
    made = {".git", "node_modules", "__pycache__", "build", "dist", "out"}
    found: list[Path] = []
    for top in TOP_LEVEL:
        path = ROOT / top
        found += [path] if path.is_file() else [p for p in path.rglob("*") if p.is_file()]
    return [p for p in found if p.suffix in kinds and not made & set(p.relative_to(ROOT).parts)]


def test_no_path_of_one_machine_stands_in_the_tree() -> None:
    places = "|".join(("ho" + "me", "Us" + "ers", "wo" + "rk", "ro" + "ot", "tm" + "p"))
    pattern = re.compile(rf"(?<![\w.<>/])/(?:{places})/[\w.]")
    found = [
        f"{name(path)}:{number}"
        for path in tracked_texts()
        for number, line in enumerate(path.read_text(encoding="utf-8", errors="replace").splitlines(), start=1)
        if pattern.search(line)
    ]
    assert found == []
