"""Surveys written before the ids had one spelling open as ever, and every row still belongs to its
prompt.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from wizard.library import load_library
from wizard.survey.file import load, save
from wizard.survey.format_one import from_format_one, respelled
from wizard.survey.guide import layout_of
from wizard.survey.prompts import expand
from wizard.survey.rows import Answer, Look, Reading, State, Tool

OLD = sorted((Path(__file__).parent / "format_one").glob("*.toml"))
LEFT = {"recheck/steps"}
"""Answers that belong to no page."""


@pytest.mark.parametrize("path", OLD, ids=lambda path: path.stem)
def test_every_row_belongs_to_a_prompt_of_today(path: Path) -> None:
    survey, library = load(path), load_library()
    known = {
        p.id: p
        for s in library.steps.values()
        for p in expand(s, layout_of(survey, library), library.tools)
    }
    for kind in (Reading, Look, Answer):
        rows = survey.standing(kind)
        assert rows
        assert {r.prompt for r in rows if r.prompt not in known and "then" not in r.extra} <= LEFT
    for row in (
        r for r in survey.standing(Answer) if r.prompt in known and known[r.prompt].choices
    ):
        assert row.answer in {"-", "recheck", *(c.token for c in known[row.prompt].choices)}, row


@pytest.mark.parametrize("path", OLD, ids=lambda path: path.stem)
def test_tools_and_state_come_over(path: Path) -> None:
    survey = load(path)
    assert {t.kind for t in survey.standing(Tool)} <= {
        "tape",
        "ruler",
        "string",
        "level",
        "bar",
        "caliper",
    }
    assert all(s.tires for s in survey.standing(State))
    assert not any("tyres" in s.extra for s in survey.standing(State))


def test_what_a_person_typed_is_not_respelled(tmp_path: Path) -> None:
    text = (
        OLD[0]
        .read_text(encoding="utf-8")
        .replace('car = "Bramble, two-seat tourer"', 'car = "Centre tyres"')
    )
    path = tmp_path / "old.toml"
    path.write_text(text, encoding="utf-8")
    assert load(path).car == "Centre tyres"


def test_it_is_written_back_as_format_two_and_reads_the_same(tmp_path: Path) -> None:
    survey = load(OLD[0])
    save(tmp_path / "new.toml", survey)
    assert (tmp_path / "new.toml").read_text(encoding="utf-8").startswith("format = 2\n")
    again = load(tmp_path / "new.toml")
    assert again.rows == survey.rows


def test_an_id_of_today_stays_as_it_is() -> None:
    ids = [
        p.id
        for s in load_library().steps.values()
        for p in expand(s, next(iter(load_library().layouts.values())))
    ]
    assert [id for id in ids if respelled(id) != id] == []


def test_the_short_list_names_steps_and_an_answer_is_a_word_of_its_own() -> None:
    """The list of a re-check is ids with blanks between; `center` as an answer is one of its page."""
    rows = [
        {"prompt": "recheck/steps", "answer": "your-hand sag-unloaded/left-centre tyres"},
        {"prompt": "tools/which", "answer": "rule-of-thumb"},
    ]
    short, other = from_format_one({"answer": rows})["answer"]
    assert short["answer"] == "your-hand sag-unloaded/left-center tires"
    assert other["answer"] == "rule-of-thumb"
