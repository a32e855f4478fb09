"""Every step of the course walked from the first question to the verdict, for each way a car can
stand.
"""

from collections import Counter
from pathlib import Path

import pytest

from tests.sitting.driving import Driver, finished, likely, step_of, walk
from tests.survey.exposures_by_hand import BY_HAND, COVERS
from tests.survey.test_gates import stands_as, to_read
from wizard.library import load_library
from wizard.library.references import kinds_of
from wizard.library.templates import belongs
from wizard.survey.guide import asks_of, pages, wanting
from wizard.survey.rows import Ack, Answer, Reading, Skip, Verdict

PITTED = {"rail-tops/left": "b l", "rail-tops/right": "b l", "consequences/hood-gap": "k"}
"""Nothing that was seen takes a page out of the course."""
LOADED = ("sag-loaded", "lift-engine", "lower-engine")

ALL = PITTED | {"about-the-car/course": "f"}
"""What is answered by whoever wants every page, needed or not."""


def _steps(met: list[tuple[str, int]], driver: Driver) -> list[str]:
    """The steps that were asked, in order; of a place those whose looks it gathers on this car.

    Tools are asked for where each is first used, and stand at no place of their own.
    """
    steps = load_library().steps
    there = {p.step.id for p in driver.sitting.pages() if not p.gone}
    found: list[str] = []
    for step in (steps[step_of(id)] for id, _ in met):
        looked = (step_of(g.look) for g in step.gathers)
        found += [id for id in looked if id in there] if step.gathers else [step.id]
    return [step for step in dict.fromkeys(found) if step != "tools"]


@pytest.mark.parametrize(
    ("say", "absent"),
    [
        (ALL | {"state/body": "l"}, {"long-diagonals"}),
        (ALL | {"state/body": "t"}, {"long-diagonals"}),
        (
            ALL | {"state/body": "o", "state/engine": "o"},
            {"diagonals-below", "pulley-hint", *LOADED},
        ),
        (
            ALL | {"state/body": "t", "lift-engine/engine": "k"},
            {"long-diagonals", "sag-unloaded", "lower-engine"},
        ),
    ],
    ids=["body-loose", "body-bolted", "bare-frame", "cannot-lift"],
)
def test_the_whole_course_from_the_first_question_to_the_verdict(
    driver: Driver, say: dict[str, str], absent: set[str]
) -> None:
    met = walk(driver, say)
    course = [p.step.id for p in driver.sitting.pages() if p.step.id != "tools"]
    assert set(course) - set(_steps(met, driver)) == absent
    assert _steps(met, driver) == [s for s in course if s not in absent]
    assert len(met) == len(set(met))
    assert len(driver.saved.standing(Verdict)) == 1
    gone = {p.step.id: p.gone for p in driver.sitting.pages() if p.gone}
    assert gone.keys() == absent
    assert all(gone.values())


@pytest.mark.parametrize("layout", [y for y in load_library().layouts if y != "straight-ladder"])
def test_the_whole_course_of_every_other_kind_of_frame(driver: Driver, layout: str) -> None:
    met = walk(driver, ALL | {"about-the-car/layout": layout, "state/body": "o"})
    gone = {p.step.id for p in driver.sitting.pages() if p.gone}
    assert {"tools", *_steps(met, driver)} == {p.step.id for p in driver.sitting.pages()} - gone
    assert driver.survey.layout == layout
    assert len(met) == len(set(met))


def test_every_step_of_the_content_is_met_on_some_kind_of_frame() -> None:
    library = load_library()
    met = {
        s
        for s in library.courses["whole"]
        for y in kinds_of(library)
        if belongs(library.steps[s], y)
    }
    assert met == set(library.courses["whole"])


def test_a_page_that_nothing_calls_for_is_passed_over(tmp_path: Path) -> None:
    readings = finished(tmp_path).survey.table(Reading)
    assert readings
    assert not [r.prompt for r in readings if step_of(r.prompt) == "pitting"]


def test_one_pitted_rail_is_asked_about_and_the_other_is_not(driver: Driver) -> None:
    met = {id for id, _ in walk(driver, {"rail-tops/left": "b o", "rail-tops/right": "b h"})}
    assert {i for i in met if step_of(i) == "pitting" and "/left/" in i} == set()
    assert "pitting/right/clean" in met


def test_the_short_course(driver: Driver) -> None:
    met = walk(driver, PITTED | {"about-the-car/course": "s"})
    steps = _steps(met, driver)
    pages = [p.step.id for p in driver.sitting.pages() if not p.gone]
    assert steps == [id for id in pages if id != "tools"]
    assert set(steps) <= set(load_library().courses["short"])
    assert {"sag-loaded", "sag-unloaded"} <= set(steps)


