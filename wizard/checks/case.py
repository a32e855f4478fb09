"""A survey made ready for the checks: every prompt's readings as one number with its parts of
doubt.
"""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import field
from fractions import Fraction
from itertools import chain
from operator import attrgetter
from typing import Any, NamedTuple, TypeVar

from wizard.checks.edge import straight
from wizard.checks.finding import Finding
from wizard.checks.gaps import POINT, Gap, GapSlip, Line, hand_of, mount_of, slips_in
from wizard.checks.gaps import places_of as gap_places
from wizard.checks.notes import Note
from wizard.checks.sunny import along_tape
from wizard.checks.twist_supports import on_one_support
from wizard.frozen import Frozen, cached_property
from wizard.library import marks
from wizard.library.kinds import angle_of, bubble_of, length_mm, length_of
from wizard.library.places import (
    NO_STEP,
    PointId,
    PromptId,
    QuantityId,
    StepId,
    WhereId,
    point_of,
    prompt_id,
    step_of,
)
from wizard.library.shapes import Layout, Library, Place, Scatter
from wizard.math.level import own_error_spread
from wizard.math.network_slips import slip_among
from wizard.math.repeats import Pooled, Spread, mean, mean_u, pool_squares, spread_of
from wizard.math.thread import blade_sag
from wizard.math.uncertain import GUESS, OWN, Part, Uncertain
from wizard.readings.figures import Bubble
from wizard.readings.instruments import (
    Gauge,
    Instrument,
    Level,
    Rule,
    Tape,
    instrument,
    tape_standard_u,
)
from wizard.readings.refused import Refused
from wizard.readings.warmth import sun_in
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.meant import meant
from wizard.survey.prompts import Prompt, Questions
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State, Tool
from wizard.survey.sizes import own_layout

Made = TypeVar("Made")
RowKey = tuple[PromptId, str, str]
"""All of a row that a reading hangs on: prompt, what was typed, tool."""
NO_PRIOR = Scatter("", "", 1.0, 8.0, "no figure for this tool: a cautious guess")
BLADE_G_PER_M, PULL_N = 13.0, 15.0
HANG = "how far the blade hangs between your hands, a common blade at an easy pull"
HANG_WHOSE = "figures from memory"
TAPE_WHOSE = "Directive 2014/32/EU MI-008"
PROVING = 3
"""Readings of one thing from which the others can prove one a slip."""
HAND = "hand"
"""What a part of a doubt is named before its prompt, where it is the hand's and the scale's."""
LEVEL_U = 0.1
"""Share to which the figure for one division of a level is known (this project's own guess)."""
MOST_GAPS = 40
"""Readings of one gap that teach how the hand scatters: nobody takes more, and a file that holds
thousands is told in the memory there is.
"""
GAUGE, GAUGE_U = "gauge", 0.2
"""What an angle gauge has wrong alike at every place, degrees."""
GAUGE_WHY = "the gauge's own zero, which drops out of left against right"
ZERO = Fraction(0)
BLOCK = "block"
"""What is read at the blocks under the string: a key of the hand's scatter in content/tools.toml."""
START = {"in": Fraction(254), "mm": Fraction(100)}
"""Where a tape `started at its mark` begins, by the survey's unit: its 10 in or its 100 mm mark."""


class Taken(NamedTuple):
    """The readings of one prompt, averaged."""

    prompt: Prompt
    number: Uncertain
    """mm for lengths and gaps, degrees for angles; slope (a ratio, left high positive) for a
    level.
    """
    values: tuple[float, ...]
    """Each reading, in the same unit, in the order they were taken."""
    rows: tuple[Reading, ...]
    ids: tuple[str, ...]
    """Ids of the readings."""


class Single(NamedTuple):
    """One reading by itself, and those with which its scatter is learned."""

    value: float
    """mm, for an angle degrees, or for a level the slope as a ratio."""
    group: tuple[str, str]
    """Those readings: a tool and what the hand aims at, keys of content/tools.toml."""
    scale: float
    """How much one of the unit of their scatter is in the reading's own."""


