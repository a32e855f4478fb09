"""What an answer changes beyond itself: states that fold, tools that add a row, the unit that must
not move.
"""

from dataclasses import replace

import pytest

from tests.survey.asking import AT, CHOICE, LOOK, TAPED, prompt_of, refused, taken
from wizard.library.shapes import Library
from wizard.library.steps import STATE
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State, Tool
from wizard.survey.state import STATE_FIELDS, settle, with_tool_start, without_tool

pytestmark = pytest.mark.quick


def _states(survey: Survey) -> list[tuple[str, str]]:
    return [(s.id, s.engine) for s in survey.table(State)]


def _strike_state(survey: Survey, id: str) -> Survey:
    return settle(survey.with_struck(id, "slip"), "state.engine", AT, "owner")


def test_the_library_knows_every_field_of_a_state() -> None:
    assert STATE == STATE_FIELDS


def test_answers_before_any_reading_fold_into_one_state() -> None:
    survey = taken(Survey(), CHOICE, "in", "out", "in")
    assert len(survey.table(State)) == 1
    assert survey.state().engine == "in"


def test_each_change_after_a_reading_is_a_row_of_its_own() -> None:
    survey = taken(Survey(), CHOICE, "in")
    survey = taken(survey, TAPED, "91")
    survey = taken(survey, CHOICE, "weight-off")
    survey = taken(survey, TAPED, "92")
    survey = taken(survey, CHOICE, "in")
    survey = taken(survey, TAPED, "93")
    engines = [survey.state_of(r.state).engine for r in survey.table(Reading)]
    assert engines == ["in", "weight-off", "in"]
    assert len({s.id for s in survey.table(State)}) == 3


def test_a_look_holds_its_state_as_a_reading_does() -> None:
    survey = taken(taken(taken(Survey(), CHOICE, "in"), LOOK, "bo"), CHOICE, "out")
    assert [s.engine for s in survey.table(State)] == ["in", "out"]


def test_saying_the_same_again_adds_no_state() -> None:
    survey = taken(taken(taken(Survey(), CHOICE, "in"), TAPED, "91"), CHOICE, "in")
    assert [s.engine for s in survey.table(State)] == ["in"]


def test_a_struck_answer_goes_back_to_the_one_before() -> None:
    survey = taken(Survey(), CHOICE, "in", "out")
    last = survey.standing(Answer)[-1].id
    assert _strike_state(survey, last).state().engine == "in"


def test_a_struck_first_answer_leaves_the_field_open() -> None:
    survey = taken(Survey(), CHOICE, "in")
    assert _strike_state(survey, survey.standing(Answer)[-1].id).state().engine == ""


def test_a_state_that_a_reading_names_stays_as_it_was_when_its_answer_is_struck() -> None:
    survey = taken(taken(taken(Survey(), CHOICE, "in"), TAPED, "91"), CHOICE, "out")
    survey = taken(survey, TAPED, "92")
    before = _states(survey)
    after = _strike_state(survey, survey.standing(Answer)[-1].id)
    assert _states(after)[:2] == before
    assert after.state().engine == "in"
    assert after.state_of(after.table(Reading)[1].state).engine == "out"


def test_even_a_struck_reading_holds_its_state() -> None:
    survey = taken(taken(Survey(), CHOICE, "in"), TAPED, "91").with_struck("r3", "slip")
    assert [s.engine for s in taken(survey, CHOICE, "out").table(State)] == ["in", "out"]


def test_unknown_keys_of_a_state_row_live_through_a_change() -> None:
    survey = Survey().with_row(State(id="s1", engine="in", extra={"humidity": "60 %"}))
    assert taken(survey, CHOICE, "out").state().extra == {"humidity": "60 %"}


def test_a_field_that_no_state_has_is_left_alone() -> None:
    survey = taken(Survey(), CHOICE, "in")
    assert settle(survey, "state.color", AT, "owner") == survey
    assert settle(survey, "", AT, "owner") == survey


# Unit ---------------------------------------------------------------------------------------------
# ------------


def test_the_unit_may_change_until_a_reading_is_down(library: Library) -> None:
    unit = prompt_of(library, "about-the-car/unit")
    survey = taken(Survey(), unit, "m", "i", "m")
    assert survey.unit == "mm"
    survey = taken(survey, TAPED, "2300")
    assert "written readings down already" in refused(survey, unit, "i")
    assert taken(survey, unit, "m").unit == "mm"


def test_a_struck_reading_keeps_the_unit_too(library: Library) -> None:
    unit = prompt_of(library, "about-the-car/unit")
    survey = taken(Survey(), TAPED, "91").with_struck("r1", "slip")
    assert "written readings down already" in refused(survey, unit, "m")


