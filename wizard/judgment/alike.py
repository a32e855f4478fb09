"""What surveys of one frame share: the same tool, the same point, the same round figure carries the
same error.

Row ids are of one survey only, so every part of doubt is given a name that holds over all of them.
What is not known to be the same is taken to be another: the doubt is then the larger one.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from wizard.library import marks
from wizard.library.places import PlaceId, PointId, pair_ids, part_of
from wizard.library.shapes import Library
from wizard.math.uncertain import Learned, Part, Uncertain
from wizard.survey.follow import SAME_AS
from wizard.survey.meant import meant
from wizard.survey.own_places import where
from wizard.survey.record import Survey
from wizard.survey.rows import OwnPlace, PointNote, Tool

EVERY_POINT = PointId("*")
"""Stands for every point."""
LASTING = ("round", "height", "make")
"""Figures of the kind of frame, and what its maker shaped: as wrong then as now."""
OF_A_TOOL = ("tape", "ruler", "level", "gauge", "hang")
FIGURES = ("name", "class", "serial", "sensitivity", "length", "resolution")
"""What tells one tool of a kind from another, where nobody said which it was; a division may stand
on either edge.
"""


@dataclass(frozen=True, slots=True)
class Names:
    """Names that the parts of one survey's doubt have over all surveys."""

    survey: int
    """Its place in the row of surveys, from 0."""
    tools: Mapping[str, str]
    """Row id of a tool to the name of that very tool."""
    points: Mapping[PointId, str]
    """Point to the survey since which it is where it is, as a name; `*` stands for all that are not
    here.
    """
    hand: str
    """Who pulled the tape."""
    known: dict[Part, Part] = field(default_factory=dict)
    """Sources named so far, since each comes up in many numbers."""

    def lasting(self, number: Uncertain) -> Uncertain:
        """The number with every part named so that equal names are one error in all surveys."""
        sizes: dict[str, float] = {}
        sources: dict[str, Part] = {}
        learned: dict[str, Learned] = {}
        of, known, before = number.sources, self.known.get, sizes.get
        for name, size in number.sizes.items():
            part = known(of[name]) or self._part(of[name])
            lasting = part[0]
            sizes[lasting] = before(lasting, 0.0) + size
            sources[lasting] = part
        for name in filter(number.sizes.__contains__, number.learned):
            part = self.known[of[name]]
            learned[part.name] = part.pool or part.name, part.dof
        return Uncertain.computed(number.value, sizes, sources, learned)

    def _part(self, source: Part) -> Part:
        part = self.known[source] = Part(self._name(source.name), *source[1:])
        return part

    def _name(self, name: str) -> str:
        part = part_of(name)
        kind, rest = part.kind, part.of
        if kind in LASTING:
            return name
        if kind == "point":
            return name + self.points.get(part.point, self.points.get(EVERY_POINT, ""))
        if kind in OF_A_TOOL and rest in self.tools:
            return f"{kind}:{self.tools[rest]}" + (f"/{self.hand}" if kind == "hang" else "")
        return f"{self.survey}|{name}"


def names_of(surveys: Sequence[Survey], library: Library) -> tuple[Names, ...]:
    """Names for surveys of one frame, in the order given (the oldest first)."""
    found: list[Names] = []
    for n, survey in enumerate(surveys):
        before = surveys[n - 1] if n else None
        tools = _tools(n, (before, survey), library, found[-1].tools if found else {})
        points = dict(found[-1].points) if found else {}
        if before is not None:
            moved = moved_points(before, survey, library)
            points = {} if EVERY_POINT in moved else points
            points |= dict.fromkeys(moved, f"@{n}")
        found.append(Names(n, tools, points, _hand(survey, library)))
    return tuple(found)


def _tools(
    n: int, pair: tuple[Survey | None, Survey], library: Library, known: Mapping[str, str]
) -> dict[str, str]:
    (before, survey), found = pair, {}
    for tool in survey.table(Tool):
        twin = same_tool(tool, survey, before, library) if before is not None else None
        found[tool.id] = known[twin.id] if twin is not None else f"{n}.{tool.id}"
    return found


def _hand(survey: Survey, library: Library) -> str:
    """Who pulled the tape; the owner, where nobody said."""
    asked = library.asking(marks.MEASURED_BY)
    return (survey.answer_to(asked.prompt) if asked else "") or marks.OWNER


def same_tool(tool: Tool, survey: Survey, before: Survey, library: Library) -> Tool | None:
    """The row of the earlier survey that is the very same tool; None where it is another, or nobody
    can say.
    """
    said = meant(survey, library, marks.TOOLS_NOW)
    if said == marks.OTHERS or (said == marks.OTHER_TAPE and tool.kind == "tape"):
        return None
    old = [t for t in before.table(Tool) if t.kind == tool.kind]
    follows = survey.follows == before.id
    # Two tapes of a kind have the same figures: alike is the same only where one survey was made to
    # follow the other.
    vouched = follows or said == marks.SAME
    named = _named(tool, old) if follows else None
    return named or _of_like_figures(tool, old, vouched)


def _named(tool: Tool, old: Sequence[Tool]) -> Tool | None:
    """The earlier row that a tool's own row names."""
    return next((t for t in old if t.id == tool.extra.get(SAME_AS)), None)


def _of_like_figures(tool: Tool, old: Sequence[Tool], vouched: bool) -> Tool | None:
    """The last earlier row with the same figures; where nobody vouched for it, of the same id too."""
    alike = (t for t in reversed(old) if _figures(t) == _figures(tool))
    return next((t for t in alike if vouched or t.id == tool.id), None)


def _figures(tool: Tool) -> tuple[str, ...]:
    values = {**tool.extra, "name": tool.name}
    return tuple(str(values.get(f, "")).strip().lower() for f in FIGURES)


def moved_points(before: Survey, survey: Survey, library: Library) -> tuple[PointId, ...]:
    """Points that are not where they were: marked anew, or found by another person where nothing
    was ever marked.

    `*` stands for every point.
    """
    said = meant(survey, library, marks.POINT_MARKS)
    other_hand = _hand(before, library) != _hand(survey, library)
    if said == marks.RENEWED or (said == marks.NEVER_MARKED and other_hand):
        return (EVERY_POINT,)
    other = _moved_own_places(before, survey)
    return (*_marked_anew(before, survey), *(id for place in other for id in pair_ids(place)))


def _marked_anew(before: Survey, survey: Survey) -> Iterator[PointId]:
    old = {p.point: p.mark for p in before.standing(PointNote)}
    return (p.point for p in survey.standing(PointNote) if p.mark != old.get(p.point, p.mark))


def _moved_own_places(before: Survey, survey: Survey) -> Iterator[PlaceId]:
    """The owner's own places that are said to be elsewhere now."""
    old = {w.place: where(w) for w in before.standing(OwnPlace)}
    return (w.place for w in survey.standing(OwnPlace) if where(w) != old.get(w.place, where(w)))
