"""`tell`: the verdict, every finding, and for the mentor every reading and every part of the doubt."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.checks.surveys import (
    DAY,
    add,
    bent,
    findings,
    library,
    survey_of,
    with_limit,
    with_looks,
)
from tests.telling.saying import tells
from wizard.checks.case import Case
from wizard.library.places import step_of
from wizard.survey.file import load, save
from wizard.survey.record import Survey
from wizard.survey.rows import Look, Remark, Skip
from wizard.telling.json_out import as_json
from wizard.telling.mentor import asked_at
from wizard.telling.part_words import part_words
from wizard.telling.tell import PARTS, keys_text, tell_text, with_verdict

HOSTILE = "\x1b[31mBramble\x07\u202e \u200bof\x00 the\x9b2J [bold]garage[/bold] " + "x" * 300


def tell(survey: Survey, mentor: bool = False, whole: bool = True) -> str:
    return tell_text(survey, library(), DAY, mentor=mentor, whole=whole)


def test_the_car_and_its_day_come_first_then_the_verdict() -> None:
    lines = tell(bent()).splitlines()
    assert lines[0] == "Bramble, 2026-04-11"
    tells(" ".join(lines[2:4]), "rear crossmember", " in ", "take the frame to a specialist.")


def test_a_survey_without_a_name_is_still_told() -> None:
    assert tell(Survey()).splitlines()[0] == "A survey without a name"


def test_the_mentor_sees_the_table_and_the_trail_of_every_finding() -> None:
    survey = bent()
    text = tell(survey, mentor=True)
    blocks = text.split("\nEvery finding\n")[1].split("\n  - ")
    found = list(findings(survey).values())
    assert len(blocks) == len(found)
    rows = {r.id: r for r in survey.rows["reading"]}
    for block, finding in zip(blocks, found, strict=True):
        flat = " ".join(block.split())
        assert ("not known" if finding.is_unknown else "degrees of freedom") in flat
        for part in () if finding.is_unknown else finding.number.parts:
            assert part_words(part.name) in flat, part.name
            small = abs(part.size) < finding.number.u / 20
            assert small or f"{abs(part.size):.3f}" in flat
        for id in finding.readings:
            row = rows[id]
            read = f"{asked_at(row.prompt, survey, library())}: {row.typed} ({id})"  # type: ignore[attr-defined]
            assert read in flat, (finding.id, id)
            title = library().steps[step_of(row.prompt)].title  # type: ignore[attr-defined]
            assert read.startswith(f"{title}, "), "its page by name, and not by its id"


def test_the_mentor_sees_the_limits_and_their_sources() -> None:
    text = " ".join(
        tell(with_limit(bent(), "rail-shift", "leave", "5 mm", "a sister car"), mentor=True).split()
    )
    assert "leave it: up to 3/16 in (5 mm); chance of being beyond that" in text
    assert "(limit: a sister car)." in text
    assert "leave it: up to 1/8 in (3.2 mm); chance" in text


def test_without_the_mentor_there_is_no_table() -> None:
    assert "degrees of freedom" not in tell(bent())


def test_what_decides_names_where_its_limit_comes_from() -> None:
    text = " ".join(tell(with_limit(bent(), "twist", "watch", "1/4", "my own ruling")).split())
    assert "(Limit: my own ruling.)" in text


@pytest.mark.parametrize("mentor", [False, True])
def test_lines_stay_within_eighty_columns(mentor: bool) -> None:
    survey = with_limit(
        replace(bent(), car="The long-named sedan " * 12), "twist", "leave", "1 mm", "w" * 200
    )
    survey = survey.with_row(Skip(id="p900", prompt="rail-tops/left", why="under webbing " * 30))
    assert max(map(len, tell(survey, mentor).splitlines())) <= 80


def test_nothing_from_a_file_can_drive_the_terminal(tmp_path: Path) -> None:
    survey = replace(bent(), car=HOSTILE, id=HOSTILE)
    survey = survey.with_row(Remark(id="m900", text=HOSTILE))
    survey = survey.with_row(Skip(id="p901", prompt="rail-tops/left", why=HOSTILE))
    survey = survey.with_row(
        Look(id="k902", prompt="rail-sides/left", seen=HOSTILE, answer="crack")
    )
    survey = with_limit(survey, "twist", "leave", "1 mm", HOSTILE)
    row = survey.rows["reading"][0]
    survey = survey.with_replaced(replace(row, by=HOSTILE, tool=HOSTILE))  # type: ignore[call-arg]
    save(tmp_path / "x.toml", survey)
    again = load(tmp_path / "x.toml")
    for text in (tell(again), tell(again, mentor=True), as_json(again, library(), DAY)):
        assert not re.search("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e]", text)


# Over many surveys
# ------------------------------------------------------------------------------------------------

_PROMPTS = sorted(p.id for p in Case(survey_of({}), library()).prompts.values() if p.kind.measures)
_LOOKS = [k.prompt for k in with_looks(survey_of({})).standing(Look)]


@st.composite
def surveys(draw: st.DrawFn) -> Survey:
    """Readings, looks and skips of any kind, as a file may hold them."""
    survey = with_looks(survey_of({}), share=draw(st.sampled_from((0.0, 0.4, 1.0))))
    if draw(st.booleans()):
        base = bent()
        survey = replace(base, rows={**base.rows, "look": survey.rows.get("look", ())})
    typed = st.sampled_from(
        ("2", "2 1/8", "2 1/2", "80", "91 3/8", "1/2 left", "2 right", "1/8 past", "3 short", "0")
    )
    for prompt, text in draw(
        st.dictionaries(st.sampled_from(_PROMPTS), typed, max_size=25)
    ).items():
        survey = add(survey, prompt, text)
    answers = st.sampled_from(("nothing-found", "crack", "heavy-pitting", "not-sure", "kink", ""))
    for prompt in draw(st.lists(st.sampled_from(_LOOKS), max_size=2)):
        seen = draw(st.sampled_from(("bare", "dirty", "not-reached")))
        survey = survey.with_row(
            Look(id=survey.new_id(Look), prompt=prompt, seen=seen, answer=draw(answers))
        )
    return survey


@settings(max_examples=20, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(surveys())
def test_no_survey_is_ever_called_safe_and_every_text_is_whole(survey: Survey) -> None:
    text = tell(survey, mentor=True)
    told = as_json(survey, library(), DAY)
    for words in (text, told):
        assert not re.search(r"\bsafe|roadworth|\bNaN\b|\bnan\b|\binf\b|None", words)
    assert max(map(len, text.splitlines())) <= 80
    for paragraph in re.split(r"\n(?=  - |\n|[A-Z])", tell(survey)):
        flat = " ".join(paragraph.split())
        if flat.startswith("- "):
            assert flat.endswith((".", ".)", "?")), flat


def test_the_verdict_is_kept_once_as_shown() -> None:
    survey = bent()
    sealed = with_verdict(survey, library(), DAY, "owner")
    (row,) = sealed.rows["verdict"]
    assert row.text in tell(sealed)  # type: ignore[attr-defined]
    assert with_verdict(sealed, library(), DAY, "owner") is sealed
    changed = with_verdict(add(sealed, "wheelbase/left", "103 1/2"), library(), DAY, "owner")
    assert len(changed.rows["verdict"]) == 2


def test_the_line_of_letters_parts_none_from_its_words() -> None:
    for width in (24, 60, 78, 90):
        lines = keys_text(width=width)
        assert all(len(line) <= width for line in lines)
        said = [part.strip() for line in lines for part in line.split("   ")]
        assert said == [f"{part.letter} {part.words}" for part in PARTS]
