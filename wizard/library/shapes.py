"""The shapes of authored content: what a file under content/ becomes once it is read and checked."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import field, replace
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, NamedTuple

from wizard.frozen import Frozen
from wizard.library.places import (
    NO_PLACE,
    NO_POINT,
    NO_STEP,
    PartId,
    PlaceId,
    PointId,
    PromptId,
    QuantityId,
    StepId,
    WhereId,
    also_named,
    point_id,
    state_field,
    tool_kind,
)
from wizard.library.shapes_model import ModelBook
from wizard.library.shapes_quantity import Quantity as Quantity
from wizard.library.shapes_signs import SignBook

if TYPE_CHECKING:
    from wizard.library.kinds import Kind


# A kind of frame: its points, boxes, stations and places for the level
# ------------------------------------------------------------------------------------------------


class Place(NamedTuple):
    """A place along the frame with a point on each side (or one in the middle)."""

    id: PlaceId
    name: str
    x: float
    """mm rearward of the front crossmember's points."""
    half_width: float
    """mm from the center line to the point; 0 for a middle point."""
    z: float
    """mm up, relative to the front crossmember's points."""
    kind: str
    """rivet, hole, bolt, edge: content/tools.toml gives each its doubt."""
    sides: tuple[str, ...] = ("left", "right")
    note: str = ""
    role: str = ""
    """What the steps call it, where that is not its id: `rail` for one more pair along the rails."""
    horns: bool = False
    """Whether they are the tips of the horns: what gets bent first, so no part of the main frame."""

    @property
    def points(self) -> tuple[PointId, ...]:
        """Ids of its points, left before right; a point in the middle has the place's own id."""
        return tuple(point_id(self.id, side) for side in self.sides)

    @property
    def pair(self) -> tuple[PointId, PointId]:
        """Left and right point; for a point in the middle that point twice."""
        return self.points[0], self.points[-1]


class Box(NamedTuple):
    """The area between two places, whose diagonals are compared."""

    id: PlaceId
    name: str
    front: PlaceId
    rear: PlaceId
    role: str = ""
    """What the steps call it, where that is not its id: `part` for one more box, `nose` for the
    area between a nose and a pair of points, `plate` for one whose diagonals an X-member bars.
    """
    through: PlaceId = NO_PLACE
    """Place in the middle, inside the box, from which its corners are taped; empty for none."""


class Station(NamedTuple):
    """A place along the string where the gap is read."""

    id: PlaceId
    name: str
    x: float
    """mm, same origin as Place.x."""
    repeats: int = 1
    """How often each gap there is read: twice at one station, so that what the hand is worth is
    learned and not assumed.
    """


class LevelPlace(NamedTuple):
    """A place where the level is laid across the rails."""

    id: PlaceId
    name: str
    place: PlaceId
    """Place id that gives x and the rail width."""
    role: str = ""
    """`first` for the place to come back to, on a frame without horns."""
    repeats: int = 1
    """How often each reading there is taken: twice where the rails lie far apart, for a lean lifts a
    rail by so much the more.
    """


CLOSED_RAILS, TUBE_RAILS = "closed-rails", "tube-rails"
"""Traits of a kind of frame whose rails are hollow; tubes are round or oval, and closed as well."""


RAILS = "rail"
RAIL = re.compile(r"\b([Rr])ail(s?)\b")


