"""Whole surveys of frames that their owners set up: what the page takes, every other page can ask, and
what is the matter with such a frame is told.

The frames and the hands are those of tests/bench/sentences, which share nothing with the program's
own model.
"""

from __future__ import annotations

import hashlib
import json
import random
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from unittest import mock

import pytest

from tests.bench import entries
from tests.bench.sentences import faults, frame, hands, story
from tests.bench.sentences.frame import Frame
from tests.bench.sentences.story import STANDING
from tests.bench.sentences.walk import BEGUN
from tests.sitting.own_frame import PAGE, typed
from wizard.checks.run import findings_of
from wizard.command import main
from wizard.judgment.sight import sight_of, verdict_of
from wizard.library import load_library
from wizard.library.places import StepId
from wizard.library.set_up import MOST, SPANS, contradiction, taken, wanted
from wizard.library.shapes import Layout
from wizard.model.bent import Bent
from wizard.model.frame import Frame as ModelFrame
from wizard.model.readings import prompts_of, survey_on
from wizard.readings.refused import Refused
from wizard.sitting.model_desk import ModelDesk, handle
from wizard.survey.answer import answer
from wizard.survey.built_frame import built, faults_of, layout_in, layout_text
from wizard.survey.file import save
from wizard.survey.guide import next_ask, pages
from wizard.survey.own_frame import base_of, missing, said_of
from wizard.survey.record import Survey
from wizard.survey.rows import OwnFrame
from wizard.telling.step_drawing import drawing_for
from wizard.telling.tell import tell_text

LIBRARY = load_library()
DAY = datetime(2026, 4, 12)
OWN = "own"
PAGES = ("about-the-car", "what-to-bring", PAGE)


# Set up without a face ----------------------------------------------------------------------------


def said_on(lines: Callable[[str], str], unit: str = "i") -> Survey:
    """A survey whose page of the frame was answered; what is refused is typed anew, up to a hundred
    times.
    """
    survey, ask = Survey(id="own", started=BEGUN, unit="in"), None
    before = {"car": "Bramble", "unit": unit, "layout": "n", "course": "w", "by": "o", "ready": "r"}
    while (ask := next_ask(survey, LIBRARY, BEGUN, ask)) and ask.prompt.step in PAGES:
        name = ask.prompt.name
        for _ in range(100):
            said = before.get(name) or lines(name)
            after = answer(survey, ask.prompt, said, at=BEGUN, by="owner")
            if isinstance(after, Survey):
                break
        assert isinstance(after, Survey), (ask.prompt.id, said, after)
        survey = after
    return survey


def any_line(rng: random.Random) -> Callable[[str], str]:
    """What anybody may type, also at the edge of what is taken."""

    reached = [0.0]

    def line(name: str) -> str:
        key = f"frame.{name}"
        if name.startswith("behind"):
            if name.endswith("-2"):
                reached[:] = [0.0]
            step = rng.choice((240, 250, 251, rng.uniform(250, 1100)))
            reached.append(min(reached[-1] + step, 6000))
            return f"{reached[-1]:.0f} mm"
        if key in SPANS:
            span = SPANS[key]
            within = rng.uniform(span.low, span.high)
            x = rng.choice(
                (within, within, rng.triangular(span.low, span.high), span.low, span.high)
            )
            way = f" {span.signs[x < 0]}" if span.signs else ""
            return f"{abs(x):.0f} mm{way}"
        if name.startswith("name"):
            kind = rng.choice(("rivet", "hole", "bolt", "edge"))
            return f"{rng.choice(('cowl', 'A1', 'été', 'x' * 10, 'door {0}'))} {name}, {kind}"
        letters = {"pairs": "tfvs", "heights": "yn", "rails": "oc", "joints": "rw", "horns": "yn"}
        return rng.choice(letters[name])

    return line


@cache
def drawn_frames(number: int) -> tuple[Survey, ...]:
    """So many own frames, each set up by somebody else."""
    return tuple(said_on(any_line(random.Random(f"own frame {n}"))) for n in range(number))


PROMPTS = LIBRARY.steps[StepId(PAGE)].prompts


def said_by(rng: random.Random) -> dict[str, str]:
    """What the page takes of somebody, by key, as the record keeps it."""
    line, said = any_line(rng), dict[str, str]()
    tokens = {p.keep: {c.letter: c.token for c in p.choices} for p in PROMPTS}
    for _ in range(5000):
        key = next((k for k in wanted(said) if k not in said), "")
        if not key:
            return said
        typed_here = line(key.removeprefix("frame."))
        if tokens[key]:
            said[key] = tokens[key][typed_here]
            continue
        try:
            kept = taken(key, typed_here, "in")
        except Refused:
            continue
        if not contradiction({**said, key: kept}, key, "in"):
            said[key] = kept
    raise AssertionError(said)


