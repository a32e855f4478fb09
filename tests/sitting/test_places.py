"""A place of a round: one entry for all that can be seen there, and by itself only what there is
something to tell about.
"""

from __future__ import annotations

import re
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import READ, Driver, finished, likely
from wizard.library import load_library
from wizard.library.kinds import PLACE as ALL_OF_IT
from wizard.library.references import kinds_of
from wizard.readings.refused import Refused
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import guide_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look, Skip

PLACE = "left-front"
ENTRY = f"{PLACE}/seen"
LOOKS = {
    "h": "horn-welds/left",
    "f": "front-crossmember-rivets/left",
    "c": "front-crossmember-cracks/left",
    "w": "welded-plates/left",
    "s": "front-springs/left",
    "g": "steering-mount/left",
    "e": "engine-mounts/left",
}
"""What there is to see at that place of a straight ladder, by its letters."""


@pytest.fixture
def there(driver: Driver) -> Driver:
    """Before the first entry at that place."""
    driver.run("Bramble", "i", "s", "w", "o", f"/go {PLACE}", READ)
    assert driver.at == ENTRY
    return driver


def looks(driver: Driver) -> dict[str, tuple[str, str]]:
    """What stands, by the letters of the list: how seen and what."""
    rows = {k.prompt: (k.seen, k.answer) for k in driver.saved.standing(Look)}
    return {letter: rows[id] for letter, id in LOOKS.items() if id in rows}


NOTHING = ("bare", "nothing-found")


@pytest.mark.parametrize("line", ["b", "b o", "bo", "B", "bare"])
def test_all_bare_and_nothing_found_is_a_row_for_each_look(there: Driver, line: str) -> None:
    there.run(line)
    assert looks(there) == dict.fromkeys(LOOKS, NOTHING)
    assert there.run(READ).at == "right-front/seen"


@pytest.mark.parametrize(
    ("line", "seen"),
    [
        ("bare, nothing found", "bare"),
        ("Bare metal, nothing.", "bare"),
        ("bare and nothing found", "bare"),
        ("ok, painted", "painted"),
        ("under dirt: all fine", "dirty"),
        ("b, o", "bare"),
    ],
)
def test_words_and_commas_are_taken_at_a_place_as_at_a_look(
    there: Driver, line: str, seen: str
) -> None:
    there.run(line)
    assert looks(there) == dict.fromkeys(LOOKS, (seen, "nothing-found"))


def test_words_go_with_the_letters_of_the_list(there: Driver) -> None:
    there.run("bare, h and e; w not reached")
    assert looks(there) == {**dict.fromkeys("fcsg", NOTHING), "w": ("not-reached", "")}


@pytest.mark.parametrize("line", ["b h e", "bhe", "b he", "h e b"])
def test_what_there_is_to_tell_about_is_asked_by_itself_at_the_place(
    there: Driver, line: str
) -> None:
    there.run(line)
    assert looks(there) == dict.fromkeys("fcwsg", NOTHING)
    met = []
    while there.at.endswith("/left"):
        met.append(there.at)
        stop = there.sitting.page()
        assert stop is not None
        assert stop.step.id == PLACE
        there.run("p " + ("h" if there.at == LOOKS["h"] else "v"))
    assert met == [LOOKS["h"], LOOKS["e"]]
    assert looks(there)["h"] == ("painted", "hammer-marks")
    assert there.run(READ).at == "right-front/seen"


def test_one_may_be_seen_less_well_than_the_rest(there: Driver) -> None:
    there.run("b; h d; w n")
    assert looks(there) == {
        **dict.fromkeys("fcsge", NOTHING),
        "h": ("dirty", "nothing-found"),
        "w": ("not-reached", ""),
    }


def test_not_reached_at_all(there: Driver) -> None:
    there.run("n")
    assert looks(there) == dict.fromkeys(LOOKS, ("not-reached", ""))


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("h", "how well you saw it"),
        ("o", "how well you saw it"),
        ("b z", "'z' is no letter of the list"),
        ("b u", "asked by itself"),
        ("b horn askew", "'askew' is no letter of the list"),
        ("b front", "can mean more than one of the list"),
        ("n h", "cannot both be"),
        ("b; h", "how well you saw it"),
        ("b; d", "letter of the list"),
        ("b h; h d", "twice"),
        ("b h h", "twice"),
        ("b p", "one letter"),
        ("b; h d; h p", "twice"),
        ("91 1/8", "no letter"),
    ],
)
def test_what_is_no_entry_is_refused_and_nothing_is_written(
    there: Driver, line: str, says: str
) -> None:
    before = there.survey
    reply = there.say(line)
    assert reply.kind == "refused"
    assert says in reply.says
    assert there.survey is before


def test_the_answer_says_back_what_was_written(there: Driver) -> None:
    says = there.say("b h; w n").says
    assert "Five seen bare, nothing found." in says
    assert "One not reached: plates added in front." in says
    assert "To tell about: horn" in says
    assert "All seven seen bare, nothing found." in there.run("/undo").say("b").says


