"""One finding in one plain sentence: the form that fits, out of content/quantities.toml, filled in."""

from collections.abc import Callable, Collection, Iterator, Mapping
from typing import NamedTuple

from wizard.checks.finding import horn_named
from wizard.checks.notes import (
    Against,
    Bend,
    Lean,
    Mark,
    ReadOn,
    Rises,
    SagLifts,
    SagTakenOut,
    Slip,
)
from wizard.judgment.bands import Judged
from wizard.judgment.supports import LOADED, THREE
from wizard.library import marks
from wizard.library.fields import Fault, nearest
from wizard.library.places import NO_PLACE, QuantityId, side_of, spoken
from wizard.library.shapes import Layout, Library, Quantity
from wizard.survey.record import Unit
from wizard.telling.amounts import (
    FINE,
    about,
    at,
    bands_words,
    doubt,
    few,
    is_inside,
    is_zero,
    none_seen,
)
from wizard.telling.quantity_names import Spot, cap

WAYS = ("straight", "plus", "minus")
"""Forms of a difference: none, and the two ways it goes."""


class Saying(Spot):
    """A judged finding, ready to fill the braces of its quantity's sentences."""

    def __init__(self, judged: Judged, layout: Layout, unit: Unit, bent: str = "") -> None:
        super().__init__(judged.finding, layout)
        self.judged, self.unit, self.bent = judged, unit, bent
        self.more: dict[str, str] = {}

    def __getitem__(self, field: str) -> str:
        """One {field}: a word of its own, the amount, the doubt, or its place."""
        if field in self.more:
            return self.more[field]
        if field == "amount":
            return about(self.finding.value, self.finding.unit, self.unit)
        if field != "doubt":
            return super().__getitem__(field)
        return none_seen(self.judged, self.unit) if self.is_none else doubt(self.judged, self.unit)

    @property
    def is_none(self) -> bool:
        """Whether it is a difference, one way or the other, that lies inside its own doubt."""
        return is_none(self.judged, self.unit)

    def form(self, name: str, **more: str) -> str:
        """The sentence of that name, filled in; at some places another one stands for it."""
        self.more = more
        of = self.finding.of
        here = of.at.get(str(self.id)) or of.at.get(self.role) or {}
        return (here.get(name) or of.says[name]).format_map(self)

    @property
    def fitting(self) -> str:
        """The form that fits the value: the one without a choice, nothing found, or the way."""
        says, value = self.finding.of.says, self.finding.value
        if "always" in says:
            return "always"
        if "agrees" in says:
            return "apart" if self.judged.stands_out else "agrees"
        if self.is_none or is_zero(value, self.finding.unit, self.unit):
            return "straight"
        return "out" if "out" in says else "plus" if value > 0 else "minus"


def _plain(saying: Saying, **more: str) -> str:
    """The fitting form, as the check's marks change it or add to it."""
    form, says = saying.fitting, saying.finding.of.says
    marks = [n.name for n in saying.finding.notes if isinstance(n, Mark)]
    said = saying.form(next((f for m in marks if (f := f"{form}-{m}") in says), form), **more)
    added = [saying.form(m) for m in marks if m in says and form != "straight"]
    return " ".join([said, *added])


SUPPORTS = {
    "stands-under-frame": ("four stands", "the stands"),
    "stands-under-axles": ("stands under the axles", "the springs"),
    "wheels": ("its wheels", "springs or tires"),
    THREE: ("three points, bare,", "what it stood on"),
    LOADED: ("three points, with the frame not bare,", "what it stood on and what it carried"),
}
"""What a frame stood on, and what twists it there that is not the frame."""


def _twist(saying: Saying) -> str:
    against = saying.finding.note(Against)
    levels = {v.id: v.name for v in saying.layout.levels}
    other = levels.get(against.place if against else NO_PLACE, "first place read")
    said = _plain(saying, other=other)
    taken, stood = saying.finding.note(SagTakenOut), saying.finding.note(ReadOn)
    if lifts := saying.finding.note(SagLifts):
        return _lifted(saying, lifts, said)
    if taken:
        return _low_there(saying, taken, said)
    return f"{said} {_stood(saying, stood)}" if stood else said


def _low_there(saying: Saying, taken: SagTakenOut, rest: str) -> str:
    """A rail that hangs low leans the level: that much is no twist."""
    if is_zero(taken.mm, "mm", saying.unit):
        return rest
    low = f"{saying['At']} the {taken.side} rail hangs {about(taken.mm, 'mm', saying.unit)} low"
    return (
        f"{low}, and that much of the lean is no twist. With it taken out:"
        f" {rest[:1].lower()}{rest[1:]}"
    )


