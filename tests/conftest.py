"""What every test may lean on."""

import os
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


@pytest.fixture(scope="session")
def configs() -> Path:
    """The folder of the shipped configs."""
    return ROOT / "configs"
