"""`pytest -m quick` reads no file but those that hold something quick: half its time would go for
the others.
"""

from __future__ import annotations

from pathlib import Path

import pytest

QUICK = "pytest.mark.quick"


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """True for a file of tests without a quick one, where only those are asked for."""
    if config.option.markexpr != "quick" or not collection_path.name.startswith("test_"):
        return None
    return True if QUICK not in collection_path.read_text(encoding="utf-8") else None
