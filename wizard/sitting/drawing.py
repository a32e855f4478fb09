"""`/drawing`: what the drawings show, in words."""

from __future__ import annotations

from wizard.sitting.paging import may_see, results_shown
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.telling.judged_picture import picture_of
from wizard.telling.step_drawing import drawing_for

WIDTH, HEIGHT = 76, 10
"""Cells of the drawing whose words are told; the words are the same at any size."""


def drawing(sitting: Sitting, _: str) -> Reply:
    """The words of the frame's drawing and of the picture of the value, for whoever does not see
    them.
    """
    said = drawing_words(sitting)
    return (
        Reply("told", "\n\n".join(said), "What is drawn")
        if said
        else Reply("told", "Nothing is drawn here.")
    )


def drawing_words(sitting: Sitting) -> tuple[str, ...]:
    """Each drawing of the page in front in words; none where nothing is drawn."""
    if sitting.ask is None:
        return _reasons(sitting)
    return tuple(w for w in (frame_words(sitting), value_words(sitting)) if w)


def _reasons(sitting: Sitting) -> tuple[str, ...]:
    """The pictures of the verdict's strongest reasons in words."""
    from wizard.judgment.sight import verdict_of  # numpy only once there is something to compute

    survey, library = sitting.survey, sitting.library
    reasons = verdict_of(survey, library, sitting.now()).reasons
    return tuple(
        w for j in reasons if (w := picture_of(j, library, survey.unit, WIDTH, "ascii").words)
    )


def frame_words(sitting: Sitting) -> str:
    """The drawing of the frame in words."""
    if sitting.ask is None or sitting.step is None:
        return ""
    survey = may_see(sitting)
    return drawing_for(
        survey, sitting.library, sitting.step, sitting.ask.prompt, WIDTH, HEIGHT, "ascii"
    ).words


def value_words(sitting: Sitting) -> str:
    """The picture of the gravest value against its limits in words; empty while there is none."""
    results = results_shown(sitting)
    return (
        picture_of(results[0], sitting.library, sitting.survey.unit, WIDTH, "ascii").words
        if results
        else ""
    )