def test_undo_takes_a_whole_entry_back_and_strike_asks_for_it(there: Driver) -> None:
    there.run("b h; w n", "/undo")
    assert looks(there) == {}
    assert there.at == ENTRY
    there.run("b")
    assert "7 looks" in there.run("/back").say("/strike").says
    there.run("")
    assert looks(there) == {}
    assert [a for a in there.saved.standing(Answer) if a.prompt == ENTRY] == []


def test_undo_of_a_look_told_by_itself_leaves_the_entry(there: Driver) -> None:
    there.run("b h", "b f", "/undo")
    assert there.at == LOOKS["h"]
    assert looks(there) == dict.fromkeys("fcwsge", NOTHING)


def test_a_place_is_passed_over_with_a_reason_for_each_look(there: Driver) -> None:
    there.run("/skip radiator in the way")
    assert {s.prompt for s in there.saved.standing(Skip)} == set(LOOKS.values())
    assert there.run(READ).at == "right-front/seen"
    there.run("/undo")
    assert there.saved.standing(Skip) == ()
    assert there.at == ENTRY


def test_a_stop_in_the_middle_of_a_place_asks_the_rest_another_day(there: Driver) -> None:
    there.run("b h e")
    later = there.again()
    assert later.sitting.target is not None
    assert later.sitting.target.prompt.id == LOOKS["h"]
    later.run(READ, "b f")
    assert later.at == LOOKS["e"]


def test_looks_answered_singly_are_not_asked_again_and_what_was_found_stays(
    driver: Driver,
) -> None:
    """As a survey has them that was begun before there were places."""
    driver.run("Bramble", "i", "s", "w", "o", f"/go {PLACE}", READ, "b h c", "b c")
    driver.run("/undo", "/undo")
    rows = driver.survey
    for letter, answer in (("h", "crack"), ("f", "nothing-found")):
        row = Look(id=rows.new_id(Look), prompt=LOOKS[letter], seen="bare", answer=answer)
        rows = rows.with_row(row)
    driver.sitting.change(rows)
    driver.run(f"/go {PLACE}", READ)
    assert driver.at == ENTRY
    driver.run("p")
    assert looks(driver) == {
        "h": ("bare", "crack"),
        "f": NOTHING,
        **dict.fromkeys("cwsge", ("painted", "nothing-found")),
    }


def test_an_entry_given_anew_never_wipes_out_what_was_found(there: Driver) -> None:
    there.run("b h", "b c", "/go left-front", "/back", f"/go {PLACE}")
    while there.at != ENTRY:
        there.run("/back")
    there.run("d")
    assert looks(there) == {
        "h": ("bare", "crack"),
        **dict.fromkeys("fcwsge", ("dirty", NOTHING[1])),
    }
    while there.at != ENTRY:
        there.run("/back")
    assert "before the ;" in there.say("b; h d").says
    there.run("b h")
    assert there.at == LOOKS["h"]  # it is told anew


def test_go_to_a_look_goes_to_the_place_that_gathers_it(there: Driver) -> None:
    there.run("/go rail-sides", READ)
    assert there.run(READ).at == "left-rail/seen"
    there.run("/go the sides of the rails", READ)
    assert there.run(READ).at == "left-rail/seen"


def test_why_and_a_letter_tells_all_of_that_look(there: Driver) -> None:
    reply = there.say("/why h")
    step = load_library().steps["horn-welds"]
    assert reply.kind == "told"
    for text in (step.why, *step.how, *step.spoils, step.good):
        assert text in reply.says
    assert there.say("/why z").kind == "refused"
    assert load_library().steps[PLACE].why in there.say("/why").says


def test_the_trail_lists_places_and_the_readings_their_looks(there: Driver) -> None:
    there.run("b h; w n", "b g")
    trail = there.say("/trail").says
    assert "[x] Left front, from below" in trail
    assert "The front crossmember itself" not in trail
    written = there.say("/readings").says
    assert "Left front, from below" in written
    assert "horn, ahead of the crossmember: bent in a gentle curve, no edge (bare)" in written
    assert "plates added in front: not reached" in written


def test_one_entry_is_one_save(there: Driver, monkeypatch: pytest.MonkeyPatch) -> None:
    """A kill in the middle of it leaves all of its rows or none."""
    saves = []
    commit = Sitting._commit
    monkeypatch.setattr(
        Sitting, "_commit", lambda self, survey: saves.append(survey) or commit(self, survey)
    )
    there.run("b h; w n")
    assert len(saves) == 1


def test_each_look_of_a_survey_has_its_row_whatever_the_way(tmp_path: Path) -> None:
    """One walked by places holds a look at each prompt that one walked look by look would have."""
    survey = finished(tmp_path).survey
    looked = {k.prompt for k in survey.standing(Look)}
    pages = finished(tmp_path / "again").sitting.pages()
    assert {p.id for page in pages for p in page.prompts if p.kind.looks} == looked


