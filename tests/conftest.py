"""What every test may lean on."""

import os
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import settings

# The same examples each time, so that a change is judged by what it changes; new ones are looked for by
# `pytest --hypothesis-profile explore`, and what that finds becomes an @example row.
settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile("repeatable")

ROOT = Path(__file__).resolve().parents[1]

# Nobody's own folders are written to; beside pytest's own cache, pictures of wood are made once for all processes.
os.environ["XDG_CACHE_HOME"] = str(ROOT / ".pytest_cache" / "home")


@pytest.fixture(scope="session", autouse=True)
def compiled_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """Where no bytecode is to be written, processes that tests start would each compile the library anew.

    They share a folder of this run instead.
    """
    folder = tmp_path_factory.getbasetemp()
    with pytest.MonkeyPatch.context() as patch:
        if sys.dont_write_bytecode:
            shared = folder.parent if "PYTEST_XDIST_WORKER" in os.environ else folder
            patch.setenv("PYTHONPYCACHEPREFIX", str(shared / "bytecode"))
            patch.delenv("PYTHONDONTWRITEBYTECODE", raising=False)
        yield


@pytest.fixture(scope="session")
def configs() -> Path:
    """The folder of the shipped configs."""
    return ROOT / "configs"
