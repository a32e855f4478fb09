"""A survey made ready for the checks: every prompt's readings as one number with its parts of
doubt.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property, lru_cache
from typing import Any, TypeVar

from wizard.checks.finding import Finding
from wizard.checks.notes import Note
from wizard.checks.twist_supports import on_one_support
from wizard.library.shapes import Layout, Library, Scatter
from wizard.math.repeats import Pooled, mean_u, pool
from wizard.math.tape import blade_sag
from wizard.math.uncertain import Part, Uncertain, combine
from wizard.readings.bubbles import read_bubble
from wizard.readings.instruments import Instrument, Level, Rule, Tape, instrument, tape_standard_u
from wizard.readings.refused import Refused
from wizard.survey.answer import value_of
from wizard.survey.guide import guide_of, layout_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, Tool
from wizard.survey.sizes import own_layout

Made = TypeVar("Made")
NO_PRIOR = Scatter("", "", 1.0, 8.0, "no figure for this tool: a cautious guess")
BLADE_G_PER_M, PULL_N = 13.0, 15.0
HANG = "the blade hangs between your hands: a common blade, an easy pull (figures from memory)"
START = {"in": Fraction(254), "mm": Fraction(100)}
"""Where a tape `started at its mark` begins, by the survey's unit: its 10 in or its 100 mm mark."""