class Spot(NamedTuple):
    """A point of the layout, and what is doubtful of it."""

    x: float
    """Its round place, mm."""
    y: float
    u: float
    """How well it is known, mm: alike along x and y."""
    names: tuple[str, str]
    """Of the parts of doubt along x and along y."""
    why: str


Rows = tuple[Reading, ...]


class Together(NamedTuple):
    """The readings of one prompt, as far as they hang on nothing but themselves."""

    rows: Rows
    values: tuple[float, ...]
    shared: tuple[Part, ...]
    """What they have wrong alike with others, in their mean."""
    ids: tuple[str, ...]
    group: tuple[str, str]
    """Of the first, as of a single reading; so the scale and the division."""
    scale: float
    division: float
    spreads: tuple[Spread, ...]
    """What the repeats by each tool say of the scatter of their like."""


_VALUE, _ID, _TYPED = attrgetter("value"), attrgetter("id"), attrgetter("typed")
ALONE = (Spread(1, 0.0),)
"""What one reading says of the scatter: nothing."""


class Hand(NamedTuple):
    """The hand and scale behind readings of one group."""

    pooled: Pooled
    pool: str
    """What the pool is called in a part of a doubt."""
    taught: str
    """Where the scatter comes from, where the survey's own repeats said nothing of it."""


class Known(Frozen):
    """What was read of rows: it hangs on nothing but the row, the tools, the unit and the layout."""

    tools: dict[tuple[str, str], tuple[str, Instrument]] = field(default_factory=dict)
    singles: dict[RowKey, Single] = field(default_factory=dict)
    taken: dict[PromptId, tuple[Hand, Together, Taken]] = field(default_factory=dict)
    """By prompt, with the hand and the rows that went into it; it holds for these alone."""
    read: dict[PromptId, tuple[Rows, Rows]] = field(default_factory=dict)
    """By prompt, its rows and those of them that can be read; so the two below, for these rows
    alone.
    """
    slips: dict[PromptId, tuple[Rows, Reading | None]] = field(default_factory=dict)
    together: dict[PromptId, Together] = field(default_factory=dict)
    level: list[tuple[Rows, list[tuple[tuple[str, str], Spread]]]] = field(default_factory=list)
    """The rows of a level that was read both ways round, and what they say of the hand: the last alone."""
    line: list[tuple[tuple[Reading, ...], str, Line]] = field(default_factory=list)
    """The rows under the string, where it runs, and what came of them: the last one alone."""


class Ground:
    """What the checks ask of a kind of frame and of no survey: its points, what is taped between two
    of them, where the string is read.
    """

    def __init__(self, questions: Questions) -> None:
        self.layout, self.library = questions.layout, questions.library
        self.prompts = questions.by_id
        self._parts: dict[tuple[PointId, PointId], tuple[Part, ...]] = {}
        self._priors: dict[tuple[str, str], Scatter] = {}

    @cached_property
    def spots(self) -> Mapping[PointId, Spot]:
        """Every point, with its doubt."""
        return {point: self._spot(point, p) for p in self.layout.places for point in p.points}

    @cached_property
    def places(self) -> Mapping[str, tuple[float, float]]:
        """The round place of every point, mm: where an adjustment starts."""
        return {str(point): (spot.x, spot.y) for point, spot in self.spots.items()}

    @cached_property
    def turned(self) -> list[tuple[PromptId, PromptId]]:
        """Prompts at which a level is read as set and turned around."""
        return turned_at(self.layout, self.library.page[marks.SLOPES])

    def _spot(self, point: PointId, place: Place) -> Spot:
        why = f"which spot of the {place.kind} is the point"
        u = self.library.point_doubt.get(place.kind, 1.0)
        side = point_of(point).side if point != place.id else None
        y = (side.sign if side else 0.0) * place.half_width
        return Spot(place.x, y, u, (f"point:{point}:x", f"point:{point}:y"), why)

    def prior(self, tool: str, point: str) -> Scatter:
        """The content's figure for the hand scatter of that tool at that kind of point."""
        if (tool, point) not in self._priors:
            rows = [s for s in self.library.scatters if s.tool == tool and s.point in (point, "")]
            found = max(rows, key=lambda s: len(s.point), default=NO_PRIOR)
            self._priors[tool, point] = found
        return self._priors[tool, point]

    def parts(self, start: PointId, end: PointId) -> tuple[Part, ...]:
        """What the definition of two points does to a tape between them; nothing where one is no
        point of the layout.
        """
        if (start, end) not in self._parts:
            self._parts[start, end] = self._between(start, end)
        return self._parts[start, end]

    def _between(self, start: PointId, end: PointId) -> tuple[Part, ...]:
        a, b = self.spots.get(start), self.spots.get(end)
        if a is None or b is None:
            return ()
        dx, dy = b.x - a.x, b.y - a.y
        length = (dx * dx + dy * dy) ** 0.5 or 1.0
        parts = [
            Part(name, share * u, math.inf, True, why, whose=OWN)
            for (_, _, u, names, why), along, across in (
                (a, -dx / length, -dy / length),
                (b, dx / length, dy / length),
            )
            for name, share in ((names[0], along), (names[1], across))
            if share
        ]
        return tuple(parts)

    @cached_property
    def tapes(self) -> tuple[Prompt, ...]:
        """The prompts that tape from one point of the layout to another."""
        tapes = (p for p in self.prompts.values() if p.kind.spans)
        return tuple([p for p in tapes if p.start in self.spots and p.end in self.spots])

    @cached_property
    def gaps(self) -> Mapping[PromptId, tuple[float, bool, bool]]:
        """By prompt under the string, where it is along it, whether on the right, whether loaded."""
        return gap_places(self.layout, [self.library.page[m] for m in marks.STRING])

    @cached_property
    def string(self) -> frozenset[PromptId]:
        """Ids of the prompts under the string, and of those at its blocks."""
        blocks = (p.id for p in self.prompts.values() if p.point == BLOCK)
        return frozenset([*self.gaps, *blocks])


