"""The three sample surveys: each comes out of its answers file, line by line, and ends in the
verdict it deserves.

The cars are invented and what is true of them is known, so the results are held against the truth
as well. After a change of steps or words: python -m tests.bench.frame_samples writes both kinds of
file anew.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest

from tests.bench.frame_samples import HOME, SAMPLES, SCRIPTS, seated, tools_of, written
from tests.bench.frame_stories import BRAMBLE, MARIGOLD, OLD_POST, STORIES
from tests.bench.frame_story import Story
from tests.bench.frame_truths import expected
from wizard.judgment.sight import verdict_of
from wizard.library import load_library
from wizard.library.shapes import Library
from wizard.sitting.commands import handle
from wizard.survey.file import load
from wizard.survey.record import Survey, number_of
from wizard.survey.rows import NEVER, Ack, Answer, Row, Verdict
from wizard.telling.tell import verdict_page

each_story = pytest.mark.parametrize("story", STORIES, ids=lambda s: s.script)
OF_A_FINDING = {
    "id",
    "quantity",
    "where",
    "value",
    "u",
    "dof",
    "k",
    "unit",
    "limits",
    "bands",
    "chance_over",
    "readings",
}


@pytest.fixture(scope="module")
def library() -> Library:
    return load_library()


def sample(story: Story) -> Survey:
    return load(SAMPLES / f"{story.id}.toml")


def script(story: Story) -> list[str]:
    return (SCRIPTS / f"{story.script}.txt").read_text(encoding="utf-8").splitlines()


def answered(story: Story, library: Library, path: Path) -> tuple[Survey, int]:
    """The survey that the answers file makes, and how many of its lines belong to the first day."""
    sitting, clock = seated(story, library, path)
    first_day = 0
    for n, line in enumerate(script(story)):
        if clock.line(sitting):
            first_day = n
        reply = handle(sitting, line)
        assert not reply.stops_burst, (n + 1, line, reply.says)
    assert sitting.ask is None, f"the answers stop before {sitting.ask}"
    return load(path), first_day or len(script(story))


@pytest.fixture(scope="module")
def played(
    library: Library, tmp_path_factory: pytest.TempPathFactory
) -> Callable[[Story], tuple[Survey, int]]:
    """`answered`, once for each story."""

    @cache
    def play(name: str) -> tuple[Survey, int]:
        story = next(s for s in STORIES if s.script == name)
        return answered(story, library, tmp_path_factory.mktemp(name) / f"{story.id}.toml")

    return lambda story: play(story.script)


Played = Callable[[Story], tuple[Survey, int]]


def rows(survey: Survey, upto: int = 10**9, *, times: bool = True) -> Iterator[Row]:
    """Every row but the verdict, whose words may be bettered without a new sample."""
    for row in survey.all_rows():
        if not isinstance(row, Verdict) and number_of(row.id) <= upto:
            yield row if times else replace(row, at=NEVER)


@each_story
def test_the_answers_make_the_sample(story: Story, played: Played) -> None:
    made, _ = played(story)
    kept = sample(story)
    assert list(rows(made)) == list(rows(kept))
    assert replace(made, rows={}) == replace(kept, rows={})


@each_story
def test_one_other_answer_is_noticed(story: Story, library: Library, tmp_path: Path) -> None:
    sitting, clock = seated(story, library, tmp_path / f"{story.id}.toml")
    for line in script(story):
        clock.line(sitting)
        other = sitting.prompt is not None and sitting.prompt.id == "state/fuel"
        handle(sitting, "f" if other else line)
        if other:
            break
    kept = list(rows(sample(story)))
    changed = [r for r in rows(sitting.survey) if r not in kept]
    # The state's own row is set down afresh with every answer about it, so it is not yet the
    # sample's either.
    assert [r.answer for r in changed if isinstance(r, Answer)] == ["full"]


@each_story
def test_the_kept_verdict_is_what_the_program_says_today(story: Story, library: Library) -> None:
    survey = sample(story)
    kept = survey.standing(Verdict)[-1]
    assert kept.text == verdict_page(survey, library, kept.at), (
        "python -m tests.bench.frame_samples writes it anew"
    )


def test_a_story_still_makes_its_answers(library: Library, tmp_path: Path) -> None:
    """One of the three, the shortest: playing takes seconds."""
    assert written(OLD_POST, library, tmp_path / f"{OLD_POST.id}.toml") == script(OLD_POST)


@each_story
def test_a_pipe_makes_the_same_survey_but_for_the_times(
    story: Story, played: Played, tmp_path: Path
) -> None:
    """A pipe is read in one day, so a survey that took two is compared up to its first evening."""
    _, lines = played(story)
    path = tmp_path / f"{story.id}.toml"
    typed = "\n".join(script(story)[:lines]) + "\n"
    run = crosstape("ask", "--new", str(path), typed=typed)
    assert run.returncode == 0, run.stdout[-500:] + run.stderr
    piped = load(path)
    upto = max(number_of(r.id) for r in rows(piped))
    assert upto > 150 or lines == len(script(story))
    assert list(rows(piped, times=False)) == list(rows(sample(story), upto, times=False))


def crosstape(*args: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "wizard", *args]
    environment = {**os.environ, "PYTHONUTF8": "1"}
    return subprocess.run(
        command,
        input=typed,
        capture_output=True,
        text=True,
        encoding="utf-8",
        cwd=HOME,
        env=environment,
        check=False,
    )


def needless(survey: Survey) -> list[str]:
    """Cautions read twice by one person though nobody went away between and the car stood as it
    did.
    """
    told = sorted(survey.all_rows(), key=lambda r: number_of(r.id))
    last: dict[tuple[str, str], int] = {}
    again = []
    for n, row in enumerate(told):
        if not isinstance(row, Ack) or row.caution.startswith("hold-"):
            continue
        between = told[last.get((row.caution, row.by), 0) : n + 1]
        moved = any(isinstance(r, Answer) and r.keeps in MOVES for r in between)
        away = any(
            b.at - a.at >= timedelta(hours=2) or b.at.date() != a.at.date()
            for a, b in pairwise(between)
        )
        if (row.caution, row.by) in last and not moved and not away:
            again.append(row.caution)
        last[row.caution, row.by] = n
    return again


MOVES = ("state.engine", "state.body", "state.supports")


@each_story
def test_no_caution_is_read_twice_in_one_sitting_and_one_standing(
    story: Story, played: Played
) -> None:
    made, _ = played(story)
    assert needless(made) == []
    row = next(a for a in reversed(made.standing(Ack)) if not a.caution.startswith("hold-"))
    upto = number_of(row.id)
    then = {
        name: tuple(r for r in rows if number_of(r.id) <= upto) for name, rows in made.rows.items()
    }
    again = replace(made, rows=then).with_row(replace(row, id="c99999"))
    assert needless(again) == [row.caution]


def test_on_the_second_evening_it_is_pushed_and_everything_is_read_again(played: Played) -> None:
    made, lines = played(MARIGOLD)
    assert 0 < lines < len(script(MARIGOLD))
    for caution in ("jacking", "going-under", "string"):
        assert {a.at.day for a in made.standing(Ack) if a.caution == caution} == {2, 3}
    assert {a.at.day for a in made.standing(Answer) if a.prompt.endswith("/push")} == {2, 3}
    assert [a.at.day for a in made.standing(Ack) if a.caution == "hold-stale"] == [3]
    for story in (BRAMBLE, OLD_POST):
        assert not [a for a in played(story)[0].standing(Ack) if a.caution == "hold-stale"]


@each_story
def test_the_verdict_is_the_one_the_car_deserves(story: Story, library: Library) -> None:
    assert verdict_of(sample(story), library, datetime(2026, 7, 1)).action == story.action


def test_without_the_knock_marigold_would_have_another_verdict(
    library: Library, tmp_path: Path
) -> None:
    """The twin that must fail: the same person, the same hand, a frame that nobody hit."""
    knocked = verdict_of(sample(MARIGOLD), library, datetime(2026, 7, 1))
    assert (knocked.held, knocked.numbers) == ("joints", "put-right")
    sound = replace(
        BRAMBLE.truth,
        sizes=MARIGOLD.truth.sizes,
        left=MARIGOLD.truth.left,
        right=MARIGOLD.truth.right,
    )
    story = replace(MARIGOLD, truth=sound)
    path = tmp_path / f"{story.id}.toml"
    written(story, library, path)
    # The numbers ask for nothing; the rivet that the same person saw loose keeps the answer open.
    alone = verdict_of(load(path), library, datetime(2026, 7, 1))
    assert (alone.held, alone.action) == ("joints", "open")
    assert alone.numbers in ("leave", "watch")


@each_story
def test_every_number_holds_the_truth_within_its_give_or_take(
    story: Story, library: Library
) -> None:
    _, tools = tools_of(story)
    judged = verdict_of(sample(story), library, datetime(2026, 7, 1)).judged
    known = [
        (j, e) for j in judged if (e := expected(story.truth, tools, j.finding.id)) is not None
    ]
    out = [
        (j.finding.id, j.finding.value, e)
        for j, e in known
        if abs(j.finding.value - e) > j.half_width
    ]
    assert len(known) >= 20
    assert out == []
    assert [j for j, e in known if abs(j.finding.value + 20.0 - e) <= j.half_width] == [], (
        "a doubt of 20 mm says nothing"
    )


@each_story
def test_json_has_every_field_that_is_promised(story: Story, library: Library) -> None:
    run = crosstape("tell", "--json", str(SAMPLES / f"{story.id}.toml"))
    told = json.loads(run.stdout)
    assert told.keys() >= {"format", "survey", "findings", "causes", "verdict", "open", "not_seen"}
    assert (told["survey"], told["verdict"]["action"]) == (story.id, story.action)
    ids = {r.id for r in sample(story).all_rows()}
    for finding in told["findings"]:
        assert finding.keys() >= OF_A_FINDING
        assert set(finding["readings"]) <= ids
        assert len(finding["chance_over"]) == len(finding["limits"])
        assert all(limit.keys() == {"band", "low", "high", "source"} for limit in finding["limits"])


@pytest.mark.parametrize(("line", "at"), [("/skp no time", 3), ("about an inch", 60)])
def test_a_pipe_with_a_wrong_line_stops_there(line: str, at: int, tmp_path: Path) -> None:
    lines = script(BRAMBLE)
    run = crosstape(
        "ask",
        "--new",
        str(tmp_path / "b.toml"),
        typed="\n".join([*lines[:at], line, *lines[at:]]) + "\n",
    )
    assert run.returncode == 1
    assert "were not taken" in run.stdout
