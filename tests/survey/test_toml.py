"""Survey to text and back: the whole text once, then the value; what is unknown is kept, what is
wrong is named.
"""

import tomllib
from dataclasses import replace
from datetime import datetime

import pytest

from tests.survey.asking import one_sentence
from wizard import __version__
from wizard.survey.file import written
from wizard.survey.record import Survey
from wizard.survey.rows import (
    NEVER,
    TABLES,
    Ack,
    Answer,
    Doubt,
    Look,
    Reading,
    Skip,
    State,
    Tool,
    Verdict,
)
from wizard.survey.toml import Unreadable, from_toml, to_toml

pytestmark = pytest.mark.quick

AT = datetime(2026, 4, 11, 9, 12, 0)
WHOLE = Survey(
    id="bramble-2026-04-11",
    car="Bramble, two-seat tourer",
    started=AT,
    unit="in",
    follows="bramble-2025-04-02",
    rows={
        "state": (State(id="s2", at=AT, by="owner", engine="in", body="loosened"),),
        "tool": (
            Tool(id="t4", at=AT, by="owner", kind="tape", name="steel tape", extra={"class": "II"}),
        ),
        "answer": (
            Answer(
                id="a1", at=AT, by="owner", prompt="state/engine", answer="in", keeps="state.engine"
            ),
        ),
        "reading": (
            Reading(
                id="r5",
                at=AT,
                by="owner",
                struck="hook caught",
                prompt="p/q",
                typed="91 1/8",
                tool="t4",
            ),
            Reading(
                id="r6", at=AT, by="mentor", prompt="p/q", typed="7' 7 1/8\"", tool="t4", state="s2"
            ),
        ),
        "look": (
            Look(
                id="k7",
                at=AT,
                by="owner",
                prompt="rail-tops/left",
                seen="bare",
                answer="crack",
                state="s2",
            ),
        ),
        "skip": (Skip(id="p8", at=AT, by="owner", prompt="x/y", why="tank in the way"),),
        "doubt": (
            Doubt(id="d9", at=AT, by="owner", reading="r6", text="That is 1 in off.", kept="asked"),
        ),
        "ack": (Ack(id="c3", at=AT, by="owner", caution="string"),),
        "verdict": (
            Verdict(id="v10", at=AT, by="owner", text="Leave it.\n\nWhy\n  - it is small"),
        ),
    },
)
GOLDEN = f"""\
format = 2
program = "crosstape {__version__}"

[survey]
id = "bramble-2026-04-11"
car = "Bramble, two-seat tourer"
started = 2026-04-11 09:12:00
layout = "straight-ladder"
unit = "in"
follows = "bramble-2025-04-02"

[[state]]
id = "s2"
at = 2026-04-11 09:12:00
by = "owner"
engine = "in"
body = "loosened"

[[tool]]
id = "t4"
at = 2026-04-11 09:12:00
by = "owner"
kind = "tape"
name = "steel tape"
class = "II"

[[answer]]
id = "a1"
at = 2026-04-11 09:12:00
by = "owner"
prompt = "state/engine"
answer = "in"
keeps = "state.engine"

[[reading]]
id = "r5"
at = 2026-04-11 09:12:00
by = "owner"
struck = "hook caught"
prompt = "p/q"
typed = "91 1/8"
tool = "t4"

[[reading]]
id = "r6"
at = 2026-04-11 09:12:00
by = "mentor"
prompt = "p/q"
typed = "7' 7 1/8\\""
tool = "t4"
state = "s2"

[[look]]
id = "k7"
at = 2026-04-11 09:12:00
by = "owner"
prompt = "rail-tops/left"
seen = "bare"
answer = "crack"
state = "s2"

[[skip]]
id = "p8"
at = 2026-04-11 09:12:00
by = "owner"
prompt = "x/y"
why = "tank in the way"

[[doubt]]
id = "d9"
at = 2026-04-11 09:12:00
by = "owner"
reading = "r6"
text = "That is 1 in off."
kept = "asked"

[[ack]]
id = "c3"
at = 2026-04-11 09:12:00
by = "owner"
caution = "string"

[[verdict]]
id = "v10"
at = 2026-04-11 09:12:00
by = "owner"
text = "Leave it.\\n\\nWhy\\n  - it is small"
"""


def _back(text: str) -> Survey:
    return from_toml(tomllib.loads(text))


def test_the_whole_text_of_a_file() -> None:
    assert written(WHOLE) == GOLDEN


def test_the_text_reads_back_to_the_same_value() -> None:
    assert replace(_back(GOLDEN), program="") == WHOLE


@pytest.mark.parametrize("name", TABLES)
def test_every_table_goes_there_and_back_with_every_field(name: str) -> None:
    texts = {
        f: f"some {f}" for f in TABLES[name].__dataclass_fields__ if f not in ("id", "at", "extra")
    }
    row = TABLES[name](id="x1", at=AT, extra={"unheard": [1, 2], "of": {"deep": True}}, **texts)
    assert _back(written(Survey(rows={name: (row,)}))).rows == {name: (row,)}


STRANGE = """
format = 2
mood = "good"
marks = [ 1, 2 ]
[survey]
car = "Bramble"
weather = "dry"
[survey.light]
lamp = "low"
[[reading]]
id = "r1"
typed = "91"
hand = "left"
[[reading.look_back]]
word = "one"
[[sketch]]
id = "r1"
lines = [ [ 1, 2 ], [ 3, 4 ] ]
[elsewhere]
x = nan
y = -inf
when = 2026-04-11T09:12:00.123+02:00
"""


