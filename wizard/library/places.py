"""Ids and the places that they name: the one module that puts an id together or takes it apart.

    point       front-left, plate          a place and a side; no side for one in the middle
    tape        front-left--rear-right     from one point to another
    where       engine-mount/left          what a finding is of: a place, a side, or both
    prompt      level/rear/as-set          step, item and name; no item for one that stands alone
    kept        state.engine               the table and field that an answer sets besides
    part        hand:level/rear/as-set     a part of a doubt: its kind and what it is of

Text is their form in a file and in a key. Whoever wants to know something of an id asks here.
"""

from collections.abc import Callable, Iterable
from enum import StrEnum
from fnmatch import fnmatchcase
from functools import lru_cache
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar, final

if TYPE_CHECKING:
    # Opaque to mypy and plain text when the program runs: so nobody outside this file splits one,
    # matches one against a word or sets two together, and a file, a key and a sort cost nothing.
    # `StepId(text)` makes one of what stands in a file or was typed; `str(id)` writes it.

    class PartId:
        """What a re-check takes again: a page, a part of one, or one prompt of it."""

        def __init__(self, text: str) -> None: ...

        def __lt__(self, other: "PartId") -> bool: ...

        def __bool__(self) -> bool: ...

    @final
    class StepId(PartId):
        """Id of a page."""

    @final
    class PromptId(PartId):
        """Id of a prompt."""

    @final
    class QuantityId:
        """What a check computes, by its id in content/quantities.toml."""

        def __init__(self, text: str) -> None: ...

        def __lt__(self, other: "QuantityId") -> bool: ...

        def __bool__(self) -> bool: ...

    class WhereId:
        """What a finding is of: a place, a side, or both."""

        def __init__(self, text: str) -> None: ...

        def __lt__(self, other: "WhereId") -> bool: ...

    class PointId:
        """Id of one point, with its side."""

        def __init__(self, text: str) -> None: ...

        def __lt__(self, other: "PointId") -> bool: ...

    @final
    class PlaceId(WhereId, PointId):
        """Id of a place, box, station or place for the level, and of what a prompt is asked of.

        A place is all that some findings say, and in the middle it is its own point.
        """

        def __lt__(self, other: WhereId | PointId) -> bool: ...

        def __bool__(self) -> bool: ...

    @final
    class FindingId:
        """Id of a finding: its quantity and what it is of."""

        def __init__(self, text: str) -> None: ...

        def __lt__(self, other: "FindingId") -> bool: ...

        def __bool__(self) -> bool: ...

    _F = TypeVar("_F", bound=Callable[..., Any])

    def _kept(most: int) -> Callable[[_F], _F]:
        """As `lru_cache`, which lets anything in: what is asked must be an id here too."""

else:
    PartId = StepId = PromptId = QuantityId = WhereId = PointId = PlaceId = FindingId = str
    _kept = lru_cache

Source = FindingId | str
"""What a sentence rests on: a finding, the id of a row, or a kind of source with its name, `rule:in`."""

_Own = TypeVar("_Own", PlaceId, PointId)

NO_STEP = StepId("")
"""Stands for no page, or for any."""
NO_PROMPT = PromptId("")
"""Stands for no prompt."""
NO_PLACE, NO_POINT = PlaceId(""), PointId("")
"""Stand for no place and no point."""
WHOLE_BOX, FRONT_BOX, REAR_BOX = PlaceId("whole"), PlaceId("front-box"), PlaceId("rear-box")
"""Boxes of every kind of frame: checks and words speak of them."""
DIFFERENCE = WhereId("difference")
"""Of what is one side held against the other."""

OWN = "own-"
"""Begins the id of every place that an owner adds, so that no authored one is ever the same."""
MIDDLE = "middle"
"""What stands among a place's sides for a point in the middle."""
_STEP, _SIDE, _TAPE, _KEPT, _PART = "/", "-", "--", ".", ":"


class Side(StrEnum):
    """A side of the car, as whoever sits in it sees it."""

    LEFT = "left"
    RIGHT = "right"

    @property
    def other(self) -> "Side":
        """The side across the car."""
        return Side.RIGHT if self is Side.LEFT else Side.LEFT

    @property
    def sign(self) -> float:
        """To the right is plus."""
        return -1.0 if self is Side.LEFT else 1.0


