"""The program's own content and one fixed moment, for every test of the record."""

from datetime import datetime

import pytest

from wizard.library import load_library
from wizard.library.shapes import Library

NOON = datetime(2026, 4, 11, 12, 0, 0)


@pytest.fixture(scope="session")
def library() -> Library:
    return load_library()


@pytest.fixture
def noon() -> datetime:
    return NOON