class Layout(Frozen):
    """A kind of frame: its points, boxes and stations.

    Figures are round ones; the user's own replace them.
    """

    id: str
    name: str
    about: str
    source: str
    places: tuple[Place, ...]
    boxes: tuple[Box, ...]
    stations: tuple[Station, ...]
    levels: tuple[LevelPlace, ...]
    string: tuple[float, float]
    """x of the front and rear block of the string, mm."""
    figures: Mapping[str, float] = field(default_factory=dict)
    """wheelbase, track, rail_depth, rail_flange, rail_thickness, engine_front_x, engine_mount_x,
    engine_mass_kg, ball_x, rod, front_axle_x, rear_axle_x; mm unless the name ends otherwise.
    """
    traits: tuple[str, ...] = ()
    """How it is made: open-rails, closed-rails, tube-rails, riveted, welded, kicks, torque-boxes,
    center-box (one box carries all), outriggers, wooden-sills, cross-springs (rods hold the axles),
    ball-on-gearbox (the front one's rod ends under the bell housing).
    """
    cannot: tuple[str, ...] = ()
    """What no reading tells of this kind of frame, a sentence or two each."""
    rail: str = RAILS
    """What its two long members are called, where it has no rails: `side` of a frame that one box
    in the middle carries.
    """

    def worded(self, text: str) -> str:
        """A text of content in the words for this kind of frame: `Left side, from below`."""
        if self.rail == RAILS or "ail" not in text:
            return text
        own = self.rail
        return RAIL.sub(lambda m: f"{own.capitalize() if m[1] == 'R' else own}{m[2]}", text)

    @cached_property
    def words(self) -> frozenset[str]:
        """Everything that a need on the layout may name: its traits and what its boxes and places
        are called.
        """
        boxes = (b.role or str(b.id) for b in self.boxes)
        places = (p.role or str(p.id) for p in self.places)
        return frozenset((*self.traits, *boxes, *places))

    @cached_property
    def section(self) -> str:
        """What its rails are, cut across: `tube`, `box` where they are closed, else `channel`."""
        if TUBE_RAILS in self.traits:
            return "tube"
        return "box" if CLOSED_RAILS in self.traits else "channel"

    @cached_property
    def tips(self) -> PlaceId:
        """Id of the place at the tips of the horns; empty on a frame without horns."""
        return next((p.id for p in self.places if p.horns), NO_PLACE)

    @cached_property
    def horns(self) -> PlaceId:
        """Id of the box behind the tips of the horns; empty on a frame without horns."""
        return next((b.id for b in self.boxes if b.front == self.tips), NO_PLACE)

    def place(self, id: WhereId) -> Place:
        """The place of that id; KeyError when the layout has none."""
        return self.place_by_id[id]

    # By their ids; each made once
    # --------------------------------------------------------------------------------------------

    @cached_property
    def place_by_id(self) -> Mapping[WhereId, Place]:
        """Each place."""
        return {p.id: p for p in self.places}

    @cached_property
    def place_by_point(self) -> Mapping[PointId, Place]:
        """The place of each point, and of each place's own id."""
        points = {point: p for p in self.places for point in p.points}
        return points | {p.id: p for p in self.places}

    @cached_property
    def box_by_id(self) -> Mapping[WhereId, Box]:
        """Each box."""
        return {b.id: b for b in self.boxes}

    @cached_property
    def station_by_id(self) -> Mapping[WhereId, Station]:
        """Each station of the string."""
        return {s.id: s for s in self.stations}

    @cached_property
    def level_by_id(self) -> Mapping[WhereId, LevelPlace]:
        """Each place of the level."""
        return {v.id: v for v in self.levels}

    @cached_property
    def names(self) -> Mapping[WhereId, str]:
        """What each box, place, station and place of the level is called; the later goes before."""
        rows: Sequence[Box | Place | Station | LevelPlace]
        rows = (*self.boxes, *self.places, *self.stations, *self.levels)
        return {row.id: row.name for row in rows}


# Pages, prompts and answers
# ------------------------------------------------------------------------------------------------


SEEN = {"b": "bare", "p": "painted", "d": "dirty", "n": "not-reached"}
"""Letters for how well a place was seen; answer letters of a look must be others."""
UNSURE = "not-sure"
"""Answer to a look by somebody who is not sure: the program offers it on every look."""


class Need(Frozen):
    """A condition on the survey; a step or prompt drops out when one of its needs is not met."""

    key: str
    """As authored: `state.<field>`, or the prompt id of an answer."""
    any: tuple[str, ...]
    """Tokens of which one must be current."""
    instead: str = ""
    """Said when it is not met: what stands in, or what is lost."""

    # Asked for at every prompt of every page, so they are read off the key once.
    state: str = field(init=False, repr=False, compare=False)
    """The field of the state that it hangs on; empty where it hangs on an answer."""
    prompt: PromptId = field(init=False, repr=False, compare=False)
    """The prompt whose answer it hangs on, where it hangs on no field of the state."""
    calls: bool = field(init=False, repr=False, compare=False)
    """Whether it hangs on something that is asked only once it is called for."""
    either: "tuple[Need, ...]" = ()
    """Of such a one, what calls for it by itself: any one of these does, where the owner did not."""
    usual: bool = False
    """Whether most people meet it, as of a tool: its page counts before anybody was asked."""

    def __post_init__(self) -> None:
        object.__setattr__(self, "state", state_field(self.key))
        object.__setattr__(self, "prompt", PromptId(self.key))
        object.__setattr__(self, "calls", bool(also_named(self.key)))


