"""The model in hand: takes one typed line at a time, for the full screen and for the plain prompts
alike.

Nothing of it is saved: a model is no survey.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from functools import cached_property, lru_cache

from wizard.judgment.blind import Bench, model_layout
from wizard.judgment.game import Board, Game
from wizard.library.shapes import Layout, Library
from wizard.library.shapes_model import ModelFault
from wizard.model.bending import MOST, mount_x
from wizard.model.bent import Bent
from wizard.model.frame import Frame
from wizard.model.sliders import SLIDERS, Slider, bend_of, slider_of
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.survey.record import Survey, Unit
from wizard.telling.model_page import ModelPage, model_page

STEP = {"mm": 1.0, "in": 25.4 / 16}
"""mm that one press of an arrow bends."""


class ModelDesk:
    """The bent frame, the slider chosen, and the game while one is on."""

    def __init__(
        self,
        library: Library,
        survey: Survey | None = None,
        step: str = "",
        layout: Layout | None = None,
        rng: random.Random | None = None,
    ) -> None:
        """survey: whose sizes and unit are taken; step: on whose fault it opens; layout: of a model
        without survey.
        """
        own = layout or next(iter(library.layouts.values()))
        if survey is not None and survey.layout in library.layouts:
            own = model_layout(survey, library)
        self.bench = Bench(own, library)
        self.unit: Unit = survey.unit if survey else "mm"
        self.rng = rng or random.Random()
        self.bent = Bent()
        self.chosen = 0
        """Number of the slider that the arrows change."""
        self.game: Game | None = None
        self._page: tuple[tuple[Bent, Unit], ModelPage] | None = None
        fault = library.model.fault_of(step) if step else None
        if fault and fault.id in self.bench.faults:
            self.put(fault)

    @cached_property
    def board(self) -> Board:
        """The game's readings and faults; computed when a game begins."""
        return Board(self.bench)

    # What shows -----------------------------------------------------------------------------------
    # --------------

    @property
    def slider(self) -> Slider:
        """The slider that the arrows change."""
        return SLIDERS[self.chosen]

    @property
    def guessing(self) -> bool:
        """Whether its bends are a secret, in a game that is not won yet."""
        return self.game is not None and not self.game.won

    @property
    def fault(self) -> str:
        """Id of the authored fault that the frame has just now; empty where it is several or none."""
        return fault_like(self.bench, self.bent)

    def frame(self) -> Frame:
        """What is drawn: the bent frame, or a straight one while its bends are a secret."""
        return self.bench.frame(Bent() if self.guessing else self.bent)

    def page(self) -> ModelPage:
        """What is said of the bent frame."""
        key = (self.bent, self.unit)
        if self._page is None or self._page[0] != key:
            self._page = key, model_page(self.bench, self.bent, self.unit, self.fault)
        return self._page[1]

    # Keys -----------------------------------------------------------------------------------------
    # --------------

    def choose(self, way: int) -> None:
        """Up and down: another slider, around the ends too."""
        self.chosen = (self.chosen + way) % len(SLIDERS)

    def nudge(self, way: int) -> Reply:
        """Left and right: the chosen slider by one step, in the survey's unit."""
        if self.guessing:
            return Reply("refused", "The frame is bent in secret; reset ends the game.")
        value = self.slider.get(self.bent) + way * STEP[self.unit]
        value = 0.0 if abs(value) < 0.01 else max(-MOST, min(MOST, value))
        self.bent = self.slider.put(self.bent, value, self._place())
        return Reply("taken")

    def _place(self) -> float:
        if not self.slider.placed:
            return 0.0
        old = bend_of(self.bent, self.slider.id.split()[-1], self.slider.id.startswith("kink"))
        return old.x if old else mount_x(self.bench.layout)

    def take(self, line: str) -> Reply:
        """Bend it as a line says."""
        if self.guessing:
            return Reply("refused", "A game is on: ask, hint or name; reset ends it.")
        try:
            self.bent = self.bench.bend([line], self.bent, self.unit)
        except Refused as refused:
            return Reply("refused", str(refused))
        self._choose_slider(line)
        return Reply("taken")

    def _choose_slider(self, line: str) -> None:
        """The slider that a line names is the one that the arrows change from then on."""
        found = slider_of(line.replace("crown", "sag", 1).split())
        if found:
            self.chosen = SLIDERS.index(found[0])

    def put(self, fault: ModelFault) -> None:
        """Bend the frame to an authored fault and nothing else."""
        self.game = None
        self.bent = self.bench.bend(fault.bend)
        self._choose_slider(fault.bend[0])

    def find(self, words: str) -> ModelFault | None:
        """The authored fault of that id or name."""
        return next((f for f in self.bench.faults.values() if words in (f.id, f.name)), None)


def fault_like(bench: Bench, bent: Bent) -> str:
    """The authored fault that moves the same sliders the same way, whatever the amount; empty where
    there is none.
    """
    return _fault_signs(bench).get(_signs(bent), "")


@lru_cache(maxsize=4)
def _fault_signs(bench: Bench) -> Mapping[tuple[int, ...], str]:
    """What each authored fault moves, to its id; the one authored first where two move the same."""
    found: dict[tuple[int, ...], str] = {}
    for fault in bench.faults.values():
        for lines in filter(None, (fault.bend, fault.mirror)):
            found.setdefault(_signs(bench.bend(lines)), fault.id)
    return found


def _signs(bent: Bent) -> tuple[int, ...]:
    values = (s.get(bent) for s in SLIDERS)
    return tuple((v > 0) - (v < 0) for v in values)
