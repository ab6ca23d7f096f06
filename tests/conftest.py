"""What every test may lean on."""

from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def configs() -> Path:
    """The folder of the shipped configs."""
    return ROOT / "configs"