SIDES = (Side.LEFT, Side.RIGHT)
_BY_WORD = {str(side): side for side in SIDES}


def side_of(word: str | WhereId) -> Side | None:
    """The side of that word; None for a word that is none."""
    return _BY_WORD.get(str(word))


def is_own(place: PlaceId) -> bool:
    """Whether an owner added the place."""
    return str(place).startswith(OWN)


def without_own(id: _Own) -> _Own:
    """The id of a place or point as its owner says it."""
    return type(id)(str(id).removeprefix(OWN))


def spoken(id: str | PartId | QuantityId | WhereId | PointId) -> str:
    """An id or a token as words: `rear crossmember` for `rear-crossmember`."""
    return str(id).replace(_SIDE, " ")


# Points and tapes
# ------------------------------------------------------------------------------------------------


class Point(NamedTuple):
    """One point of a frame."""

    place: PlaceId
    side: Side | None = None
    """None in the middle."""

    @property
    def id(self) -> PointId:
        """As it stands in a file: `front-left`, `plate`."""
        return point_id(self.place, self.side)

    @property
    def other(self) -> "Point":
        """The point across the car; one in the middle stays."""
        return Point(self.place, self.side.other) if self.side else self


@_kept(4096)
def point_id(place: PlaceId, side: str | None) -> PointId:
    """The id of a place's point: `front-left`; the place's own for a point in the middle."""
    return place if side in (None, MIDDLE) else PointId(f"{place}{_SIDE}{side}")


@_kept(4096)
def pair_ids(place: PlaceId) -> tuple[PointId, PointId]:
    """Ids of a place's left and right point."""
    return point_id(place, Side.LEFT), point_id(place, Side.RIGHT)


@_kept(4096)
def point_of(id: PointId) -> Point:
    """The point of that id."""
    place, _, word = str(id).rpartition(_SIDE)
    side = _BY_WORD.get(word)
    return Point(PlaceId(place), side) if place and side else Point(PlaceId(str(id)))


def across(id: PointId) -> PointId:
    """Id of the point across the car.

    >>> across(PointId("front-left")), across(PointId("plate-middle"))
    ('front-right', 'plate-middle')
    """
    return point_of(id).other.id


class Tape(NamedTuple):
    """A distance from one point to another."""

    start: Point
    end: Point

    @property
    def id(self) -> str:
        """As it stands in the id of a prompt: `front-left--rear-right`."""
        return tape_id(self.start.id, self.end.id)

    @property
    def ends(self) -> tuple[PointId, PointId]:
        """Ids of its points."""
        return self.start.id, self.end.id

    @property
    def other(self) -> "Tape":
        """The same with left and right changed over."""
        return Tape(self.start.other, self.end.other)


@_kept(4096)
def tape_id(start: PointId, end: PointId) -> str:
    """The id of a tape between two points."""
    return f"{start}{_TAPE}{end}"


class AxleEnd(NamedTuple):
    """One end of an axle."""

    axle: str
    """front or rear"""
    side: Side


def axle_end_of(name: str) -> AxleEnd | None:
    """The end of an axle that a prompt is named after, `front-axle-left`; None for another name."""
    axle, _, side = name.partition("-axle-")
    return AxleEnd(axle, _BY_WORD[side]) if side in _BY_WORD else None


# Prompts
# ------------------------------------------------------------------------------------------------