class Case(Frozen):
    """A survey with the content it was made by. Computes nothing of the frame; checks do."""

    survey: Survey
    library: Library
    supports: str = ""
    """The supports whose readings of the level are asked for; empty leaves it to those that decide."""

    def once(self, make: "Callable[[Case], Made]") -> Made:
        """What `make` makes of this case, made once and kept with it."""
        if make not in self._made:
            self._made[make] = make(self)
        made: Made = self._made[make]
        return made

    def meant(self, question: str, step: StepId = NO_STEP, side: str = "") -> str:
        """What was answered to a question of wizard/library/marks.py, by its meaning."""
        return meant(self.survey, self.library, question, step, side)

    @cached_property
    def _made(self) -> dict[Any, Any]:
        return {}

    @cached_property
    def layout(self) -> Layout:
        """The frame's layout with the owner's own places and sizes."""
        return own_layout(layout_of(self.survey, self.library), self.survey)

    @property
    def uncalled(self) -> frozenset[StepId]:
        """Ids of the pages of which nothing was read, since nobody called for them."""
        return guide_of(self.survey, self.library).uncalled

    @cached_property
    def prompts(self) -> Mapping[PromptId, Prompt]:
        """Every prompt that any step can ask of this layout, by id."""
        return guide_of(self.survey, self.library).questions.by_id

    def reading(self, reads: str) -> tuple[Prompt, ...]:
        """The prompts of the pages that read this, a word of wizard/library/marks.py."""
        return guide_of(self.survey, self.library).questions.by_reads.get(reads, ())

    @cached_property
    def ground(self) -> Ground:
        """What no survey changes."""
        return guide_of(self.survey, self.library).questions.once(Ground)

    @cached_property
    def suns(self) -> Mapping[str, str]:
        """By reading, the side that stood in the sun meanwhile; of those before anybody said so, as
        it was first said.
        """
        states = self.survey.table(State)
        first = next(filter(None, (s.temperature for s in states)), "")
        if not first:
            return {}
        shone = {said: sun_in(said) for said in {s.temperature or first for s in states}}
        if not any(shone.values()):
            return {}
        sun = {s.id: shone[s.temperature or first] for s in states}
        rows = ((r.id, sun.get(r.state, sun_in(first))) for r in self.survey.table(Reading))
        return {id: side for id, side in rows if side}

    @cached_property
    def by_prompt(self) -> Mapping[PromptId, tuple[Reading, ...]]:
        """Standing readings that can be read, by prompt.

        An edited file may hold what no prompt would have taken: such a row is left out, not
        trusted. So is a distance of nothing or less, as is left of a figure that is not past the
        mark the tape starts at.
        """
        prompts, tips = self.prompts, self.layout.tips
        horns = frozenset([p.id for p in self.layout.levels if p.place == tips])
        read: dict[PromptId, Rows] = {}
        known = self._known.read
        for id, rows in self.survey.read().items():
            if id not in prompts:
                continue
            kept = known.get(id)
            if kept is None or (kept[0] is not rows and not _are_same(kept[0], rows)):
                known[id] = rows, self._readable(rows)
            if known[id][1]:
                read[id] = known[id][1]
        level = self.library.page[marks.SLOPES]
        return on_one_support(read, self.survey, level, horns, self.supports)

    @cached_property
    def by_step(self) -> Mapping[StepId | None, Rows]:
        """The same, by the page that asks for them."""
        found: dict[StepId | None, list[Reading]] = {}
        for id, rows in self.by_prompt.items():
            found.setdefault(step_of(id), []).extend(rows)
        return {step: tuple(rows) for step, rows in found.items()}

    def _readable(self, rows: Rows) -> Rows:
        read = tuple([r for r in rows if not self.unreadable(r)])
        return rows if len(read) == len(rows) else read

    def unreadable(self, row: Reading) -> str:
        """Why a reading of a prompt that there is cannot be used, in one sentence; empty where it
        can.
        """
        try:
            value = self.single(row).value
        except Refused as refused:
            return str(refused)
        if value <= 0:
            prompt = self.prompts[row.prompt]
            if prompt.kind.spans and prompt.tool == "tape":
                return "A distance is above zero."
        return ""

    def found(
        self,
        quantity: QuantityId,
        where: WhereId,
        number: Uncertain,
        readings: tuple[str, ...],
        *notes: Note,
    ) -> Finding:
        """A finding of a quantity of content/quantities.toml, judged by that quantity's limit."""
        of = self.library.quantities[quantity]
        return Finding(of, where, number, readings, of.limit, notes)

    # What stays as it was
    # ------------------------------------------------------------------------------------------

    @cached_property
    def _known(self) -> Known:
        return Known()

    def followed_by(self, survey: Survey) -> "Case":
        """The case of a survey that came of this one: what was read of it is not read again, where
        all that a reading hangs on is the same. Where nothing but more of its list was left out, it
        is the same case: no check asks more of that than whether anything was.
        """
        new = case_of(survey, self.library)
        if new is self or "_known" in new.__dict__:
            return new
        if self.survey.reads_as(survey):
            new.__dict__.update({**self.__dict__, "survey": survey})
        elif new._read_alike(self):
            new.__dict__["_known"] = self._known
        return new

    def _read_alike(self, other: "Case") -> bool:
        """Whether one and the same row says the same in both."""
        ours, theirs = guide_of(self.survey, self.library), guide_of(other.survey, other.library)
        return (
            ours.questions is theirs.questions
            and self.layout.figures == other.layout.figures
            and self.survey.unit == other.survey.unit
            and self.survey.table(Tool) == other.survey.table(Tool)
        )

    # Single readings
    # ------------------------------------------------------------------------------------------

    def tool_of(self, row: Reading, kind: str) -> tuple[str, Instrument]:
        """The tool a reading names and its name for shared parts; an ordinary one where the file
        has none.
        """
        key = (row.tool, kind)
        known = self._known.tools
        if key not in known:
            known[key] = self._tool_of(row, kind)
        return known[key]

    def _tool_of(self, row: Reading, kind: str) -> tuple[str, Instrument]:
        tool = next((t for t in self.survey.table(Tool) if t.id == row.tool), None)
        if tool is not None:
            try:
                return tool.id, instrument(
                    {**tool.extra, "kind": tool.kind, "name": tool.name}, self.survey.unit
                )
            except Refused:
                pass
        plain = next(t for t in self.library.tools.values() if t.kind == kind)
        return f"unnamed-{kind}", instrument(
            {**plain.in_unit(self.survey.unit), "kind": kind}, self.survey.unit
        )

    def value(self, row: Reading) -> float:
        """One reading: mm, for an angle degrees, or for a level the slope as a ratio.

        Raises Refused for what cannot be read.
        """
        return self.single(row).value

    def single(self, row: Reading) -> Single:
        """One reading, and with which others its scatter is learned. Raises as `value` does."""
        key = (row.prompt, row.typed, row.tool)
        found = self._known.singles.get(key)
        if found is None:
            found = self._known.singles[key] = self._single(row, self.prompts[row.prompt])
        return found

    def _single(self, row: Reading, prompt: Prompt) -> Single:
        if prompt.kind.tilts:
            return self._tilted(row, prompt)
        group = prompt.tool or "tape", self.aim(prompt)
        if prompt.kind.leans:
            return Single(float(angle_of(prompt, row.typed)), group, 1.0)
        start = self.start_of(row, prompt)
        if start is ZERO:
            return Single(length_mm(prompt, row.typed, self.survey.unit), group, 1.0)
        typed = length_of(prompt, row.typed, self.survey.unit)
        return Single(float(typed - start), group, 1.0)

    def _tilted(self, row: Reading, prompt: Prompt) -> Single:
        level = self.tool_of(row, "level")[1]
        if not isinstance(level, Level):
            raise Refused("This reading names a tool that is no level.")
        bubble = bubble_of(row.typed, self.survey.unit)
        kind, scale = _scatter_of(level, bubble)
        return Single(level.slope(bubble), (kind, self.aim(prompt)), scale)

    def start_of(self, row: Reading, prompt: Prompt) -> Fraction:
        """What the tape's starting mark adds to a figure typed as the tape says it, mm."""
        starts_at_mark = prompt.kind.spans and row.tool in self._from_mark
        return START[self.survey.unit] if starts_at_mark else ZERO

    @cached_property
    def _from_mark(self) -> frozenset[str]:
        """Ids of the tapes that start at their mark; of one id the first row counts."""
        first = {t.id: t for t in reversed(self.survey.table(Tool))}
        return frozenset([id for id, t in first.items() if t.extra.get("start") == "mark"])

    # Repeats
    # ------------------------------------------------------------------------------------------

    @cached_property
    def slips(self) -> Mapping[PromptId, Reading]:
        """By prompt, a reading that the others of it prove a slip: it stays on record and counts
        neither for the mean nor for the scatter.
        """
        many = {k: rows for k, rows in self.by_prompt.items() if len(rows) >= PROVING}
        found = {k: self._slip_of(self.prompts[k], rows) for k, rows in many.items()}
        return {k: row for k, row in found.items() if row is not None}

    @cached_property
    def counted(self) -> Mapping[PromptId, tuple[Reading, ...]]:
        """`by_prompt` without the proven slips."""
        kept = {
            k: tuple([r for r in self.by_prompt[k] if r.id != slip.id])
            for k, slip in self.slips.items()
        }
        return {**self.by_prompt, **kept} if kept else self.by_prompt

    def _slip_of(self, prompt: Prompt, rows: tuple[Reading, ...]) -> Reading | None:
        """Judged by what is known of such hands beforehand: the repeats' own scatter holds the slip.

        A prompt whose readings are no lengths has none.
        """
        if prompt.kind.tilts or prompt.kind.leans:
            return None
        kept = self._known.slips.get(prompt.id)
        if kept is None or (kept[0] is not rows and not _are_same(kept[0], rows)):
            s = self.prior(prompt.tool or "tape", self.aim(prompt)).s
            nth = slip_among([self.value(r) for r in rows], s, self.survey.unit)
            kept = self._known.slips[prompt.id] = rows, None if nth is None else rows[nth]
        return kept[1]

    def scatter(self, row: Reading) -> tuple[float, float]:
        """Standard deviation of one such reading in its own unit, and its degrees of freedom."""
        single = self.single(row)
        pooled = self.pooled[single.group]
        division = self._division(row, self.prompts[row.prompt])
        return mean_u(pooled.s, 1, division) * single.scale, pooled.dof

    @cached_property
    def pooled(self) -> Mapping[tuple[str, str], Pooled]:
        """Hand scatter by tool and kind of point, from every repeat in the survey and the content's
        prior.
        """
        groups: dict[tuple[str, str], list[Spread]] = {}
        for found in self._together.values():
            groups.setdefault(found.group, []).extend(found.spreads)
        for group, spread in self._level_spreads():
            groups.setdefault(group, []).append(spread)
        return {key: self._pool(key, found) for key, found in groups.items()}

    @cached_property
    def _together(self) -> Mapping[PromptId, Together]:
        """The counted rows of each prompt, read out once."""
        found, known = {}, self._known.together
        for id, rows in self.counted.items():
            kept = known.get(id)
            if kept is None or (kept.rows is not rows and not _are_same(kept.rows, rows)):
                kept = known[id] = self._read_out(self.prompts[id], rows)
            found[id] = kept
        return found

    def _read_out(self, prompt: Prompt, rows: Rows) -> Together:
        singles = list(map(self.single, rows))
        values = tuple(map(_VALUE, singles))
        shared = self._shared_by(prompt, rows, values)
        return Together(
            rows,
            values,
            shared + self.ground.parts(prompt.start, prompt.end),
            tuple(map(_ID, rows)),
            singles[0].group,
            singles[0].scale,
            self._division(rows[0], prompt),
            _spreads(rows, singles) if len(rows) > 1 else ALONE,
        )

    def _level_spreads(self) -> list[tuple[tuple[str, str], Spread]]:
        """What a level's own error, the same wherever it lies, says of the hand, by its group."""
        known, turned = self._known.level, self.ground.turned
        read = self.counted
        both = [read[a] + read[b] for a, b in turned if a in read and b in read]
        rows = tuple([row for pair in both for row in pair])
        if not known or not _are_same(known[0][0], rows):
            known[:] = [(rows, self._own_errors(turned))]
        return known[0][1]

    def _own_errors(
        self, turned: Iterable[tuple[PromptId, PromptId]]
    ) -> list[tuple[tuple[str, str], Spread]]:
        """By level, for each has an error of its own."""
        found: dict[tuple[tuple[str, str], str], list[tuple[list[float], list[float]]]] = {}
        for pair in turned:
            ways = [self._by_level(self.counted.get(way, ())) for way in pair]
            for key in filter(ways[1].__contains__, ways[0]):
                found.setdefault(key, []).append((ways[0][key], ways[1][key]))
        return [(group, own_error_spread(pairs)) for (group, _), pairs in found.items()]

    def _by_level(self, rows: Rows) -> dict[tuple[tuple[str, str], str], list[float]]:
        """Readings in the unit of their scatter, by its group and by the level."""
        found: dict[tuple[tuple[str, str], str], list[float]] = {}
        for row in rows:
            one = self.single(row)
            found.setdefault((one.group, row.tool), []).append(one.value / one.scale)
        return found

    def _pool(self, key: tuple[str, str], groups: list[Spread]) -> Pooled:
        prior = self.ground.prior(*key)
        if key[1] != POINT:
            return pool_squares(groups, prior.s, prior.dof)
        line = self.line
        rounding = line.division / math.sqrt(12.0) if prior.rounding else 0.0
        return hand_of(line, math.hypot(prior.s, rounding), prior.dof)

    @cached_property
    def line(self) -> Line:
        """Every gap that was read under the string, and what it was set up on."""
        there, known = self.ground.string, self._known.line
        rows = tuple(chain.from_iterable([self.counted[id] for id in self.counted if id in there]))
        side = f"{self.meant(marks.STRING_SIDE)} {self.meant(marks.EDGES)}"
        if not known or known[0][1] != side or not _are_same(known[0][0], rows):
            known[:] = [(rows, side, self._line())]
        return known[0][2]

    def _line(self) -> Line:
        gaps, coarsest, places = [], 0.0, self.ground.gaps
        for id, (x, right, loaded) in places.items():
            for row in self.counted.get(id, ())[:MOST_GAPS]:
                gaps.append(Gap(row.id, id, x, right, loaded, self.value(row)))
                coarsest = max(coarsest, self._division(row, self.prompts[id]))
        at_blocks = (self.counted.get(id, ()) for id in self.ground.string.difference(places))
        blocks = [self.value(row) for rows in at_blocks for row in rows]
        below = self.meant(marks.STRING_SIDE) == marks.BELOW
        # Of an edge that is not straight by make only the change from state to state is known.
        block = mean(blocks) if blocks and straight(self) else None
        unit = self.survey.unit
        return Line(tuple(gaps), mount_of(self.layout), block, below, coarsest, unit)

    @cached_property
    def gap_ids(self) -> frozenset[str]:
        """Ids of the readings under the string."""
        return frozenset(g.id for g in self.line.gaps)

    @cached_property
    def gap_slips(self) -> tuple[GapSlip, ...]:
        """The gaps under the string that do not fit."""
        return slips_in(self.line)

    def _division(self, row: Reading, prompt: Prompt) -> float:
        key = (row.tool, prompt.tool or "tape")
        if key not in self._divisions:
            tool = self.tool_of(row, key[1])[1]
            self._divisions[key] = _finest(tool)
        return self._divisions[key]

    @cached_property
    def _divisions(self) -> dict[tuple[str, str], float]:
        """By tool and kind, what was asked for."""
        return {}

    def prior(self, tool: str, point: str) -> Scatter:
        """The content's figure for the hand scatter of that tool at that kind of point."""
        return self.ground.prior(tool, point)

    def aim(self, prompt: Prompt) -> str:
        """What the hand aims at: the kind of point at the far end, or what the prompt names
        instead.
        """
        return prompt.point or self.point_kind(prompt.end)

    def point_kind(self, point: PointId) -> str:
        """rivet, hole, bolt or edge; empty where the prompt has no points."""
        place = self.layout.place_by_point.get(point)
        return place.kind if place else ""

    def taken(self, prompt_id: PromptId) -> Taken | None:
        """The mean of a prompt's readings with every part of its doubt; None where there is none."""
        return self._taken.get(prompt_id)

    def _sunned(self, taken: Taken) -> Taken:
        """With what the sun on one side may have done to a taped distance."""
        suns, prompt = self.suns_of(taken.ids), taken.prompt
        start, end = self.place_of(prompt.start), self.place_of(prompt.end)
        if not suns or start is None or end is None:
            return taken
        parts = along_tape(self.layout, suns, start, end)
        return taken._replace(number=taken.number.with_parts(*parts))

    def suns_of(self, ids: Iterable[str]) -> frozenset[str]:
        """The sides that stood in the sun while these were read; none where nobody said so."""
        suns = self.suns
        return frozenset(suns[id] for id in ids if id in suns) if suns else frozenset()

    @cached_property
    def _taken(self) -> Mapping[PromptId, Taken]:
        """The mean of every prompt that was read."""
        found, known = {}, self._known.taken
        hands = {group: self._hand(group) for group in self.pooled}
        for id, read in self._together.items():
            hand, kept = hands[read.group], known.get(id)
            if kept is None or kept[0] != hand or kept[1] is not read:
                kept = known[id] = hand, read, self._mean(self.prompts[id], read, hand)
            found[id] = self._sunned(kept[2]) if self.suns else kept[2]
        return found

    def _mean(self, prompt: Prompt, read: Together, hand: Hand) -> Taken:
        count, (s, dof) = len(read.rows), hand.pooled
        size = mean_u(s, count, read.division) * read.scale
        readings = "1 reading" if count == 1 else f"{count} readings"
        why = f"hand and scale, {readings}"
        own = Part(f"{HAND}:{prompt.id}", size, dof, False, why, hand.pool, hand.taught)
        number = Uncertain(sum(read.values) / count, (own, *read.shared))
        return Taken(prompt, number, read.values, read.rows, read.ids)

    def _hand(self, group: tuple[str, str]) -> Hand:
        pooled, prior = self.pooled[group], self.prior(*group)
        taught = prior.source if pooled.dof <= prior.dof else ""
        return Hand(pooled, "/".join(group), taught)

    def _shared_by(self, prompt: Prompt, rows: Rows, values: tuple[float, ...]) -> tuple[Part, ...]:
        """What every reading of one tool has wrong alike, in the mean of these."""
        if len(rows) == 1:
            return self._shared(prompt, rows[0], values[0])
        each = [self._shared(prompt, r, v) for r, v in zip(rows, values, strict=True)]
        means: dict[str, Part] = {}
        for part in chain.from_iterable(each):
            before = means[part.name].size if part.name in means else 0.0
            means[part.name] = Part(part.name, before + part.size / len(each), *part[2:])
        return tuple(means.values())

    def _shared(self, prompt: Prompt, row: Reading, value: float) -> tuple[Part, ...]:
        """What every reading of one tool has wrong alike."""
        name, tool = self.tool_of(row, prompt.tool or "tape")
        if prompt.kind.spans and isinstance(tool, Rule):
            u = tape_standard_u(tool.class_, value, False)
            why = f"ruler of class {tool.class_}"
            return (Part(f"ruler:{name}", u, math.inf, True, why, whose=TAPE_WHOSE),)
        if prompt.kind.spans and isinstance(tool, Tape):
            u = tape_standard_u(tool.class_, value, tool.from_end)
            why = f"tape of class {tool.class_}"
            return (
                Part(f"tape:{name}", u, math.inf, True, why, whose=TAPE_WHOSE),
                Part(f"hang:{name}", _hang(value), math.inf, True, HANG, whose=HANG_WHOSE),
            )
        if isinstance(tool, Gauge) and prompt.kind.leans:
            return (Part(f"{GAUGE}:{name}", GAUGE_U, math.inf, True, GAUGE_WHY, whose=GUESS),)
        if isinstance(tool, Level) and prompt.kind.tilts:
            why = "the figure for one division of the level, known to a tenth"
            part = Part(f"level:{name}", LEVEL_U * value, shared=True, source=why, whose=GUESS)
            return (part,)
        return ()

    def point_parts(self, start: PointId, end: PointId) -> tuple[Part, ...]:
        """Which spot of each rivet is `the point`: the same in every repeat and in every tape to
        it.

        start, end: ids of two points; no parts where one is no point of the layout.
        The spot is doubtful in x and in y; a tape sees the share along itself.
        """
        return self.ground.parts(start, end)

    def place_of(self, point: PointId) -> tuple[float, float] | None:
        """The layout's round place of a point, mm; None for what is no point of it."""
        return self.ground.places.get(str(point))


