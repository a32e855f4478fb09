"""`/report`: the report of the survey in hand, written beside it."""

from __future__ import annotations

from pathlib import Path

from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.file import NotSaved
from wizard.survey.toml import Unreadable

KINDS = ("html", "md", "txt", "csv")


def report(sitting: Sitting, rest: str) -> Reply:
    """`/report` writes HTML, `/report md` another kind, `/report for-a-buyer.html` under a name of its own."""
    if sitting.path is None:
        return Reply("refused", "Nothing was written down yet, so there is nothing to report.")
    from wizard.telling.papers import NotWritten, write_report  # the figures need numpy: only when asked for

    out = _target(sitting.path, rest.strip() or "html")
    try:
        write_report(sitting.path, out, sitting.library, sitting.now())
    except (NotWritten, NotSaved, Unreadable) as error:
        return Reply("refused", str(error))
    return Reply("told", f"The report is in {out}", "Written")


def _target(survey: Path, said: str) -> Path:
    """The survey's own name with that ending, or a name of its own, beside the survey unless it says where."""
    if said.lower().lstrip(".") in KINDS:
        return survey.with_suffix("." + said.lower().lstrip("."))
    return survey.parent / Path(said).expanduser()