CALLED = "called"
"""The answer of the row by which the owner calls for something."""


class Choice(NamedTuple):
    """One answer to a choice or a look."""

    letter: str
    token: str
    words: str
    named: str = ""
    """What it is called in a sentence about it; empty where its words say that."""
    also: tuple[str, ...] = ()
    """Other words that people type and mean just this by."""
    stop: bool = False
    """True for a crack, kink, torn weld or hole in a bearing place: it outranks every number."""
    loose: bool = False
    """True for a joint, mount or bracket that is loose: on it no number means anything."""
    nothing: bool = False
    """True for the answer of a look that nothing was found there."""
    speaks: str = ""
    """What it speaks for where it is no stop sign and yet no sound frame, such as rust."""
    marks: tuple[str, ...] = ()
    """What else a rule reads of it: wizard/library/marks.py says what there is."""
    says: str = ""
    """What it means to the question that its prompt asks."""
    stands: str = ""
    """Of how the car stands: `still`, `rocks`; `sound` of the metal where it is lifted, `nowhere`;
    else empty.
    """
    needs: tuple[Need, ...] = ()
    """What must be known to hold before it can be answered so, such as a bare frame."""
    instead: str = ""
    """Said to whoever answers so all the same."""
    brings: str = ""
    """The text of an owner's layout file that the answer brings into the survey; never authored."""


class Together(NamedTuple):
    """One letter for several questions of a page, where they are answered as most cars are."""

    letter: str
    words: str
    """All that it says, of each question."""
    says: tuple[tuple[str, str], ...]
    """The last part of each question's id with the letter of its answer, its own question first."""
    needs: tuple[Need, ...] = ()
    """What may not be known otherwise, so that each of them is asked."""


class PromptTemplate(Frozen):
    """A prompt as authored, before the layout's boxes, stations and sides are put in."""

    kind: "Kind"
    last: str = ""
    """Last part of the prompt's id, with {fields} of the item."""
    each: str = ""
    """'', box, front-box, place, station, level, side; front-box takes that one box and leaves it
    out of the id.
    """
    only: tuple[str, ...] = ()
    """What the items to take are called: their role, else their id; empty takes all."""
    ask: str = ""
    short: str = ""
    """What its answer is called in the list of answers; empty takes `ask`."""
    about: str = ""
    """What it asks of every item alike, for paper: there the letters of all stand together."""
    start: PointId = NO_POINT
    """Point id (with {fields}) where the tape starts."""
    end: PointId = NO_POINT
    over: PlaceId = NO_PLACE
    """Id of the place over whose middle the thing is that is read, or of the place or station that is
    looked at, for the drawing; empty for none.
    """
    point: str = ""
    """What is read where there are no two points: a key of the hand's scatter in tools.toml, such
    as block.
    """
    sizes: tuple[float, ...] = ()
    """Between what two lengths, mm, a reading here lies on every car; beyond them it is doubted.
    Empty where the rest of the frame says more.
    """
    repeats: int = 1
    signs: tuple[str, ...] = ()
    """For a gap: the word for plus and the word for minus, such as ("past", "short")."""
    tool: str = ""
    """Kind of tool: tape, rule, level, bar, string."""
    keep: str = ""
    """`state.<field>`, `survey.<field>`, `tool.<kind>`; empty keeps a plain answer."""
    choices: tuple[Choice, ...] = ()
    together: Together | None = None
    """One letter for this question and others of its page; None for none."""
    needs: tuple[Need, ...] = ()
    optional: bool = False
    """True where the answer '-' (nothing to say) is allowed."""
    move: int = 1
    """Number of the move of `how` by which it is done: where not all have room, the page begins
    with that one.
    """
    alone: bool = False
    """Whether that move is about this question and no other: a page that does not ask it leaves the
    move out.
    """
    asks: str = ""
    """The question that a rule reads here, of wizard/library/marks.py; empty for none."""
    exposes: tuple[str, ...] = ()
    """Exposures that this prompt adds to those of its page, wherever it is asked."""
    today: bool = False
    """True where a re-check never keeps last time's answer: it is done, seen or read on the day."""

    @cached_property
    def choice_of(self) -> Mapping[str, Choice]:
        """Its answers to choose from, by token; the first of one token."""
        return {c.token: c for c in reversed(self.choices)}


