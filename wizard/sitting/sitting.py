"""A sitting: takes one entered line at a time, saves, and knows what is asked next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from wizard.library.shapes import Library, Step
from wizard.readings.plain import clean_line
from wizard.sitting.aside import Aside, blind
from wizard.sitting.chain import earlier_of
from wizard.sitting.naming import free_id, survey_folder
from wizard.sitting.reply import Reply
from wizard.survey.answer import Doubted, Foretell, Refusal, answer
from wizard.survey.file import NotSaved, make_folder, sweep
from wizard.survey.follow import is_begun, recalled_prompts
from wizard.survey.guide import Ask, Page, asks_of, gate, is_open, next_ask, pages
from wizard.survey.kept import Elsewhere, KeptFile, busy_words, gone_words, opened
from wizard.survey.lock import Held
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.toml import Unreadable

BY_PROMPT = "about-the-car/by"
SPLIT_KINDS = ("length", "gap", "bubble", "look", "choice")
"""Kinds of prompt where `;` separates several answers; a note may hold one of its own."""


def _there(path: Path) -> bool:
    """False only for a file that is surely missing: what cannot be looked at must not be taken for a new survey."""
    try:
        path.stat()
    except FileNotFoundError:
        return False
    except OSError:
        return True
    return True


class Sitting:
    """The survey in hand, its file and the prompt in front. The one mutable thing below the faces."""

    def __init__(
        self,
        library: Library,
        *,
        path: Path | None = None,
        folder: Path | None = None,
        survey: Survey | None = None,
        must: bool = False,
        now: Callable[[], datetime] = datetime.now,
        foretell: Foretell | None = None,
    ) -> None:
        """path: the survey's file, read when it is there (raises Unreadable); must: it has to be there.

        folder: where a new one is put.
        """
        self.library, self.now, self.foretell = library, now, foretell
        self.path = path
        self.folder = folder or (path.parent if path else survey_folder())
        self.kept: KeptFile | None = None
        """The file that is written, once there is one."""
        self.busy = ""
        """One sentence while another wizard has the survey open and nothing is written here; else empty."""
        self.news = ""
        """What came of the last save beside the save itself, to be told once; mostly empty."""
        if survey is None and path and (must or _there(path)):
            self.kept, survey, busy = opened(path)
            self.busy = busy_words(path) if busy else ""
        survey = survey or Survey(started=now().replace(microsecond=0))
        if survey.layout not in library.layouts:
            named = clean_line(survey.layout, 40)
            raise Unreadable(f"The survey is for a kind of frame, {named}, that this program does not know.")
        self.survey = survey
        self.earlier = earlier_of(survey, self.folder)
        """The survey that this one follows; None where it follows none or that one is gone."""
        self.pending: Doubted | None = None
        self._doubted = ""
        self.wrote = False
        """Whether anything was saved in this sitting."""
        self.struck_now = ""
        """Id of the reading that the last command struck, which /undo puts back; empty after anything else."""
        self.before_strike: Survey | None = None
        """The survey before the last command struck something, to which /undo goes back; None after anything else."""
        self.aside = Aside()
        self.resumed = is_begun(survey)
        sweep(self.folder)
        self.ask: Ask | None = self._first()

    # What the faces ask ---------------------------------------------------------------------------------------

    @property
    def prompt(self) -> Prompt | None:
        """The prompt in front, None at the end."""
        return self.ask.prompt if self.ask else None

    @property
    def step(self) -> Step | None:
        """The step in front, None at the end."""
        return self.library.steps[self.ask.prompt.step] if self.ask else None

    @property
    def at(self) -> datetime:
        """The time that a row written now carries, to the second."""
        return self.now().replace(microsecond=0)

    @property
    def by(self) -> str:
        """Who is named in the survey as measuring."""
        return self.survey.answer_to(BY_PROMPT) or "owner"

    def pages(self) -> tuple[Page, ...]:
        """The course as it stands."""
        return pages(self.survey, self.library, self.now())

    def page(self) -> Page | None:
        """The page in front."""
        return next((p for p in self.pages() if self.step and p.step.id == self.step.id), None)

    def waits(self) -> bool:
        """Whether the prompt in front still wants an answer (it does not after going back)."""
        return self.ask is not None and is_open(self.survey, self.ask, self.now())

    # Moving ---------------------------------------------------------------------------------------------------

    def _first(self) -> Ask | None:
        """Where to go on: behind the last thing done, so that a step left for later is not forced on the person."""
        asks = [a for p in self.pages() for a in asks_of(p) if a.prompt.id not in recalled_prompts(self.survey)]
        done = [a for a in asks if not is_open(self.survey, a, self.now())]
        return next_ask(self.survey, self.library, self.now(), done[-1] if done else None)

    def forward(self) -> None:
        """On to the next open prompt."""
        self.pending = None
        self.ask = next_ask(self.survey, self.library, self.now(), self.ask)

    def back(self) -> bool:
        """To the prompt before this one; False at the very first."""
        self.pending = None
        asks = [a for p in self.pages() for a in asks_of(p) if a.prompt.kind != "ack" or a == self.ask]
        at = asks.index(self.ask) if self.ask in asks else len(asks)
        if at == 0:
            return False
        self._stand(asks[at - 1])
        return True

    def _stand(self, ask: Ask) -> None:
        """Before an ask, or before the caution that its step still wants read."""
        opens = [a for p in self.pages() for a in asks_of(p) if is_open(self.survey, a, self.now())]
        self.ask = gate(opens, ask)

    def go(self, step: str) -> bool:
        """To the first open prompt of a step, or its first; False when the step is not in the course now."""
        page = next((p for p in self.pages() if p.step.id == step and p.prompts), None)
        if page is None:
            return False
        asks = list(asks_of(page))
        self.pending = None
        self._stand(next((a for a in asks if is_open(self.survey, a, self.now())), asks[0]))
        return True

    def stand_before(self, prompt: str) -> None:
        """Before a prompt again, at its first open reading; where it has none, stay."""
        asks = [a for p in self.pages() for a in asks_of(p) if a.prompt.id == prompt]
        self.pending = None
        if asks:
            self._stand(next((a for a in asks if is_open(self.survey, a, self.now())), asks[0]))

    # Taking a line --------------------------------------------------------------------------------------------

    def enter(self, text: str) -> Reply:
        """One entered line that is not a command: an answer, several with `;`, or an empty line that keeps a doubt."""
        if self.pending and text.strip() in ("", self._doubted):
            return self._keep_doubted(self.pending)
        self.pending = None
        if self.ask is None:
            return Reply("ended", "Everything is answered. /verdict shows the result, /quit ends.")
        if ";" in text and self.ask.prompt.kind in SPLIT_KINDS:
            return self._several([part for part in text.split(";") if part.strip()] or [""])
        result = self._answer(self.survey, self.ask, text)
        if isinstance(result, Refusal):
            return Reply("refused", result.says)
        if isinstance(result, Doubted):
            self.pending, self._doubted = result, text.strip()
            return Reply("doubted", f"{result.says} Enter keeps it; or type what it is.")
        return self._keep(result)

    def _answer(self, survey: Survey, ask: Ask, text: str) -> Survey | Refusal | Doubted:
        by = self.aside.reader or survey.answer_to(BY_PROMPT) or "owner"
        foretell = self._foretell if self.foretell else None
        return answer(survey, ask.prompt, text, at=self.now(), by=by, foretell=foretell)

    def _foretell(self, survey: Survey, prompt: Prompt, typed: str) -> str:
        """What the rest foretells, from what the reader may see."""
        return self.foretell(blind(survey, self.aside), prompt, typed) if self.foretell else ""

    def _keep(self, survey: Survey) -> Reply:
        """Save and go on; when the save fails nothing moves."""
        failed = self._commit(survey)
        if failed:
            return failed
        self.forward()
        return Reply("taken") if self.ask else Reply("ended", "That was the last question.")

    def doubt(self, doubted: Doubted, typed: str) -> Reply:
        """A command's figure is doubted; typed a second time it is kept."""
        if self.pending and typed == self._doubted:
            return self._keep_doubted(doubted)
        self.pending, self._doubted = doubted, typed
        return Reply("doubted", f"{doubted.says} Enter keeps it, or ! behind it; or type what it is.")

    def _keep_doubted(self, doubted: Doubted) -> Reply:
        if not doubted.then:
            return self._keep(doubted.kept)
        return self._commit(doubted.kept) or Reply("told", doubted.then)

    def _several(self, parts: list[str]) -> Reply:
        """All of the parts are taken or none is; they end with the page, whose next was never before the eyes."""
        survey, ask, page = self.survey, self.ask, self.step
        for n, part in enumerate(parts, start=1):
            if ask is None or (page and ask.prompt.step != page.id):
                left = f"{len(parts)} answers and {n - 1} question{'s' * (n != 2)} left on this page"
                return Reply("refused", f"There are {left}; nothing was taken.")
            result = self._answer(survey, ask, part)
            if not isinstance(result, Survey):
                sure = " A ! behind it keeps it." if isinstance(result, Doubted) else ""
                where = f"Answer {n} of the line ({ask.prompt.ask})"
                return Reply("refused", f"{where}: {result.says} Nothing of the line was taken.{sure}")
            survey = result
            ask = next_ask(survey, self.library, self.now(), ask)
        failed = self._commit(survey)
        if failed:
            return failed
        self.pending, self.ask = None, ask
        return Reply("taken", f"{len(parts)} answers taken.") if ask else Reply("ended", "That was the last question.")

    def _commit(self, survey: Survey) -> Reply | None:
        """Write the survey; a failed save is a refusal and leaves everything as it was."""
        try:
            kept = self.kept or self._new_file(survey)
            survey = survey if survey.id else replace(survey, id=clean_line(kept.path.stem, 200))
            make_folder(kept.path.parent)
            kept.save(survey)
        except Elsewhere as error:
            return Reply("refused", str(error))
        except NotSaved as error:
            return Reply("refused", f"{error} Your answer was not taken; try again when it can be.")
        except OSError as error:
            return Reply("refused", f"Not saved: the folder cannot be used ({error.strerror}).")
        self.kept, self.path, self.survey, self.pending = kept, kept.path, survey, None
        self.struck_now, self.before_strike = "", None
        self.busy, self.news = "", gone_words(kept.path, kept.gone) if kept.gone else ""
        self.wrote = True
        return None

    def change(self, survey: Survey) -> Reply | None:
        """Save a survey changed by a command; a Reply only when it could not be saved."""
        return self._commit(survey)

    def _new_file(self, survey: Survey) -> KeptFile:
        """A new survey gets its file with the first thing set down, most often the car's name."""
        if self.path is not None:
            return KeptFile(self.path)
        make_folder(self.folder)
        held: set[str] = set()
        while True:
            id = free_id(survey.car, self.now(), self.folder, held)
            kept = KeptFile(self.folder / f"{id}.toml")
            try:
                kept.hold()
            except Held:  # another wizard is about to write its first answer there
                held.add(id)
                continue
            if not kept.path.exists():
                return kept

    def go_on_in_copy(self) -> Reply | None:
        """The survey in hand in a new file from here on; a Reply only when that could not be written."""
        before = self.kept, self.path
        self.kept = self.path = None
        failed = self._commit(replace(self.survey, id=""))
        if failed:
            self.kept, self.path = before
        elif before[0]:
            before[0].release()
        return failed