class PromptName(NamedTuple):
    """What the id of a prompt says."""

    step: StepId
    item: PlaceId
    """Box, place, station, level or side; empty for a prompt that stands alone."""
    name: str
    """The prompt's own name in its step; empty where the id is a step alone."""

    @property
    def id(self) -> PromptId:
        """As it stands in a file."""
        return prompt_id(self.step, self.item, self.name)

    @property
    def page(self) -> PartId:
        """Step and item, without the name: what is read together."""
        return part_of_step(self.step, self.item)

    @property
    def side(self) -> Side | None:
        """The rail or side it is read at, where its name or item is one."""
        return _BY_WORD.get(self.name) or _BY_WORD.get(str(self.item))

    @property
    def first_side(self) -> str:
        """The side that it names first: that of its item, or its own; empty for neither."""
        return next((w for w in (str(self.item), self.name) if w in _BY_WORD), "")

    @property
    def tape(self) -> Tape | None:
        """The tape that its name is; None where it is none."""
        start, between, end = self.name.partition(_TAPE)
        return Tape(point_of(PointId(start)), point_of(PointId(end))) if between else None

    @property
    def other(self) -> "PromptName":
        """Its twin on the other side of the car: itself where its name says no side."""
        if self.tape:
            return PromptName(self.step, self.item, self.tape.other.id)
        side = _BY_WORD.get(self.name)
        name = side.other if side else str(across(PointId(self.name)))
        return PromptName(self.step, self.item, name)

    def named(self, name: str) -> PromptId:
        """Id of another prompt of the same step and item."""
        return prompt_id(self.step, self.item, name)


@_kept(8192)
def prompt_id(step: StepId, item: PlaceId, name: str) -> PromptId:
    """`<step>/<item>/<name>`, without what is empty."""
    return PromptId(_STEP.join(str(part) for part in (step, item, name) if part))


def part_of_step(step: StepId, item: WhereId) -> PartId:
    """`<step>/<item>`: a part of a step, as a short list names it; the step's id without an item."""
    return PartId(f"{step}{_STEP}{item}") if item else step


@_kept(8192)
def asked_of(id: PartId) -> PromptName:
    """What a prompt's id says.

    >>> asked_of("level/rear/as-set").item, asked_of("history/where").item
    ('rear', '')
    """
    step, *rest = str(id).split(_STEP)
    return PromptName(StepId(step), PlaceId(_STEP.join(rest[:-1])), rest[-1] if rest else "")


@_kept(8192)
def step_of(id: PartId) -> StepId:
    """Id of the step that a prompt, or a part of a step, belongs to."""
    return asked_of(id).step


def name_of_prompt(id: PromptId) -> str:
    """The last part of a prompt's id."""
    return asked_of(id).name


def within(id: PartId, part: PartId) -> bool:
    """Whether a prompt or a part of a step lies in a step or a part of one, or is it."""
    return id == part or str(id).startswith(f"{part}{_STEP}")


def ends_in(id: str, tail: str) -> bool:
    """Whether a prompt's id ends in these parts, as somebody types them who leaves out the step."""
    return id.endswith(f"{_STEP}{tail}")


def within_any(id: PartId, parts: Iterable[PartId]) -> bool:
    """As `within`, of any of the parts."""
    return any(within(id, part) for part in parts)


def mirrored(id: PromptId) -> PromptId:
    """Id of a prompt's twin, with left and right changed over.

    >>> mirrored("own-sides/whole/front-left--rear-left")
    'own-sides/whole/front-right--rear-right'
    """
    return asked_of(id).other.id


# Findings
# ------------------------------------------------------------------------------------------------


class Where(NamedTuple):
    """What a finding is of."""

    place: PlaceId
    """A box, station, level place, place or prompt; empty where a side is all."""
    side: Side | None = None

    @property
    def rail_or_place(self) -> WhereId:
        """The side where there is one, else the place: all stations of a rail are of one."""
        return WhereId(self.side) if self.side else self.place


@_kept(4096)
def where_id(place: PlaceId, side: str) -> WhereId:
    """A place on one side, as a finding says it: `engine-mount/left`."""
    return WhereId(f"{place}{_STEP}{side}")


@_kept(4096)
def where_of(id: WhereId) -> Where:
    """What a finding's `where` says."""
    place, _, word = str(id).rpartition(_STEP)
    side = _BY_WORD.get(word)
    return Where(PlaceId(place), side) if side else Where(PlaceId(str(id)))


def box_of_own(place: PlaceId) -> PlaceId:
    """The box that ties an owner's own pair of points to the frame."""
    return PlaceId(f"{place}{_SIDE}box")


