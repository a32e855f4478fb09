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

from wizard.survey import file

QUICK = "pytest.mark.quick"


def pytest_configure(config: pytest.Config) -> None:
    """A test's disk may lose power: thirty thousand answers flushed one by one are minutes.

    What the order of the flushes is, and what one that fails does, tests/survey/test_saving.py asks
    with flushes of its own; the programs that tests start flush as they do everywhere.
    """
    _keep_compiled_code(config)
    from hypothesis import settings  # once it is known where compiled code is kept

    settings.register_profile("untimed", deadline=None)
    settings.load_profile("untimed")  # no test is timed: a busy machine is no fault
    os.fsync = lambda _: None
    if sys.platform == "darwin":
        file._out_of_the_drive = lambda _: None


def _keep_compiled_code(config: pytest.Config) -> None:
    """Where nobody wants compiled code beside the source, that of the tests and of the wizards that
    they start is kept with what pytest keeps: else each worker rewrites three hundred files of tests
    in every run, and each wizard compiles all of itself and of its libraries anew.
    """
    if not sys.dont_write_bytecode:
        return
    os.environ.pop("PYTHONDONTWRITEBYTECODE", "")
    kept = getattr(config, "cache", None)
    folder = str(kept.mkdir("compiled")) if kept else tempfile.mkdtemp(prefix="compiled-")
    if not kept:
        config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    os.environ["PYTHONPYCACHEPREFIX"] = sys.pycache_prefix = folder
    sys.dont_write_bytecode = False


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """True for a file of tests without a quick one, where only those are asked for."""
    if config.option.markexpr != "quick" or not collection_path.name.startswith("test_"):
        return None
    return True if QUICK not in collection_path.read_text(encoding="utf-8") else None
