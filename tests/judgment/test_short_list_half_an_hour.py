"""The short list fits about half an hour, and what it takes is enough to hold against last time."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.checks.surveys import library
from tests.judgment.remeasured import (
    DAY,
    LAYOUTS,
    SAMPLES,
    again,
    bench,
    faulty,
    listed,
    sample,
    sound,
)
from wizard.judgment.change import Change, compare
from wizard.judgment.short_list import compared_as, steps_worth, wanting, worst
from wizard.judgment.sight import verdict_of
from wizard.judgment.verdict import is_open
from wizard.library.places import asked_of
from wizard.survey.follow import following
from wizard.survey.guide import pages
from wizard.survey.minutes import minutes_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading

HALF_AN_HOUR = 35.0
FAULTS = (
    "diamond",
    "sway-front",
    "sag-left",
    "twist",
    "horn-left",
    "horn-low",
    "axle-front",
    "mash-left",
)
CORE = {"rail-shift", "sag-loaded", "twist"}


def chosen(old: Survey) -> tuple[str, ...]:
    return steps_worth(old, library(), DAY)


def minutes(old: Survey, entries: tuple[str, ...]) -> float:
    new = following(old, library(), DAY, entries)
    return minutes_of(new, pages(new, library(), DAY))


def changes(old: Survey, entries: tuple[str, ...] = ()) -> dict[str, Change]:
    return {c.new.id: c for c in compare(old, again(old, entries), library()).changes}


def says(old: Survey, entries: tuple[str, ...] = ()) -> dict[str, str]:
    return {id: c.says for id, c in changes(old, entries).items()}


def is_bad(old: Survey) -> bool:
    return bool(wanting(verdict_of(old, library(), DAY), old, library()))


@pytest.mark.parametrize("layout", LAYOUTS)
def test_a_sound_frame_of_any_kind_is_half_an_hour_and_its_core_is_told(layout: str) -> None:
    old = sound(layout)
    assert 25.0 < minutes(old, chosen(old)) <= HALF_AN_HOUR
    told = says(old, chosen(old))
    assert {id.split("/")[0] for id in told} >= CORE
    assert set(told.values()) == {"not changed"}


@pytest.mark.parametrize("name", SAMPLES)
def test_a_sample_is_half_an_hour_unless_much_was_found(name: str) -> None:
    old = sample(name)
    found = minutes(old, chosen(old))
    assert found <= (60.0 if is_bad(old) else HALF_AN_HOUR)
    assert found < 0.7 * minutes(old, ())


def test_the_whole_re_check_is_no_half_hour() -> None:
    assert minutes(sound("straight-ladder"), ()) > 2 * HALF_AN_HOUR


@pytest.mark.parametrize("layout", LAYOUTS)
@pytest.mark.parametrize("fault", FAULTS)
def test_whatever_was_found_is_told_again_by_the_list_alone(layout: str, fault: str) -> None:
    if fault not in bench(layout).faults:
        assert fault.startswith("horn")
        assert not library().layouts[layout].tips, "these have horns"
        return
    old = faulty(layout, fault)
    short, whole = changes(old, chosen(old)), changes(old)
    for judged in wanting(verdict_of(old, library(), DAY), old, library()):
        id = compared_as(judged.finding)
        # The front box by its tapes stands for the same box by the bar.
        id = "rail-shift/front-box" if id == "rail-shift/front-box-bar" and id not in short else id
        assert (
            short[id].says == "not changed" or short[id].half_width < 1.25 * whole[id].half_width
        ), id
        assert short[id].says != "changed"


@pytest.mark.parametrize("name", SAMPLES)
def test_what_the_sample_found_worst_is_told_again_by_the_list_alone(name: str) -> None:
    old = sample(name)
    told = says(old, chosen(old))
    for judged in wanting(verdict_of(old, library(), DAY), old, library()):
        assert told[compared_as(judged.finding)] == "not changed"
    assert "changed" not in told.values()


def test_nothing_over_its_limit_or_to_be_watched_is_ever_passed_over() -> None:
    old = faulty("double-drop", "sag-left")
    verdict = verdict_of(old, library(), DAY)
    over = {j.finding.id for j in worst(verdict) if j.established != "leave"}
    assert over
    assert over <= {j.finding.id for j in wanting(verdict, old, library())}


def test_what_the_same_tapes_cannot_tell_is_not_read_again_for_nothing() -> None:
    """Nobody taped the boxes that tie the kicks to the ends: kicks that only the horns' tapes tie to the rest: no second reading of them would show a
    move of their bow.
    """
    whole, ties = sound("double-drop"), ("front-part", "kick-box")
    untied = tuple(r for r in whole.table(Reading) if asked_of(r.prompt).item not in ties)
    assert len(untied) < len(whole.table(Reading))
    old = replace(whole, rows={**whole.rows, "reading": untied})
    verdict = verdict_of(old, library(), DAY)
    open_ = [j for j in worst(verdict) if is_open(j)]
    hopeless = next(j for j in open_ if j.finding.id == "sway/rear-kick")
    assert says(old)[hopeless.finding.id] == "cannot tell"
    assert hopeless not in wanting(verdict, old, library())
    assert not listed("horns/horns/tip-left--front-left", chosen(old))


def test_the_smallest_change_that_would_show_is_told_of_all_that_is_on_it() -> None:
    old = sound("straight-ladder")
    found = compare(old, again(old, chosen(old)), library())
    assert all(0.0 < c.visible < 8.0 for c in found.changes)
    # Fewer figures at once: each is held to less than in a whole re-check.
    whole = {c.new.id: c.visible for c in compare(old, again(old), library()).changes}
    # Not of the string: with fewer gaps less is known of the hand that read them.
    alike = [c for c in found.changes if c.new.quantity == "twist"]
    assert alike
    assert all(c.visible < whole[c.new.id] for c in alike)


def test_no_figure_on_it_is_there_twice() -> None:
    for old in (*map(sound, LAYOUTS), *map(sample, SAMPLES)):
        entries = chosen(old)
        assert len(set(entries)) == len(entries)
        assert not [
            e for e in entries if "/" in e and listed(e, tuple(x for x in entries if x != e))
        ]