def test_whatever_the_page_takes_is_a_layout_that_the_linter_takes() -> None:
    template, counts, horned = LIBRARY.own, set(), 0
    assert template
    for number in range(100):
        said = said_by(random.Random(f"said {number}"))
        layout = built(template, said, "in")
        assert faults_of(layout, LIBRARY) == [], said
        there = [p for p in layout.places if not p.horns]
        counts.add(len(there))
        horned += len(layout.places) > len(there)
        assert [p.x for p in layout.places] == sorted(p.x for p in layout.places)
        assert len(layout.stations) == 5
        assert layout_in(layout_text(layout), LIBRARY) == layout, "the same out of a file"
    assert counts == {3, 4, 5, 6}
    assert 20 < horned < 80


def test_the_guide_asks_every_page_of_it() -> None:
    for survey in drawn_frames(6):
        assert not missing(survey, LIBRARY), said_of(survey)
        assert base_of(survey, LIBRARY) is not LIBRARY.own
        asked = {p.step.id for p in pages(survey, LIBRARY, DAY) if p.prompts}
        assert {"widths", "own-sides", "box-diagonals", "sag-loaded", "level"} <= asked


def test_such_a_frame_is_measured_by_the_model_and_found_straight_or_bent() -> None:
    for survey in drawn_frames(6):
        layout = replace(base_of(survey, LIBRARY), id=OWN)
        for slip in (0.0, 8.0):
            bent = ModelFrame(layout, Bent(diamond=slip))
            read = survey_on(bent, prompts_of(bent, LIBRARY))
            row = OwnFrame(id="y900", layout=OWN, text=layout_text(layout))
            read = read.with_row(row)
            found = {f.id: f for f in findings_of(read, LIBRARY)}
            assert found["rail-shift/whole"].number.value == pytest.approx(slip, abs=0.3)
            assert verdict_of(read, LIBRARY, DAY).judged


def test_every_question_of_such_a_frame_is_drawn() -> None:
    for survey in drawn_frames(2):
        for page in pages(survey, LIBRARY, DAY):
            for prompt in page.prompts:
                drawing = drawing_for(survey, LIBRARY, page.step, prompt, 76, 8, "blocks")
                assert drawing.lines or prompt.kind.acknowledges, prompt.id
                assert "not on this drawing" not in drawing.words, prompt.id


def test_the_rule_by_which_a_layout_is_made_stays() -> None:
    """A survey keeps what was said and no layout: were the rule another one, its readings would be of
    other places. Whoever has to change it makes a new one beside it.
    """
    template = LIBRARY.own
    assert template
    layout = built(template, said_of(said_on(lambda name: typed()[f"{PAGE}/{name}"])), "in")
    ids = [(s.id, round(s.x, 1), s.repeats) for s in layout.stations]
    assert ids == [
        ("from-the-block-1", 279.4, 1),
        ("mount", 609.6, 2),
        ("pair-2", 965.2, 1),
        ("from-the-block-2", 1270.0, 1),
        ("center", 1574.8, 1),
    ]
    assert [(b.id, b.front, b.rear, b.role) for b in layout.boxes] == [
        ("whole", "front", "rear", ""),
        ("front-box", "front", "pair-2", ""),
        ("box-2", "pair-2", "center", "part"),
        ("rear-box", "center", "rear", ""),
        ("horns", "tip", "front", ""),
    ]
    assert [(v.id, v.role, v.repeats) for v in layout.levels] == [
        ("horns", "", 1),
        ("front", "", 1),
        ("center", "", 1),
        ("rear", "", 1),
    ]
    assert [p.role for p in layout.places] == ["", "", "rail", "", ""]
    assert MOST == 6
    pinned = hashlib.sha256()
    for number in range(40):
        of = built(template, said_by(random.Random(f"pinned {number}")), ("in", "mm")[number % 2])
        bare = replace(of, name="", about="", source="")
        pinned.update(layout_text(bare).encode())
    assert pinned.hexdigest()[:16] == RULE


RULE = "ecd4f17477898df4"
"""Of forty frames, in both units."""


# By hand ------------------------------------------------------------------------------------------


def own_layout() -> Layout:
    """That of tests/sitting/own_frame.py."""
    return base_of(said_on(lambda name: typed()[f"{PAGE}/{name}"]), LIBRARY)


