"""The rows of a survey, one frozen class per table of the file.

Every row has an `id` that is never used again, `at`, `by` and `struck` (the reason it was taken
out, empty while it stands). What is typed is kept as typed; nothing computed is kept, but for the
verdict as shown at the time.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import field
from datetime import datetime
from typing import TYPE_CHECKING, Any

from wizard.frozen import Frozen

if TYPE_CHECKING:
    from wizard.library.places import FindingId, PartId, PlaceId, PointId, PromptId

NEVER = datetime(1, 1, 1)
"""Stands in where a file gives no time."""
UNSAID: Any = ""
"""Stands in where a file gives no id."""

SECOND = "second reader"
"""Who has read a second reader's rows: they stand beside the first reader's and never in place of
one.
"""
ANEW, AFTER_ALL = "described again", "answered after all"
"""Why a row was struck by another that came in its place; taking that one back puts it there again."""
WANTED, NO_LONGER = "all of them are wanted", "it no longer holds"
"""Why a row of readings that were not needed was struck: those readings are asked for to the last."""
CARRIED, SAME_AS = "then", "same_as"
"""Keys of a row that a re-check took over from an earlier survey: of which one, and of a tool, as
which of its tools.
"""
STRUCK = "struck"
"""Why a row stands struck whose striker gave no reason."""
HIDDEN = "hidden from the second reader"
"""Why a reading stands struck in the copy of a survey that a second reader sees. Never saved."""


class Row(Frozen):
    """What every row carries."""

    id: str
    at: datetime = NEVER
    by: str = ""
    struck: str = ""
    """Reason the row was taken out; empty while it stands."""
    extra: Mapping[str, Any] = field(default_factory=dict)
    """Keys of the file that this program does not know, kept and written back."""


class State(Row):
    """What must be equal for two readings to be compared; one row per change."""

    engine: str = ""
    """in, weight-off, out"""
    body: str = ""
    """bolted, loosened, off"""
    panels: str = ""
    supports: str = ""
    stood: str = ""
    """Where the supports stood, in the person's words."""
    tires: str = ""
    fuel: str = ""
    temperature: str = ""


FROM_A_MARK, FROM_ITS_HOOK = "started from a mark", "started at its hook"


class Tool(Row):
    """A tape, rule, string, level or bar. Its figures stay in `extra`, as the file has them."""

    kind: str = ""
    name: str = ""

    @property
    def called(self) -> str:
        """Its name; of a tape with where it was started by the last answer."""
        at_hook = self.extra.get("start") == "hook"
        return self.name.replace(FROM_A_MARK, FROM_ITS_HOOK) if at_hook else self.name


class Reading(Row):
    """One answered measurement, as typed."""

    prompt: PromptId = UNSAID
    typed: str = ""
    tool: str = ""
    state: str = ""


class Look(Row):
    """One answered visual check, with how well the place was seen."""

    prompt: PromptId = UNSAID
    seen: str = ""
    """bare, painted, dirty, not-reached"""
    answer: str = ""
    state: str = ""


class Answer(Row):
    """A choice or a note: history, set-up."""

    prompt: PromptId = UNSAID
    answer: str = ""
    keeps: str = ""
    """What else the answer sets, such as `state.engine`; empty for a plain answer."""
    standing: str = ""
    """Of a push test: engine, body and supports when it was done, as wizard/survey/standing.py
    writes them.
    """


NOTHING_TO_SAY = "nothing to say here"
"""Reason of a prompt passed over by '-'."""


class Skip(Row):
    """A prompt passed over, and why."""

    prompt: PromptId = UNSAID
    why: str = ""


class Fold(Row):
    """The rest of a list that was not read, once it could no longer change what to do."""

    prompts: str = ""
    """Ids of the prompts that it is the rest of, blanks between."""
    readings: str = ""
    """Ids of the readings that it rests on, or of the answer, blanks between: it holds as long as all of
    them stand, and no other answer was given.
    """
    settled: str = ""
    """Ids of the findings that it could not change, blanks between: it holds as long as none is open."""
    why: str = ""
    """What they show, in the words in which it was said."""


class Doubt(Row):
    """A reading kept although the rest foretold another."""

    reading: str = ""
    text: str = ""
    kept: str = ""
    """How it was kept: `asked` after the doubt was shown, `in-advance` with a `!`."""


class Ack(Row):
    """A caution acknowledged."""

    caution: str = ""
    standing: str = ""
    """Engine, body and supports when it was read, as wizard/survey/standing.py writes them."""


