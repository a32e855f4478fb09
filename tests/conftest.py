"""What holds for every test: nothing waits for the disk, and `pytest -m quick` reads no file but those
that hold something quick.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings

from wizard.survey import file

settings.register_profile("untimed", deadline=None)
settings.load_profile("untimed")  # no test is timed: a busy machine is no fault
QUICK = "pytest.mark.quick"


def pytest_configure(config: pytest.Config) -> None:
    """A test's disk may lose power: thirty thousand answers flushed one by one are minutes.

    What the order of the flushes is, and what one that fails does, tests/survey/test_saving.py asks
    with flushes of its own; the programs that tests start flush as they do everywhere.
    """
    if (
        config.option.__dict__.get("dist", "no") == "no"
    ):  # the workers run the tests, not who deals them
        _let_programs_keep_their_code(config)
    os.fsync = lambda _: None
    if sys.platform == "darwin":
        file._out_of_the_drive = lambda _: None


def _let_programs_keep_their_code(config: pytest.Config) -> None:
    """Where nobody wants compiled code beside the source, the wizards that tests start keep it in a
    folder of this run: else each of some hundred compiles all of itself and of its libraries anew.
    """
    if os.environ.pop("PYTHONDONTWRITEBYTECODE", ""):
        folder = tempfile.mkdtemp(prefix="compiled-")
        os.environ["PYTHONPYCACHEPREFIX"] = folder
        config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """True for a file of tests without a quick one, where only those are asked for."""
    if config.option.markexpr != "quick" or not collection_path.name.startswith("test_"):
        return None
    return True if QUICK not in collection_path.read_text(encoding="utf-8") else None