def test_nothing_is_left_wanting_at_the_end(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    for page in pages(driver.survey, load_library(), driver.clock()):
        assert not [
            p.id for p in page.prompts if not p.kind.acknowledges and wanting(driver.survey, p)
        ]


def test_every_reading_asked_for_is_one_row(tmp_path: Path) -> None:
    driver = finished(tmp_path)
    lengths = [
        (i, n)
        for page in driver.sitting.pages()
        for a in asks_of(page)
        for i, n in [(a.prompt.id, a.nth)]
    ]
    rows = driver.survey.standing(Reading)
    asked = {p.id for page in driver.sitting.pages() for p in page.prompts if p.kind.measures}
    read = Counter(r.prompt for r in rows)
    for id, nth in lengths:
        assert id not in asked or read[id] >= nth or driver.survey.folded(id), (id, nth)
    assert read.total() <= len([i for i, _ in lengths if i in asked])


CARS = {
    "wheels": {},
    "stands": {"state/found": "f", "set-supports/supports": "f"},
    "bare": {
        "state/engine": "o",
        "state/body": "o",
        "state/found": "f",
        "set-supports/supports": "t",
    },
}


@pytest.mark.parametrize("say", CARS.values(), ids=CARS)
def test_all_cautions_of_a_page_are_met_before_its_first_prompt_and_again_after_a_change(
    driver: Driver, say: dict[str, str]
) -> None:
    """What a page asks for is taken from the table that was written by hand."""
    read: set[str] = set()
    step, moved, seen = "", False, set()
    while (prompt := driver.sitting.prompt) is not None:
        if prompt.step != step and moved:
            read, moved = set(), False
        step = prompt.step
        if prompt.kind.acknowledges:
            assert prompt.caution not in read, prompt.id
            read.add(prompt.caution)
            seen.add(prompt.caution)
        else:
            state = driver.survey.state()
            wanted = to_read(step, stands_as(state.engine, state.body, state.supports))
            assert wanted - ({"beside", "beside-bare"} if read & COVERS else set()) <= read, (
                prompt.id
            )
        moved = moved or prompt.keep in ("state.engine", "state.body", "state.supports")
        driver.run(say.get(prompt.id, likely(prompt)))
    assert {a.caution for a in driver.survey.table(Ack)} == seen
    assert len(seen) >= 6
    # Found on stands, the first page beside it waits for the push test; the rest of the course
    # keeps its order.
    assert {c for c in seen if c.startswith("hold-")} == (
        {"hold-unpushed"} if "state/found" in say else set()
    )


def test_a_push_test_is_met_before_the_first_page_near_the_car_and_after_every_change(
    driver: Driver,
) -> None:
    pushed = False
    while (prompt := driver.sitting.prompt) is not None:
        near = {"under", "lifting", "rolling"} & BY_HAND.get(prompt.step, frozenset())
        if (
            near
            and not prompt.kind.acknowledges
            and prompt.id not in PUSHES
            and prompt.step != "set-supports"
        ):
            assert pushed, prompt.id
        if prompt.keep in ("state.engine", "state.body", "state.supports"):
            pushed = False
        pushed = pushed or prompt.id in PUSHES
        driver.run(ALL.get(prompt.id, likely(prompt)))
    told = [a.prompt for a in driver.survey.standing(Answer) if a.prompt in PUSHES]
    assert told == list(PUSHES)


PUSHES = ("set-supports/push", "wheelbase/push", "lift-engine/push", "lower-engine/push")


def test_the_engine_lifted_and_let_down_again_leaves_each_reading_in_its_state(
    tmp_path: Path,
) -> None:
    survey = finished(tmp_path).survey
    engines = {step_of(r.prompt): survey.state_of(r.state).engine for r in survey.standing(Reading)}
    assert engines["sag-loaded"] == "in"
    assert engines["sag-unloaded"] == "weight-off"
    assert engines["level"] == "in"


def test_a_course_on_which_everything_is_skipped_still_ends(driver: Driver) -> None:
    for _ in range(600):
        prompt = driver.sitting.prompt
        if prompt is None:
            break
        driver.run("understood" if prompt.kind.acknowledges else "/skip not today")
    assert driver.at == "end"
    assert driver.saved.table(Reading) == ()
    assert all(s.why == "not today" for s in driver.saved.table(Skip))


def test_the_same_lines_give_the_same_file(tmp_path: Path) -> None:
    files = []
    for name in ("one", "two"):
        driver = Driver(tmp_path / name)
        walk(driver, {"state/body": "l"})
        assert driver.sitting.path is not None
        files.append(driver.sitting.path.read_bytes())
    assert files[0] == files[1]