def numbered(id: PlaceId, number: int) -> PlaceId:
    """An id with a number behind it, where the plain one is another's."""
    return PlaceId(f"{id}{_SIDE}{number}")


@_kept(4096)
def finding_id(quantity: QuantityId, where: WhereId) -> FindingId:
    """`<quantity>/<where>`: what is found of a quantity there."""
    return FindingId(f"{quantity}{_STEP}{where}")


def is_like(finding: FindingId, pattern: str) -> bool:
    """Whether a finding's id fits a pattern such as `rail-shift/*`."""
    return fnmatchcase(str(finding), pattern)


def quantity_of(finding: Source) -> QuantityId:
    """The quantity of a finding by its id."""
    return QuantityId(str(finding).partition(_STEP)[0])


# What an answer sets besides, and parts of a doubt
# ------------------------------------------------------------------------------------------------


class Kept(NamedTuple):
    """Where an answer is kept besides its own row."""

    table: str
    """state, tool, survey, trip; empty for nowhere."""
    field: str


@_kept(512)
def kept_of(keeps: str) -> Kept:
    """What `keep` says; a key of another kind, such as a prompt's id, is kept nowhere."""
    table, dot, field = keeps.partition(_KEPT)
    return Kept(table, field) if dot else Kept("", "")


def state_field(key: str) -> str:
    """The field of the state that a key names, such as `engine`; empty where it names none."""
    kept = kept_of(key)
    return kept.field if kept.table == "state" else ""


_ALSO = "also"
"""What stands in the place of a page where a row calls for something; no page has this name."""


def also_prompt(id: str) -> PromptId:
    """The prompt of the row by which something is called for that nobody is asked otherwise."""
    return prompt_id(StepId(_ALSO), NO_PLACE, id)


def also_named(key: str) -> str:
    """What a key or a row's prompt calls for, such as `axle-set`; empty where it calls for nothing."""
    page, _, id = key.partition(_STEP)
    return id if page == _ALSO else ""


def tool_kind(key: str) -> str:
    """The kind of tool that a key names, such as `tape`; empty where it names none."""
    kept = kept_of(key)
    return kept.field if kept.table == "tool" else ""


def tool_named(key: str) -> str:
    """The kind of tool that a key speaks of, also by a figure of it.

    >>> tool_named("tool.tape"), tool_named("tool.tape.start")
    ('tape', 'tape')
    """
    return tool_kind(key).partition(_KEPT)[0]


class PartName(NamedTuple):
    """The name of a part of a doubt."""

    kind: str
    """hand, point, tape, ruler, hang, round, string, ..."""
    of: str
    """A prompt, a point with its axis, a tool, a size."""

    @property
    def words(self) -> str:
        """All of it as words."""
        marks = str.maketrans(dict.fromkeys((_PART, "_", _SIDE), " "))
        return f"{self.kind} {self.of}".rstrip().translate(marks)

    @property
    def prompt(self) -> PromptId:
        """Id of the prompt, where it is one's."""
        return PromptId(self.of)

    @property
    def point(self) -> PointId:
        """Id of the point, where it is one's."""
        return PointId(self.of.rpartition(_PART)[0])

    @property
    def axis(self) -> str:
        """x or y, where it is a point's."""
        return self.of.rpartition(_PART)[2]


@_kept(4096)
def part_of(name: str) -> PartName:
    """What a part's name says."""
    kind, _, of = name.partition(_PART)
    return PartName(kind, of)


# Figures of a layout
# ------------------------------------------------------------------------------------------------

_MASS, _PLACE = "_kg", "_x"


def is_mass(figure: str) -> bool:
    """Whether a figure of a layout is in kg, not in mm."""
    return figure.endswith(_MASS)


def is_place(figure: str) -> bool:
    """Whether a figure of a layout says where something is, not how long."""
    return figure.endswith(_PLACE)


def figure_words(figure: str) -> str:
    """A figure's name as words.

    >>> figure_words("rail_depth"), figure_words("engine_mass_kg"), figure_words("front_axle_x")
    ('rail depth', 'engine mass', 'front axle')
    """
    return figure.removesuffix(_MASS).removesuffix(_PLACE).replace("_", " ")
