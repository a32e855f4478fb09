"""An answer's token is a name and no more: renamed in content and in the surveys together, it
changes no verdict, or the linter names it.

Where a file keeps the word for ever (the state, the unit, a tool, a kind of frame), the linter must
name the renaming. All other tokens are renamed at once, and every survey is told as before; where
one is not, each prompt is renamed alone, so that the failure names it.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import tomli_w

from tests.library.unchanged import _unchanged as _unchanged
from wizard.judgment.sight import verdict_of
from wizard.library import load_library
from wizard.library.load import read_content
from wizard.library.paths import content_dir
from wizard.library.shapes import Library, PromptTemplate, Step
from wizard.survey.file import load
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look
from wizard.telling.tell import tell_text

DAY = datetime(2026, 4, 11, 9, 0)
SAMPLES = sorted((Path(__file__).parent.parent / "sample_sessions").glob("*.toml"))
VARIED = (SAMPLES[0].stem, SAMPLES[2].stem)
"""A whole survey, and a re-check, which is asked what happened since."""
NEW = "-renamed"
Which = Callable[[str, str], bool]
"""Whether the tokens of the prompt of this step and this id are renamed."""

PROMPTS = [(s, p) for s in load_library().steps.values() for p in s.prompts if p.choices]
FREE = {
    (s.id, p.last) for s, p in PROMPTS if not p.keep and p.asks not in ("how-much", "measured-by")
}
KEPT = [(s, p, c.token) for s, p in PROMPTS if (s.id, p.last) not in FREE for c in p.choices]


def key_of(step: str, prompt: PromptTemplate | Mapping[str, Any]) -> str:
    """As a need names it."""
    each, id = (
        (prompt.get("each", ""), prompt.get("id", ""))
        if isinstance(prompt, Mapping)
        else (prompt.each, prompt.last)
    )
    return "/".join(n for n in (step, "{side}" if each == "side" else "", id) if n)


@cache
def authored() -> dict[str, Any]:
    """Every file of content that names tokens, parsed."""
    rest = (content_dir() / name for name in ("course.toml", "signs.toml"))
    files = [*(content_dir() / "steps").glob("*.toml"), *rest]
    return {str(f.relative_to(content_dir())): tomllib.loads(f.read_text("utf-8")) for f in files}


def renamed(data: Any, keys: set[str], which: Which, step: str = "") -> Any:
    """Content with the tokens of these prompts renamed wherever they are named."""
    if isinstance(data, list):
        return [renamed(one, keys, which, step) for one in data]
    if not isinstance(data, dict):
        return data
    new = {k: renamed(v, keys, which, step) for k, v in data.items()}
    if "kind" in data and "choice" in data and which(step, data.get("id", "")):
        new["choice"] = [{**c, "token": c["token"] + NEW} for c in new["choice"]]
    if "answers" in data and which(step, data.get("of", "")):
        new["answers"] = {token + NEW: words for token, words in data["answers"].items()}
    if data.get("key") in keys:
        seen = ("bare", "painted", "dirty", "not-reached", "not-sure", "not-said")
        new["any"] = [t if t in seen else t + NEW for t in data["any"]]
    if data.get("answer") in keys:
        new["tokens"] = [t + NEW for t in data["tokens"]]
    if any(which(look, "") for look in data.get("looks", ())):
        new["tokens"] = [*data["tokens"], *(t + NEW for t in data["tokens"])]
    return new


def copy_of(folder: Path, which: Which) -> Library:
    """The library with tokens renamed; the linter must find nothing in it."""
    library, faults = read_content(written(folder, which))
    assert [str(f) for f in faults] == []
    return library


def written(folder: Path, which: Which) -> Path:
    """A copy of content with tokens renamed."""
    keys = {key_of(s.id, p) for s, p in PROMPTS if which(s.id, p.last)}
    for source in content_dir().rglob("*.toml"):
        target = folder / source.relative_to(content_dir())
        target.parent.mkdir(parents=True, exist_ok=True)
        data = authored().get(str(source.relative_to(content_dir())))
        if data is None:
            target.write_bytes(source.read_bytes())
        else:
            target.write_text(tomli_w.dumps(renamed(data, keys, which, source.stem)), "utf-8")
    return folder


@pytest.fixture(scope="module")
def unchanged(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of content as it is: whoever changes a file of it puts it back."""
    folder = written(tmp_path_factory.mktemp("unchanged"), lambda *_: False)
    assert read_content(folder)[1] == []
    return folder


@pytest.mark.parametrize(
    ("step", "prompt", "token"), KEPT, ids=[f"{s.id}/{p.last}/{t}" for s, p, t in KEPT]
)
def test_the_linter_names_what_files_keep(
    unchanged: Path, step: Step, prompt: PromptTemplate, token: str
) -> None:
    path = unchanged / "steps" / f"{step.id}.toml"
    before = path.read_text("utf-8")
    data = tomllib.loads(before)
    for one in data["prompt"]:
        for choice in one.get("choice", ()) if one.get("id", "") == prompt.last else ():
            choice["token"] += NEW if choice["token"] == token else ""
    path.write_text(tomli_w.dumps(data), "utf-8")
    faults = [str(f) for f in read_content(unchanged)[1]]
    path.write_text(before, "utf-8")
    assert any(f"'{token}{NEW}'" in f for f in faults), faults


