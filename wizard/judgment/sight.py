"""One survey seen by one content: each part of it computed once, when it is first asked for.

A part hangs on nothing but the survey and the content. What hangs on the time hangs on it through
one thing alone, whether and why the car is held, and is kept by that. Of who asks nothing is kept.
"""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from wizard.frozen import cached_property
from wizard.library.places import StepId
from wizard.library.shapes import Layout, Library, Step
from wizard.survey.guide import Guide, Page, guide_of
from wizard.survey.record import Survey
from wizard.survey.standing import why_held

if TYPE_CHECKING:  # numpy only once there is something to compute
    from collections.abc import Callable

    from wizard.checks.case import Case
    from wizard.checks.finding import Finding
    from wizard.checks.plan import Plan
    from wizard.judgment.bands import Judged
    from wizard.judgment.cause import Causes
    from wizard.judgment.consequences import Prediction
    from wizard.judgment.facts import Told
    from wizard.judgment.seen import Seen
    from wizard.judgment.verdict import Verdict


BY_ROWS = ("findings", "judged", "seen")
"""Parts that hang on nothing of what was left out but on whether anything was."""


class Sight:
    """What can be told of a survey."""

    def __init__(
        self, survey: Survey, library: Library, findings: tuple[Finding, ...] | None = None
    ) -> None:
        """findings: in place of those of the checks."""
        self.survey, self.library, self._given = survey, library, findings
        self.guide: Guide = guide_of(survey, library)
        self._verdicts: dict[str, Verdict] = {}
        self._of_step: dict[StepId, tuple[Judged, ...]] = {}

    def followed_by(self, survey: Survey) -> Sight:
        """The sight of a survey that came of this one: what was read of rows is not read again, nor
        what was found judged again where nothing but more of its list was left out.
        """
        from wizard.checks.case import Case

        case = self.survey.made(self.library, Case)
        if case is not None:
            case.followed_by(survey)
        new = sight_of(survey, self.library)
        if new is not self and self.survey.reads_as(survey):
            new.__dict__.update({n: self.__dict__[n] for n in BY_ROWS if n in self.__dict__})
        return new

    @property
    def layout(self) -> Layout:
        """The kind of frame with the owner's own places."""
        return self.guide.questions.layout

    def pages(self, now: datetime) -> tuple[Page, ...]:
        """The course as it stands."""
        return self.guide.pages(now)

    def walk(self, now: datetime) -> tuple[Page, ...]:
        """The same in the order of asking, round the car by places."""
        return self.guide.walk(now)

    @cached_property
    def case(self) -> Case:
        """Every prompt's readings as one number with its doubt."""
        from wizard.checks.case import case_of

        return case_of(self.survey, self.library)

    @property
    def plan(self) -> Plan | None:
        """The plan of everything taped; None where it is too thin."""
        from wizard.checks.plan import plan_of

        return plan_of(self.case)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Every finding that the readings allow."""
        from wizard.checks.run import findings_of

        return findings_of(self.survey, self.library) if self._given is None else self._given

    @cached_property
    def judged(self) -> tuple[Judged, ...]:
        """Every finding, judged, in the survey's order."""
        from wizard.judgment.bands import judge
        from wizard.judgment.corner import settled

        alone = tuple(judge(f, self.survey, self.library) for f in self.findings)
        return settled(alone, self.layout)

    @cached_property
    def seen(self) -> tuple[Seen, ...]:
        """Every standing look."""
        from wizard.judgment.seen import looks_of

        return looks_of(self.survey, self.library)

    @cached_property
    def facts(self) -> Told:
        """The judged findings, ready to be asked what they show."""
        from wizard.judgment.facts import told

        return told(self.judged, self.survey, self.library)

    @property
    def accused(self) -> frozenset[str]:
        """Ids of the readings of which one has probably slipped."""
        from wizard.judgment.facts import accused

        return accused(self.judged)

    @cached_property
    def causes(self) -> Causes:
        """What the signs amount to."""
        from wizard.judgment.cause import weigh
        from wizard.judgment.shown import shown
        from wizard.judgment.signs import evidence_of, unmet

        seen, facts, book = self.seen, self.facts, self.library.signs
        return weigh(evidence_of(seen, facts, shown(facts), book), unmet(seen, facts, book))

    @cached_property
    def foretold(self) -> tuple[Prediction, ...]:
        """What to look at because of what was found."""
        from wizard.judgment.consequences import predictions

        return predictions(self.facts, self.causes)

    def verdict(self, now: datetime) -> Verdict:
        """What to do about the frame."""
        from wizard.judgment.verdict import verdict_from

        why = why_held(self.survey, self.library, now)
        if why not in self._verdicts:
            self._verdicts[why] = verdict_from(
                self.survey,
                self.library,
                self.judged,
                self.seen,
                self.causes,
                self.foretold,
                now,
            )
        return self._verdicts[why]

    def of_step(
        self, step: Step, results: Callable[[Survey, Library, Step], tuple[Judged, ...]]
    ) -> tuple[Judged, ...]:
        """The results of a page, as `results` finds them."""
        if step.id not in self._of_step:
            self._of_step[step.id] = results(self.survey, self.library, step)
        return self._of_step[step.id]


def sight_of(survey: Survey, library: Library) -> Sight:
    """The survey's one sight by that content."""
    return survey.once(library, Sight)


def verdict_of(survey: Survey, library: Library, today: datetime) -> Verdict:
    """The verdict over everything that was set down."""
    return sight_of(survey, library).verdict(today)