class OnlyWords(NamedTuple):
    """Words that sound like an exposure where there is none."""

    words: str
    why: str


class Gathered(NamedTuple):
    """A look that is taken at a place of a round, among others that can be taken there."""

    look: PromptId
    """Its prompt."""
    letter: str
    """What names it in the one entry for all of the place."""
    name: str
    """What is looked at, as the list of the place says it."""
    found: str
    """A few words for what may be found there."""
    once: bool = False
    """Whether it tells of what never changes, so that no re-check takes it again."""


class Stop(NamedTuple):
    """One page of a walk: a step, or the part of it that is asked there."""

    step: StepId
    parts: tuple[PartId, ...] = ()
    """Empty for all of the step that no stop before it asks."""


class Topic(NamedTuple):
    """One thing that a survey finds out, with the steps that settle it."""

    id: str
    name: str
    """What it is, as a list names it: `the sag with the engine's weight on`."""
    steps: tuple[StepId, ...]
    """Steps, and places of a round, in any order."""
    tells: tuple[QuantityId, ...] = ()
    """Quantities by which it is judged."""
    lacks: str = ""
    """What a verdict lacks as long as this is open: rail-shift, sag, twist, looks; empty where it can
    do without.
    """
    until: str = ""
    """What ends the chance to read it: one of marks.BEFORE; empty where it can be read on any day."""
    once: str = ""
    """Id of another topic, where that chance counts only once that one is begun."""
    done: str = ""
    """What is done behind its last page, where that is a good place to stop; empty where it is
    none. Topics of which the same is said end together, behind the last of them.
    """
    again: str = ""
    """The same of a re-check, which asks a part of it."""
    stays: str = ""
    """What stays as it is until the next time."""


class Also(NamedTuple):
    """Something that is asked only once the owner, a sign or a state calls for it."""

    id: str
    """What /also takes."""
    name: str
    """As a list names it: `the axle set`."""
    says: str
    """What it finds out, in one sentence."""
    call: Need
    """The condition on it, as a page or a question has it."""

    @property
    def when(self) -> tuple[Need, ...]:
        """What calls for it by itself: any one of these; `instead` says why."""
        return self.call.either


class Reworded(NamedTuple):
    """What a question says in other words."""

    texts: Mapping[str, str] = MappingProxyType({})
    """Of ask, short and about those that it says otherwise."""
    answers: Mapping[str, str] = MappingProxyType({})
    """The words of its answers, by their tokens."""


class Worded(NamedTuple):
    """What a page says in other words on a kind of frame that is made otherwise."""

    trait: str
    """A trait of the layout, such as tube-rails."""
    texts: Mapping[str, Any]
    """Fields of the step, with what stands in their place."""
    asks: Mapping[str, Reworded] = MappingProxyType({})
    """What a question says otherwise, by the last part of its id; nothing where it has none."""
    names: Mapping[str, str] = MappingProxyType({})
    """Of a place of a round, what its parts are called, by their letters."""

    @property
    def reaches(self) -> bool:
        """Whether it says more than the page's own texts otherwise."""
        return bool(self.asks or self.names)


NO_OTHER_WORDS = Worded("", MappingProxyType({}))


def _in_words(prompt: PromptTemplate, own: Reworded, layout: Layout) -> PromptTemplate:
    """A question in the words for a kind of frame, and its answers with it."""
    word = layout.worded
    asked: dict[str, Any] = {
        name: word(own.texts.get(name, getattr(prompt, name))) for name in OF_A_QUESTION
    }
    if prompt.keep == "survey.layout":  # The other kinds of frame have their rails.
        return prompt
    choices = tuple(
        c._replace(words=word(own.answers.get(c.token, c.words)), named=word(c.named))
        for c in prompt.choices
    )
    if choices == prompt.choices and all(getattr(prompt, n) == a for n, a in asked.items()):
        return prompt
    return replace(prompt, **asked, choices=choices)


OF_A_QUESTION = ("ask", "short", "about")
"""What a question says, beside its answers."""