@cache
def surveys() -> dict[str, Survey]:
    """The samples, and each with every prompt answered by its first answer, by its second, ..."""
    found = {}
    for path in SAMPLES:
        survey = load(path)
        found[path.stem] = survey
        varied = range(max(len(p.choices) for _, p in PROMPTS)) if path.stem in VARIED else ()
        for nth in varied:
            for stops in (False, True):
                found[f"{path.stem} {nth} {stops}"] = answered(survey, nth, stops=stops)
    return found


def prompts_of(survey: Survey) -> dict[str, Prompt]:
    return _prompts(survey.layout)


@cache
def _prompts(layout: str) -> dict[str, Prompt]:
    library = load_library()
    steps = library.steps.values()
    return {p.id: p for s in steps for p in expand(s, library.layouts[layout], library.tools)}


def answered(survey: Survey, nth: int, *, stops: bool) -> Survey:
    """Every free prompt answered anew by its nth answer; stops: also where that is a stop sign."""
    for prompt in prompts_of(survey).values():
        choices = [c for c in prompt.choices if stops or not c.stop]
        if not choices or prompt.keep or prompt.id.startswith("about-the-car/"):
            continue
        token = choices[nth % len(choices)].token
        for look in survey.looks_at(prompt.id):
            survey = survey.with_struck(look.id, "another answer")
        if prompt.kind.looks:
            seen = "painted" if nth % 3 == 2 else "bare"
            row = Look(id=survey.new_id(Look), prompt=prompt.id, seen=seen, answer=token)
            survey = survey.with_row(row)
        else:
            row2 = Answer(id=survey.new_id(Answer), prompt=prompt.id, answer=token)
            survey = survey.with_row(row2)
    return survey


def answers_renamed(survey: Survey, which: Which) -> Survey:
    """The survey as the renamed content would have written it."""
    prompts = prompts_of(survey)
    for row in (*survey.table(Look), *survey.table(Answer)):
        prompt = prompts.get(row.prompt)
        last = row.prompt.rpartition("/")[2] if prompt and not prompt.kind.looks else ""
        tokens = {c.token for c in prompt.choices} if prompt else set()
        ids = {p.last for s, p in PROMPTS if prompt and s.id == prompt.step}
        name = last if last in ids else row.prompt.rpartition("/")[2]
        name = name if name in ids else ""
        if prompt and row.answer in tokens and which(prompt.step, name):
            survey = survey.with_replaced(replace(row, answer=row.answer + NEW))
    return survey


def told(survey: Survey, library: Library) -> tuple[object, ...]:
    """All that a verdict says, and its words."""
    v = verdict_of(survey, library, DAY)
    looks = [[s.look.id for s in seen] for seen in (v.stops, v.loose, v.seen)]
    voices = [(one.id, [s.look.id for s in one.seen]) for one in v.voices]
    causes = {c: (x.answer, [e.sign.id for e in x.signs]) for c, x in v.causes.conclusions.items()}
    foretold = [(p.id, p.said, p.outcome) for p in v.foretold]
    judged = [(j.finding.id, j.finding.value, j.bands) for j in v.judged]
    said = (v.action, v.held, v.numbers, v.lacking, looks, voices, causes, foretold, judged)
    return (*said, v.not_seen, v.unseen, tell_text(survey, library, DAY, whole=True))


def changed(folder: Path, which: Which, names: Iterable[str]) -> list[str]:
    """Those of the surveys that are told otherwise under renamed tokens."""
    library, before = copy_of(folder, which), load_library()
    tried = {name: surveys()[name] for name in names}
    return [
        name
        for name, survey in tried.items()
        if told(survey, before) != told(answers_renamed(survey, which), library)
    ]


def test_every_other_token_may_be_renamed(tmp_path: Path) -> None:
    found = changed(tmp_path / "all", lambda *at: at in FREE, surveys())
    culprits = [
        at
        for at in (sorted(FREE) if found else ())
        if changed(tmp_path / "-".join(at), _only(at), found[:3])
    ]
    assert (found, culprits) == ([], [])


def _only(wanted: tuple[str, str]) -> Which:
    return lambda *at: at == wanted


def test_every_token_was_tried() -> None:
    tried = {(s.id, p.last, t) for s, p, t in KEPT}
    for survey in surveys().values():
        prompts = prompts_of(survey)
        for row in (*survey.standing(Look), *survey.standing(Answer)):
            if prompt := prompts.get(row.prompt):
                tried |= {(prompt.step, i, row.answer) for i in ("", row.prompt.split("/")[-1])}
    layouts = {load(path).layout for path in SAMPLES}
    kinds = [load_library().layouts[y] for y in layouts]
    asked = {(s.id, a.kind.id, a.last) for s, _ in PROMPTS for y in kinds for a in expand(s, y)}
    there = [(s, p) for s, p in PROMPTS if (s.id, p.kind.id, p.last) in asked]
    missed = [(s.id, p.last, c.token) for s, p in there for c in p.choices]
    assert [at for at in missed if at not in tried] == []