def _lifted(saying: Saying, lifts: SagLifts, rest: str) -> str:
    """A rail that hangs low tips its end up: that much of a height is no horn's."""
    if is_zero(lifts.mm, "mm", saying.unit):
        return rest
    by = about(lifts.mm, "mm", saying.unit)
    return (
        f"The {lifts.side} rail hangs low under the string, which lifts its own horn by about {by}."
        f" With that taken out: {rest[:1].lower()}{rest[1:]}"
    )


def _stood(saying: Saying, stood: ReadOn) -> str:
    """What the same place read on other supports."""
    unnamed = spoken(stood.supports), "what it stood on"
    name, what = SUPPORTS.get(stood.supports, unnamed)
    if is_zero(stood.mm, "mm", saying.unit):
        return f"On {name} it did not lean at all."
    said = f"On {name} it read {about(stood.mm, 'mm', saying.unit)}"
    return f"{said}: that was {what}." if saying.judged.bands == ("leave",) else f"{said}."


def _horn(saying: Saying) -> str:
    """The two horns against each other; one is named only where it was seen bent and its twin
    straight.
    """
    side, way = horn_named(saying.finding, side_of(saying.bent))
    form = f"{saying.fitting}-{side}-bent" if way else saying.fitting
    more = [mark for mark in (OPEN, FRONT) if Mark(mark) in saying.finding.notes]
    if not way and saying.fitting != "straight" and _may_be_bent(saying.judged):
        more = [*more, WHICH]
    found = form if form in saying.finding.of.says else saying.fitting
    return " ".join(saying.form(f) for f in (found, *more))


def _may_be_bent(judged: Judged) -> bool:
    """Whether it is established that the horns are out, or may be far out."""
    return bool(judged.bands) and (judged.established != "leave" or len(judged.bands) > 2)


WHICH, FRONT = "which", "front-open"
AGAIN = "again"
"""What to read again on its own page, while the person is still there and it is open."""
OPEN = "own-sides-open"
BENT_FORMS = ("plus-left-bent", "plus-right-bent", "minus-left-bent", "minus-right-bent")


def _bend(saying: Saying) -> str:
    """Kink or bow of one rail."""
    note = saying.finding.note(Bend) or Bend("cannot-tell")
    if note.kind == "kink":
        near = saying.layout.station_by_id.get(note.near)
        return saying.form("kink", near=at(near.name if near else str(note.near)))
    said = saying.form(note.kind)
    if note.kind != "bow" or note.hides is None:
        return said
    return f"{said} {saying.form('hides', least=about(note.hides, 'mm', saying.unit))}"


def _rises(saying: Saying) -> str:
    """What a sound rail would give, and where this one does not behave so."""
    note = saying.finding.note(Rises) or Rises((), False)
    odd = [saying.form(way, odd=side) for way, side in note.odd]
    unequal = [saying.form("unequal")] if note.unequal else []
    return " ".join([_plain(saying), *odd, *unequal])


SLIPS = {
    "digits-swapped": "two digits changed over",
    "sides-swapped": "left and right changed over",
    "1 in": "a whole inch",
    "1/2 in": "half an inch",
    "1 ft": "a whole foot",
    "10 mm": "a whole centimeter",
}


def _suspect(saying: Saying) -> str:
    """The reading that does not agree, or the set of them."""
    note = saying.finding.note(Slip) or Slip(False, "", ())
    if not note.named:
        return saying.form("set", count=str(len(note.asks)), few=few(note.asks))
    slip = f" It looks like a slip: {SLIPS.get(note.kind, note.kind)}." if note.kind else ""
    way = "long" if saying.finding.value > 0 else "short"
    return saying.form(way, one=note.asks[0], slip=slip)


def _lean(saying: Saying) -> str:
    """Steady twist, one joint, or none."""
    note = saying.finding.note(Lean) or Lean("cannot-tell")
    names = {v.id: v.name for v in saying.layout.levels}
    between = " and ".join(names.get(place, str(place)) for place in note.between)
    return saying.form(note.kind, between=between)


class Teller(NamedTuple):
    """How a quantity is told whose check adds notes that the form alone does not tell."""

    say: Callable[[Saying], str]
    forms: Mapping[str, Collection[str]]
    """The sentences it needs, and what each of them may have in braces of its own."""


