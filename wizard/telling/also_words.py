"""What is asked only once it is called for: what there is, what it takes, and what calls for it."""

from __future__ import annotations

from wizard.library.shapes import Also, Library
from wizard.library.templates import fits
from wizard.survey.guide import called_for, layout_of
from wizard.survey.prompts import calling
from wizard.survey.record import Survey
from wizard.telling.quantity_names import cap
from wizard.telling.text import wrap

HEAD = (
    "These pages are not for every car, so you are not asked for them. Type /also and a name to call"
    " for one, like /also {id}; /undo takes it back."
)
NONE = "There is nothing more to ask of this kind of frame."


def also_of(survey: Survey, library: Library) -> tuple[Also, ...]:
    """What can be called for on this kind of frame."""
    return tuple(a for a in library.also.values() if _minutes(a, survey, library))


def _minutes(also: Also, survey: Survey, library: Library) -> int:
    """Of all its pages, the first time; 0 where this kind of frame has none of them."""
    layout = layout_of(survey, library)
    steps = (s for s in library.steps.values() if s.called == also.id and fits(s, layout))
    return sum(s.minutes for s in steps)


def more_line(survey: Survey, library: Library) -> str:
    """What more could be asked of this car, by name; empty where there is no more."""
    names = [a.name for a in also_of(survey, library) if not called_for(survey, a.call)]
    return f"Asked only if you call for it: {'; '.join(names)}. /also says more." if names else ""


def also_text(survey: Survey, library: Library) -> str:
    """All that can be called for, each with its minutes, and what has called for it already."""
    there = also_of(survey, library)
    if not there:
        return NONE
    lines = wrap(HEAD.format(id=there[0].id))
    for also in there:
        head = f"{also.id}: {also.name}, {_minutes(also, survey, library)} min. {also.says}"
        said = f"{head} {_called(also, survey)}".strip()
        lines += ["", *wrap(said, 76, "  ", "    ")]
    return "\n".join(lines)


def _called(also: Also, survey: Survey) -> str:
    """Why it is asked already; else what would call for it by itself."""
    if why := [n.instead for n in calling(survey, also.call)]:
        return f"You are asked for it, {why[0]}."
    if called_for(survey, also.call):
        return "You have called for it."
    return f"{cap(words)}." if (words := called_by(also)) else ""


def called_by(also: Also) -> str:
    """What would call for it by itself; empty where nothing does."""
    reasons = list(dict.fromkeys(n.instead for n in also.when))
    return f"an answer can call for it too ({', or '.join(reasons)})" if reasons else ""
