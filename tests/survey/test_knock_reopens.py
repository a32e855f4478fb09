"""A knock between two surveys: the looks of that corner are open again, whatever the short list says.

Common practice, no published source: after a known knock a tradesman looks once more at the rail's
side, the horn, the crossmember and its rivets, the spring's hanger and the axle's end there.
"""

from __future__ import annotations

from datetime import datetime

import pytest

from tests.checks.surveys import library
from wizard.library.paths import samples_dir
from wizard.survey.file import load
from wizard.survey.follow import following
from wizard.survey.guide import pages
from wizard.survey.record import Survey
from wizard.survey.rows import Answer

AT = datetime(2026, 10, 10, 9, 30)
ALONG = ("rail-sides", "body-mounts", "bracket-rivets", "odd-parts")
FRONT = (
    *("horn-welds", "front-crossmember-rivets", "front-crossmember-cracks"),
    *("front-springs", "steering-mount"),
)
REAR = ("rear-crossmember", "rear-springs")


def again(happened: str, where: str = "", steps: tuple[str, ...] = ("level/rear",)) -> Survey:
    """A re-check that is to level the rear end and no more, and what happened since."""
    made = following(load(samples_dir() / "bramble-2026-04-11.toml"), library(), AT, steps)
    for prompt, word in (("happened", happened), ("where", where)):
        if word:
            row = Answer(
                id=made.new_id(Answer), at=AT, prompt=f"since-last-time/{prompt}", answer=word
            )
            made = made.with_row(row)
    return made


def looks(made: Survey) -> set[str]:
    """The places that it asks to be looked at."""
    asked = (p for page in pages(made, library(), AT) for p in page.prompts)
    return {p.id for p in asked if p.kind.looks and p.item in ("left", "right")}


@pytest.mark.parametrize(
    ("where", "side", "steps"),
    [
        ("left-front", "left", (*ALONG, *FRONT)),
        ("right-front", "right", (*ALONG, *FRONT)),
        ("left-rear", "left", (*ALONG, *REAR)),
        ("right-rear", "right", (*ALONG, *REAR)),
    ],
)
def test_the_looks_of_the_corner_that_was_hit_are_asked_again(
    where: str, side: str, steps: tuple[str, ...]
) -> None:
    new = looks(again("knock", where)) - looks(again("nothing"))
    assert new == {f"{step}/{side}" for step in steps}


def test_where_nobody_knows_the_corner_every_corner_is_looked_at() -> None:
    every = {f"{step}/{s}" for step in (*ALONG, *FRONT, *REAR) for s in ("left", "right")}
    assert every <= looks(again("knock", "not-known"))
    assert every <= looks(again("knock"))


@pytest.mark.parametrize("happened", ["nothing", "rough", "lifted"])
def test_what_is_no_knock_opens_no_look(happened: str) -> None:
    assert looks(again(happened, "left-front")) == looks(again(""))
