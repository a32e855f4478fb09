"""The same survey by plain prompts, line by line: for a screen reader, a dumb terminal, a pipe."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING

from wizard.library.places import NO_STEP
from wizard.library.shapes import Caution
from wizard.readings.plain import clean_line
from wizard.sitting.commands import handle
from wizard.sitting.drawing import frame_words
from wizard.sitting.ending import ending
from wizard.sitting.mishap import mishap
from wizard.sitting.modes import Mode, ModelMode, PageMode, Stack
from wizard.sitting.paging import page_of, recalled
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.sitting.words import first_words
from wizard.telling.big_letters import big
from wizard.telling.page import PageView

if TYPE_CHECKING:
    from wizard.sitting.model_desk import ModelDesk

WIDTH = 76
Say = Callable[[str], None]
SET_ASIDE = "The lines after it were not taken."


def run(sitting: Sitting, lines: Iterable[str], say: Say, *, person: bool) -> int:
    """Ask until the end, `/quit` or the end of the lines. Gives the exit status.

    person: True at a keyboard, where a refusal asks again; a pipe stops at the first refusal or
    doubt with status 1, because what follows was written for another prompt.
    """
    for words in filter(None, (sitting.busy, first_words(sitting))):
        say(_wrapped(words))
    page = PlainPage(sitting)
    return Prompts(page, page.model).run(lines, say, person=person)


def run_model(desk: ModelDesk, lines: Iterable[str], say: Say, *, person: bool) -> int:
    """The model by itself, until `back`, `quit` or the end of the lines. Gives the exit status."""
    model = PlainModel(desk)
    return Prompts(model, lambda: model).run(lines, say, person=person)


class PlainMode(Mode):
    """A mode as it is told in lines, each handed on as it stands."""

    def lines(self) -> Sequence[str]:
        """All of it, when it comes in front."""
        raise NotImplementedError

    def after(self, reply: Reply) -> Sequence[str]:
        """What is told of it behind a reply."""
        raise NotImplementedError

    def told(self, reply: Reply) -> Iterator[str]:
        """The reply itself."""
        if reply.title:
            yield f"\n{reply.title}"
        if reply.says:
            yield reply.says if reply.title else _wrapped(reply.says)

    def ended(self) -> Sequence[str]:
        """The lines are through, or the mode above it has ended all."""
        return ()

    def went_wrong(self, error: Exception) -> str:
        """The sentence for a fault of the program."""
        raise error


class Prompts(Stack[PlainMode]):
    """The modes, asked and told line by line."""

    def run(self, lines: Iterable[str], say: Say, *, person: bool) -> int:
        """Ask until the lines are through or one of them ends it. Gives the exit status."""
        bottom = self.front
        _each(say, bottom.lines())
        for line in lines:
            mode = self.front
            reply, shown = self._turn(mode, line.rstrip("\r\n"))
            _each(say, mode.told(reply))
            stopped = reply.stops_burst and not person
            if stopped:
                say(SET_ASIDE)
            if stopped or reply.quits or not self.modes:
                _each(say, bottom.ended() if mode is not bottom else ())
                return int(stopped)
            _each(say, shown)
        for mode in self.modes[-2::-1]:
            _each(say, mode.lines())
        _each(say, bottom.ended())
        return 0

    def _turn(self, mode: PlainMode, line: str) -> tuple[Reply, Sequence[str]]:
        """What comes of a line, and what is in front then.

        A fault of the program is told as a refusal, and leads back to the survey; what was answered
        is kept.
        """
        try:
            reply = self.follow(mode.line(line))
            if reply.quits or not self.modes:
                return reply, ()
            return reply, mode.after(reply) if self.front is mode else self.front.lines()
        except Exception as error:
            reply = Reply("refused", mode.went_wrong(error))
            del self.modes[1:]
            return reply, self.front.lines()


class PlainPage(PageMode, PlainMode):
    """The prompt in front of a sitting."""

    def __init__(self, sitting: Sitting) -> None:
        super().__init__(sitting)
        self._step = NO_STEP
        """The step whose own text was told last."""

    def model(self) -> PlainMode:
        """The model on this step's fault; the step's text is told once more behind it."""
        from wizard.sitting.model_desk import ModelDesk  # brings numpy with it

        self._step = NO_STEP
        step = self.sitting.step.id if self.sitting.step else NO_STEP
        return PlainModel(ModelDesk(self.sitting.library, self.sitting.survey, step), self)

    def lines(self) -> Sequence[str]:
        """The prompt, or at least its question where the rest cannot be told."""
        try:
            return tuple(self._verdict() if self.sitting.ask is None else self._prompt())
        except Exception as error:
            self._step = NO_STEP
            question = self.sitting.prompt.ask if self.sitting.prompt else "/quit ends."
            return _wrapped(self.went_wrong(error)), _wrapped(question)

    def after(self, reply: Reply) -> Sequence[str]:
        """Behind a text that was asked for the question alone: nobody should have to scroll back
        for it.
        """
        if reply.kind != "told":
            return self.lines()
        page = page_of(self.sitting)
        if page is None:
            return ()
        caution = page.caution.id if page.caution else ""
        if caution and caution != self.sitting.shown:  # it came up while something else was read
            self._step = NO_STEP
            return self.lines()
        return (_asked(page),)

    def ended(self) -> Sequence[str]:
        """Whether the survey is through, and how its file stands."""
        end, through, path = ending(self.sitting), self.sitting.ask is None, self.sitting.path
        self.sitting.shown = None
        if through:
            return (_wrapped(end.says),) if end.trouble else ()
        if end.saved and not end.trouble and path:
            name = clean_line(path.name, 80)
            return (f"You stopped before the end. Everything is saved in {name}.",)
        return (_wrapped(f"You stopped before the end. {end.says}"),)

    def went_wrong(self, error: Exception) -> str:
        """The sentence for a fault, which is written beside the surveys as well."""
        return mishap(error, self.sitting.folder, self.sitting.path if self.sitting.kept else None)

    def _verdict(self) -> Iterator[str]:
        self._step = NO_STEP
        yield from self.told(handle(self.sitting, "/verdict"))
        if self.sitting.earlier:
            yield from self.told(handle(self.sitting, "/change"))

    def _prompt(self) -> Iterator[str]:
        """The prompt in front; the step's own text only when the step is new."""
        page, ask = page_of(self.sitting), self.sitting.ask
        assert page is not None
        assert ask is not None
        if page.caution:
            yield from _caution(page.caution, page)
        elif ask.prompt.step != self._step:
            yield from _head(page)
            yield from self._evening()
            yield from self._drawn()
        yield from map(_wrapped, page.live if any(row.values for row in page.rows) else ())
        yield from map(_wrapped, recalled(self.sitting))
        yield from (f"    {line}" for line in page.choices)
        yield _asked(page)
        self.sitting.saw(page.caution.id if page.caution else "")
        self._step = NO_STEP if page.caution else ask.prompt.step  # its moves are still to be shown

    def _evening(self) -> Iterator[str]:
        """What is known next, and by which word all that is open."""
        from wizard.telling.evening_words import next_line

        sitting = self.sitting
        said = next_line(sitting.survey, sitting.library, sitting.walk(), sitting.page())
        if said and not sitting.aside.second:
            yield _wrapped(f"{said} /open shows all that is open.")

    def _drawn(self) -> Iterator[str]:
        """That there is a drawing, where it shows more than a place."""
        step = self.sitting.step
        if step and step.drawing not in ("look", "none") and frame_words(self.sitting):
            yield "/drawing says in words what is drawn."


