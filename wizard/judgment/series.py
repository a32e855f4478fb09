"""A row of surveys of one frame: the last against the one before and against the first, and the
trend through all.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

from wizard.judgment.change import Change, Comparison, Once, compared, row_of
from wizard.judgment.correction import sprung_back, was_corrected
from wizard.judgment.driven import distances
from wizard.judgment.trend import Trend, days, trends
from wizard.library.shapes import Library
from wizard.survey.record import Survey
from wizard.survey.rows import NEVER


@dataclass(frozen=True, slots=True)
class Series:
    """Two surveys or more of one frame, held against each other."""

    row: tuple[Once, ...]
    """The oldest first."""
    comparisons: tuple[Comparison, ...]
    """The last against the one before it, and where there are more against the first."""
    by_days: tuple[Trend, ...]
    by_km: tuple[Trend, ...]
    """Empty where nobody said how far it was driven each time."""
    start: int
    """The survey from which the trend counts: the one after the last correction, else the first."""
    sprung: tuple[tuple[Change, Change], ...]
    """What a correction moved and what has gone back since, with the two changes of each."""

    @property
    def km(self) -> float | None:
        """km driven from the first survey to the last; None where nobody said."""
        found = distances(self.surveys)
        return found[-1] if found else None

    @property
    def surveys(self) -> tuple[Survey, ...]:
        """The surveys, the oldest first."""
        return tuple(o.survey for o in self.row)


def same_frame(a: Survey, b: Survey) -> bool:
    """Whether two surveys are of one frame: one follows the other, or the cars are called the same.

    A file whose car was lost is taken to be of the frame it is held against.
    """
    if (a.id and b.follows == a.id) or (b.id and a.follows == b.id):
        return True
    names = [s.car.split(",")[0].strip().casefold() for s in (a, b)]
    return names[0] == names[1] or not all(names)


def in_order(surveys: Sequence[Survey]) -> tuple[Survey, ...]:
    """The oldest first, where all have their day; else in the order given."""
    if any(s.started == NEVER for s in surveys):
        return tuple(surveys)
    ordered = sorted(surveys, key=lambda s: s.started.replace(tzinfo=None))
    days = groupby(ordered, key=lambda s: s.started.date())
    return tuple(survey for _, day in days for survey in _followed_first(list(day)))


def _followed_first(left: list[Survey]) -> Iterator[Survey]:
    """Surveys of one day: one that another follows comes before it, however they are named."""
    while left:
        ids = {s.id for s in left if s.id}
        first = next((s for s in left if s.follows not in ids - {s.id}), left[0])
        left.remove(first)
        yield first


def series(surveys: Sequence[Survey], library: Library) -> Series:
    """Surveys of one frame in their order, compared. Raises ValueError for fewer than two."""
    if len(surveys) < 2:
        raise ValueError("two surveys are needed to compare")
    row = row_of(surveys, library)
    comparisons = [compared(row[-2], row[-1], library)]
    if len(row) > 2:
        comparisons.append(compared(row[0], row[-1], library))
    start = _since_correction(surveys, library)
    since = row[start:]
    km = distances([o.survey for o in since])
    return Series(
        row,
        tuple(comparisons),
        trends(since, days(since), library) if _bear_a_line(since) else (),
        trends(since, km, library) if km and len(since) > 2 else (),
        start,
        _sprung(row, start, library),
    )


def _since_correction(surveys: Sequence[Survey], library: Library) -> int:
    """The survey that was the first after the last correction; the first of all where there was
    none.
    """
    corrected = (n for n, s in enumerate(surveys) if n and was_corrected(s, library))
    return max(corrected, default=0)


def _bear_a_line(row: Sequence[Once]) -> bool:
    """Whether the surveys have their day, each of them, and three days or more among them."""
    days = {o.survey.started for o in row}
    return NEVER not in days and len(days) > 2


def _sprung(row: Sequence[Once], start: int, library: Library) -> tuple[tuple[Change, Change], ...]:
    """Asked of the last survey where a correction lies one survey back or more."""
    if not 0 < start < len(row) - 1:
        return ()
    return sprung_back(
        compared(row[start - 1], row[start], library), compared(row[start], row[-1], library)
    )
