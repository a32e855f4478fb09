"""Figures of the person's own: a tool's, a size of this frame, a limit."""

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.survey.rows import Doubt, OwnLimit, Reading, Size, Tool

TOOLS = (
    *("/go Which tape?", "o", "m"),
    *("/go Which ruler for short gaps?", "s"),
    *("/go Which string? (- for none)", "h"),
    *("/go Which level? (- for none)", "c"),
    *("/go Which bar with pointers? (- for none)", "h"),
)
"""Each is asked where it is first needed."""
STRING = ("/go sag-loaded", READ)


@pytest.fixture
def tooled(driver: Driver) -> Driver:
    return driver.run(*BEGUN, *TOOLS)


def test_a_tools_figure_before_any_reading_goes_into_its_row(tooled: Driver) -> None:
    tooled.run("/tool tape class I")
    assert [t.extra["class"] for t in tooled.saved.table(Tool) if t.kind == "tape"][-1] == "I"


def test_a_tools_figure_is_taken_back(tooled: Driver) -> None:
    before = tooled.survey.tool("tape")
    tooled.run(
        "/go history", "n"
    )  # an answer's row stands right before it, and is not taken back in its place
    tooled.run("/tool tape class I", "/undo")
    assert tooled.survey.tool("tape") == before
    assert tooled.saved.tool("tape") == before


def test_readings_keep_the_tool_as_it_was(tooled: Driver) -> None:
    tooled.run(*STRING, "1/2", "/tool ruler division 1/64 in", "5/8")
    tools = {t.id: t.extra["division"] for t in tooled.saved.table(Tool) if t.kind == "ruler"}
    assert [tools[r.tool] for r in tooled.saved.table(Reading)] == ["1/32 in", "1/64 in"]


@pytest.mark.parametrize(
    "line",
    [
        "/tool",
        "/tool tape",
        "/tool tape class",
        "/tool tape class IV",
        "/tool tape division half",
        "/tool laser class I",
        "/tool string class I",
        "/tool string pull strong",
        "/tool level length minus",
    ],
)
def test_a_tools_figure_that_is_none(tooled: Driver, line: str) -> None:
    before = tooled.survey
    assert tooled.say(line).kind == "refused"
    assert tooled.survey is before


def test_a_tool_must_be_chosen_first(driver: Driver) -> None:
    reply = driver.run(*BEGUN).say("/tool tape class I")
    assert (reply.kind, reply.says) == (
        "refused",
        "Choose a tape first, on the page of your tools: type /go tools.",
    )


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("/size rail_depth 4 in", "rail_depth is 4 in for this frame."),
        ("/size rail_depth 4", "rail_depth is 4 in for this frame."),
        ("/size rail_thickness 1/8", "rail_thickness is 1/8 in for this frame."),
        ("/size wheelbase 94", "wheelbase is 94 in for this frame."),
        ("/size engine_mass_kg 180", "engine_mass_kg is 180 kg for this frame."),
        ("/size front_axle_x 5 in forward", "front_axle_x is 5 in forward for this frame."),
        ("/size front_axle_x 5 forward", "front_axle_x is 5 in forward for this frame."),
    ],
)
def test_a_size_of_this_frame(tooled: Driver, line: str, says: str) -> None:
    assert tooled.say(line).says == says
    assert len(tooled.saved.table(Size)) == 1


@pytest.mark.parametrize(
    "line", ["/size", "/size rail_depth", "/size color 4", "/size rail_depth thick"]
)
def test_a_size_that_is_none(tooled: Driver, line: str) -> None:
    assert tooled.say(line).kind == "refused"
    assert tooled.saved.table(Size) == ()


@pytest.mark.parametrize(
    ("line", "upto", "source"),
    [
        ("/limit twist watch 3 mm shop manual", "3 mm", "owner's figure: shop manual"),
        (
            "/limit sag-unloaded leave 1/4 in the manual, page 3",
            "1/4 in",
            "owner's figure: the manual, page 3",
        ),
        ("/limit thickness watch 12 % a guess", "12 %", "owner's figure: a guess"),
    ],
)
def test_a_limit_of_ones_own(tooled: Driver, line: str, upto: str, source: str) -> None:
    tooled.run(line)
    row = tooled.saved.table(OwnLimit)[0]
    assert (row.upto, row.source) == (upto, source)