class Remark(Row):
    """Words or a photo number set beside a prompt."""

    prompt: PromptId = UNSAID
    text: str = ""
    photo: str = ""
    shows: str = ""
    """Which of the photos that every record needs it is (content/paper.toml); empty for none."""


class Opinion(Row):
    """A mentor's signed opinion, beside the program's verdict."""

    text: str = ""


class Guess(Row):
    """A newcomer's guess, before the result was shown."""

    prompt: PartId = UNSAID
    """What it is about: the prompt in front, or a page."""
    text: str = ""


class OwnLimit(Row):
    """An owner's or mentor's limit in place of the table's."""

    limit: str = ""
    band: str = ""
    upto: str = ""
    source: str = ""


class Size(Row):
    """A size of this frame in place of the layout's round figure."""

    name: str = ""
    typed: str = ""


class PointNote(Row):
    """A point's mark and photo described."""

    point: PointId = UNSAID
    mark: str = ""
    photo: str = ""


class CarNote(Row):
    """What a paper says of the car, such as the number on its frame, as it was typed."""

    about: str = ""
    """Which of the things that content/paper.toml asks of the car."""
    text: str = ""


class OwnPlace(Row):
    """A place that the owner added to the layout."""

    use: str = ""
    """tape (a pair of points), string (a station), level"""
    place: PlaceId = UNSAID
    """Its id, `own-` and the name."""
    name: str = ""
    kind: str = ""
    """rivet, hole, bolt, edge; empty where nothing is aimed at"""
    behind: str = ""
    """How far behind the front points, with its unit."""
    across: str = ""
    """From the left point to the right one, with its unit; empty takes the layout's width there."""


class Sister(Row):
    """The sister frame with which this one is compared: another of its make, surveyed like this
    one.
    """

    name: str = ""
    """Id of its survey."""
    car: str = ""
    day: str = ""
    edge: str = ""
    """Along which edge of the rail its string ran, as wizard/checks/edge.py says it."""
    answer: str = ""
    """What its own survey came to, in a few words."""


class SisterFigure(Row):
    """One figure of a sister frame, so that this record needs no other file."""

    sister: str = ""
    """Id of its survey."""
    finding: FindingId = UNSAID
    value: str = ""
    """In the unit of its quantity, as the doubt is."""
    u: str = ""
    """Standard uncertainty."""
    dof: str = ""
    """Degrees of freedom of that; empty for infinite."""
    engine: str = ""
    """How the sister stood when it was read; as the body and the supports, empty where not
    known.
    """
    body: str = ""
    supports: str = ""
    band: str = ""
    """What its own survey established of it; empty where nothing, or where no limit judges it."""


class OwnFrame(Row):
    """A kind of frame that an owner has set up, whole, so that the survey needs no other file."""

    layout: str = ""
    """Its id."""
    text: str = ""
    """The layout as a file under content/layouts has it."""


class Trip(Row):
    """Distance driven and incidents since the earlier survey."""

    distance: str = ""
    incidents: str = ""


class Verdict(Row):
    """The verdict as it was shown."""

    text: str = ""
    brief: str = ""
    """The same in a few words, for the list of surveys; empty in older files."""


TABLES: dict[str, type[Row]] = {
    "state": State,
    "tool": Tool,
    "answer": Answer,
    "reading": Reading,
    "look": Look,
    "skip": Skip,
    "fold": Fold,
    "doubt": Doubt,
    "ack": Ack,
    "remark": Remark,
    "opinion": Opinion,
    "guess": Guess,
    "limit": OwnLimit,
    "size": Size,
    "point": PointNote,
    "car": CarNote,
    "place": OwnPlace,
    "sister": Sister,
    "sister_figure": SisterFigure,
    "frame": OwnFrame,
    "trip": Trip,
    "verdict": Verdict,
}
"""Table name in the file, in the order they are written."""

PREFIX = {
    "state": "s",
    "tool": "t",
    "answer": "a",
    "reading": "r",
    "look": "k",
    "skip": "p",
    "fold": "f",
    "doubt": "d",
    "ack": "c",
    "remark": "m",
    "opinion": "o",
    "guess": "g",
    "limit": "l",
    "size": "z",
    "point": "q",
    "car": "n",
    "place": "w",
    "sister": "b",
    "sister_figure": "h",
    "frame": "y",
    "trip": "e",
    "verdict": "v",
}
"""First letter of a row's id; the number behind it counts over all tables, so it also tells what
came last.
"""
