"""What does not read as last time is asked for again at once, by the new readings alone it is judged,
and until they are in nothing is lost.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.judgment.remeasured import again, sample, sound
from tests.sitting.measured_again import begun, line_of, walked
from tests.told import says
from wizard.judgment.change import compare
from wizard.library.places import PromptId, step_of
from wizard.sitting.commands import handle
from wizard.sitting.recheck import unlike_then
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.again import AGAIN_PROMPT, READ_AGAIN, asked_again
from wizard.survey.guide import guide_of
from wizard.survey.rows import Answer, Reading
from wizard.telling.page import ONCE_AGAIN, view

PLACE = "sag-loaded/engine-mount/left"
DROPPED = {
    "sag-loaded/mid-engine/left": "2 9/32!",
    PLACE: "2 13/32!",
    "sag-loaded/center/left": "2 9/32!",
}
"""The left rail a quarter of an inch lower than last time, and what hangs beside it with it."""


@pytest.fixture
def sitting(tmp_path: Path) -> Sitting:
    return begun(sample("bramble-2026-04-11"), tmp_path)


def upto_again(sitting: Sitting, moved: Mapping[str, str] = DROPPED) -> Reply:
    """Answers, up to the line that asks for something again."""
    while sitting.ask is not None:
        prompt = sitting.ask.prompt
        reply = handle(sitting, line_of(sitting, moved))
        assert reply.kind in ("taken", "ended"), (prompt.id, reply)
        if asked_again(sitting.survey):
            return reply
    raise LookupError("nothing was asked for again")


def read(sitting: Sitting, struck: bool = False) -> list[str]:
    rows = (r for r in sitting.survey.table(Reading) if r.prompt == PLACE)
    return [r.typed for r in rows if r.struck == (READ_AGAIN if struck else "")]


def headline(sitting: Sitting) -> str:
    return " ".join(handle(sitting, "/verdict").says.partition("Until then")[0].split())


def test_a_rail_that_dropped_is_read_again_before_the_string_is_taken_down(
    sitting: Sitting,
) -> None:
    reply = upto_again(sitting)
    assert says(
        reply.says,
        "Not as last time: left rail at the rear engine mount, engine on. Read that again … now",
    )
    asked = reply.says.partition("Not as last time")[2]
    assert not re.search(r"\d", asked), "no figure leads whoever reads again"
    assert sitting.prompt is not None
    assert sitting.prompt.id == PLACE
    assert view(sitting.survey, library(), sitting.walk(), sitting.ask).nth == ONCE_AGAIN  # type: ignore[arg-type]
    assert read(sitting) == ["2 13/32", "2 13/32"], "the first stand until the new ones are in"
    handle(sitting, "2 7/16!")
    assert read(sitting) == ["2 13/32", "2 13/32", "2 7/16"]
    handle(sitting, "2 13/32!")
    assert read(sitting) == ["2 7/16", "2 13/32"]
    assert read(sitting, struck=True) == ["2 13/32", "2 13/32"]
    assert str(sitting.prompt.id).endswith("/right"), "the other rail has still to be read"


def test_the_answer_no_longer_asks_for_what_was_read_again(sitting: Sitting) -> None:
    walked(sitting, DROPPED)
    said = headline(sitting)
    assert says(
        said, "Left rail dropped … in at the rear engine mount and beside it since 2026-04-11."
    )
    assert says(
        said, "A second reading says the same: clean the rail there to bare metal now and look."
    )
    assert "once more" not in said


def test_a_slip_of_the_hand_moves_nothing(sitting: Sitting) -> None:
    upto_again(sitting, {PLACE: "2 13/32!"})
    walked(sitting)
    assert re.match("Nothing (has|is shown to have) moved since 2026-04-11 ", headline(sitting))
    assert read(sitting, struck=True) == ["2 13/32", "2 13/32"]


def test_a_third_reading_of_one_s_own_is_a_reading_again_too(sitting: Sitting) -> None:
    upto_again(sitting)
    said = headline(sitting)
    assert says(
        said, "Read that place once more now, then clean the rail there to bare metal and look."
    )
    handle(sitting, "2 13/32!")  # one more than the page wants, and no more
    said = headline(sitting)
    assert says(said, "A second reading says the same")
    assert "once more" not in said


def test_whoever_passes_over_it_is_still_told_that_it_moved(sitting: Sitting) -> None:
    upto_again(sitting)
    assert handle(sitting, "/skip no time").kind == "taken"
    assert sitting.prompt is not None
    assert sitting.prompt.id != PLACE
    assert says(headline(sitting), "Left rail dropped … Read that place once more now")
    walked(sitting)
    asked = [a for a in sitting.survey.standing(Answer) if a.prompt == AGAIN_PROMPT]
    assert len(asked) == 1, "it is asked for once"


def test_it_is_asked_for_on_another_evening_too(sitting: Sitting) -> None:
    upto_again(sitting)
    handle(sitting, "2 7/16!")
    assert sitting.kept is not None
    sitting.kept.release()
    later = Sitting(library(), path=sitting.path, now=sitting.now)
    wants = [a.prompt.id for p in later.walk() for a in p.asks if a.prompt.id == PLACE]
    assert len(wants) == 4
    assert len(read(later)) == 3


def test_undo_takes_back_the_reading_and_not_that_it_was_asked_for(sitting: Sitting) -> None:
    upto_again(sitting)
    handle(sitting, "2 7/16!")
    handle(sitting, "2 13/32!")
    assert says(handle(sitting, "/undo").says, "Undone: 2 13/32")
    assert read(sitting) == ["2 7/16"]
    assert sitting.prompt is not None
    assert sitting.prompt.id == PLACE
    handle(sitting, "2 3/8!")
    assert read(sitting) == ["2 7/16", "2 3/8"]


def test_a_frame_that_was_worked_on_is_not_asked_for_again(sitting: Sitting) -> None:
    walked(sitting, {**DROPPED, "since-last-time/corrected": "s"})
    assert asked_again(sitting.survey) == {}


def test_a_still_frame_is_asked_for_nothing_again(sitting: Sitting) -> None:
    walked(sitting)
    assert asked_again(sitting.survey) == {}


def test_what_is_read_again_stands_in_the_course_as_often_as_it_is_wanted(sitting: Sitting) -> None:
    upto_again(sitting)
    page = next(p for p in sitting.pages() if p.step.id == "sag-loaded")
    often = {p.id: p.repeats for p in page.prompts}
    asked = guide_of(sitting.survey, library()).questions.by_id
    assert often[PLACE] == 2 * asked[PLACE].repeats
    assert all(often[id] == asked[id].repeats for id in often if id != PLACE)


def test_it_is_asked_for_before_the_string_goes_to_the_other_rail(sitting: Sitting) -> None:
    reply = upto_again(sitting)
    assert says(reply.says, "Not as last time: left rail … before you move anything.")
    right = [r for r in sitting.survey.standing(Reading) if r.prompt.endswith("/right")]
    assert not [r for r in right if r.prompt.startswith("sag-loaded")]
    handle(sitting, "2 13/32!")
    handle(sitting, "2 13/32!")
    assert sitting.prompt is not None
    assert str(sitting.prompt.id).startswith("sag-loaded/")
    assert str(sitting.prompt.id).endswith("/right"), "and then the string is moved"


DIAGONAL = PromptId("box-diagonals/rear-box/center-left--rear-right")


@pytest.mark.parametrize("off_mm", [2.0, 3.0, 10.0], ids=["by little", "surely", "by a slip"])
def test_a_distance_beyond_its_own_doubt_is_read_again_at_once(off_mm: float) -> None:
    """Also one of so many that alone would be a change, and one whose box leans on other pages too."""
    old = sound("straight-ladder")
    rows = again(old).table(Reading)
    longer = tuple(
        replace(r, typed=_longer(r.typed, off_mm)) if r.prompt == DIAGONAL else r for r in rows
    )
    new = replace(again(old), rows={**old.rows, "reading": longer})
    step = library().steps[step_of(DIAGONAL)]
    found = unlike_then(step, compare(old, new, library()), library())
    assert DIAGONAL in [id for _, ids in found for id in ids]
    still = compare(old, again(old), library())
    assert not unlike_then(step, still, library())


def _longer(typed: str, off_mm: float) -> str:
    return f"{float(typed.split()[0]) + off_mm:.4f} mm"