def _all_in_words(step: "Step", said: Worded, layout: Layout) -> "Step":
    """A page with its title, its questions and its parts in the words for a kind of frame."""
    word = layout.worded
    prompts = (_in_words(p, said.asks.get(p.last, Reworded()), layout) for p in step.prompts)
    gathers = (
        g._replace(name=word(said.names.get(g.letter, g.name)), found=word(g.found))
        for g in step.gathers
    )
    return step._replace(
        title=word(step.title),
        at=word(step.at),
        joint=word(step.joint),
        caveat=word(step.caveat),
        prompts=tuple(prompts),
        gathers=tuple(gathers),
    )


class Step(NamedTuple):
    """One page of the wizard, as authored in content/steps/<id>.toml."""

    id: StepId
    title: str
    part: str
    """Part of the survey shown in the trail: prepare, look, measure, finish."""
    minutes: int
    """Minutes that the page takes the first time, with finding and marking its points."""
    why: str
    how: tuple[str, ...]
    spoils: tuple[str, ...]
    good: str
    paper: str = ""
    """How to, in one line for the worksheet; empty takes the first line of `how`."""
    alone: str = ""
    mentor: str = ""
    """A question a mentor would put to the newcomer."""
    words: tuple[str, ...] = ()
    exposes: tuple[str, ...] = ()
    """What its moves expose a person to: ids of content/exposures.toml.

    The cautions follow from these.
    """
    unexposed: str = ""
    """Why it exposes nobody to anything, where `exposes` is empty."""
    only_words: tuple[OnlyWords, ...] = ()
    """Words of the page that sound like an exposure and are none, each with the reason."""
    drawing: str = "none"
    """plan, side, end, horns, look, none."""
    check: str = ""
    caveat: str = ""
    """What its result does not mean."""
    instead: str = ""
    source: str = ""
    readings: int = 0
    """For how many readings its minutes are, where another kind of frame has more or fewer of them; 0
    where they are for all of its prompts.
    """
    again: int | None = None
    """Minutes of setting up for the page a second time, marks and tools at hand; each answer comes
    on top (see wizard/survey/minutes.py). Common practice, no published source. None: a second time
    is as long as the first.
    """
    stand_in: StepId = NO_STEP
    """Step that takes the same readings another way; when that one is done, this one is not
    missing, nor is it asked once the car comes to stand otherwise.
    """
    marks: tuple[str, ...] = ()
    """What a rule reads of the page: wizard/library/marks.py says what there is."""
    reads: str = ""
    """What its readings are, where they are more than distances between points:
    wizard/library/marks.py says what there is.
    """
    at: str = ""
    """Where a thing is that was seen there, for a sentence: `in the top of the {side} rail`, or with
    {corner}, which is the side and the third of the frame.
    """
    joint: str = ""
    """What is loose where an answer here says so, such as 'the {side} engine mount'."""
    across: str = ""
    """What the place of the crossmember is called that it looks at; empty where it looks at none."""
    layouts: tuple[str, ...] = ()
    """Layout ids; empty means every layout."""
    needs: tuple[Need, ...] = ()
    called: str = ""
    """Id of what it belongs to that is asked only once called for; empty where it is always asked."""
    call: Need | None = None
    """The condition behind `called`; the loader fills it in."""
    prompts: tuple[PromptTemplate, ...] = ()
    gathers: tuple[Gathered, ...] = ()
    """Of a place of a round: the looks that are taken there, with one entry for all of them."""
    lit: tuple[str, ...] = ()
    """Of a place of a round: the side, and the third of the frame, that its picture lights."""
    twin: StepId = NO_STEP
    """Of a place of a round: the place on the other side that is seen from the same spot."""
    worded: tuple[Worded, ...] = ()
    """What it says in other words where the frame is made otherwise."""

    def on(self, layout: Layout) -> "Step":
        """The page in the words for this kind of frame: its own where it has some, and what the
        frame has in the place of rails in all the rest.
        """
        said = next((one for one in self.worded if one.trait in layout.traits), None)
        step = self._replace(**said.texts) if said else self
        if layout.rail == RAILS and not (said and said.reaches):
            return step
        return _all_in_words(step, said or NO_OTHER_WORDS, layout)

    @property
    def only_tools(self) -> bool:
        """Whether all that it asks is which tools are in hand: each is asked where it is first used."""
        return bool(self.prompts) and all(tool_kind(p.keep) for p in self.prompts)


