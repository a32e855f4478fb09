"""A model of the shipped straight ladder."""

from __future__ import annotations

import pytest

from wizard.judgment.blind import Bench
from wizard.library import load_library


@pytest.fixture(scope="session")
def bench() -> Bench:
    """The straight ladder with its round figures, and the shipped content."""
    library = load_library()
    return Bench(library.layouts["straight-ladder"], library)
