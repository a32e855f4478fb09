"""Marks: what code reads and content lacks, and the reverse, is named with its remedy."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from tests.checks.surveys import library
from tests.library.defects import says
from wizard.checks.run import check_faults
from wizard.library import marks
from wizard.library.load import read_content
from wizard.library.paths import content_dir

ROOT = Path(__file__).parent.parent.parent / "wizard"
TOPS, HISTORY, RIVETS = "rail-tops", "history", "center-crossmember-rivets"
DEFECTS = {
    # defect: (page, what stood there, what stands there now, the fault)
    "mark of a page unknown": ("paint-cracks", '["again"]', '["agian"]', "did you mean 'again'?"),
    "mark of a page gone": ("horn-welds", '"horn", ', "", "nothing has the mark 'horn'"),
    "mark of an answer unknown": (
        TOPS,
        '["calipered"]',
        '["calliper"]',
        "did you mean 'calipered'",
    ),
    "mark of an answer gone": (
        "rail-sides",
        ', marks = ["jack"]',
        "",
        "nothing has the mark 'jack' … write it",
    ),
    "reading unknown": ("level", 'reads = "slopes"', 'reads = "slope"', "did you mean 'slopes'?"),
    "reading gone": (
        "level",
        'reads = "slopes"\n',
        "",
        "nothing has the mark 'slopes', which a rule",
    ),
    "mark of one page on another": (
        "widths",
        'marks = ["widths"]',
        'marks = ["widths", "rail-lengths"]',
        "own-sides.toml: marks: 'rail-lengths' stands on 'widths' too; leave",
    ),
    "reading of one page on another": (
        "widths",
        'marks = ["widths"]',
        'marks = ["widths"]\nreads = "slopes"',
        "'slopes' stands on … too; leave it on one",
    ),
    "prompt that every survey knows": (
        "about-the-car",
        'id = "course"',
        'id = "length"',
        "about-the-car.toml: prompt.id: 'about-the-car/length' … 'about-the-car/course'",
    ),
    "push test that every verdict knows": (
        "set-supports",
        'id = "push"',
        'id = "shove"',
        "push test … 'set-supports/push' … call",
    ),
    "voice unknown": (TOPS, 'speaks = "pits"', 'speaks = "pit"', "did you mean 'pits'?"),
    "nothing found by nobody": (
        TOPS,
        ", nothing = true",
        "",
        "choice.nothing: is not said by just",
    ),
    "nothing found twice": (
        TOPS,
        'words = "a crack"',
        'words = "a crack", nothing = true',
        "choice.nothing: … just one … nothing = true",
    ),
    "loose without a joint": (
        RIVETS,
        'joint = "the center crossmember"\n',
        "",
        "does not belong to a joint",
    ),
    "stop and loose": (
        RIVETS,
        "stop = true",
        "stop = true, loose = true",
        "choice[crack].stop: … loose … speaks … one",
    ),
    "question unknown": (HISTORY, 'asks = "knocked"', 'asks = "knoked"', "did you mean 'knocked'?"),
    "question gone": (HISTORY, 'asks = "fitted-to-it"\n', "", "nothing asks 'fitted-to-it'"),
    "question twice": (HISTORY, 'asks = "doors-fit"', 'asks = "hood-fits"', "is asked 2 times"),
    "meaning unknown": (HISTORY, 'says = "side"', 'says = "sides"', "did you mean 'side'?"),
    "meaning gone": (
        HISTORY,
        'nobody altered them", says = "no"',
        'nobody altered them"',
        "no answer to 'fitted-to-it' says 'no', which",
    ),
    "meaning without a question": (
        TOPS,
        'words = "a crack"',
        'words = "a crack", says = "yes"',
        "choice[crack].says: … no question … asks … take it out",
    ),
    "word of the state": (
        "state",
        'token = "loosened"',
        'token = "loose"',
        "'loose' … state.body … 'loosened'",
    ),
    "word of the state gone": (
        "state",
        '{ letter = "s", token = "some"',
        '{ letter = "s", token = "full"',
        "no answer keeps 'some' as state.fuel; offer it as an answer",
    ),
    "need on an answer that is none": (
        "rail-sides",
        'any = ["jack-or-chain-mark",',
        'any = ["jack-mark",',
        "needs.any: 'jack-mark' … 'rail-sides/left' … did you mean",
    ),
}


@pytest.mark.parametrize("defect", DEFECTS)
def test_one_defect_is_named_with_its_remedy(tmp_path: Path, defect: str) -> None:
    step, old, new, wanted = DEFECTS[defect]
    folder = Path(shutil.copytree(content_dir(), tmp_path / "content"))
    path = folder / "steps" / f"{step}.toml"
    text = path.read_text(encoding="utf-8")
    assert old in text, "the content changed: give this test another place to break"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    faults = [str(f) for f in read_content(folder)[1]]
    assert any(says(f, wanted) for f in faults), faults


@pytest.mark.parametrize("id", [*marks.SAGS, marks.OWN_SIDES, marks.WHEELBASE])
def test_a_quantity_that_rules_speak_of_cannot_change_its_id_unnoticed(id: str) -> None:
    """The check that returns it says what it is called."""
    known = library().quantities
    renamed = {
        q.id: q for q in (replace(q, id=f"{q.id}-now") if q.id == id else q for q in known.values())
    }
    faults = [str(f) for f in check_faults(replace(library(), quantities=renamed))]
    assert any(says(f, f"quantities.toml: … returns '{id}'") for f in faults), faults


def _constants() -> dict[str, str]:
    """Names of the vocabulary, each with its word."""
    return {k: v for k, v in vars(marks).items() if k.isupper() and isinstance(v, str)}


def test_every_word_that_the_linter_asks_for_is_read_by_a_rule() -> None:
    """A mark that nothing reads is content that does nothing."""
    sources = [p.read_text("utf-8") for p in ROOT.rglob("*.py") if p.name != "marks.py"]
    code = "\n".join(sources)
    words = {*marks.OF_STEP, *marks.READS, *marks.OF_ANSWER, *marks.QUESTIONS}
    words |= {meaning for meanings in marks.QUESTIONS.values() for meaning in meanings}
    read = {word for name, word in _constants().items() if f"marks.{name}" in code}
    assert sorted(words - read - NAMED_TOGETHER) == []
    assert "marks.VOICES" in code


NAMED_TOGETHER = {*marks.QUESTIONS[marks.PIT_FACE], *marks.QUESTIONS[marks.THIRD]} | {
    *marks.QUESTIONS[marks.IN_THE_FOLD],
    *marks.BY_MOUNTING,
    marks.HOW_MUCH,
}
"""Read as they are, as the faces of a channel, the thirds of a rail, old or recent, and what a deep
place lies near; how much is asked is held by the words of a file.
"""


def test_every_mark_has_its_words() -> None:
    said = {**marks.OF_STEP, **marks.OF_ANSWER}
    assert [mark for mark, words in said.items() if not words] == []
    joints = [s.joint for s in library().steps.values() if s.joint]
    assert len(joints) == len(set(joints)) == 8