# Tools --------------------------------------------------------------------------------------------
# ------------


def test_choosing_a_tool_again_adds_a_row_and_readings_name_the_old_one(library: Library) -> None:
    tape = prompt_of(library, "tools/tape")
    survey = taken(taken(Survey(), tape, "o"), TAPED, "91")
    survey = taken(taken(survey, tape, "f"), TAPED, "91")
    first, second = (
        next(t for t in survey.table(Tool) if t.id == r.tool) for r in survey.table(Reading)
    )
    assert (first.extra["class"], second.extra["class"]) == ("II", "I")


@pytest.mark.parametrize(("unit", "division"), [("in", "1/16 in"), ("mm", "1 mm")])
def test_a_tool_takes_its_division_in_the_surveys_unit(
    library: Library, unit: str, division: str
) -> None:
    survey = taken(replace(Survey(), unit=unit), prompt_of(library, "tools/tape"), "o")  # type: ignore[arg-type]
    tape = survey.tool("tape")
    assert tape is not None
    assert tape.extra["division"] == division
    assert not {"division_in", "division_mm"} & tape.extra.keys()


def test_no_level_to_hand_adds_no_tool(library: Library) -> None:
    survey = taken(Survey(), prompt_of(library, "tools/level"), "-")
    assert survey.tool("level") is None
    assert survey.answer_to("tools/level") == "-"


def test_the_start_goes_into_the_tape_while_no_reading_names_it(library: Library) -> None:
    tape, start = prompt_of(library, "tools/tape"), prompt_of(library, "tools/start")
    survey = taken(taken(Survey(), tape, "o"), start, "m")
    assert [t.extra["start"] for t in survey.table(Tool)] == ["mark"]
    survey = taken(taken(survey, TAPED, "101"), start, "e")
    assert [(t.extra["start"], t.extra["end"]) for t in survey.table(Tool)] == [
        ("mark", "mark"),
        ("hook", "hook"),
    ]


def test_another_tape_starts_where_the_hand_said_it_starts(library: Library) -> None:
    tape, start = prompt_of(library, "tools/tape"), prompt_of(library, "tools/start")
    survey = taken(taken(taken(Survey(), tape, "o"), start, "m"), tape, "f")
    newest = survey.tool("tape")
    assert newest is not None
    assert (newest.extra["class"], newest.extra["start"]) == ("I", "mark")


def test_a_start_without_a_tape_changes_nothing() -> None:
    assert with_tool_start(Survey(), "mark", AT, "owner") == Survey()


def _without_last(survey: Survey, library: Library) -> Survey:
    row = survey.standing(Answer)[-1]
    return without_tool(survey.with_struck(row.id, "slip"), row, library.tools, "slip", AT, "owner")


def test_a_struck_choice_takes_its_tool_with_it(library: Library) -> None:
    survey = taken(Survey(), prompt_of(library, "tools/level"), "c", "m")
    tool = _without_last(survey, library).tool("level")
    assert tool is not None
    assert tool.name == library.tools["carpenters-level"].name


def test_a_struck_none_leaves_the_tool_chosen_before(library: Library) -> None:
    survey = taken(Survey(), prompt_of(library, "tools/level"), "c", "-")
    assert _without_last(survey, library).tool("level") == survey.tool("level")


def test_a_struck_start_goes_back_to_the_start_before(library: Library) -> None:
    tape, start = prompt_of(library, "tools/tape"), prompt_of(library, "tools/start")
    survey = taken(taken(Survey(), tape, "w"), start, "m", "e")
    back = _without_last(survey, library).tool("tape")
    assert back is not None
    assert (back.extra["start"], back.extra["end"]) == ("mark", "mark")


def test_a_struck_first_start_leaves_the_tape_as_it_was_chosen(library: Library) -> None:
    chosen = taken(Survey(), prompt_of(library, "tools/tape"), "w")
    survey = taken(chosen, prompt_of(library, "tools/start"), "m")
    assert _without_last(survey, library).table(Tool) == chosen.table(Tool)


def test_a_struck_start_never_changes_the_tape_of_a_reading(library: Library) -> None:
    survey = taken(Survey(), prompt_of(library, "tools/tape"), "o")
    survey = taken(taken(survey, prompt_of(library, "tools/start"), "m"), TAPED, "101")
    after = _without_last(survey, library)
    used, now = after.table(Tool)
    assert used == survey.table(Tool)[0]
    assert "start" not in now.extra
