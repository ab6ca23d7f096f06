"""What every test may lean on."""

from pathlib import Path

import pytest
from hypothesis import settings

# The same examples each time, so that a change is judged by what it changes; new ones are looked for by
# `pytest --hypothesis-profile explore`, and what that finds becomes an @example row.
settings.register_profile("repeatable", derandomize=True, deadline=None)
settings.register_profile("explore", deadline=None)
settings.load_profile("repeatable")

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def configs() -> Path:
    """The folder of the shipped configs."""
    return ROOT / "configs"
