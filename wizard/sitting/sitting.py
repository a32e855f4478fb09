"""A sitting: takes one entered line at a time, saves, and knows what is asked next."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from wizard.judgment.sight import Sight, sight_of
from wizard.library import marks
from wizard.library.places import NO_PROMPT, NO_STEP, PromptId, StepId, state_field
from wizard.library.shapes import SEEN, Library, Step
from wizard.readings.plain import clean_line
from wizard.sitting.aside import (
    LOOK_AGAIN,
    MENTOR,
    Aside,
    at_others,
    blind,
    his_own,
    looks_on,
)
from wizard.sitting.chain import earlier_of
from wizard.sitting.foretold import against_last_time
from wizard.sitting.naming import free_id, survey_folder
from wizard.sitting.own_frames import keep_file, offering
from wizard.sitting.reply import Reply
from wizard.survey.again import asking_again, settled
from wizard.survey.answer import Doubted, Foretell, Refusal, answer
from wizard.survey.file import NotSaved, make_folder, sweep
from wizard.survey.follow import is_begun, recalled_prompts
from wizard.survey.guide import (
    Ask,
    Page,
    Person,
    asks_of,
    front,
    guide_of,
    is_one_visit,
    is_open,
    layout_of,
    next_ask,
    steps_of,
    stop_of,
    waiting,
    wanting,
)
from wizard.survey.kept import Elsewhere, KeptFile, busy_words, gone_words, opened
from wizard.survey.lock import Held
from wizard.survey.own_frame import knows, missing
from wizard.survey.prompts import Prompt, answered
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Row
from wizard.survey.same import (
    SAME,
    By,
    at_both,
    can_keep,
    gone_of,
    kept,
    marked,
    said_then,
    said_together,
    says_both,
    says_same,
)
from wizard.survey.toml import Unreadable
from wizard.survey.walk import twin_of
from wizard.telling.enough_words import Left, with_enough
from wizard.telling.then_words import perhaps_gone, with_apart

SEEN_WELL = (*(letter for letter, word in SEEN.items() if letter != "n"), *SEEN.values())
"""What says how well a place was seen that was reached."""
HOW_TODAY = (
    "As last time? Look first, then say how well you see it today: b bare, p painted, d dirty. Or type"
    " what is there now."
)
NOT_SET_UP = (
    "Your frame is not set up yet, and every reading goes by its points: “{asked}” is open. Type"
    " /go {step} first."
)
NOT_BOTH = Refusal("Here each side has an entry of its own: type it without both.")
SAY_ANEW = Refusal("Nothing of last time stands for this: answer it again.")
Visit = tuple[StepId, int]
"""A step, and the number of the last row before the person came to its page."""


def _there(path: Path) -> bool:
    """False only for a file that is surely missing: what cannot be looked at must not be taken for
    a new survey.
    """
    try:
        path.stat()
    except FileNotFoundError:
        return False
    except OSError:
        return True
    return True


def _way_out(doubted: Doubted) -> str:
    """What to do about a doubt."""
    if doubted.third:
        return "Type what you read then: it decides. Enter alone keeps these two."
    if doubted.then_others:
        others = _the_others(doubted)
        return f"Type what it is now. Enter keeps it, and you are asked for {others} once more."
    if doubted.others:
        return (
            "Type /again to be asked for each of them once more, Enter to keep it, or what it is."
        )
    return "Press Enter to keep it, or type what it is."


def _the_others(doubted: Doubted) -> str:
    return "the other one" if len(doubted.others) == 1 else f"the other {len(doubted.others)}"


def _asked_nothing(text: str) -> Reply:
    """What is typed where no question is open: nobody may think that it was written down."""
    if text:
        return Reply(
            "refused",
            f"No question is open, so {clean_line(text, 40)} is not written down. /go and a page's"
            " name opens one.",
        )
    return Reply("ended", "Every question is answered. /verdict shows the answer, /quit stops.")


def _parts(line: str) -> list[str]:
    """The answers of a line that `;` parts; one that is empty where it holds nothing else."""
    return [part for part in line.split(";") if part.strip()] or [""]


def _lies_beyond(page: Page | None, ask: Ask, walk: tuple[Page, ...]) -> bool:
    """Whether a line begun on that page does not reach so far: a caution, or another page's."""
    there = stop_of(walk, ask.prompt)
    return ask.prompt.kind.acknowledges or bool(page and there and there.step.id != page.step.id)