# Limits, cautions, tools, words
# ------------------------------------------------------------------------------------------------


class Bound(NamedTuple):
    """The upper end of one band of a limit."""

    band: str
    """leave, watch, put-right."""
    upto_mm: float
    """Value up to which the band holds, mm (or deg, or percent, as the limit's unit says)."""
    source: str
    mark: str
    """P published, C common practice with no source, M from memory, X computed, O the project's
    own.
    """


class Limit(NamedTuple):
    """Bands of one quantity. Beyond the last bound the answer is `beyond`."""

    id: str
    name: str
    above: tuple[Bound, ...]
    below: tuple[Bound, ...]
    """Bounds for negative values, by size; equal to `above` when the sign does not matter, empty
    when not judged.
    """
    beyond: str = "specialist"
    """Band beyond the last bound: specialist or axle-first."""
    note: str = ""
    unit: str = "mm"
    """Of its bounds, and of every quantity that it judges: mm, %, deg."""
    sound: str = ""
    """What it judges, as it is named where that alone is still open: `the horns`."""
    well: str = ""
    """The same where all of it is in order: `there is no twist to speak of`; {where} stands for
    boxes or rails, {is} for the word that fits their number. Empty says `sound`.
    """
    told: str = "whole"
    """Of what it is said: the frame as a whole, or each box or rail by itself."""
    local: str = ""
    """Where it would show, and that this is all, of what is no part of the frame that the rest hangs
    on: as long as it is not known it leaves the verdict on the frame alone. Empty for all others.
    """


class Exposure(NamedTuple):
    """One way in which work on the car can hurt; content/exposures.toml."""

    id: str
    name: str
    near: bool = False
    """Whether it puts a person in reach of a car that may rock, creep or fall."""
    stances: tuple[str, ...] = ()
    """How the car stands where it is one: wheels, lifted, bare."""
    told_by: tuple[str, ...] = ()
    """Words of a page that give it away: a page that has them and does not declare it is refused."""


class Caution(NamedTuple):
    """A caution shown before a page and acknowledged by a word."""

    id: str
    title: str
    sentences: tuple[tuple[str, ...], ...]
    """Each by the lines on which it is set; most have one."""
    sources: tuple[str, ...] = ()
    against: tuple[str, ...] = ()
    """Exposures that it stands against; empty for one that is shown while the car is not known to
    stand.
    """
    stances: tuple[str, ...] = ()
    """How the car stands where it is the one to read: wheels, lifted, bare."""
    covers: tuple[str, ...] = ()
    """Exposures that whoever read this one has read enough about too."""
    holds: str = ""
    """Why the car is not known to stand, for one that is shown then; empty for all others."""
    big: str = ""
    """The same in the largest words there are."""

    @property
    def lines(self) -> tuple[str, ...]:
        """The lines as they are set."""
        return tuple(line for sentence in self.sentences for line in sentence)


class ToolKind(NamedTuple):
    """A tool to hand, for someone who knows no numbers."""

    id: str
    kind: str
    name: str
    values: Mapping[str, str]
    """Fields of the [[tool]] row it becomes: class, division, end, sensitivity, mass, pull, ...; a
    field `division_in` or `division_mm` becomes `division` by the survey's unit.
    """

    def in_unit(self, unit: str) -> dict[str, str]:
        """The values with those authored for the unit in the place of those for both."""
        other = "_mm" if unit == "in" else "_in"
        return {
            k.removesuffix(f"_{unit}"): v for k, v in self.values.items() if not k.endswith(other)
        }


class Scatter(NamedTuple):
    """Prior for the hand scatter of one reading."""

    tool: str
    point: str
    s: float
    """Standard deviation of one reading: mm, or divisions for a level."""
    dof: float
    source: str
    rounding: bool = False
    """Whether rounding to the scale's division comes on top of it."""


class Word(NamedTuple):
    """A glossary entry."""

    word: str
    meaning: str
    everyday: bool = False
    """So common in these pages that only a step that names it explains it."""


class Clause(NamedTuple):
    """What a laboratory's report has to hold, and where it stands in a report of this program."""

    clause: str
    """Its number in ISO/IEC 17025:2017."""
    asks: str
    """What it demands, in our own words."""
    at: tuple[str, ...]
    """Ids of the report's headings under which it stands; empty where it stands nowhere."""
    stands: str
    """The same in words."""
    why: str
    """Why a home survey has none of it; empty where it stands somewhere."""


