"""A new sitting in an empty folder."""

from pathlib import Path

import pytest

from tests.sitting.driving import Driver


@pytest.fixture
def driver(tmp_path: Path) -> Driver:
    return Driver(tmp_path)