def test_keys_that_are_not_known_are_written_back() -> None:
    first = tomllib.loads(STRANGE)
    again = tomllib.loads(written(from_toml(first)))
    assert again["mood"] == "good"
    assert again["marks"] == [1, 2]
    assert again["survey"]["weather"] == "dry"
    assert again["survey"]["light"] == {"lamp": "low"}
    assert again["reading"] == [
        {"id": "r1", "typed": "91", "hand": "left", "look_back": [{"word": "one"}]}
    ]
    assert again["sketch"] == first["sketch"]
    assert str(again["elsewhere"]) == str(first["elsewhere"])


def test_text_once_written_is_stable() -> None:
    once = written(_back(STRANGE))
    assert written(_back(once)) == once


@pytest.mark.parametrize(
    "text", ["a\nb", "a\r\nb", "\ttab", "end\\", '"', "é ⅞ 鋼", "    four", "\n" + " " * 250 + "x"]
)
def test_any_unknown_text_is_written_back_as_it_was(text: str) -> None:
    assert _back(written(Survey(extra={"words": text}))).extra == {"words": text}


def test_an_empty_field_is_left_out_and_a_missing_time_stays_missing() -> None:
    assert to_toml(Survey(rows={"reading": (Reading(id="r1", typed="91"),)}))["reading"] == [
        {"id": "r1", "typed": "91"}
    ]
    assert _back("format = 1\n[[reading]]\nid = 'r1'").table(Reading)[0].at == NEVER


def test_rows_without_an_id_get_one_that_nothing_else_has() -> None:
    survey = _back(
        "format = 1\n[[reading]]\n[[reading]]\nid = ''\n[[reading]]\nid = 'r7'\n[[look]]\n[[look]]"
    )
    ids = [r.id for r in survey.all_rows()]
    assert len(set(ids)) == 5
    assert "" not in ids
    assert survey.new_id(Reading) not in ids


def test_figures_where_text_belongs_are_taken_as_text() -> None:
    row = _back("format = 1\n[[reading]]\nid = 17\ntyped = 25.875\nprompt = 3").table(Reading)[0]
    assert (row.id, row.typed, row.prompt) == ("17", "25.875", "3")


def test_controls_are_taken_out_of_every_text_that_is_shown() -> None:
    survey = _back(
        'format = 1\n[survey]\ncar = "Br\\u001Bamble\\u202E"\n[[verdict]]\nid = "v1"\ntext ='
        ' "a\\u0007\\n\\nb\\r"'
    )
    assert survey.car == "Bramble"
    assert survey.table(Verdict)[0].text == "a\n\nb "


def test_a_day_is_as_good_as_a_moment() -> None:
    assert _back("format = 1\n[survey]\nstarted = 2026-04-11").started == datetime(2026, 4, 11)


# Refused ------------------------------------------------------------------------------------------
# ------------


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no format number"),
        ("format = '1'", "no format number"),
        ("format = true", "no format number"),
        ("format = 1.0", "no format number"),
        ("format = nan", "no format number"),
        ("format = 0", "no format number"),
        ("format = -1", "no format number"),
        ("format = 3", "newer"),
        ("format = " + "9" * 3000, "newer"),
        ("format = 1\nsurvey = 3", "[survey]"),
        ("format = 1\n[[survey]]\ncar = 'x'", "[survey]"),
        ("format = 1\nreading = 3", "[[reading]]"),
        ("format = 1\nreading = [ 3 ]", "[[reading]]"),
        ("format = 1\n[reading]\nid = 'r1'", "[[reading]]"),
        ("format = 1\n[survey]\nunit = 'cm'", '"in" or "mm"'),
        ("format = 1\n[survey]\nunit = []", '"in" or "mm"'),
        ("format = 1\n[survey]\nunit = { a = 1 }", '"in" or "mm"'),
        ("format = 1\n[survey]\ncar = true", "[survey] car"),
        ("format = 1\n[survey]\nlayout = [ 'x' ]", "[survey] layout"),
        ("format = 1\n[survey]\nstarted = 'yesterday'", "[survey] started"),
        ("format = 1\nprogram = []", "program"),
        ("format = 1\n[[reading]]\nid = 'r1'\n[[look]]\nid = 'r1'", '"r1"'),
        (
            (
                "format = 1\n[[reading]]\nid = 'r1'\n[[reading]]\nid = 'r\\u0007'\n[[reading]]\nid"
                " = 'r1'"
            ),
            '"r1"',
        ),
        (f"format = 1\n[[reading]]\nid = '{'r' * 500}'\n[[look]]\nid = '{'r' * 500}'", "rrr"),
    ],
)
def test_what_is_no_survey_of_this_format(text: str, says: str) -> None:
    with pytest.raises(Unreadable) as refused:
        _back(text)
    assert says in str(refused.value)
    assert one_sentence(str(refused.value)), str(refused.value)


@pytest.mark.parametrize("value", ["true", "[]", "{}", "{ a = 1 }", "2026-04-11", "09:12:00"])
@pytest.mark.parametrize("name", TABLES)
def test_every_text_field_of_every_table_refuses_another_type(name: str, value: str) -> None:
    for field in TABLES[name].__dataclass_fields__:
        if field not in ("at", "extra"):
            with pytest.raises(Unreadable, match=rf"\[\[{name}\]\] row 1, {field}, should be text"):
                _back(f"format = 1\n[[{name}]]\n{field} = {value}")


@pytest.mark.parametrize("value", ["true", "[]", "{}", "'noon'", "17", "nan", "09:12:00"])
def test_a_time_that_is_none(value: str) -> None:
    with pytest.raises(Unreadable, match="row 1, at, should be a time"):
        _back(f"format = 1\n[[reading]]\nat = {value}")