# All of it
# ------------------------------------------------------------------------------------------------


class PhotoAsked(NamedTuple):
    """A photo that every record needs."""

    id: str
    name: str
    """What it shows: `left front corner`."""
    at: StepId
    """The page whose place it shows."""
    how: str
    """What must be in the picture."""


class OfCar(NamedTuple):
    """Something that a paper says of the car, which no page asks for."""

    id: str
    """The word by which it is noted: `number`."""
    name: str
    """What stands before it on paper: `number on the frame`."""
    how: str
    """What to type."""
    like: str
    """An example of that."""
    stays: bool
    """Whether it holds for ever; else it is of the day, and a re-check says that it is of last time."""


class Work(NamedTuple):
    """Something that can be done about what was found, or asked of whoever works on a frame. It
    never says how that is done.
    """

    id: str
    name: str
    words: str
    of: tuple[QuantityId, ...]
    """Quantities that point to it when they are out."""
    seen: tuple[str, ...]
    """What was seen that points to it: stop, loose, or one of marks.VOICES."""
    only: tuple[str, ...] = ()
    """With what a finding asks for (marks.ASKED_FOR) it is a choice; empty for any."""
    always: tuple[str, ...] = ()
    """What a finding asks for with which it is a choice, whatever was found."""
    otherwise: bool = False
    """Whether it is the choice where no other is."""
    turn: int = 0
    """Its place in the order of doing; 0 for what takes the place of all the others."""
    who: str = ""
    """Who does it."""
    leaves: str = ""
    """What is still there after it."""
    again: str = ""
    """What is measured again after it, beside the place itself."""
    frame: bool = False
    """Whether it is about the frame, and no choice for what is measured beside it."""
    ours: bool = False
    """Whether whoever surveys does it, so that no shop is asked for it."""


class ShopBrief(NamedTuple):
    """What a brief for whoever straightens a frame says of every frame."""

    opening: tuple[str, ...] = ()
    standing: str = ""
    keep: tuple[str, ...] = ()
    """What stays as it is, whatever is done."""
    questions: tuple[str, ...] = ()
    works: tuple[Work, ...] = ()
    """All that can be done about what was found; those that are ours are asked of no shop."""


class Paper(NamedTuple):
    """What papers ask of whoever reads them."""

    photos: Mapping[str, PhotoAsked] = MappingProxyType({})
    """By id, in the order of asking."""
    brief: ShopBrief = ShopBrief()
    of_car: Mapping[str, OfCar] = MappingProxyType({})
    """By id, in the order in which a paper says them."""


class Asked(NamedTuple):
    """A prompt behind a question that a rule reads."""

    prompt: PromptId
    """Its id."""
    step: StepId
    side: str
    """left or right; empty where it stands alone."""
    says: Mapping[str, str]
    """What each answer means, by token; empty for one that says nothing to the rule."""

    def means(self, answer: str) -> str:
        """What an answer means to the rule; empty for nothing."""
        return self.says.get(answer, "")


