"""While the car rocks nobody is sent under it and nothing is measured; once it stands still the pages come back."""

from __future__ import annotations

import pytest
from wizard.survey.rocking import PUSH, UNDER, WHY

from tests.survey.asking import AT, prompt_of, taken
from wizard.library.shapes import Library
from wizard.survey.guide import Page, next_ask, pages, wanting
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, State


def pushed(survey: Survey, said: str) -> Survey:
    return survey.with_row(Answer(id=survey.new_id(Answer), prompt=PUSH, answer=said))


def there(survey: Survey, library: Library) -> dict[str, Page]:
    return {p.step.id: p for p in pages(survey, library, AT)}


def test_pages_to_measure_and_pages_under_the_car_drop_out_with_the_reason(library: Library) -> None:
    still, rocking = there(pushed(Survey(), "still"), library), there(pushed(Survey(), "rocks"), library)
    gone = {id for id, page in rocking.items() if page.gone == WHY}
    assert gone == {
        id
        for id, page in still.items()
        if id != "set-supports" and (page.step.part == "measure" or UNDER in page.step.cautions)
    }
    assert {"level", "long-diagonals", "sag-loaded", "engine-mounts", "front-crossmember-cracks"} <= gone
    assert not {"set-supports", "rail-tops", "die-marks", "history", "finish"} & gone
    assert all(rocking[id].prompts == () for id in gone)


@pytest.mark.parametrize("said", ["still", "moved-then-set", ""])
def test_without_that_answer_nothing_is_held_back(library: Library, said: str) -> None:
    survey = pushed(Survey(), said) if said else Survey()
    assert [p for p in there(survey, library).values() if p.gone == WHY] == []


def test_the_supports_are_asked_though_it_rocks_and_set_again_all_comes_back(library: Library) -> None:
    rocking = pushed(Survey(), "rocks")
    page = there(rocking, library)["set-supports"]
    assert PUSH in [p.id for p in page.prompts]
    assert there(pushed(rocking, "moved-then-set"), library)["level"].gone == ""


def test_what_was_read_before_it_rocked_stays_and_no_more_is_asked_there(library: Library) -> None:
    prompt = prompt_of(library, "wheelbase/left")
    survey = taken(taken(Survey(), prompt, "103"), prompt, "103")
    page = there(pushed(survey, "rocks"), library)["wheelbase"]
    assert page.gone == WHY
    assert prompt.id in [p.id for p in page.prompts]
    assert [p for p in page.prompts if wanting(pushed(survey, "rocks"), p)] == []


def test_nobody_is_ever_asked_for_a_reading_while_it_rocks(library: Library) -> None:
    survey, asked, ask = pushed(Survey(), "rocks"), [], None
    for _ in range(400):
        ask = next_ask(survey, library, AT, ask)
        if ask is None or ask in asked:
            break
        asked.append(ask)
    assert len(asked) > 20
    steps = {a.prompt.step for a in asked} - {"set-supports"}
    assert all(library.steps[s].part != "measure" and UNDER not in library.steps[s].cautions for s in steps)


def test_set_up_anew_the_push_test_is_asked_again_and_not_for_another_state(library: Library) -> None:
    prompt = prompt_of(library, PUSH)
    survey = Survey().with_row(State(id="s1", supports="wheels"))
    survey = pushed(survey, "still")
    assert not wanting(survey, prompt)
    warmer = survey.with_row(State(id=survey.new_id(State), supports="wheels", temperature="18 C"))
    assert not wanting(warmer, prompt)
    moved = warmer.with_row(State(id=warmer.new_id(State), supports="three-points"))
    assert wanting(moved, prompt)
    assert not wanting(pushed(moved, "still"), prompt)


def test_while_it_rocks_the_push_test_is_what_the_supports_page_asks(library: Library) -> None:
    rocking = pushed(Survey(), "rocks")
    assert wanting(rocking, prompt_of(library, PUSH))
    assert not wanting(pushed(rocking, "moved-then-set"), prompt_of(library, PUSH))
