"""Where a rail is thin: each place with the metal left there, its length and width, its face, and
how far along the rail it lies.

The worst pit of the rail's top is read on a page of its own; a page that is only asked once it is
called for adds its width and where it lies, and the other thin places of the rail.
"""

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from wizard.checks.case import Case, Taken
from wizard.library import marks
from wizard.library.places import PlaceId, PromptId, StepId, prompt_id
from wizard.math.channel import Face, Skin

FACES: dict[str, tuple[Face, Skin]] = {
    marks.TOP: ("top", "outside"),
    marks.TOP_INSIDE: ("top", "inside"),
    marks.WEB: ("web", "outside"),
    marks.WEB_INSIDE: ("web", "inside"),
    marks.BOTTOM: ("bottom", "outside"),
    marks.BOTTOM_INSIDE: ("bottom", "inside"),
}
"""What an answer means by a face of the rail."""
MOST = 3
"""Thin places of a rail, beside the worst pit of its top, that the page asks for."""


class ThinPlace(NamedTuple):
    """One place at which a rail has lost metal. Lengths in mm."""

    clean: Taken
    """How thick the sound metal is."""
    metal: Taken
    """How thick it is there."""
    long: Taken | None
    wide: Taken | None
    at: Taken | None
    """How far its middle lies behind the front points."""
    face: tuple[Face, Skin] | None

    @property
    def lost(self) -> float:
        """Share of the thickness that is gone."""
        return 1 - self.metal.number.value / self.clean.number.value

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of its readings."""
        rest = (t for t in (self.long, self.wide, self.at) if t)
        return (*self.clean.ids, *self.metal.ids, *(id for t in rest for id in t.ids))

    @property
    def is_whole(self) -> bool:
        """Whether all is known that its section is reckoned from."""
        return bool(self.long and self.wide and self.face)


def places_of(case: Case, side: str) -> tuple[ThinPlace, ...]:
    """The thin places of one rail: first the worst pit of its top, then the others."""
    pit, page = case.library.page[marks.METAL], case.library.page.get(marks.THIN_PLACES)
    found = [_pit(case, side, pit, page)]
    if page and page not in case.uncalled:
        clean = _taken(case, page, side, "sound") or _taken(case, pit, side, "clean")
        found += [_another(case, side, page, clean, nth) for nth in range(1, MOST + 1)]
    return tuple(place for place in found if place)


def sound_beside(case: Case, prompt: PromptId, side: str) -> Taken | None:
    """The sound metal beside the thin place whose metal left is asked; None at any other prompt, and
    while it is not read.
    """
    pit, page = case.library.page[marks.METAL], case.library.page.get(marks.THIN_PLACES)
    clean = _taken(case, pit, side, "clean")
    if prompt == prompt_id(pit, PlaceId(side), "pitted"):
        return clean
    if page is None:
        return None
    thin = {prompt_id(page, PlaceId(side), f"metal-{nth}") for nth in range(1, MOST + 1)}
    return (_taken(case, page, side, "sound") or clean) if prompt in thin else None


def _pit(case: Case, side: str, step: StepId, page: StepId | None) -> ThinPlace | None:
    clean, metal = (_taken(case, step, side, name) for name in ("clean", "pitted"))
    if not (clean and metal and clean.number.value > 0):
        return None
    wide, at = (_taken(case, page, side, f"pit-{name}") for name in ("wide", "from"))
    face = FACES.get(case.meant(marks.PIT_FACE, side=side))
    return ThinPlace(clean, metal, _taken(case, step, side, "stretch"), wide, at, face)


def _another(
    case: Case, side: str, page: StepId, clean: Taken | None, nth: int
) -> ThinPlace | None:
    metal = _taken(case, page, side, f"metal-{nth}")
    if not (clean and metal and clean.number.value > 0):
        return None
    long, wide, at = (_taken(case, page, side, f"{n}-{nth}") for n in ("long", "wide", "from"))
    face = _face(case, prompt_id(page, PlaceId(side), f"face-{nth}"))
    return ThinPlace(clean, metal, long, wide, at, face)


def _taken(case: Case, page: StepId | None, side: str, name: str) -> Taken | None:
    return case.taken(prompt_id(page, PlaceId(side), name)) if page else None


def _face(case: Case, prompt: PromptId) -> tuple[Face, Skin] | None:
    asked = (a for a in case.library.questions.get(marks.THIN_FACE, ()) if a.prompt == prompt)
    said = (FACES.get(a.means(case.survey.answer_to(prompt))) for a in asked)
    return next(said, None)


def worst(places: Sequence[ThinPlace]) -> ThinPlace:
    """The one that has lost the most of its thickness."""
    return max(places, key=lambda place: place.lost)


def over(places: Sequence[ThinPlace], length: float) -> ThinPlace | None:
    """The thin place as deep as which, or deeper, so much of the rail is; None where they do not
    run so far.
    """
    for place, far in _running(places):
        if far >= length:
            return place
    return None


def _running(places: Sequence[ThinPlace]) -> Iterator[tuple[ThinPlace, float]]:
    """Each place, the deepest first, and how far all together run up to it, mm."""
    far = 0.0
    for place in sorted(places, key=lambda one: -one.lost):
        far += place.long.number.value if place.long else 0.0
        yield place, far
