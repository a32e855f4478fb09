"""What can be in front, as a stack of modes: the last one takes every line and every key.

A face gives each mode its looks; what a line does is the same for all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Generic, TypeVar

from wizard.sitting.reply import NOTHING, Reply

if TYPE_CHECKING:
    from wizard.sitting.model_desk import ModelDesk
    from wizard.sitting.sitting import Sitting


class Mode:
    """One of them."""

    words: Mapping[str, str] = {}
    """Keys that are a word at once."""

    def line(self, text: str) -> Reply:
        """One ended line."""
        raise NotImplementedError

    def word(self, text: str) -> Reply:
        """The word that a key stands for."""
        return self.line(text)

    def key(self, name: str) -> Reply:
        """A key that types nothing."""
        return self.word(self.words[name]) if name in self.words else NOTHING


M = TypeVar("M", bound=Mode)


class Stack(Generic[M]):
    """The modes, one over the other."""

    def __init__(self, bottom: M, model: Callable[[], M]) -> None:
        """model: makes the mode of the model, for who asks for it."""
        self.modes = [bottom]
        self._model = model

    @property
    def front(self) -> M:
        """The one that takes what is typed."""
        return self.modes[-1]

    def line(self, text: str) -> Reply:
        """One ended line, for the mode in front."""
        return self.follow(self.front.line(text))

    def follow(self, reply: Reply) -> Reply:
        """Bring the mode that a reply asks for, or leave the one in front."""
        if reply.kind == "model":
            self.modes.append(self._model())
        if reply.kind == "left":
            self.modes.pop()
        return reply


class PageMode(Mode):
    """The page in front of a sitting: takes answers and the words with a slash."""

    def __init__(self, sitting: Sitting) -> None:
        self.sitting = sitting

    def line(self, text: str) -> Reply:
        """An answer is said back, so that a slip is seen at once.

        A fault of the program is raised only where nothing was taken: who is told of one types his
        answer again.
        """
        # The words with a slash bring the math with them: loaded with the first line, so that the
        # first page is up at once.
        from wizard.sitting.commands import handle
        from wizard.sitting.mishap import taken_all_the_same
        from wizard.sitting.words import said_back

        asked, before = self.sitting.prompt, self.sitting.survey
        try:
            return said_back(handle(self.sitting, text), text, asked, self.sitting.survey)
        except Exception as error:
            if self.sitting.survey is before:
                raise
            return taken_all_the_same(error, self.sitting)


class ModelMode(Mode):
    """The model that can be bent; nothing of it touches a survey."""

    def __init__(self, desk: ModelDesk) -> None:
        self.desk = desk

    def line(self, text: str) -> Reply:
        """What to bend, or a word."""
        from wizard.sitting.model_desk import handle  # the model brings numpy with it

        return handle(self.desk, text)
