"""What is no part of the frame that the rest hangs on: open, it leaves the verdict on the frame alone."""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import stories, survey, verdict
from wizard.telling.answer_words import headline_of
from wizard.telling.verdict_words import sections

HORN = ["horn", "difference", 4.5, 1.6]
BOW = ["sway", "center", 4.5, 1.6]


def story(*findings: list[Any], **other: Any) -> dict[str, Any]:
    return {**stories()["quiet-frame"], "findings": list(findings), **other}


@pytest.mark.parametrize(
    ("findings", "action", "aside"),
    [
        ([HORN], "leave", 1),
        ([BOW], "open", 0),
        ([HORN, BOW], "open", 0),
        ([["horn", "difference", 8.0, 0.6]], "put-right", 0),
        ([["horn", "difference", 5.4, 0.9]], "open", 0),  # bent it is; by how much is open
    ],
)
def test_only_a_horn_stands_aside_and_only_while_it_may_be_sound(
    findings: list[list[Any]], action: str, aside: int
) -> None:
    found = verdict(story(*findings))
    assert (found.action, len(found.aside)) == (action, aside)


def test_what_is_settled_comes_first_then_what_is_not_and_how_little_it_may_matter() -> None:
    found = verdict(story(HORN))
    said = headline_of(found, survey(story(HORN)), library())
    assert said.startswith("Nothing to put right")
    assert said.index("Nothing to put right") < said.index("Only the horns are still open")
    parts = {p.id: p for p in sections(found, survey(story(HORN)), library())}
    todo = " ".join(parts["to-do"].lines)
    assert "The horns may be out by up to 5/16 in." in todo
    assert "not in the frame" in todo


def test_a_look_that_speaks_still_holds_it_open() -> None:
    look = [["horn-welds", "left", "", "bare", "re-welded"]]
    found = verdict(story(HORN, looks=look))
    assert (found.action, found.held, found.aside) == ("open", "seen", ())


def high(*extra: list[Any], stations: int = 5) -> dict[str, Any]:
    """Both rails read with the weight, one station of the left one perhaps high."""
    names = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")[-stations:]
    rows = [["sag-loaded", f"{n}/{s}", 0.2, 0.5] for n in names for s in ("left", "right")]
    rows = [r for r in rows if r[1] != "center/left"]
    return story(*rows, ["sag-loaded", "center/left", -1.5, 1.2], *extra)


def test_no_station_alone_makes_a_crown_nor_leaves_one_open() -> None:
    assert verdict(high()).action == "leave"
    assert verdict(high()).open == ()


def test_a_station_is_no_higher_than_all_of_its_rail_leaves_open() -> None:
    """The rail may stand 2.5 mm high, which asks for nothing; one of its gaps alone left 3.4 open."""
    names = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")
    depths = (-0.2, -1.0, -1.5, -1.5, -0.5)
    rows = [["sag-loaded", f"{n}/left", d, 1.1] for n, d in zip(names, depths, strict=True)]
    rows += [["sag-loaded", f"{n}/right", 0.2, 0.5] for n in names]
    assert verdict(story(*rows)).action in ("leave", "watch")
    higher = [[*r[:2], 1.7 * r[2], r[3]] if r[1].endswith("left") else r for r in rows]
    assert verdict(story(*higher)).action == "open"


def test_a_station_stays_open_where_the_rail_stands_high_or_was_read_at_too_few() -> None:
    crown = ["crown", "left", -2.5, 0.5, "center", "loaded", "counts"]
    assert verdict(high(crown)).action == "open"
    assert verdict(high(stations=2)).action == "open"
    grave = ["sag-loaded", "center/left", -4.5, 0.4]
    rows = [r for r in high()["findings"] if r[1] != "center/left"]
    assert verdict(story(*rows, grave)).action == "put-right"