STAY = {2: "Both stay", 3: "All three stay"}
"""Said of so many readings that stand; what was read before a thing had moved stands no more."""


class Sitting:
    """The survey in hand, its file and the prompt in front.

    The one mutable thing below the faces.
    """

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
        """path: the survey's file, read when it is there (raises Unreadable); must: it has to be
        there.

        folder: where a new one is put.
        """
        self.now, self.foretell = now, foretell
        self.path = path
        self.folder = folder or (path.parent if path else survey_folder())
        self.library = offering(library, self.folder)
        """The content, with the owner's own layouts to choose from beside its kinds of frame."""
        self._frame = ""
        """The text of the layout file that this sitting has written last."""
        self.kept: KeptFile | None = None
        """The file that is written, once there is one."""
        self.busy = ""
        """One sentence while another wizard has the survey open and nothing is written here; else
        empty.
        """
        self.news = ""
        """What came of the last save beside the save itself, to be told once; mostly empty."""
        if survey is None and path and (must or _there(path)):
            self.kept, survey, busy = opened(path)
            self.busy = busy_words(path) if busy else ""
        survey = survey or Survey(started=now().replace(microsecond=0))
        if not knows(survey, library):
            named = clean_line(survey.layout, 40)
            raise Unreadable(
                f"The survey is of a kind of frame, {named}, that this program does not know."
            )
        self.sight = sight_of(survey, self.library)
        """What can be told of the survey in hand; another survey brings another one."""
        self.earlier = earlier_of(survey, self.folder)
        """The survey that this one follows; None where it follows none or that one is gone."""
        self.pending: Doubted | None = None
        self._doubted = ""
        self.wrote = False
        """Whether anything was saved in this sitting."""
        self.struck_now = ""
        """Id of the reading that the last command struck, which /undo puts back; empty after
        anything else.
        """
        self.keeping: PromptId = NO_PROMPT
        """The look or the place that an empty line has just said to be as last time: how well it is
        seen today is what comes next.
        """
        self.before_strike: Survey | None = None
        """The survey before the last command struck something, to which /undo goes back; None after
        anything else.
        """
        self.striking: tuple[Row, str] | None = None
        """What the last line was about to strike, and why; an empty line now does it."""
        self.offered, self.offered_times = NO_PROMPT, 1
        """The prompt of a reading that was offered with the last answer, beyond what the course asks."""
        self.aside = Aside(mentor=looks_on(path))
        self.resumed = is_begun(survey)
        sweep(self.folder)
        self.target: Ask | None = self._first()
        """Where the person wants to go on; `ask` is what stands before it."""
        self.away: list[Ask] = []
        """Where he was before something was taken out or is measured again elsewhere, the latest last:
        once that is answered he is there again.
        """
        self.kept_away = 0
        """How many of those stay when what was to be measured again is not asked any more."""
        self.came_back = False
        """Whether the last answer led back to where he was before."""
        self._in_front: tuple[Sight, tuple[object, ...], Ask] | None = None
        """What it hangs on, and what was found to be in front: each face asks many times a line."""
        self.shown: str | None = None
        """Id of the caution that a face has shown last, empty for a page; None while no face shows
        any.
        """
        self._visit: Visit = (NO_STEP, 0)
        """The page in front and the last row's number before he came to it."""

    # What the faces ask
    # ---------------------------------------------------------------------------------------

    @property
    def survey(self) -> Survey:
        """The survey in hand."""
        return self.sight.survey

    @survey.setter
    def survey(self, survey: Survey) -> None:
        self.sight = self.sight.followed_by(survey)

    @property
    def ask(self) -> Ask | None:
        """What is in front: a caution or the page of the supports where the target waits for it,
        else the target.

        It is found anew each time from the survey, the clock and who reads, so that no way leads
        round it.
        """
        if self.target is None:
            return None
        on = self.target, self.aside.reader, self.at
        kept = self._in_front
        if kept is not None and kept[0] is self.sight and kept[1] == (*on, self._visit):
            return kept[2]
        found, self._visit = self._before(self.survey, self.target, self._visit)
        self._in_front = self.sight, (*on, self._visit), found
        return found

    @ask.setter
    def ask(self, ask: Ask | None) -> None:
        self.target = ask

    def _before(self, survey: Survey, target: Ask, visit: Visit) -> tuple[Ask, Visit]:
        """What stands before a target, and whose page's visit that is: a new one where the page is
        another.
        """
        person = Person(self.reader, self.now(), *visit)
        found = front(survey, self.library, target, person)
        if is_one_visit(self.library, visit[0], found.prompt.step):
            return found, visit
        visit = found.prompt.step, survey.last_number()
        return (
            front(survey, self.library, target, person._replace(step=visit[0], since=visit[1])),
            visit,
        )

    @property
    def reader(self) -> str:
        """Who answers just now: the second reader while he reads, else who is named in the survey."""
        return self.aside.reader or self.by

    @property
    def prompt(self) -> Prompt | None:
        """The prompt in front, None at the end."""
        return ask.prompt if (ask := self.ask) else None

    @property
    def step(self) -> Step | None:
        """The step in front, None at the end."""
        return self.steps[ask.prompt.step] if (ask := self.ask) else None

    @property
    def steps(self) -> Mapping[StepId, Step]:
        """Every page, in the words for this kind of frame."""
        return steps_of(self.survey, self.library)

    @property
    def at(self) -> datetime:
        """The time that a row written now carries, to the second."""
        return self.now().replace(microsecond=0)

    @property
    def by(self) -> str:
        """Who is named in the survey as measuring."""
        asked = self.library.asking(marks.MEASURED_BY)
        return (self.survey.answer_to(asked.prompt) if asked else "") or marks.OWNER

    @property
    def signs(self) -> str:
        """Who signs what is added by hand: the mentor once he has turned on his view himself."""
        return MENTOR if self.aside.mentor_signs else self.by

    def pages(self) -> tuple[Page, ...]:
        """The course as it stands."""
        return self.sight.pages(self.now())

    def walk(self) -> tuple[Page, ...]:
        """The course in the order of asking, a stop each: round the car one for each place."""
        return self.sight.walk(self.now())

    def page(self) -> Page | None:
        """The stop in front."""
        return stop_of(self.walk(), prompt) if (prompt := self.prompt) else None

    def waits(self) -> bool:
        """Whether the prompt in front still wants an answer (it does not after going back)."""
        return (ask := self.ask) is not None and is_open(self.survey, ask)

    # Moving ---------------------------------------------------------------------------------------
    # ------------

    def _first(self) -> Ask | None:
        """Where to go on: at what is open on the page of the last thing done, else behind it, so
        that a step left for later is not forced on the person. What was left out as not needed,
        nobody has done; and what one entry kept as last time lies on both sides of what is asked of
        the day.
        """
        survey, before = self.survey, recalled_prompts(self.survey)
        last, here = None, list[Ask]()
        for page in self.walk():
            asks = [a for a in asks_of(page) if a.prompt.id not in before]
            done = [a for a in asks if not is_open(survey, a) and self._somebody_did(a)]
            if done:
                last, here = done[-1], [a for a in asks if is_open(survey, a)]
        return here[0] if here else next_ask(survey, self.library, self.now(), last)

    def _somebody_did(self, ask: Ask) -> bool:
        id = ask.prompt.id
        return bool(self.survey.readings_of(id)) or not self.survey.folded(id)

    def saw(self, caution: str) -> None:
        """A face has shown what is in front: a caution by its id, or a page, which is empty."""
        self.shown = caution

    def forward(self) -> None:
        """On to the next open prompt; from what stands before a page past all pages that wait for
        the same.
        """
        self.pending = None
        now, past = self.now(), frozenset[StepId]()
        if back := self._returned():
            self.target = back
            return
        if self.target is not None and self.ask != self.target:
            past = waiting(self.survey, self.library, now) | {self.target.prompt.step}
        self.target = next_ask(self.survey, self.library, now, self.target, past=past)

    def go_on(self, asked: Ask | None) -> None:
        """On from what was just answered or passed over; what only stood before the target leaves
        it where it is.
        """
        self.pending = None
        self._land(self._behind(self.survey, self.target, asked))

    def _land(self, on: Ask | None) -> None:
        """On to what comes next; from what was only measured again to where he was before."""
        left = self.target is not None and (on is None or on.prompt.id != self.target.prompt.id)
        back = self._returned() if left else None
        self.came_back = back is not None
        self.target = back or on

    def _returned(self) -> Ask | None:
        """Where he was before, no longer kept; None where nothing of it is asked any more."""
        kept = [ask for ask in self.away if not self._dropped(self.survey, ask)]
        self.away = kept[:-1]
        return kept[-1] if kept else None

    def leave_for(self, prompts: Sequence[PromptId], back: Ask | None) -> None:
        """Before each of these prompts in turn, then on to where he was."""
        asks = [ask for _, ask in self._asks()]
        there = [next((a for a in asks if a.prompt.id == id), None) for id in prompts]
        back = self._behind_all(prompts, back)
        self.kept_away = len(self.away) + (back is not None)
        found = [ask for ask in (*there, back) if ask is not None]
        self.pending, self.away = None, [*self.away, *reversed(found)]
        self.target = self._returned() or self.target

    def _behind_all(self, prompts: Sequence[PromptId], back: Ask | None) -> Ask | None:
        """Where to go on: where he was, or behind it where that is one of these."""
        for _ in prompts:
            if back is None or back.prompt.id not in prompts:
                return back
            back = next_ask(self.survey, self.library, self.now(), back)
        return back

    def _spare_the_rest(self, read: Prompt) -> str:
        """Once one reading is proven wrong, what was to be measured again with it is not asked."""
        left = len(self.away) - self.kept_away + 1
        still_here = self.target is not None and self.target.prompt.id == read.id
        if self.kept_away < 1 or left < 1 or still_here:
            return ""
        self.away = self.away[: self.kept_away]
        self.target = self._returned() or self.target
        return " The others need not be measured again."

    def _behind(self, survey: Survey, target: Ask | None, asked: Ask | None) -> Ask | None:
        """Where to go on once `asked` was answered in that survey: the target itself where it is
        still to be done.
        """
        now = self.now()
        left = target is None or (asked == target and not is_open(survey, target))
        if left or self._dropped(survey, target):
            return next_ask(survey, self.library, now, target)
        return target

    def _dropped(self, survey: Survey, ask: Ask | None) -> bool:
        """Whether an ask is on no page any more, as the car stands and as it was answered."""
        if ask is None:
            return True
        there = guide_of(survey, self.library).walk(self.now())
        return not any(ask.prompt in page.prompts for page in there)

    def back(self) -> bool:
        """To the prompt before this one; False at the very first."""
        self.pending = None
        self.away = []
        asks = [a for p in self.walk() for a in asks_of(p) if not p.gone]
        at = asks.index(self.target) if self.target in asks else len(asks)
        if at == 0:
            return False
        self.target = asks[at - 1]
        return True

    def past(self) -> None:
        """To the question behind this one, open or not: the way that `back` came."""
        self.pending = None
        if back := self._returned():
            self.target = back
            return
        asks = [a for p in self.walk() for a in asks_of(p) if not p.gone]
        at = asks.index(self.target) + 1 if self.target in asks else len(asks)
        following = next(iter(asks[at:]), None)
        self.target = following or next_ask(self.survey, self.library, self.now(), self.target)

    def _stands(self, ask: Ask) -> bool:
        """Whether the first reader has answered what is in front already."""
        mine = not self.aside.reader and ask == self.target
        return mine and not ask.prompt.kind.acknowledges and not is_open(self.survey, ask)

    def go(self, step: StepId) -> bool:
        """To the first open prompt of a step, or its first; False when the step is not in the
        course now. A look is gone to at the place where it is taken.
        """
        asks = self._asks()
        found = (
            [ask for stop, ask in asks if step in (stop.step.id, *stop.gathered)],
            [ask for _, ask in asks if ask.prompt.step == step],
        )
        return self._go(next(filter(None, found), []))

    def _asks(self) -> list[tuple[Page, Ask]]:
        """Every reading wanted at any stop of this car."""
        return [(stop, ask) for stop in self.walk() if not stop.gone for ask in stop.asks]

    def go_to(self, stop: Page) -> bool:
        """To the first open prompt of a stop, or its first; False where it asks nothing now."""
        own = [a for a in stop.asks if stop.gathered or a.prompt.step == stop.step.id]
        return not stop.gone and self._go(own)

    def _go(self, asks: list[Ask], visit: Visit = (NO_STEP, 0)) -> bool:
        if not asks:
            return False
        self.pending, self._visit, self.away = None, visit, []
        self.target = next((a for a in asks if is_open(self.survey, a)), asks[0])
        return True

    def stand_before(self, prompt: PromptId, *, stay: bool = False) -> None:
        """Before a prompt again, at its first open reading; where it has none, stay. A look that is
        not asked by itself is asked at its place.

        stay: whether the way back to where he was is kept.
        """
        away = self.away
        asks = [ask for _, ask in self._asks()]
        own = [a for a in asks if a.prompt.id == prompt]
        at_place = [a for a in asks if prompt in [part.look.id for part in a.prompt.parts]]
        self.pending = None
        self._go(own or at_place, self._visit)
        if stay:
            self.away = away

    def return_from(self, prompt: PromptId) -> bool:
        """Back to where he was before he left for a prompt; False where he did not."""
        if not self.away or self.target is None or self.target.prompt.id != prompt:
            return False
        self.pending = None
        self.target = self._returned() or self.target
        return True

    def once_more(self, prompt: PromptId, times: int = 1) -> bool:
        """Before so many readings more of a prompt than the course asks; False where it is not
        asked now.
        """
        asked = next((a.prompt for _, a in self._asks() if a.prompt.id == prompt), None)
        if asked is None:
            return False
        first = answered(self.survey, asked) + 1
        more = [Ask(asked, nth) for nth in range(first + 1, first + times)]
        self.pending, self.away = None, [*self.away, *reversed(more)]
        self.target = Ask(asked, first)
        return True

    # Taking a line
    # --------------------------------------------------------------------------------------------

    def enter(self, text: str) -> Reply:
        """One entered line that is not a command: an answer, several with `;`, or an empty line
        that keeps a doubt.
        """
        doubted, text = self.pending, text.strip()
        if doubted and self._keeps(doubted, text):
            return self._keep_doubted(doubted)
        self.pending = None
        ask = self.ask
        if ask is None:
            return _asked_nothing(text)
        if self.shown is not None and ask.prompt.caution != self.shown:
            return Reply(
                "refused",
                "Another question is in front now, so nothing was taken. Look at it first.",
            )
        return self._typed(doubted, ask, text)

    def _typed(self, doubted: Doubted | None, ask: Ask, text: str) -> Reply:
        """What was typed to the question in front."""
        if doubted and doubted.third and ask.prompt.kind.measures:
            return self._third(doubted, ask, text)
        if not text and self._stands(ask):
            self.past()
            return self._went_on()
        text = self._as_last_time(ask.prompt, text)
        if not text and self.keeping:
            return Reply("told", HOW_TODAY)
        if ";" in text and ask.prompt.kind.line:
            return self._several(_parts(text))
        return self._take(ask, text)

    def _take(self, ask: Ask, text: str) -> Reply:
        """One answer to what is in front: kept, doubted or refused."""
        result = self._answer(self.survey, ask, text)
        if isinstance(result, Refusal):
            return Reply("refused", result.says)
        if isinstance(result, Doubted):
            self.pending, self._doubted = result, text.strip()
            says = layout_of(self.survey, self.library).worded(result.says)
            return Reply("doubted", f"{says} {_way_out(result)}")
        return self._keep(result)

    def _keeps(self, doubted: Doubted, text: str) -> bool:
        """Whether a line keeps what is in doubt: an empty one, or the same typed again. Where two
        readings contradict each other the same figure again is a third reading.
        """
        return not text or (text == self._doubted and not doubted.third)

    def _third(self, doubted: Doubted, ask: Ask, text: str) -> Reply:
        """A third reading beside the two that contradict each other: all three stay on record."""
        result = answer(doubted.kept, ask.prompt, text, at=self.now(), by=self.reader)
        if not isinstance(result, Survey):
            self.pending = doubted
            return Reply("refused", result.says)
        kept = self._keep(result)
        taken = kept.kind in ("taken", "ended")
        return replace(kept, says=self._decided(ask.prompt)) if taken else kept

    def _decided(self, prompt: Prompt) -> str:
        """What a third reading decided between two that contradict each other."""
        from wizard.checks.case import case_of  # numpy only once there is something to compute

        slips = {row.id for row in case_of(self.survey, self.library).slips.values()}
        out = [r.typed for r in self.survey.readings_of(prompt.id) if r.id in slips]
        if not out:
            many = len(self.survey.readings_of(prompt.id))
            stay = STAY.get(many, f"All {many} stay")
            return f"{stay}: they do not say yet which of them is wrong."
        said = f"Two of the three agree, so {clean_line(' and '.join(out), 60)} does not count."
        return said + self._spare_the_rest(prompt)

    def keeps(self, prompt: Prompt | None) -> bool:
        """Whether last time's answer may stand for today's at a prompt."""
        return not self.aside.reader and can_keep(prompt, self.earlier)

    def _as_last_time(self, prompt: Prompt, text: str) -> str:
        """The line with what an empty one stands for in a re-check: last time's answer. How well a
        place is seen today is asked first, and then a letter alone says that.
        """
        keeping, self.keeping = self.keeping == prompt.id, NO_PROMPT
        if not self.keeps(prompt):
            return text
        looks = prompt.kind.looks or prompt.kind.gathers
        if not text and looks:
            self.keeping = prompt.id
        elif not text or (keeping and text.lower() in SEEN_WELL):
            return f"{text} {SAME}".strip()
        return text

    def _same(self, survey: Survey, prompt: Prompt, text: str) -> Survey | Refusal | None:
        """What `as last time` comes to; None where the line says something else."""
        if self.earlier is None:
            return None
        if not self.keeps(prompt):
            return SAY_ANEW if prompt.kind.tells and says_same(text) else None
        by = By(self.at, self.reader)
        if prompt.kind.looks or prompt.kind.gathers:
            by_id = guide_of(survey, self.library).questions.by_id
            same = SAME in marked(text)
            return kept(survey, prompt, text, self.earlier, by, by_id) if same else None
        if not says_same(text):
            return None
        found = answer(survey, prompt, said_then(prompt, self.earlier), at=by.at, by=by.by)
        return Refusal(found.says) if isinstance(found, Doubted) else found

    def _not_set_up(self, survey: Survey, prompt: Prompt) -> str:
        """Why nothing of the frame is read yet, where its owner has still to say where its points
        are; empty where it is set up.
        """
        tells = prompt.kind.counts or prompt.kind.gathers
        key = missing(survey, self.library) if tells else ""
        if not key:
            return ""
        asked = ((s, p) for s in self.library.steps.values() for p in s.prompts)
        step, wanted = next((s, p) for s, p in asked if p.keep == key)
        return NOT_SET_UP.format(asked=wanted.ask, step=step.id)

    def _answer(self, survey: Survey, ask: Ask, text: str) -> Survey | Refusal | Doubted:
        if why := self._not_set_up(survey, ask.prompt):
            return Refusal(why)
        same = self._same(survey, ask.prompt, text)
        if same is not None:
            return same
        if ask.prompt.kind.gathers and says_both(text):
            return self._at_both(survey, ask.prompt, text)
        if ask.prompt.together and (all_ := self._together(survey, ask.prompt, text)):
            return all_
        foretell = self._foretell if self.foretell else None
        found = answer(survey, ask.prompt, text, at=self.now(), by=self.reader, foretell=foretell)
        if isinstance(found, Doubted) and self._is_repeat(survey, ask.prompt):
            return found._replace(third=True)
        return self._gone(survey, ask.prompt, found)

    def _at_both(self, survey: Survey, place: Prompt, text: str) -> Survey | Refusal:
        """One entry for a place and for the other side, where both are seen from the same spot."""
        other = twin_of(survey, self.walk(), place, self.library)
        if other is None:
            return NOT_BOTH
        found = at_both(survey, (place, other), text, By(self.at, self.reader))
        beyond = Ask(other)
        person = Person(self.reader, self.now())
        return found if front(survey, self.library, beyond, person) == beyond else NOT_BOTH

    def _together(self, survey: Survey, prompt: Prompt, text: str) -> Survey | None:
        """What one letter for several questions of the page comes to; None for any other answer."""
        by_id = guide_of(survey, self.library).questions.by_id
        return said_together(survey, prompt, text, By(self.at, self.reader), by_id)

    def _gone(
        self, survey: Survey, prompt: Prompt, found: Survey | Refusal | Doubted
    ) -> Survey | Refusal | Doubted:
        """A doubt where one entry for a place says that nothing is there, and last time something
        was.
        """
        if self.earlier is None or not (prompt.kind.gathers and isinstance(found, Survey)):
            return found
        gone = gone_of(survey, found, prompt, self.earlier)
        return Doubted(perhaps_gone(gone, self.earlier), found) if gone else found

    def _is_repeat(self, survey: Survey, prompt: Prompt) -> bool:
        """Whether what is typed is a repeat that is still wanted, of a reading that this reader may
        see.
        """
        seen = blind(survey, self.aside)
        return bool(seen.readings_of(prompt.id)) and wanting(seen, prompt)

    def _foretell(self, survey: Survey, prompt: Prompt, typed: str) -> str:
        """What the rest foretells; to a second reader no more than that it is odd, for any figure or
        way would lead him.
        """
        assert self.foretell is not None
        then = against_last_time(survey, self.earlier, self.library, prompt, typed)
        if not self.aside.second:
            return self.foretell(survey, prompt, typed) or then
        seen = [at_others(survey, self.aside), his_own(survey)]
        if self.library.steps[prompt.step].reads == marks.DRILL:  # nothing else foretells it
            seen.append(survey)
        return LOOK_AGAIN if any(self.foretell(s, prompt, typed) for s in seen) else ""

    def _keep(self, survey: Survey) -> Reply:
        """Save and go on; when the save fails nothing moves."""
        asked = self.ask
        survey, says = self._left_out(survey, asked)
        failed = self._commit(survey)
        if failed:
            return failed
        self.go_on(asked)
        return self._went_on(says)

    def _went_on(self, says: str = "") -> Reply:
        """What came of an answer, once it is kept."""
        if self.target:
            return Reply("taken", says)
        return Reply("ended", f"{says} That was the last question.".strip())

    def _left_out(self, survey: Survey, asked: Ask | None) -> Left:
        """The survey once a reading is in, with what is not needed any more left out, and what is
        said of that.
        """
        if asked is None or self.aside.reader:
            return Left(survey, "")
        sight = self.sight.followed_by(survey)
        if self.earlier is not None and state_field(asked.prompt.keep):
            apart = with_apart(sight, self.earlier, asked.prompt, self.now(), self.by)
            return Left(apart, "")
        if not asked.prompt.kind.counts:
            return Left(survey, "")
        return with_enough(sight, asked.prompt, self.now(), self.by)

    def doubt(self, doubted: Doubted, typed: str) -> Reply:
        """A command's figure is doubted; typed a second time it is kept."""
        if self.pending and typed == self._doubted:
            return self._keep_doubted(doubted)
        self.pending, self._doubted = doubted, typed
        return Reply("doubted", f"{doubted.says} Press Enter to keep it, or type what it is.")

    def _keep_doubted(self, doubted: Doubted) -> Reply:
        if doubted.then_others:
            return self._keep_and_ask(doubted)
        if not doubted.then:
            return self._keep(doubted.kept)
        return self._commit(doubted.kept) or Reply("told", doubted.then)

    def _keep_and_ask(self, doubted: Doubted) -> Reply:
        """Keep what was doubted, and ask for what is wrong if it is right: of that what is read now
        counts alone, for a mean of both would be half the slip.
        """
        row = Answer(id="", at=self.at, by=self.by)
        kept = self._keep(asking_again(doubted.kept, doubted.others, row))
        if kept.kind in ("taken", "ended"):
            self.leave_for(doubted.others, self.target)
            says = f"{kept.says} Now read {_the_others(doubted)} once more."
            return Reply("taken", says.strip())
        return kept

    def _several(self, parts: list[str]) -> Reply:
        """All of the parts are taken or none is; they end with the page, whose next was never
        before the eyes.
        """
        survey, ask, target, page = self.survey, self.ask, self.target, self.page()
        visit, last = self._visit, ask
        for n, part in enumerate(parts, start=1):
            walk = guide_of(survey, self.library).walk(self.now())
            if ask is None or _lies_beyond(page, ask, walk):
                left = f"{n - 1} question{'s are' if n != 2 else ' is'} left on this page"
                return Reply(
                    "refused",
                    f"You typed {len(parts)} answers, but {left}. Nothing was taken: type fewer.",
                )
            result = self._answer(survey, ask, part)
            if not isinstance(result, Survey):
                sure = (
                    " To keep it as it is, type ! after it." if isinstance(result, Doubted) else ""
                )
                where = f"Answer {n} of the line ({ask.prompt.ask})"
                return Reply(
                    "refused", f"{where}: {result.says} Nothing of the line was taken.{sure}"
                )
            survey, target, ask, last = result, self._behind(result, target, ask), None, ask
            if target is not None:
                ask, visit = self._before(survey, target, visit)
        survey, says = self._left_out(survey, last)
        failed = self._commit(survey)
        if failed:
            return failed
        self.pending, self._visit = None, visit
        self._land(self._behind(survey, target, target))
        return self._went_on(f"{len(parts)} answers taken. {says}".strip())

    def _commit(self, survey: Survey) -> Reply | None:
        """Write the survey; a failed save is a refusal and leaves everything as it was."""
        try:
            kept = self.kept or self._new_file(survey)
            survey = survey if survey.id else replace(survey, id=clean_line(kept.path.stem, 200))
            survey = settled(survey, guide_of(survey, self.library).questions.by_id)
            make_folder(kept.path.parent)
            kept.save(survey)
        except Elsewhere as error:
            return Reply("refused", str(error))
        except NotSaved as error:
            return Reply("refused", f"{error} Your answer was not taken. Type it again later.")
        except OSError as error:
            return Reply(
                "refused",
                f"Your answer is not saved: the folder cannot be used ({error.strerror}).",
            )
        self.kept, self.path, self.survey, self.pending = kept, kept.path, survey, None
        self.struck_now, self.before_strike = "", None
        self.busy, self.news = "", gone_words(kept.path, kept.gone) if kept.gone else ""
        self._frame, said = keep_file(survey, self.library, kept.path.parent, self._frame)
        self.news = f"{self.news} {said}".strip()
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
        """The survey in hand in a new file from here on; a Reply only when that could not be
        written.
        """
        before = self.kept, self.path
        self.kept = self.path = None
        failed = self._commit(replace(self.survey, id=""))
        if failed:
            self.kept, self.path = before
        elif before[0]:
            before[0].release()
        return failed
