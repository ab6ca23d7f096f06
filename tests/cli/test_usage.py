"""Help, version, and what is typed wrongly."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from commands import Lacunar

COMMANDS = ("new", "check", "build", "compare", "render", "view", "explain", "schema")


def test_help_names_every_command_and_the_exit_statuses(lacunar: Lacunar) -> None:
    done = lacunar("--help")
    assert done.status == 0
    for command in COMMANDS:
        assert f"\n  {command} " in done.out
    assert "2 bad input" in done.out


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help(lacunar: Lacunar, command: str) -> None:
    done = lacunar(command, "--help")
    assert done.status == 0
    assert done.out.startswith(f"Usage: lacunar {command}")


def test_help_fits_eighty_columns(lacunar: Lacunar) -> None:
    for arguments in ((), *((command,) for command in COMMANDS)):
        assert max(len(line) for line in lacunar(*arguments, "--help").out.splitlines()) <= 80


def test_version(lacunar: Lacunar) -> None:
    from lacunar import __version__

    assert lacunar("--version").out == f"lacunar {__version__}\n"


@pytest.mark.parametrize(
    "arguments",
    [
        ("nonsense",),
        ("check",),
        ("check", "--nonsense", "room.toml"),
        ("check", "absent.toml"),
        ("check", "."),
        ("build", "absent.toml"),
        ("build", "absent.toml", "--quality", "superb"),
        ("compare", "absent.toml"),
        ("render", "absent.toml"),
        ("view", "absent.toml"),
        ("new",),
        ("new", "absent/folder/room.toml"),
    ],
    ids=" ".join,
)
def test_bad_usage_is_two(
    lacunar: Lacunar, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: tuple[str, ...]
) -> None:
    monkeypatch.chdir(tmp_path)
    done = lacunar(*arguments)
    assert done.status == 2
    assert done.err
    assert not list(tmp_path.iterdir())


def test_nothing_typed_shows_help(lacunar: Lacunar) -> None:
    done = lacunar()
    assert "Commands:" in done.out + done.err
    assert done.status in (0, 2)  # the library's own choice, and it changed between its releases


def test_schema_is_json_and_knows_the_tables(lacunar: Lacunar) -> None:
    schema = json.loads(lacunar("schema").out)
    assert {"room", "beam", "beams", "cross_beams", "slats", "trim", "shop", "fixture"} <= set(schema["properties"])


def test_the_installed_script_is_the_same_command() -> None:
    script = Path(sys.executable).with_name("lacunar")
    if not script.exists():
        pytest.skip("no script beside this interpreter: the package is not installed in its environment")
    done = subprocess.run([script, "--version"], capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
