"""A frame without rails: no title, question, answer, sheet or report names one, and what somebody typed stays."""

from __future__ import annotations

import re
from datetime import datetime
from functools import cache

import pytest

from tests.recipes.carried_out import said
from wizard.judgment.blind import Bench
from wizard.library import load_library
from wizard.library.templates import fits
from wizard.model.bent import Bent
from wizard.model.readings import survey_on
from wizard.survey.prompts import Prompt, Questions
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Remark
from wizard.telling.report import Source, report_of
from wizard.telling.tell import tell_text
from wizard.telling.text import text_of

WITHOUT = ("cruciform", "backbone")
NOON = datetime(2026, 4, 11, 12, 0)
RAIL = re.compile(r"\brails?\b", re.IGNORECASE)
TYPED = "the left rail was mended by my uncle"


@cache
def questions(layout: str) -> Questions:
    library = load_library()
    return Questions(library.layouts[layout], library)


def _said(prompt: Prompt) -> list[str]:
    if prompt.keep == "survey.layout":  # the other kinds have theirs
        return []
    words = [w for c in prompt.choices for w in (c.words, c.named)]
    return [prompt.ask, prompt.short, prompt.about, *words]


@pytest.mark.parametrize("layout", WITHOUT)
def test_no_title_question_or_answer_names_a_rail(layout: str) -> None:
    asked = questions(layout)
    steps = [s for s in asked.steps.values() if fits(s, asked.layout)]
    texts = [t for s in steps for t in (s.title, s.at, s.joint, s.caveat)]
    texts += [t for s in steps for p in asked.of(s) for t in _said(p)]
    texts += [g.name for s in steps for g in s.gathers]
    assert [t for t in texts if RAIL.search(t)] == []
    # Nothing reads twice of the same: `the sides of the sides`.
    assert [
        t
        for t in texts
        if re.search(r"\bside of the (left |right )?side\b|sides of the sides", t, re.I)
    ] == []
    titles = [s.title for s in steps]
    assert len(set(titles)) == len(titles)
    assert max(map(len, titles)) <= 31


def test_what_stands_otherwise_is_what_was_asked_for() -> None:
    asked = questions("cruciform")
    assert asked.steps["left-rail"].title == "Left side, from below"
    assert asked.steps["rail-sides"].title == "The walls of box and arms"
    by_id = {str(p.id): p for p in asked.of(asked.steps["spring-perches"])}
    assert by_id["spring-perches/left"].ask == "left arm to its spring perch"


def test_a_frame_with_rails_keeps_the_very_pages_of_the_content() -> None:
    asked, library = questions("straight-ladder"), load_library()
    traits = {*asked.layout.traits}
    plain = [s for s in library.steps.values() if traits.isdisjoint([w.trait for w in s.worded])]
    assert len(plain) > 40
    assert [s.id for s in plain if asked.steps[s.id] is not s] == []


def _bent(layout: str) -> Survey:
    library = load_library()
    bench = Bench(library.layouts[layout], library)
    stands = Bent(engine="weight-off", supports="stands-under-axles")
    frame = bench.frame(bench.bend(("diamond 8", "sag left 8", "mash left 7"), stands))
    survey = survey_on(frame, bench.prompts)
    seen = (("rail-sides/left", "kink"), ("bracket-rivets/right", "bent-bracket"))
    for n, (prompt, answer) in enumerate(seen, start=900):
        look = Look(id=f"k{n}", at=NOON, prompt=prompt, seen="bare", answer=answer)
        survey = survey.with_row(look)
    return survey.with_row(Remark(id="m990", at=NOON, prompt="rail-sides/left", text=TYPED))


@pytest.mark.parametrize("layout", WITHOUT)
def test_answer_and_report_name_none_but_what_somebody_typed(layout: str) -> None:
    survey, library = _bent(layout), load_library()
    for text in (
        tell_text(survey, library, NOON, whole=True),
        text_of(report_of(survey, library, NOON, Source("bent.toml", "0" * 64))),
    ):
        flat = " ".join(text.split())
        assert TYPED in flat.replace("The left rail", "the left rail")
        rest = re.sub(TYPED, "", flat, flags=re.IGNORECASE)
        assert [m.group() for m in re.finditer(r".{30}\brails?\b.{20}", rest, re.I)] == []
        assert "side" in rest


@pytest.mark.parametrize("layout", WITHOUT)
def test_the_sheet_names_one_only_in_its_cautions_and_in_the_list_of_kinds(layout: str) -> None:
    library = load_library()
    cautions = " ".join(line for c in library.cautions.values() for line in c.lines)
    kinds = " ".join(
        f"{c.letter} {c.words}"
        for s in library.steps.values()
        for p in s.prompts
        for c in p.choices
    )
    sheet = " ".join(said("sheet", "--layout", layout).split())
    found = [m.group() for m in re.finditer(r"(?:\S+ ){2}\brails?\b", sheet, re.I)]
    allowed = " ".join((cautions + " " + kinds).split())
    assert [f for f in found if f not in allowed and f.split(" ", 1)[1] not in allowed] == []