@pytest.mark.parametrize(
    "line",
    [
        "/limit",
        "/limit twist",
        "/limit twist watch 3",
        "/limit twsit watch 3 mm manual",
        "/limit twist never 3 mm manual",
        "/limit twist watch plenty of it",
        "/limit twist watch nan % manual",
        "/limit twist watch 10 % a guess",
        "/limit twist watch 0 mm manual",
        "/limit twist watch 3 km manual",
        "/limit twist watch 3 m manual",
        "/limit thickness watch 1000 % manual",
        "/limit thickness watch 3 mm manual",
        "/limit twist watch 3 mm",
        "/limit twist watch 3 shop manual",
        "/limit twist watch 1/8 shop manual",
    ],
)
def test_a_limit_that_is_none(tooled: Driver, line: str) -> None:
    reply = tooled.say(line)
    assert reply.kind == "refused", tooled.saved.table(OwnLimit)
    assert tooled.saved.table(OwnLimit) == ()


def test_a_limit_of_thickness_is_in_percent_and_says_so(driver: Driver) -> None:
    driver.run(*BEGUN)
    for typed in ("/limit thickness", "/limit thickness watch 3 mm shop manual"):
        reply = driver.say(typed)
        assert reply.kind == "refused"
        assert "12 % shop manual" in reply.says
    assert driver.say("/limit thickness watch 12 % shop manual").kind == "told"


IMPOSSIBLE = (
    ("rail_depth", "4 mm"),
    ("rail_flange", "2 mm"),
    ("rail_thickness", "2 in"),
    ("rod", "0 mm"),
    ("track", "0 mm"),
    ("wheelbase", "94 mm"),
    ("engine_mass_kg", "10"),
    ("front_axle_x", "105"),
    ("engine_front_x", "40"),
    ("rear_axle_x", "30 m"),
)


@pytest.mark.parametrize(("name", "typed"), IMPOSSIBLE)
def test_a_size_that_makes_no_frame_is_refused(tooled: Driver, name: str, typed: str) -> None:
    reply = tooled.say(f"/size {name} {typed}!")
    assert reply.kind == "refused", reply
    assert reply.says.count(".") == 1 + reply.says.count("0."), reply.says
    assert tooled.saved.table(Size) == ()


def test_a_size_far_from_the_round_figure_is_doubted_and_the_factor_said(tooled: Driver) -> None:
    at = tooled.at
    reply = tooled.say("/size rail_depth 10")
    assert reply.kind == "doubted"
    assert "is 2.5 times as large as the usual 3 15/16 in" in reply.says
    assert tooled.saved.table(Size) == ()
    assert tooled.say("").says == "rail_depth is 10 in for this frame."
    assert [z.typed for z in tooled.saved.table(Size)] == ["10 in"]
    assert tooled.saved.table(Doubt)[-1].kept == "asked"
    assert tooled.at == at, "the question in front was not answered by it"


def test_a_doubted_size_is_kept_when_it_is_said_twice_or_with_a_mark(tooled: Driver) -> None:
    assert tooled.say("/size rail_depth 10").kind == "doubted"
    assert tooled.say("/size rail_depth 10").kind == "told"
    assert tooled.say("/size track 20!").kind == "told"
    assert [(z.name, z.typed) for z in tooled.saved.table(Size)] == [
        ("rail_depth", "10 in"),
        ("track", "20 in"),
    ]
    assert [d.kept for d in tooled.saved.table(Doubt)] == ["asked", "in-advance"]


def test_a_place_along_the_frame_is_doubted_by_how_far_off_it_is(tooled: Driver) -> None:
    reply = tooled.say("/size front_axle_x 30 rearward")
    assert reply.kind == "doubted"
    assert "from the usual place, 4 23/32 in forward" in reply.says


def test_what_is_typed_after_a_doubted_size_answers_the_question_in_front(tooled: Driver) -> None:
    tooled.run(*STRING)
    assert tooled.say("/size rail_depth 10").kind == "doubted"
    tooled.run("1/2")
    assert tooled.saved.table(Size) == ()
    assert [r.typed for r in tooled.saved.table(Reading)] == ["1/2"]


def test_a_size_that_would_push_another_out_is_the_one_refused(tooled: Driver) -> None:
    tooled.run("/size rail_depth 90 mm", "/size rail_thickness 6 mm", "/size rail_flange 20 mm!")
    for line in ("/size rail_depth 12 mm!", "/size rail_flange 5 mm!"):
        assert tooled.say(line).kind == "refused"
    assert [z.typed for z in tooled.saved.table(Size)] == ["90 mm", "6 mm", "20 mm"]


def test_a_tape_that_is_told_to_start_otherwise_says_what_becomes_of_what_was_read(
    driver: Driver,
) -> None:
    driver.run(*BEGUN, "/go Which tape?", "o", "e", "/go widths", READ, "26 1/2")
    driver.run("/go Where does the tape start?")
    assert says(driver.say("m").says, "1 reading so far … stays as it was read then … /strike")


def test_nothing_is_said_of_readings_where_there_are_none(driver: Driver) -> None:
    driver.run(*BEGUN, "/go Which tape?", "o", "e", "/go Which tape?", "o")
    assert "stays as it was read" not in driver.say("m").says
