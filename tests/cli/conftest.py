"""The command line, run in this process and asked what it said."""

import os
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from commands import Done, Lacunar, Start


@pytest.fixture
def lacunar(capsys: pytest.CaptureFixture[str]) -> Lacunar:
    """Run the command with these arguments; no exit status but a number ever comes out."""
    from lacunar_cli.app import app

    def run(*arguments: str | Path) -> Done:
        capsys.readouterr()
        try:
            app([str(argument) for argument in arguments], prog_name="lacunar")
        except SystemExit as stop:
            status = stop.code
        else:
            status = 0
        said = capsys.readouterr()
        assert isinstance(status, int)
        assert "Traceback" not in said.out + said.err
        return Done(status=status, out=said.out, err=said.err)

    return run


@pytest.fixture
def apart() -> Start:
    """Start the command in a process of its own."""

    def start(*arguments: str | Path, code: str = "", env: Mapping[str, str] | None = None) -> "subprocess.Popen[str]":
        # A test run that was itself started in the background hands on a deaf ear for the interrupt key.
        listen = "import signal\nsignal.signal(signal.SIGINT, signal.default_int_handler)"
        program = f"{listen}\n{code}\nfrom lacunar_cli.main import main\nmain()\n"
        return subprocess.Popen(
            [sys.executable, "-c", program, *(str(argument) for argument in arguments)],
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            env={**os.environ, **(env or {})},
        )

    return start


@pytest.fixture
def children(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Let every process that does slow work run some code first, and those that it starts too."""
    import lacunar
    from lacunar.job import apart, child

    def begin_with(code: str) -> None:
        path = str(Path(lacunar.__file__).parents[1])
        again = "lambda: [sys.executable, '-P', '-c', os.environ['BEGINNING']]"
        program = (
            f"import os, runpy, sys\nsys.path[:0] = [{path!r}]\nfrom lacunar.job import apart\n"
            f"apart.command = {again}\n{code}\nrunpy.run_path({child.__file__!r}, run_name='__main__')\n"
        )
        monkeypatch.setenv("BEGINNING", program)
        monkeypatch.setattr(apart, "command", lambda: [sys.executable, "-P", "-c", program])

    return begin_with


@pytest.fixture
def room(tmp_path: Path, configs: Path) -> Path:
    """The smallest shipped room, in a folder of its own."""
    copy = tmp_path / "room.toml"
    copy.write_text((configs / "2-one-coffer.toml").read_text(encoding="utf-8"), encoding="utf-8")
    return copy