OTHER = ("other",)
SUSPECT = Teller(
    _suspect, {"long": ("one", "slip"), "short": ("one", "slip"), "set": ("count", "few")}
)
TWIST = Teller(_twist, {"straight": OTHER, "plus": OTHER, "minus": OTHER})
HALF = "half"
"""Of a box of which one diagonal alone was taped, and of no finding: nothing is known of it yet."""
TELLERS: Mapping[QuantityId, Teller] = {
    marks.RAIL_SHIFT: Teller(_plain, {"straight": (), "plus": (), "minus": (), HALF: OTHER}),
    marks.TWIST: TWIST,
    marks.HORN_HEIGHT: TWIST,
    marks.HORN_APART: Teller(
        _horn,
        dict.fromkeys(("straight", "plus", "minus", *BENT_FORMS, OPEN, FRONT, WHICH, AGAIN), ()),
    ),
    marks.KINK_OR_BOW: Teller(
        _bend, {"kink": ("near",), "bow": (), "hides": ("least",), "cannot-tell": ()}
    ),
    marks.SUSPECT: SUSPECT,
    marks.GAP_SLIP: SUSPECT,
    marks.ELASTIC_FORETOLD: Teller(
        _rises, {"straight": (), "out": (), "down": ("odd",), "far": ("odd",), "unequal": ()}
    ),
    marks.TWIST_SHAPE: Teller(
        _lean, {"none": (), "steady": (), "one-joint": ("between",), "cannot-tell": ()}
    ),
}
"""Every other quantity is told by the form that fits its value."""
PLAIN = ({"always"}, {"agrees", "apart"}, {"straight", "out"}, {"straight", "plus", "minus"})
"""Sets of sentences of which one makes a quantity tellable."""


def sentence(judged: Judged, layout: Layout, unit: Unit, bent: str = "") -> str:
    """What was found, in one plain sentence, without what to do about it.

    bent: the side whose horn alone was seen bent: of two horns that one is spoken of.
    """
    saying = Saying(judged, layout, unit, bent)
    if judged.finding.disagrees:
        return _disagreeing(saying)
    teller = TELLERS.get(judged.finding.quantity)
    return teller.say(saying) if teller else _plain(saying)


def is_none(judged: Judged, unit: Unit) -> bool:
    """Whether it is a difference, one way or the other, that lies inside its own doubt."""
    if not set(WAYS) <= set(judged.finding.of.says):
        return False
    return not judged.is_told or is_inside(judged, unit)


NOTHING_IN_THAT = "nothing to put right in that"
"""Behind a difference that was not seen: whoever reads `leave it` there looks for what to leave."""


def asks_for(judged: Judged, unit: Unit) -> str:
    """What a finding asks for, to stand behind its sentence; empty where it asks for nothing of its
    own.
    """
    if judged.finding.disagrees:
        return ""
    words = bands_words(judged)
    unseen = words and set(judged.bands) <= FINE and is_none(judged, unit)
    return NOTHING_IN_THAT if unseen else words


def with_band(said: str, asked: str) -> str:
    """A finding's sentence with what it asks for: of a difference that was not seen within the
    sentence, for alone it would speak of anything.
    """
    if asked == NOTHING_IN_THAT:
        return f"{said.removesuffix('.')}: {asked}."
    return f"{said} {cap(asked)}." if asked else said


def _disagreeing(saying: Saying) -> str:
    """That nothing can be said, and of what; of the horns without their name before it, for the page
    or the list where it stands may be called so.
    """
    end = "cannot all be right, so this is not known yet."
    subject = saying.finding.of.subject
    if not subject:
        return f"The measurements of the horns {end}"
    return (
        f"{subject}, {saying.known}: the measurements {end}"
        if saying.known
        else f"{subject}: the measurements {end}"
    )


def sentence_and_band(judged: Judged, layout: Layout, unit: Unit, bent: str = "") -> str:
    """The finding and what it asks for; bent: as for `sentence`."""
    return with_band(sentence(judged, layout, unit, bent), asks_for(judged, unit))


def telling_faults(library: Library) -> Iterator[Fault]:
    """Quantities that lack a sentence, or have one that cannot be filled in or that nobody says."""
    for of in library.quantities.values():
        if not of.size:
            yield from _missing(of)
            yield from _unfilled(of)


def _missing(of: Quantity) -> Iterator[Fault]:
    teller = TELLERS.get(of.id)
    if teller is None and any(forms <= set(of.says) for forms in PLAIN):
        return
    needed = teller.forms if teller else ("straight", "plus", "minus")
    for form in needed:
        if form not in of.says:
            key = f"quantity[{of.id}].says.{form}"
            yield Fault("quantities.toml", key, "is missing", "write the sentence for it")


def _unfilled(of: Quantity) -> Iterator[Fault]:
    from wizard.library.quantities import OWN, PLACES, fields_in

    teller = TELLERS.get(of.id)
    for forms in (of.says, *of.at.values()):
        for form, text in forms.items():
            key = f"quantity[{of.id}].says.{form}"
            own = teller.forms.get(form, ()) if teller else ()
            known = (*PLACES, *OWN, *own)
            for field in fields_in(text):
                if field not in known:
                    wrong = f"{{{field}}} is filled in by nobody"
                    yield Fault("quantities.toml", key, wrong, nearest(field, known))
