"""What holds for every test: nothing waits for the disk, and `pytest -m quick` reads no file but those
that hold something quick.
"""

from __future__ import annotations

import faulthandler
import gc
import os
import shutil
import sys
import tempfile
import time
from pathlib import Path

import pytest

from wizard.survey import file

QUICK = "pytest.mark.quick"
MEMORY, ROOM = Path("/dev/shm"), 2 << 30
"""Where a file is in memory alone, and how much must be free there for a run's files, in bytes."""
HANGS, ANEW = 300.0, 30.0
"""Seconds after which a test hangs, and how often the clock for that is set anew."""


def pytest_configure(config: pytest.Config) -> None:
    """A test's disk may lose power: thirty thousand answers flushed one by one are minutes.

    What the order of the flushes is, and what one that fails does, tests/survey/test_saving.py asks
    with flushes of its own; the programs that tests start flush as they do everywhere.
    """
    _keep_compiled_code(config)
    _keep_files_in_memory(config)
    config.pluginmanager.register(Watch())
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


def _keep_files_in_memory(config: pytest.Config) -> None:
    """Thirty thousand answers are as many files put in the place of others, which a disk feels."""
    if "TMPDIR" in os.environ or not os.access(MEMORY, os.W_OK):
        return
    if shutil.disk_usage(MEMORY).free < ROOM:
        return
    folder = tempfile.mkdtemp(prefix="tests-", dir=MEMORY)
    config.add_cleanup(lambda: shutil.rmtree(folder, ignore_errors=True))
    os.environ["TMPDIR"], tempfile.tempdir = folder, None


class Watch:
    """A test that hangs says where and ends the run, well before a CI would cut it off without a word.

    What pytest has for that starts a thread for each test and waits for it to end, which on a busy
    machine is a third of the time of a small one.
    """

    def __init__(self) -> None:
        self.set, self.to = 0.0, os.dup(2)

    def pytest_runtest_logstart(self) -> None:
        """Before each test."""
        now = time.monotonic()
        if now - self.set > ANEW:
            faulthandler.dump_traceback_later(HANGS + ANEW, file=self.to, exit=True)
            self.set = now

    def pytest_sessionfinish(self) -> None:
        """At the end."""
        faulthandler.cancel_dump_traceback_later()

    def pytest_enter_pdb(self) -> None:
        """In a debugger a test takes the time that it takes."""
        faulthandler.cancel_dump_traceback_later()


def pytest_collection_finish() -> None:
    """What was collected stays to the end: it is not looked through whenever garbage is."""
    gc.freeze()


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """True for a file of tests without a quick one, where only those are asked for."""
    if config.option.markexpr != "quick" or not collection_path.name.startswith("test_"):
        return None
    return True if QUICK not in collection_path.read_text(encoding="utf-8") else None
