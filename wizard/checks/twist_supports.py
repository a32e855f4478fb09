"""Which of the level's readings belong together, where the frame was read on one set of supports
and then on another.

Source: geometry. Two supports can bend a frame two ways, so their mean is the shape of neither;
three points cannot twist a bare frame and therefore come before all others. Under anything with
weight on it they can: a battery, a column or a tank to one side twists an open frame there by
millimeters (computed, rough), so they count like four stands.
"""

from __future__ import annotations

from collections.abc import Mapping

from wizard.library.places import PlaceId, PromptId, StepId, asked_of, step_of
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

THREE = "three-points"
LOADED = "three-points-loaded"
"""Three points under anything but a bare frame: one more way to stand that settles nothing."""
ENOUGH = 2
"""Places of the rails from which a twist can be told at all."""


def is_bare(state: State) -> bool:
    """Whether nothing but the frame stands there: no engine and no body.

    What is not known is taken to be on it.
    """
    return state.engine == "out" and state.body == "off"


def footing(state: State) -> str:
    """What it stands on in a state: its supports, but LOADED for three points under more than the
    bare frame.
    """
    return LOADED if state.supports == THREE and not is_bare(state) else state.supports


def supports_under(row: Reading, survey: Survey) -> str:
    """What the frame stood on while a reading was taken; empty where that is not known."""
    return footing(survey.state_of(row.state)) if row.state else ""


def all_supports(survey: Survey, level: StepId) -> tuple[str, ...]:
    """Every known set of supports on which the level was read, the latest first.

    level: the page of its readings.
    """
    rows = [r for prompt, at in survey.read().items() if step_of(prompt) == level for r in at]
    known = {footing(survey.state_of(id)) for id in {r.state for r in rows} if id} - {""}
    if len(known) < 2:
        return tuple(known)
    ordered = (r for r in reversed(survey.standing(Reading)) if step_of(r.prompt) == level)
    return tuple(dict.fromkeys(s for r in ordered if (s := supports_under(r, survey))))


def on_one_support(
    found: Mapping[PromptId, tuple[Reading, ...]],
    survey: Survey,
    level: StepId,
    horns: frozenset[PlaceId],
    asked: str = "",
) -> Mapping[PromptId, tuple[Reading, ...]]:
    """Readings by prompt without those of the level that were taken on other supports than the ones
    that decide.

    level: the page of its readings; horns: ids of the level's places that are no place of the rails; asked: the supports wanted
    instead, where the level was read on more than one. A reading whose supports are not known
    stays.
    """
    known = all_supports(survey, level)
    if len(known) < 2:
        return found
    of_level = {prompt: rows for prompt, rows in found.items() if step_of(prompt) == level}
    on = {"", asked or _deciding(of_level, known, survey, horns)}
    kept = {
        prompt: tuple(r for r in rows if supports_under(r, survey) in on)
        if prompt in of_level
        else rows
        for prompt, rows in found.items()
    }
    return {prompt: rows for prompt, rows in kept.items() if rows}


def _deciding(
    found: Mapping[PromptId, tuple[Reading, ...]],
    known: tuple[str, ...],
    survey: Survey,
    horns: frozenset[PlaceId],
) -> str:
    """The bare frame on three points, else the latest; but before either one with places enough to
    tell a twist.
    """
    places: dict[str, set[PlaceId]] = {s: set() for s in known}
    for prompt, rows in found.items():
        place = asked_of(prompt).item
        if place not in horns:
            for row in rows:
                places.setdefault(supports_under(row, survey), set()).add(place)
    ordered = sorted(known, key=lambda s: s != THREE)
    return next((s for s in ordered if len(places[s]) >= ENOUGH), known[0])