@dataclass(frozen=True, slots=True)
class Taken:
    """The readings of one prompt, averaged."""

    prompt: Prompt
    number: Uncertain
    """mm for lengths and gaps; slope (a ratio, left high positive) for a level."""
    values: tuple[float, ...]
    """Each reading, in the same unit, in the order they were taken."""
    rows: tuple[Reading, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the readings."""
        return tuple(r.id for r in self.rows)


_bubble = lru_cache(maxsize=1024)(read_bubble)


@dataclass(frozen=True)
class Case:
    """A survey with the content it was made by. Computes nothing of the frame; checks do."""

    survey: Survey
    library: Library
    supports: str = ""
    """The supports whose readings of the level are asked for; empty leaves it to those that decide."""

    def once(self, make: Callable[[Case], Made]) -> Made:
        """What `make` makes of this case, made once and kept with it."""
        if make not in self._made:
            self._made[make] = make(self)
        made: Made = self._made[make]
        return made

    @cached_property
    def _made(self) -> dict[Any, Any]:
        return {}

    @cached_property
    def layout(self) -> Layout:
        """The frame's layout with the owner's own places and sizes."""
        return own_layout(layout_of(self.survey, self.library), self.survey)

    @cached_property
    def prompts(self) -> Mapping[str, Prompt]:
        """Every prompt that any step can ask of this layout, by id."""
        return guide_of(self.survey, self.library).questions.by_id

    @cached_property
    def by_prompt(self) -> Mapping[str, tuple[Reading, ...]]:
        """Standing readings that can be read, by prompt."""
        found: dict[str, list[Reading]] = {}
        for row in self.survey.standing(Reading):
            if row.prompt in self.prompts and self._readable(row):
                found.setdefault(row.prompt, []).append(row)
        horns = frozenset(p.id for p in self.layout.levels if p.place == "tip")
        return on_one_support(
            {k: tuple(v) for k, v in found.items()}, self.survey, horns, self.supports
        )

    def _readable(self, row: Reading) -> bool:
        """An edited file may hold what no prompt would have taken: such a row is left out, not
        trusted.

        So is a distance of nothing or less, as is left of a figure that is not past the mark the
        tape starts at.
        """
        return not self.unreadable(row)

    def unreadable(self, row: Reading) -> str:
        """Why a reading of a prompt that there is cannot be used, in one sentence; empty where it
        can.
        """
        try:
            value = self.value(row)
        except Refused as refused:
            return str(refused)
        prompt = self.prompts[row.prompt]
        if value <= 0 and prompt.kind == "length" and prompt.tool == "tape":
            return "A distance is above zero."
        return ""

    def found(
        self, quantity: str, where: str, number: Uncertain, readings: tuple[str, ...], *notes: Note
    ) -> Finding:
        """A finding of a quantity of content/quantities.toml, judged by that quantity's limit."""
        of = self.library.quantities[quantity]
        return Finding(of, where, number, readings, of.limit, notes)

    # Single readings
    # ------------------------------------------------------------------------------------------

    def tool_of(self, row: Reading, kind: str) -> tuple[str, Instrument]:
        """The tool a reading names and its name for shared parts; an ordinary one where the file
        has none.
        """
        key = (row.tool, kind)
        if key not in self._tools:
            self._tools[key] = self._tool_of(row, kind)
        return self._tools[key]

    @cached_property
    def _tools(self) -> dict[tuple[str, str], tuple[str, Instrument]]:
        return {}

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
            {**_in_unit(plain.values, self.survey.unit), "kind": kind}, self.survey.unit
        )

    def value(self, row: Reading) -> float:
        """One reading: mm, or for a level the slope as a ratio.

        Raises Refused for what cannot be read.
        """
        key = (row.prompt, row.typed, row.tool)
        if key not in self._values:
            self._values[key] = self._value(row)
        return self._values[key]

    @cached_property
    def _values(self) -> dict[tuple[str, str, str], float]:
        return {}

    def _value(self, row: Reading) -> float:
        prompt = self.prompts[row.prompt]
        if prompt.kind == "bubble":
            level = self.tool_of(row, "level")[1]
            if not isinstance(level, Level):
                raise Refused("This reading names a tool that is no level.")
            return level.slope(_bubble(row.typed, self.survey.unit))
        return float(value_of(prompt, row.typed, self.survey.unit) - self.start_of(row, prompt))

    def start_of(self, row: Reading, prompt: Prompt) -> Fraction:
        """What the tape's starting mark adds to a figure typed as the tape says it, mm."""
        tool = next((t for t in self.survey.table(Tool) if t.id == row.tool), None)
        starts_at_mark = (
            prompt.kind == "length" and tool is not None and tool.extra.get("start") == "mark"
        )
        return START[self.survey.unit] if starts_at_mark else Fraction(0)

    def scale_of(self, row: Reading) -> tuple[str, float]:
        """Kind of scatter (a key of content/tools.toml) and how much one unit of it is in the
        reading's unit.
        """
        prompt = self.prompts[row.prompt]
        if prompt.kind != "bubble":
            return prompt.tool or "tape", 1.0
        bubble, level = _bubble(row.typed, self.survey.unit), self.tool_of(row, "level")[1]
        assert isinstance(level, Level)
        if level.resolution is not None and level.sensitivity is None:
            return "angle-gauge", 3.141592653589793 / 180.0
        if bubble.kind == "shim" and level.length:
            return "shim", 1.0 / float(level.length)
        return "level", (level.sensitivity or 6.0) / 1000.0

    # Repeats --------------------------------------------------------------------------------------
    # ------------

    def _group(self, row: Reading) -> tuple[str, str]:
        found = self._groups.get(row.id)
        if found is None:
            found = self._groups[row.id] = self.scale_of(row)[0], self.aim(self.prompts[row.prompt])
        return found

    @cached_property
    def _groups(self) -> dict[str, tuple[str, str]]:
        return {}

    @cached_property
    def pooled(self) -> Mapping[tuple[str, str], Pooled]:
        """Hand scatter by tool and kind of point, from every repeat in the survey and the content's
        prior.
        """
        groups: dict[tuple[str, str], list[list[float]]] = {}
        for rows in self.by_prompt.values():
            same: dict[str, list[float]] = {}
            for row in rows:
                same.setdefault(row.tool, []).append(self.value(row) / self.scale_of(row)[1])
            groups.setdefault(self._group(rows[0]), []).extend(same.values())
        return {key: self._pool(key, found) for key, found in groups.items()}

    def _pool(self, key: tuple[str, str], groups: list[list[float]]) -> Pooled:
        prior = self.prior(*key)
        return pool(groups, prior.s, prior.dof)

    def prior(self, tool: str, point: str) -> Scatter:
        """The content's figure for the hand scatter of that tool at that kind of point."""
        rows = [s for s in self.library.scatters if s.tool == tool and s.point in (point, "")]
        return max(rows, key=lambda s: len(s.point), default=NO_PRIOR)

    def aim(self, prompt: Prompt) -> str:
        """What the hand aims at: the kind of point at the far end, or what the prompt names
        instead.
        """
        return prompt.point or self.point_kind(prompt.end)

    def point_kind(self, point: str) -> str:
        """rivet, hole, bolt or edge; empty where the prompt has no points."""
        place = point.rsplit("-", 1)[0]
        return next((p.kind for p in self.layout.places if p.id in (place, point)), "")

    def taken(self, prompt_id: str) -> Taken | None:
        """The mean of a prompt's readings with every part of its doubt; None where there is none."""
        if prompt_id not in self._taken:
            self._taken[prompt_id] = self._mean(prompt_id)
        return self._taken[prompt_id]

    @cached_property
    def _taken(self) -> dict[str, Taken | None]:
        return {}

    def _mean(self, prompt_id: str) -> Taken | None:
        rows = self.by_prompt.get(prompt_id)
        if not rows:
            return None
        prompt = self.prompts[prompt_id]
        values = tuple(self.value(r) for r in rows)
        n = len(rows)
        each = [Uncertain(v, self._shared(r, v)) for r, v in zip(rows, values, strict=True)]
        shared = each[0] if n == 1 else combine(sum(values) / n, [(1.0 / n, u) for u in each])
        parts = (
            self._hand(prompt, rows),
            *shared.parts,
            *self.point_parts(prompt.start, prompt.end),
        )
        return Taken(prompt, Uncertain(shared.value, parts), values, rows)

    def _hand(self, prompt: Prompt, rows: tuple[Reading, ...]) -> Part:
        kind, scale = self.scale_of(rows[0])
        pooled = self.pooled[self._group(rows[0])]
        tool = self.tool_of(rows[0], prompt.tool or "tape")[1]
        division = float(tool.division) if isinstance(tool, Tape | Rule) else 0.0
        size = mean_u(pooled.s, len(rows), division) * scale
        prior = self.prior(kind, self.aim(prompt))
        times = f"{len(rows)} reading" + ("s" if len(rows) > 1 else "")
        why = (
            f"hand and scale, {times}; {prior.source}"
            if pooled.dof <= prior.dof
            else f"hand and scale, {times}"
        )
        return Part(
            f"hand:{prompt.id}", size, pooled.dof, False, why, "/".join(self._group(rows[0]))
        )

    def _shared(self, row: Reading, value: float) -> tuple[Part, ...]:
        """What every reading of one tool has wrong alike."""
        prompt = self.prompts[row.prompt]
        name, tool = self.tool_of(row, prompt.tool or "tape")
        if isinstance(tool, Tape | Rule) and prompt.kind == "length":
            size = tape_standard_u(
                tool.class_, abs(value), isinstance(tool, Tape) and tool.from_end
            )
            kind = "tape" if isinstance(tool, Tape) else "ruler"
            why = f"{kind} of class {tool.class_}, Directive 2014/32/EU MI-008"
            parts = (Part(f"{kind}:{name}", size, shared=True, source=why),)
            return (
                parts
                if isinstance(tool, Rule)
                else (*parts, Part(f"hang:{name}", _hang(value), shared=True, source=HANG))
            )
        if isinstance(tool, Level) and prompt.kind == "bubble":
            why = (
                "the figure for one division of the level, known to a tenth (this project's own"
                " guess)"
            )
            return (Part(f"level:{name}", 0.1 * value, shared=True, source=why),)
        return ()

    def point_parts(self, start: str, end: str) -> tuple[Part, ...]:
        """Which spot of each rivet is `the point`: the same in every repeat and in every tape to
        it.

        start, end: ids of two points; no parts where one is no point of the layout.
        The spot is doubtful in x and in y; a tape sees the share along itself.
        """
        a, b = self.place_of(start), self.place_of(end)
        if a is None or b is None:
            return ()
        dx, dy = b[0] - a[0], b[1] - a[1]
        length = (dx * dx + dy * dy) ** 0.5 or 1.0
        parts = []
        for point, sign in ((start, -1.0), (end, 1.0)):
            u = self.library.point_doubt.get(self.point_kind(point), 1.0)
            why = (
                f"which spot of the {self.point_kind(point)} is the point (this project's own"
                " figure)"
            )
            for axis, share in (("x", dx / length), ("y", dy / length)):
                parts.append(
                    Part(f"point:{point}:{axis}", sign * share * u, shared=True, source=why)
                )
        return tuple(p for p in parts if p.size)

    def place_of(self, point: str) -> tuple[float, float] | None:
        """The layout's round place of a point, mm; None for what is no point of it."""
        for place in self.layout.places:
            for side in place.sides:
                if point == (place.id if side == "middle" else f"{place.id}-{side}"):
                    return (
                        place.x,
                        {"left": -1.0, "right": 1.0, "middle": 0.0}[side] * place.half_width,
                    )
        return None


def case_of(survey: Survey, library: Library) -> Case:
    """The survey's one case by that content."""
    return survey.once(library, Case)


def _hang(length: float) -> float:
    """What a tape pulled by hand across a gap reads too long for hanging, mm: it is left in and
    counted as doubt.
    """
    return blade_sag(abs(length), BLADE_G_PER_M, PULL_N)


def _in_unit(values: Mapping[str, str], unit: str) -> dict[str, str]:
    other = "_mm" if unit == "in" else "_in"
    return {k.removesuffix(f"_{unit}"): v for k, v in values.items() if not k.endswith(other)}
