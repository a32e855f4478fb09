"""The first five lines for some twenty surveys: each read by itself must say what, where, how much
and what now.

Run from the project's folder: python -m tests.bench.answers
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from typing import NamedTuple

from tests.bench.frames import Bend
from tests.checks.surveys import library, with_looks
from tests.judgment.pairs import AGED, again, first, longer, said
from tests.judgment.remeasured import sample
from tests.judgment.remeasured import sound as sound_whole
from tests.judgment.stories import stories, survey, verdict
from tests.judgment.test_held import pushed
from tests.judgment.test_verdict import sound
from tests.judgment.test_voices import looked
from wizard.judgment.answer import Answer, answer_of, answered
from wizard.library import marks
from wizard.survey.record import Survey
from wizard.survey.rows import Answer as Said
from wizard.survey.rows import Reading
from wizard.telling.answer_words import answer_blocks, told_of
from wizard.telling.text import lines_of

DAY = datetime(2027, 6, 1)
LINES = 5
"""Lines that are read; of 76 letters, as a terminal has them."""
STORIES = (
    *(
        "quiet-frame",
        "nothing-seen",
        "all-under-paint",
        "all-under-dirt",
        "known-hit-nothing-to-see",
    ),
    *(
        "one-rail-sags",
        "deep-equal-sag",
        "equal-sag-fitted",
        "front-box-out-alone",
        "whole-diamond",
    ),
    *("hit-and-mended", "kink-alone", "loose-everywhere", "rail-shortened-and-buckled"),
    *("bent-horn-true-box", "horns-that-cannot-be-told", "twist-on-four-stands"),
    *("twist-on-three-points", "axle-not-frame", "one-deep-pit", "seam-round-a-rail"),
)
"""Stories: nothing wrong, little seen, one fault, two faults, stops."""
SAMPLES = ("marigold-2026-05-02", "old-post-2026-06-20")
DROPPED = replace(AGED, left=(*AGED.left, Bend(7.0)))
"""The left rail went down by some 7 mm."""


class Case(NamedTuple):
    """One survey, told."""

    name: str
    survey: Survey
    answer: Answer

    def lines(self) -> list[str]:
        """All of its lines."""
        return lines_of(answer_blocks(told_of(self.answer, self.survey, library())))


def cases() -> Iterator[Case]:
    """Each survey with its answer."""
    for name in STORIES:
        made = survey(stories()[name])
        yield Case(name, made, answered(verdict(stories()[name]), made, library()))
    for name in SAMPLES:
        yield _told(name, sample(name), None)
    yield _told("it rocks", pushed(sound(), "rocks"), None)
    yield _told("something moves", looked("paint-cracks/left", "fresh-paint-crack"), None)
    yield _told("a tape a whole inch off", _slipped(), None)
    yield _told("the engine leaves tomorrow", _short(), None)
    season, hard = sample("bramble-2026-10-10"), sample("bramble-2027-05-08")
    yield _told("not moved: a still season", season, sample("bramble-2026-04-11"))
    yield _told("moved: a ditch", hard, season)
    old = first()
    yield _told("moved: a rail dropped", again(old, first(DROPPED, seed=9)), old)
    yield _told("not moved: the same frame", again(old, first(seed=11)), old)
    worked = again(old, first(replace(AGED, diamond=0.5), seed=9))
    bent = first(replace(AGED, diamond=12.0))
    corrected = said(replace(worked, follows=bent.id), "since-last-time/corrected", "straightened")
    yield _told("moved: put right", corrected, bent)


def _short() -> Survey:
    """A straight frame of which a short survey asked, the string read."""
    made = sound_whole("straight-ladder")
    for row in made.standing(Reading):
        if not str(row.prompt).startswith(("string", "sag")):
            made = made.with_struck(row.id, "not asked")
    how_much = marks.CALLED[marks.HOW_MUCH]
    said = Said(id=made.new_id(Said), at=DAY, prompt=how_much, answer=marks.SHORT)
    return made.with_row(said)


def _slipped() -> Survey:
    """A straight frame of which one diagonal was read a whole inch too long, each time."""
    return with_looks(longer(first(), "long-diagonals/whole/front-left--rear-right", 25.4))


def _told(name: str, made: Survey, earlier: Survey | None) -> Case:
    return Case(name, made, answer_of(made, library(), DAY, earlier))


def main() -> None:
    """Print the first lines of each."""
    for case in cases():
        print(f"== {case.name} ({case.answer.kind})")
        print("\n".join(case.lines()[:LINES]), end="\n\n")


if __name__ == "__main__":
    main()
