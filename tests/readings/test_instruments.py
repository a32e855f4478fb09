"""Tool rows made into tools, and rows that cannot be."""

from fractions import Fraction as F

import pytest

from wizard.readings.instruments import Bar, Instrument, Level, Rule, StringLine, Tape, instrument
from wizard.readings.refused import Refused

SIXTEENTH = F(127, 80)


@pytest.mark.parametrize(
    ("row", "tool"),
    [
        (
            {"kind": "tape", "class": "II", "division": "1/16 in", "end": "burned"},
            Tape("II", SIXTEENTH, "burned"),
        ),
        (
            {"kind": "tape", "class": "i", "division": "0.5 mm", "end": "mark"},
            Tape("I", F(1, 2), "mark"),
        ),
        ({"kind": "tape"}, Tape("III", F(1), "hook")),
        ({"kind": "tape", "class": ""}, Tape("III", F(1), "hook")),
        ({"kind": "ruler", "division": "1/64 in"}, Rule("II", F(127, 320))),
        (
            {"kind": "string", "mass": "0.5 g/m", "pull": "30 N", "steady": "yes"},
            StringLine(0.0005, 30.0, True),
        ),
        ({"kind": "string"}, StringLine(None, None, False)),
        (
            {"kind": "level", "sensitivity": "0.5 mm/m", "length": "24 in"},
            Level(0.5, F("609.6"), None),
        ),
        ({"kind": "level", "resolution": "0.1 deg"}, Level(None, None, 0.1)),
        ({"kind": "bar", "pointer": "4 in"}, Bar(F("101.6"))),
    ],
)
def test_a_row_becomes_its_tool(row: dict[str, str], tool: Instrument) -> None:
    assert instrument(row) == tool


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ({"kind": "laser"}, "not “laser”"),
        ({}, "A tool is a tape, ruler, caliper, string, level, gauge or bar"),
        (
            {"kind": "tape", "id": "tape-1", "class": "IV"},
            "The class of “tape-1” is I, II or III, not “IV”",
        ),
        ({"kind": "tape", "end": "loop"}, "The end of “tape” is hook, mark or burned"),
        (
            {"kind": "tape", "division": "0 mm"},
            "division of “tape” must be above zero and at most 10 mm",
        ),
        ({"kind": "tape", "division": "1 in"}, "at most 10 mm"),
        (
            {"kind": "tape", "division": "nan"},
            "division of “tape” .*“nan”",
        ),
        ({"kind": "ruler", "division": "1/16"}, "type the unit after"),
        (
            {"kind": "string", "pull": "3 kg"},
            "pull of “string” .*“kg”",
        ),
        ({"kind": "string", "pull": "-30 N"}, "plus or minus"),
        ({"kind": "string", "steady": "perhaps"}, "steady of “string” is"),
        ({"kind": "level"}, "Nothing is said of “level”"),
        ({"kind": "level", "sensitivity": "0.5"}, "type the unit after"),
        ({"kind": "level", "length": "4 m"}, "at most 3000 mm"),
        ({"kind": "bar"}, "pointers of “bar” is missing"),
        ({"kind": "bar", "pointer": "2 m"}, "at most 1000 mm"),
        ({"kind": "tape", "id": "\x1b[31m", "class": "IV"}, r"The class of “\[31m”"),
    ],
)
def test_a_bad_row_is_refused_by_tool_and_field(row: dict[str, str], said: str) -> None:
    with pytest.raises(Refused, match=said):
        instrument(row)


def test_a_row_is_read_in_the_unit_of_its_survey() -> None:
    assert instrument({"kind": "tape", "division": "1/8"}, "in") == Tape("III", F("3.175"), "hook")
    assert instrument({"kind": "tape"}, "in") == Tape("III", SIXTEENTH, "hook")
    assert instrument({"kind": "bar", "pointer": "100"}, "mm") == Bar(F(100))


def test_only_the_hook_adds_its_own_error() -> None:
    assert Tape("II", F(1), "hook").from_end
    assert not Tape("II", F(1), "mark").from_end
    assert not Tape("II", F(1), "burned").from_end