def case_of(survey: Survey, library: Library) -> Case:
    """The survey's one case by that content."""
    return survey.once(library, Case)


def _are_same(before: Rows, rows: Rows) -> bool:
    """Whether they are the same rows. Of two surveys most differ in what was typed, and in little
    that would be asked sooner.
    """
    return list(map(_TYPED, before)) == list(map(_TYPED, rows)) and before == rows


def turned_at(layout: Layout, page: StepId) -> list[tuple[PromptId, PromptId]]:
    """The prompts at which a level is read as set and turned around, on the way and back again."""
    return [
        (prompt_id(page, place.id, f"{again}as-set"), prompt_id(page, place.id, f"{again}turned"))
        for place in layout.levels
        for again in ("", "again-")
    ]


def _spreads(rows: Rows, singles: Sequence[Single]) -> tuple[Spread, ...]:
    """What repeats say of the scatter, those by each tool among themselves."""
    same: dict[str, list[float]] = {}
    for row, one in zip(rows, singles, strict=True):
        same.setdefault(row.tool, []).append(one.value / one.scale)
    return tuple(map(spread_of, same.values()))


def _scatter_of(level: Level, bubble: Bubble) -> tuple[str, float]:
    """Kind of scatter (a key of content/tools.toml) of a bubble, and how much slope one unit of it
    is.
    """
    if level.resolution is not None and level.sensitivity is None:
        return "angle-gauge", math.pi / 180.0
    if bubble.kind == "shim" and level.length:
        return "shim", 1.0 / float(level.length)
    return "level", (level.sensitivity or 6.0) / 1000.0


def _finest(tool: Instrument) -> float:
    """The smallest step that a tool shows, mm or degrees; 0 where nothing is rounded to one."""
    if isinstance(tool, Gauge):
        return tool.resolution
    return float(tool.division) if isinstance(tool, (Tape, Rule)) else 0.0


def _hang(length: float) -> float:
    """What a tape pulled by hand across a gap reads too long for hanging, mm: it is left in and
    counted as doubt.
    """
    return blade_sag(abs(length), BLADE_G_PER_M, PULL_N)