def _asked(page: PageView) -> str:
    return f"{page.label} {page.nth}".rstrip() + f"  [{page.hint}]"


def _caution(caution: Caution, page: PageView) -> Iterator[str]:
    """A caution and nothing of the page behind it but its name."""
    yield f"\nBefore the page: {page.title}  {page.trail}"
    if caution.big:
        yield "\n".join(["", *(row.rstrip() for row in big(caution.big))])
    yield "\n".join([f"\nCaution: {caution.title}", *caution.lines])
    yield from (_wrapped(f"Source: {source}") for source in caution.sources)


def _head(page: PageView) -> Iterator[str]:
    """The step's own text, and what was read there before, when one comes back to it."""
    yield f"\n== {page.title} ==  {page.trail}"
    yield _wrapped(page.why)
    for n, line in enumerate(page.how, start=1):
        yield _wrapped(line, f"  {n}. ", "     ")
    yield _wrapped(f"Done well: {page.good}")
    for row in page.rows:
        if row.values:
            yield _wrapped(f"Written down: {row.label}: {row.values}")


class PlainModel(ModelMode, PlainMode):
    """The model, over a page or by itself."""

    def __init__(self, desk: ModelDesk, page: PlainPage | None = None) -> None:
        super().__init__(desk)
        self._page = page

    def lines(self) -> Sequence[str]:
        """How it is left, and how it stands."""
        head = "\n== A model to bend ==  Type help to see what you can type, back to go back."
        return (head, *self._stands())

    def after(self, reply: Reply) -> Sequence[str]:
        """How it stands, once something was bent."""
        return tuple(self._stands()) if reply.kind == "taken" else ()

    def told(self, reply: Reply) -> Iterator[str]:
        """The reply, a drawing line by line as it is."""
        if reply.title:
            yield f"\n{reply.title}"
        parts = reply.says.splitlines()
        yield from parts if reply.kind == "drawn" else map(_wrapped, parts)

    def went_wrong(self, error: Exception) -> str:
        """The sentence of the page below; by itself it leaves that to who called it."""
        return self._page.went_wrong(error) if self._page else super().went_wrong(error)

    def _stands(self) -> Iterator[str]:
        """What is bent, how far it would be drawn, and who sees it; in a game what was read."""
        # The model's words are loaded with the model: most surveys never bring it.
        from wizard.telling.game_words import asked_lines, possible_words
        from wizard.telling.model_page import heard_text

        if self.desk.game and self.desk.guessing:
            yield from map(_wrapped, asked_lines(self.desk.game, self.desk.unit))
            yield _wrapped(possible_words(self.desk.game))
            return
        page = self.desk.page()
        yield _wrapped(f"{page.title}; {page.stands}.")
        yield from (f"    {part}" for part in page.bent)
        if page.bent:
            yield from map(_wrapped, heard_text(page).splitlines())


def _wrapped(text: str, first: str = "", rest: str = "") -> str:
    return "\n".join(textwrap.wrap(text, WIDTH, initial_indent=first, subsequent_indent=rest))


def _each(say: Say, lines: Iterable[str]) -> None:
    for line in lines:
        say(line)