@cache
def surveyed(kind: str) -> tuple[Survey, Frame]:
    """A whole survey of such a frame, straight or with one fault of that kind, line by line."""
    data: Mapping[str, object] = tomllib.loads(layout_text(own_layout()))
    with mock.patch.object(frame, "authored", return_value=data):
        for number in range(1000):
            rng = random.Random(f"own frame {kind} {number}")
            made = faults.drawn(rng, OWN)
            tale = story.told_of(made, rng)
            alone = [f.kind for f in made.faults] == ([kind] if kind else [])
            if alone and not tale.seen and all(_is_large(f) for f in made.faults):
                break
        car = hands.bench(made, hands.REFERENCE, rng)
        said = {**STANDING, **entries.TOGETHER, **tale.answers, **typed()}
        said |= {"about-the-car/unit": "i", "about-the-car/layout": "n"}
        begun = Survey(id="own", started=BEGUN)
        survey, count = entries._typed(begun, BEGUN, LIBRARY, said, car)
    assert count.entries <= (160 if not kind else 180)
    return survey, made


def _is_large(fault: frame.Fault) -> bool:
    return abs(fault.size) >= max(faults.SIZES[fault.kind])


def headline(survey: Survey) -> str:
    return " ".join(tell_text(survey, LIBRARY, DAY).split("\n\n")[1].split())


def test_a_straight_one_is_told_straight() -> None:
    survey, _ = surveyed("")
    assert headline(survey).startswith("Nothing to put right on what was seen and measured.")
    assert not verdict_of(survey, LIBRARY, DAY).lacking


def test_a_slipped_rail_is_told_with_its_side() -> None:
    survey, made = surveyed("diamond")
    way = "right" if made.faults[0].size > 0 else "left"
    said = headline(survey)
    assert re.search(rf"{way} rail ([\d /]+ in )?back", said, re.IGNORECASE), said
    assert "put right" in said


def test_it_is_reported_compared_and_bent(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    straight, slipped = surveyed("")[0], surveyed("diamond")[0]
    later = replace(slipped, id="later", started=BEGUN + timedelta(days=200))
    old, new = tmp_path / "own.toml", tmp_path / "later.toml"
    save(old, straight)
    save(new, later)
    assert main(["tell", str(old), "--mentor"]) == 0
    assert "{" not in capsys.readouterr().out
    assert main(["tell", str(new), "--json"]) == 0
    found = {f["id"]: f for f in json.loads(capsys.readouterr().out)["findings"]}
    assert abs(found["rail-shift/box-2"]["value"]) > 5
    assert main(["compare", str(old), str(new)]) == 0
    assert "whole frame" in capsys.readouterr().out.lower()
    for ending in ("html", "md", "txt", "csv"):
        out = tmp_path / f"report.{ending}"
        assert main(["report", str(new), "-o", str(out)]) == 0
        assert "cowl" in out.read_text(encoding="utf-8") or ending == "csv"
    desk = ModelDesk(LIBRARY, straight)
    assert handle(desk, "diamond 6 mm").kind == "taken"
    assert sight_of(straight, LIBRARY).layout.places[2].name == "cowl"


# Changed by whoever sent it -----------------------------------------------------------------------

NUMBERS = (
    "0",
    "-1",
    "1e308",
    "-0.0",
    "3",
    "249.9",
    "1500.1",
    "99999",
    "true",
    '"x"',
    "[]",
    "1e-300",
)


def changed(text: str, rng: random.Random) -> str:
    """A layout's text with one thing in it otherwise: a number, a word, a line twice or gone."""
    lines = text.splitlines()
    n = rng.randrange(len(lines))
    how = rng.randrange(4)
    if how == 0:
        numbers = [k for k, line in enumerate(lines) if re.search(r"-?\d+\.\d+", line)]
        n = rng.choice(numbers)
        lines[n] = re.sub(r"-?\d+\.\d+", rng.choice(NUMBERS), lines[n], count=1)
    elif how == 1:
        words = re.findall(r'"([a-z-]+)"', text)
        lines[n] = re.sub(r'"[a-z-]+"', f'"{rng.choice(words)}"', lines[n], count=1)
    elif how == 2:
        del lines[n]
    else:
        lines.insert(n, lines[n])
    return "\n".join(lines)


def measured(layout: Layout) -> None:
    """A survey of such a frame as the model reads it, told."""
    bent = ModelFrame(layout, Bent(diamond=4.0))
    read = survey_on(bent, prompts_of(bent, LIBRARY))
    read = read.with_row(OwnFrame(id="y900", layout=layout.id, text=layout_text(layout)))
    assert verdict_of(read, LIBRARY, DAY).judged


def test_a_layout_changed_at_random_is_refused_or_can_be_measured() -> None:
    text = layout_text(replace(own_layout(), id="theirs"))
    held = 0
    for number in range(MUTATIONS):
        found = layout_in(changed(text, random.Random(number)), LIBRARY)
        if isinstance(found, Layout) and number % 5 == 0:
            measured(found)
        held += isinstance(found, Layout)
    assert 0.1 * MUTATIONS < held < 0.7 * MUTATIONS


MUTATIONS = 100