class Library(Frozen):
    """Everything under content/, checked."""

    courses: Mapping[str, tuple[StepId, ...]]
    """Step ids in the order in which a walk comes to them: `whole`, `short`, `recheck`. A place of
    a round is none of them: the steps whose looks it gathers are.
    """
    steps: Mapping[StepId, Step]
    layouts: Mapping[str, Layout]
    limits: Mapping[str, Limit]
    quantities: Mapping[QuantityId, Quantity]
    """In the order in which they are found and told."""
    exposures: Mapping[str, Exposure]
    cautions: Mapping[str, Caution]
    """In the order in which they are read."""
    tools: Mapping[str, ToolKind]
    scatters: tuple[Scatter, ...]
    point_doubt: Mapping[str, float]
    """mm, standard uncertainty of which spot of a point of this kind is 'the point'."""
    words: Mapping[str, Word]
    clauses: tuple[Clause, ...]
    """In the order of the standard."""
    walks: Mapping[str, tuple[Stop, ...]] = field(default_factory=dict)
    """What is asked one after the other, by the name of the course."""
    called: Mapping[PartId, str] = field(default_factory=dict)
    """What a stop is called that asks a part of its step, by the first of what it asks."""
    topics: tuple[Topic, ...] = ()
    """What a survey finds out, in the order of telling."""
    also: Mapping[str, Also] = field(default_factory=dict)
    """What is asked only once it is called for, in the order of telling."""
    model: ModelBook = field(default_factory=ModelBook)
    signs: SignBook = field(default_factory=SignBook)
    """What counts as evidence for age, collision, earlier repair, made so."""
    paper: Paper = field(default_factory=Paper)
    """The photos that every record needs, and the brief for a shop."""
    own: Layout | None = None
    """What stands for a frame of none of these kinds until its owner has set it up, and gives what he
    does not say.
    """
    pushes: Mapping[PromptId, Mapping[str, str]] = field(default_factory=dict)
    """Ids of the prompts that say how the car stands: each answer's token to what it says
    (`Choice.stands`).
    """
    places: Mapping[PromptId, PromptId] = field(default_factory=dict)
    """Looks at the metal where jack and stands go, by id: the prompt that asks for another place
    instead.
    """

    kept: dict[Any, Any] = field(default_factory=dict, init=False, repr=False, compare=False)
    """What was made of this content alone, by what it was made of: the prompts of a layout, the steps
    that carry marks.
    """
    page: Mapping[str, StepId] = field(default_factory=dict)
    """The page of each mark that one page carries, and of each thing that one page reads."""
    questions: Mapping[str, tuple[Asked, ...]] = field(default_factory=dict)
    """The prompts behind each question that a rule reads."""

    def marked(self, mark: str) -> tuple[Step, ...]:
        """The steps that carry a mark, in the order of their ids."""
        return tuple(s for s in self.steps.values() if mark in s.marks)

    def tool_steps(self) -> frozenset[StepId]:
        """Ids of the steps that ask for nothing but tools."""
        if "tools alone" not in self.kept:
            self.kept["tools alone"] = frozenset(s.id for s in self.steps.values() if s.only_tools)
        found: frozenset[StepId] = self.kept["tools alone"]
        return found

    def telling(self) -> frozenset[StepId]:
        """Ids of the steps at which something is looked at or measured: what was called for and not
        seen is missed on whatever part of the walk it is asked.
        """
        if "telling" not in self.kept:
            parts = ("look", "measure")
            steps = (s for s in self.steps.values() if s.part in parts or s.called)
            ids = frozenset(s.id for s in steps if any(p.kind.counts for p in s.prompts))
            self.kept["telling"] = ids
        found: frozenset[StepId] = self.kept["telling"]
        return found

    def calls(self) -> Mapping[str, Need]:
        """The condition on each thing that is asked only once it is called for, by its id."""
        if "calls" not in self.kept:
            self.kept["calls"] = {a.id: a.call for a in self.also.values()}
        found: Mapping[str, Need] = self.kept["calls"]
        return found

    def gathered(self) -> frozenset[PromptId]:
        """Ids of the looks that places ask."""
        if "gathered" not in self.kept:
            looks = (g.look for s in self.steps.values() for g in s.gathers)
            self.kept["gathered"] = frozenset(looks)
        found: frozenset[PromptId] = self.kept["gathered"]
        return found

    def in_turn(self, *marks: str) -> tuple[StepId, ...]:
        """Ids of the steps that carry one of these marks, or whose readings are one of them, in the
        order of the whole course.
        """
        if marks not in self.kept:
            ids = {s.id for s in self.steps.values() if {s.reads, *s.marks} & set(marks)}
            self.kept[marks] = tuple(id for id in self.courses["whole"] if id in ids)
        found: tuple[StepId, ...] = self.kept[marks]
        return found

    def asking(self, question: str, step: StepId = NO_STEP, side: str = "") -> Asked | None:
        """The prompt that asks a question, of one step or side where it is named."""
        key = Asked, question, step, side
        if key not in self.kept:
            there = self.questions.get(question, ())
            here = (a for a in there if step in (NO_STEP, a.step) and side in ("", a.side))
            self.kept[key] = next(here, None)
        found: Asked | None = self.kept[key]
        return found

    def says_of_standing(self, prompt: PromptId, answer: str) -> str:
        """What an answer says of how the car stands; empty for nothing."""
        return self.pushes.get(prompt, {}).get(answer, "")
