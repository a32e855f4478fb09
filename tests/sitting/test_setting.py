"""Figures of the person's own: a tool's, a size of this frame, a limit."""

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from wizard.survey.rows import OwnLimit, Reading, Size, Tool

TOOLS = ("/go tools", "o", "m", "s", "h", "c", "h")
STRING = ("/go sag-loaded", READ)


@pytest.fixture
def tooled(driver: Driver) -> Driver:
    return driver.run(*BEGUN, *TOOLS)


def test_a_tools_figure_before_any_reading_goes_into_its_row(tooled: Driver) -> None:
    tooled.run("/tool tape class I")
    assert [t.extra["class"] for t in tooled.saved.table(Tool) if t.kind == "tape"] == ["I"]


def test_readings_keep_the_tool_as_it_was(tooled: Driver) -> None:
    tooled.run(*STRING, "1/2", "/tool rule division 1/64 in", "5/8")
    tools = {t.id: t.extra["division"] for t in tooled.saved.table(Tool) if t.kind == "rule"}
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
    assert (reply.kind, reply.says) == ("refused", "Choose a tape first, at the step Your tools (/go tools).")


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("/size rail_depth 4 in", "rail_depth is 101.6 mm for this frame."),
        ("/size engine_mass_kg 180", "engine_mass_kg is 180 kg for this frame."),
        ("/size front_axle_x 5 in forward", "front_axle_x is -127 mm for this frame."),
    ],
)
def test_a_size_of_this_frame(tooled: Driver, line: str, says: str) -> None:
    assert tooled.say(line).says == says
    assert len(tooled.saved.table(Size)) == 1


@pytest.mark.parametrize("line", ["/size", "/size rail_depth", "/size colour 4", "/size rail_depth thick"])
def test_a_size_that_is_none(tooled: Driver, line: str) -> None:
    assert tooled.say(line).kind == "refused"
    assert tooled.saved.table(Size) == ()


@pytest.mark.parametrize(
    ("line", "upto", "source"),
    [
        ("/limit twist watch 3 mm shop manual", "3 mm", "owner's figure: shop manual"),
        ("/limit sag-unloaded leave 1/4 in the manual, page 3", "1/4 in", "owner's figure: the manual, page 3"),
        ("/limit twist watch 10 % a guess", "10 %", "owner's figure: a guess"),
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
