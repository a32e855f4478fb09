"""Only the short list's prompts are asked, and with last time's readings they are enough to say:
not changed.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.judgment.remeasured import DAY, LAYOUTS, SAMPLES, listed, sample, sound
from tests.sitting.measured_again import begun, walked
from tests.told import says
from wizard.judgment.change import Change, compare
from wizard.judgment.short_list import compared_as, wanting
from wizard.judgment.sight import verdict_of
from wizard.sitting.commands import handle
from wizard.sitting.plain import run
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import short_list_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading
from wizard.telling.asking import minutes_left
from wizard.telling.then_words import recalled_words

OLD = {**dict.fromkeys(SAMPLES, sample), **dict.fromkeys(LAYOUTS, sound)}
LONGER = {"marigold-2026-05-02"}
"""Much was found of it, so its list is longer."""
NO_LEVEL = "old-post-2026-06-20"
"""There was none to lay on it, so there is no twist to hold against."""


def changes(sitting: Sitting) -> dict[str, Change]:
    assert sitting.earlier is not None
    return {c.new.id: c for c in compare(sitting.earlier, sitting.survey, library()).changes}


@pytest.mark.parametrize("name", OLD)
def test_what_the_list_asks_is_enough(name: str, tmp_path: Path) -> None:
    old = OLD[name](name)
    sitting = begun(old, tmp_path)
    left = minutes_left(sitting.survey, sitting.pages())
    # What was seen last time and is no matter of numbers is looked at again, a minute or two each.
    assert left <= (60 if name in LONGER else 39)
    entries = short_list_of(sitting.survey)
    met = walked(sitting)
    read = {r.prompt for r in sitting.survey.standing(Reading)}
    assert {p for p in read if not listed(p, entries)} == set()
    assert read <= set(met)
    told = changes(sitting)
    assert {c.says for c in told.values()} == {"not changed"}
    for judged in wanting(verdict_of(old, library(), DAY), old, library()):
        assert compared_as(judged.finding) in told
    core = {"rail-shift", "sag-loaded", "twist"} - ({"twist"} if name == NO_LEVEL else set())
    assert {id.split("/")[0] for id in told} >= core


def test_a_rail_that_slipped_since_is_seen_by_the_list_alone(tmp_path: Path) -> None:
    """The twin that must fail: one long diagonal 6 mm longer than last time."""
    old, moved = sound("straight-ladder"), "long-diagonals/whole/front-left--rear-right"
    sitting = begun(old, tmp_path)
    walked(sitting, {moved: f"{float(old.readings_of(moved)[0].typed.split()[0]) + 6:.3f} mm!"})
    assert changes(sitting)["rail-shift/whole"].says == "changed"
    assert changes(sitting)["twist/rear"].says == "not changed"


# What is left out, and how to ask for it
# ------------------------------------------------------------------------


def words(old: Survey, tmp_path: Path) -> str:
    return recalled_words(begun(old, tmp_path).survey, library())


def test_the_first_page_says_how_long_and_what_is_left_out_and_how_to_have_it(
    tmp_path: Path,
) -> None:
    said = words(sound("straight-ladder"), tmp_path)
    assert says(
        said, "about 30 min: Cracks in paint … ; The long diagonals, from below; The string;"
    )
    left = said.partition("Left out: ")[2]
    assert left.count(".") == 1
    assert left.endswith("; type /whole to be asked everything.")
    for part in (
        "The horns;",
        "a part of Twist;",
        "a part of Sag with the engine's weight on;",
        "19 looks;",
    ):
        assert part in left
    assert "The long diagonals;" not in said, "which are taped from above, with the body off"


def test_another_kind_of_frame_is_not_told_of_what_it_has_not(tmp_path: Path) -> None:
    assert "horns" not in words(sound("a-frame"), tmp_path).lower()


def test_the_plain_prompts_and_the_trail_say_it_too(tmp_path: Path) -> None:
    sitting = begun(sound("straight-ladder"), tmp_path)
    said: list[str] = []
    run(sitting, [], said.append, person=True)
    assert "Left out:" in " ".join(said[0].split())
    assert "about 30 min" in " ".join(said[0].split())
    assert "Left out: " in handle(sitting, "/trail").says
    handle(sitting, "/whole")
    assert "Left out" not in handle(sitting, "/trail").says


def test_longer_on_request_brings_every_reading_of_last_time(tmp_path: Path) -> None:
    old = sound("straight-ladder")
    sitting = begun(old, tmp_path)
    short = {p.id for page in sitting.pages() for p in page.prompts}
    handle(sitting, "/whole")
    longer = {p.id for page in sitting.pages() for p in page.prompts}
    assert {r.prompt for r in old.standing(Reading)} - short
    gone = {p.step.id for p in sitting.pages() if p.gone}
    missing = {r.prompt for r in old.standing(Reading)} - longer
    called = {s.id for s in sitting.library.steps.values() if s.called}
    assert {p.split("/")[0] for p in missing} <= gone | called | {"pitting"}


def test_what_was_answered_stays_when_it_is_made_longer(tmp_path: Path) -> None:
    sitting = begun(sound("straight-ladder"), tmp_path)
    walked(sitting)
    before = {r.id for r in sitting.survey.standing(Reading)}
    handle(sitting, "/whole")
    assert {r.id for r in sitting.survey.standing(Reading)} == before
    assert sitting.ask is not None


# What is wanted beside the list --------------------------------------------------------------------


def test_a_page_that_the_list_leaves_out_is_asked_by_its_name(tmp_path: Path) -> None:
    """Somebody whose rail moved wants that one look, and not the whole survey."""
    sitting = begun(sound("straight-ladder"), tmp_path)
    walked(sitting)
    steps = {page.step.id for page in sitting.pages()}
    assert "rail-sides" not in steps
    before = short_list_of(sitting.survey)
    reply = handle(sitting, "/go sides of the rails")
    assert says(reply.says, "The sides of the rails … is asked today too")
    assert short_list_of(sitting.survey) == (*before, "rail-sides")
    assert {p.step.id for p in sitting.pages()} - steps == {"rail-sides"}
    assert sitting.prompt is not None
    handle(sitting, "/undo")
    assert short_list_of(sitting.survey) == before


def test_no_page_is_made_up(tmp_path: Path) -> None:
    sitting = begun(sound("straight-ladder"), tmp_path)
    before = sitting.survey
    reply = handle(sitting, "/go the moon")
    assert (reply.kind, sitting.survey) == ("refused", before)


def test_a_length_of_which_nobody_knows_whether_it_changed_is_read_once_more(
    tmp_path: Path,
) -> None:
    old = sound("straight-ladder")
    one = "own-sides/whole/left/front--rear"
    typed = next((r.typed for r in old.readings_of(one)), "")
    sitting = begun(old, tmp_path)
    if not typed or one not in {p.id for page in sitting.pages() for p in page.prompts}:
        one = "long-diagonals/whole/front-left--rear-right"
        typed = old.readings_of(one)[0].typed
    walked(sitting, {one: f"{float(typed.split()[0]) + 2.6:.3f} mm!"})
    unsure = [id for id, change in changes(sitting).items() if change.says == "cannot tell"]
    assert unsure
    reply = handle(sitting, "/again")
    assert reply.kind == "taken"
    assert sitting.prompt is not None
    assert sitting.prompt.kind.measures
