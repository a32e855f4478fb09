"""Bramble's two re-checks: each comes out of its answers file, line by line, and tells what is true
of the frame.

After a change of steps or words: python -m tests.bench.frame_samples, then python -m
tests.bench.recheck_samples.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.bench.frame_bramble import BRAMBLE
from tests.bench.frame_samples import SAMPLES, SCRIPTS, tools_of
from tests.bench.frame_story import Story
from tests.bench.frame_truths import expected
from tests.bench.recheck_samples import begun, played
from tests.bench.recheck_stories import AGAIN, HARD, SEASON
from tests.checks.surveys import library
from wizard.judgment.change import Comparison, compare
from wizard.sitting.commands import handle
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER, Row, Verdict

each = pytest.mark.parametrize(
    ("follows", "story"), AGAIN, ids=lambda x: x if isinstance(x, str) else x.script
)


def rows(survey: Survey) -> list[Row]:
    """Every row but the verdict, without its time: a word bettered is no other survey."""
    return [replace(r, at=NEVER) for r in survey.all_rows() if not isinstance(r, Verdict)]


@each
def test_the_answers_make_the_sample(follows: str, story: Story, tmp_path: Path) -> None:
    sitting, clock = begun(story, follows, library(), tmp_path)
    for line in (SCRIPTS / f"{story.script}.txt").read_text(encoding="utf-8").splitlines():
        clock.line(sitting)
        reply = handle(sitting, line)
        assert not reply.stops_burst, (line, reply.says)
    assert sitting.ask is None
    kept = load(SAMPLES / f"{story.id}.toml")
    assert rows(load(tmp_path / f"{story.id}.toml")) == rows(kept)
    assert kept.follows == follows


@each
def test_a_story_still_makes_its_answers(follows: str, story: Story, tmp_path: Path) -> None:
    lines = played(story, follows, library(), tmp_path)
    assert lines == (SCRIPTS / f"{story.script}.txt").read_text(encoding="utf-8").splitlines()


def against(old: str, new: str) -> Comparison:
    return compare(load(SAMPLES / f"{old}.toml"), load(SAMPLES / f"{new}.toml"), library())


@pytest.mark.parametrize(
    ("old", "new"),
    [(BRAMBLE, SEASON), (SEASON, HARD), (BRAMBLE, HARD)],
    ids=["season", "hard", "both"],
)
def test_every_change_holds_the_true_one_within_its_give_or_take(old: Story, new: Story) -> None:
    known = 0
    for c in against(old.id, new.id).changes:
        before, after = (expected(s.truth, tools_of(s)[1], c.new.id) for s in (old, new))
        if before is not None and after is not None:
            known += 1
            # Half as much again as the half width: of so many figures one in twenty lies beyond
            # that itself.
            assert abs(c.number.value - (after - before)) < 1.5 * c.half_width, c.new.id
    assert known >= 8  # the short list's: one shift, six sags, the twist


def test_nothing_moved_in_the_first_season_and_the_left_mount_in_the_second() -> None:
    assert against(BRAMBLE.id, SEASON.id).of("changed") == ()
    moved = {c.new.id for c in against(SEASON.id, HARD.id).of("changed")}
    assert {"sag-loaded/engine-mount/left", "rail-shift/whole"} <= moved
    assert "sag-loaded/engine-mount/right" not in moved