def test_tools_are_asked_for_where_they_are_first_used(driver: Driver) -> None:
    driver.run("Bramble", "i", "s", "w", "o")
    steps = []
    while (prompt := driver.sitting.prompt) is not None:
        if not prompt.kind.acknowledges:
            steps.append((prompt.step, prompt.id))
        driver.run(likely(prompt))
    order = [id for _, id in steps]
    before = {
        "tools/tape": "your-hand",
        "tools/string": "string-set-up",
        "tools/ruler": "string-set-up",
        "tools/level": "level",
        "tools/bar": "front-box-bar",
    }
    for tool, step in before.items():
        behind = next(s for s, _ in steps[order.index(tool) + 1 :] if s != "tools")
        assert behind == step, tool


@pytest.fixture
def before_lifting(driver: Driver) -> Driver:
    """Where the metal is looked at on which jack and stands will bear."""
    driver.run("Bramble", "i", "s", "w", "o", "/go set-supports", READ, "a", READ)
    assert driver.at == "jack-places/seen"
    return driver


@pytest.mark.parametrize("line", ["n", "b; l n", "b; t n"])
def test_nothing_is_lifted_on_metal_that_nobody_reached(before_lifting: Driver, line: str) -> None:
    """Another place is asked for, and where there is none the car stays down."""
    before_lifting.run(line)
    assert before_lifting.at.startswith("set-supports/")
    assert before_lifting.at.endswith("-elsewhere")
    before_lifting.run("n")
    assert before_lifting.at.startswith("set-supports/caution/hold-")


def test_whoever_found_another_place_for_each_goes_on(before_lifting: Driver) -> None:
    before_lifting.run("n")
    asked = []
    while before_lifting.at.endswith("-elsewhere"):
        asked.append(before_lifting.at)
        before_lifting.run("y")
    assert len(asked) == 4
    assert before_lifting.at == "set-supports/stood"


@pytest.mark.parametrize("line", ["d", "p", "b; l d"])
def test_metal_under_dirt_or_paint_is_no_place_for_a_jack_as_it_is(
    before_lifting: Driver, line: str
) -> None:
    reply = before_lifting.say(line)
    assert "clean the metal until it is bare and look again" in reply.says
    assert "another place" in reply.says


def test_of_bare_metal_nothing_more_is_said(before_lifting: Driver) -> None:
    """The twin that must fail."""
    assert "bare and look again" not in before_lifting.say("b").says


# Words in the place of letters ---------------------------------------------------------------------

KINDS = tuple(layout.id for layout in kinds_of(load_library()))


def _lists(layout: str) -> list[Prompt]:
    survey = Survey(id="test", started=datetime(2026, 4, 11), layout=layout)
    walk = guide_of(survey, load_library()).walk(datetime(2026, 4, 11))
    return [page.place for page in walk if page.place]


@pytest.mark.parametrize("layout", KINDS)
def test_at_every_place_a_name_of_the_list_is_its_letter(layout: str) -> None:
    for place in (places := _lists(layout)):
        letters = {p.letter: p.name for p in place.parts}
        choices = {p.letter: p.look.choices for p in place.parts}
        for part in place.parts:
            for said in (f"bare, {part.name}", f"{part.name}: bare", f"b {part.letter}"):
                seen = ALL_OF_IT.seen(letters, said, choices)
                assert (seen.how, seen.tell) == ("bare", (part.letter,)), (place.id, said)
            dirty = ALL_OF_IT.seen(letters, f"b; {part.name} d", choices)
            assert (dirty.but, dirty.tell) == ({part.letter: "dirty"}, ())
    assert len(places) > 5


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("bare, left horn bent", "h"),
        ("bare, the bent horn", "h"),
        ("bare, loose rivets", "f"),
        ("painted, engine mount oval and horn torn", "he"),
        ("b, steering box", "g"),
    ],
)
def test_what_a_mentor_says_aloud_is_the_letter_and_what_was_found_is_asked_next(
    said: str, told: str
) -> None:
    place = next(p for p in _lists("straight-ladder") if p.step == "left-front")
    letters = {p.letter: p.name for p in place.parts}
    choices = {p.letter: p.look.choices for p in place.parts}
    assert {*ALL_OF_IT.seen(letters, said, choices, "left").tell} == {*told}


@pytest.mark.parametrize(
    ("said", "why"),
    [
        ("bare, right horn bent", "'right' is no letter"),
        ("bare, horn twisted", "'twisted' is no letter"),
        ("bare, crossmember", "“crossmember” can mean more than one of the list: type h “horn"),
        ("left horn bent", "Say first how well you saw it"),
    ],
)
def test_words_that_mean_another_thing_or_several_are_asked_about(said: str, why: str) -> None:
    place = next(p for p in _lists("straight-ladder") if p.step == "left-front")
    letters = {p.letter: p.name for p in place.parts}
    choices = {p.letter: p.look.choices for p in place.parts}
    with pytest.raises(Refused, match=re.escape(why)):
        ALL_OF_IT.seen(letters, said, choices, "left")
