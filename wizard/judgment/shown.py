"""What findings and history show, as named conditions that content/signs.toml gives a weight."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wizard.judgment import shown_plan as plan
from wizard.judgment import shown_string as string
from wizard.judgment.facts import CORNERS, Shown, Told, beyond
from wizard.survey.record import Survey

OFF_MM = 5.0
"""A pulley nearer to the middle is no sign (this project's own figure)."""


def _pulleys(facts: Told) -> Iterator[Shown]:
    off = {w: j for w, j in facts.of("hint").items() if beyond(j, OFF_MM)}
    if off:
        yield Shown("pulley-off", tuple(j.finding.id for j in off.values()))
    answer = facts.survey.answer_to
    if "pulley" in off and answer("history/knocked") == "yes" and answer("history/pulley") == "yes":
        zones = CORNERS.get(answer("history/where"), ())
        yield Shown("pulley-moved", (off["pulley"].finding.id, "history/pulley"), zones)


def _fitted(facts: Told) -> Iterator[Shown]:
    if is_fitted(facts.survey):
        yield Shown("fitted-to-it", ("history/fitted",))


def is_fitted(survey: Survey) -> bool:
    """Whether hood and doors were fitted to the frame as it is, or shut evenly on it without being
    known not to.

    Not where anything happened to it since it was measured last: what is there now may be younger
    than the fitting.
    """
    if any(
        survey.answer_to(f"since-last-time/{asked}") not in quiet for asked, quiet in QUIET.items()
    ):
        return False
    if survey.answer_to("history/fitted") == "yes":
        return True
    even = all(survey.answer_to(f"history/{part}") == "yes" for part in ("hood-fits", "doors-fit"))
    return even and survey.answer_to("history/fitted") != "no"


QUIET = {"happened": ("", "nothing"), "corrected": ("", "no")}
"""Answers of the page `since last time` that leave the frame as it was."""

FINDERS: tuple[Callable[[Told], Iterator[Shown]], ...] = (
    string.sags,
    string.one_rail,
    string.kinks,
    string.crowns,
    plan.boxes,
    plan.lengths,
    plan.bowed,
    plan.twists,
    plan.horns,
    _pulleys,
    _fitted,
)


def shown(facts: Told) -> tuple[Shown, ...]:
    """Every condition that the findings and the history bear out."""
    return tuple(s for find in FINDERS for s in find(facts))
