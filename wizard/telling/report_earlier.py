"""The surveys that came before the one a report is of, as whoever reads the files hands them over."""

from __future__ import annotations

from dataclasses import dataclass

from wizard.survey.record import Survey


@dataclass(frozen=True, slots=True)
class Earlier:
    """What is known of the same frame from before."""

    surveys: tuple[Survey, ...] = ()
    """Those that the survey follows, the oldest first, each with its id."""
    missing: tuple[str, ...] = ()
    """One sentence for each that could not be had, and why."""


NOTHING = Earlier()
"""A first survey."""
