"""Killed at any step of the save of one line that makes many rows: all of its rows are there or none."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.sitting.driving import READ, Driver
from tests.sitting.test_nothing_to_lift import LIFT, UNLOADED, answer, last_gap
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Fold, Look, Reading

STEPS = ("open", "fsync", "fchmod", "replace")
"""Calls of a save after which, or before which, the program is killed."""
PLACE = "left-front"
AT_THE_CORNER = 7
"""Looks that one entry covers there on a straight ladder."""


def killed(driver: Driver, line: str, step: str, *, before: bool) -> Survey:
    """The survey in the file, once a sitting was killed there while it saved that line."""
    child = os.fork()
    if child == 0:
        _die_there(driver, line, step, before)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "it came to its end, and was not killed"
    assert os.WTERMSIG(status) == signal.SIGKILL
    assert driver.sitting.path is not None
    return load(driver.sitting.path)


def _die_there(driver: Driver, line: str, step: str, before: bool) -> None:
    """In the child: nothing comes back from here."""
    try:
        call: Callable[..., object] = getattr(os, step)

        def last(*args: object, **more: object) -> object:
            if not before:
                call(*args, **more)
            os.kill(os.getpid(), signal.SIGKILL)
            return None

        setattr(os, step, last)
        driver.say(line)
    finally:
        os._exit(1)


@pytest.mark.parametrize("before", [True, False], ids=["before", "behind"])
@pytest.mark.parametrize("step", STEPS)
def test_of_an_entry_for_a_place_all_looks_are_there_or_none(
    driver: Driver, step: str, before: bool
) -> None:
    driver.run("Bramble", "i", "s", "w", "o", f"/go {PLACE}", READ)
    survey = killed(driver, "b", step, before=before)
    looks = [k.prompt for k in survey.standing(Look)]
    said = [a for a in survey.standing(Answer) if a.prompt == f"{PLACE}/seen"]
    whole = step == "replace" and not before
    assert (len(looks), len(said)) == ((AT_THE_CORNER, 1) if whole else (0, 0))
    again = driver.again()
    if not whole:
        again.run(f"/go {PLACE}", READ, "b")
    assert len(again.saved.standing(Look)) == AT_THE_CORNER


@pytest.mark.parametrize("before", [True, False], ids=["before", "behind"])
@pytest.mark.parametrize("step", ["open", "replace"])
def test_of_a_reading_that_makes_others_needless_both_are_there_or_neither(
    tmp_path: Path, step: str, before: bool
) -> None:
    driver = last_gap(tmp_path)
    line, there = answer(driver), driver.at
    reads, folds = len(driver.survey.standing(Reading)), len(driver.survey.folds())
    survey = killed(driver, line, step, before=before)
    whole = step == "replace" and not before
    assert len(survey.standing(Reading)) == reads + whole
    assert len(survey.folds()) == folds + 2 * whole
    ids = {id.split("/")[0] for fold in survey.table(Fold) for id in fold.prompts.split()}
    assert ({LIFT, UNLOADED} <= ids) is whole
    assert (driver.again().run(READ).at == there) is not whole
