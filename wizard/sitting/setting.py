"""Commands that set a figure of the person's own: a tool's, a size of this frame, a limit."""

from __future__ import annotations

from dataclasses import replace

from wizard.judgment.bands import LIKE, own_figure
from wizard.library.figures import figure, unit_of
from wizard.library.shapes import Layout, Limit
from wizard.readings.instruments import instrument
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import Doubted
from wizard.survey.record import Survey
from wizard.survey.rows import Doubt, OwnLimit, Size, Tool
from wizard.survey.sizes import amount, doubtful, size_of, sizes_of, with_unit

TOOL_FIELDS = {
    "tape": ("class", "division", "end"),
    "ruler": ("class", "division"),
    "string": ("mass", "pull"),
    "level": ("sensitivity", "length", "resolution"),
    "bar": ("pointer",),
}


def set_tool(sitting: Sitting, rest: str) -> Reply:
    """`/tool tape class I`: one figure of the tool in use; readings taken before keep the tool as
    it was.
    """
    kind, _, rest = rest.partition(" ")
    field, _, value = rest.partition(" ")
    if kind not in TOOL_FIELDS or field not in TOOL_FIELDS[kind] or not value:
        known = "; ".join(f"{k}: {', '.join(v)}" for k, v in TOOL_FIELDS.items())
        return Reply(
            "refused",
            f"Say it like /tool tape class I or /tool string pull 30 N. There are {known}.",
        )
    survey, tool = sitting.survey, sitting.survey.tool(kind)
    if tool is None:
        return Reply("refused", f"Choose a {kind} first, at the step Your tools (/go tools).")
    values = {**tool.extra, field: value}
    try:
        instrument({**values, "kind": kind, "name": tool.name}, survey.unit)
    except Refused as refused:
        return Reply("refused", str(refused))
    # A row of its own, so that it can be taken back, and readings taken before keep the tool as it
    # was. It leaves a
    # number out: the row behind an answer's number is the one that the answer brought.
    row = Tool(
        id=f"t{survey.last_number() + 2}",
        at=sitting.at,
        by=sitting.by,
        kind=kind,
        name=tool.name,
        extra=values,
    )
    return sitting.change(survey.with_row(row)) or Reply(
        "told", f"Your {kind}: {field} is {value} from now on."
    )


def set_size(sitting: Sitting, rest: str) -> Reply:
    """`/size engine_mass_kg 180` or `/size rail_depth 4 in`: a size of this frame in place of the
    round figure.
    """
    name, _, typed = rest.partition(" ")
    survey, layout = sitting.survey, sitting.library.layouts[sitting.survey.layout]
    value = typed.rstrip("! ")
    if name not in layout.figures or not value:
        return Reply(
            "refused",
            f"Say it like /size rail_depth 4 in. There are {', '.join(sorted(layout.figures))}.",
        )
    try:
        read = size_of(name, value, survey.unit)
    except Refused as refused:
        return Reply("refused", str(refused))
    row = Size(
        id=survey.new_id(Size),
        at=sitting.at,
        by=sitting.by,
        name=name,
        typed=with_unit(name, value, survey.unit),
    )
    after = survey.with_row(row)
    if why := _left_out_by(layout, survey, after):
        return Reply("refused", why)
    says = f"{name} is {amount(name, read, survey.unit)} for this frame."
    doubt = doubtful(name, read, layout, survey.unit)
    if not doubt:
        return sitting.change(after) or Reply("told", says)
    note = Doubt(
        id=after.new_id(Doubt),
        at=sitting.at,
        by=sitting.by,
        reading=row.id,
        text=doubt,
        kept="asked",
    )
    if typed.rstrip().endswith("!"):
        return sitting.change(after.with_row(replace(note, kept="in-advance"))) or Reply(
            "told", says
        )
    return sitting.doubt(Doubted(doubt, after.with_row(note), says), f"/size {rest}")


def _left_out_by(layout: Layout, before: Survey, after: Survey) -> str:
    """Why a size is left out that was not before; whichever it is, it is the new one that does not
    fit.
    """
    out_before = {left.id for left, _ in sizes_of(layout, before).left_out}
    return next(
        (why for left, why in sizes_of(layout, after).left_out if left.id not in out_before), ""
    )


def set_limit(sitting: Sitting, rest: str) -> Reply:
    """`/limit sag-unloaded watch 1/4 in the works manual`: your own end of a band, with where it
    comes from.
    """
    words = rest.split()
    limit = sitting.library.limits.get(words[0]) if words else None
    if limit is None or len(words) < 4 or words[1] not in _bands(limit):
        return Reply("refused", _limit_remedy(sitting, limit))
    upto, source = _figure_and_source(words[2:])
    if not source or not _has_unit(upto, limit):
        like = f"{_figure_like(limit)} shop manual"
        return Reply(
            "refused", f"Give the figure with its unit and where it comes from, like {like}."
        )
    row = OwnLimit(
        id=sitting.survey.new_id(OwnLimit),
        at=sitting.at,
        by=sitting.by,
        limit=limit.id,
        band=words[1],
        upto=upto,
        source=f"{sitting.by}'s figure: {source}",
    )
    if isinstance(why := own_figure(row, sitting.survey, limit), str):
        return Reply("refused", why)
    return sitting.change(sitting.survey.with_row(row)) or Reply(
        "told", f"{limit.name}: {words[1]} up to {upto}."
    )


def _bands(limit: Limit) -> list[str]:
    return [b.band for b in limit.above]


def _limit_remedy(sitting: Sitting, limit: Limit | None) -> str:
    """How to say it: with the bands of that limit, or with the limits where it is none."""
    names = ", ".join(sorted(sitting.library.limits))
    what, band = (limit.id, _bands(limit)[-1]) if limit else ("twist", "watch")
    like = f"/limit {what} {band} {_figure_like(limit)} shop manual"
    there = f"Its bands are {', '.join(_bands(limit))}" if limit else f"There are {names}"
    return f"Say the limit, the band, the figure and where it comes from, like {like}. {there}."


def _figure_and_source(words: list[str]) -> tuple[str, str]:
    """The most words from the first on that are a figure, and those behind it; empty where none
    are.
    """
    for cut in range(len(words), 0, -1):
        upto = " ".join(words[:cut])
        try:
            figure(upto)
        except (Refused, ValueError):
            continue
        return upto, " ".join(words[cut:])
    return "", ""


def _has_unit(upto: str, limit: Limit) -> bool:
    """Whether a figure is no bare number; where the limit is no length, its unit must be the
    limit's.
    """
    bare = upto.replace(".", "").isdigit()
    return not bare and (limit.unit == "mm" or unit_of(upto) == limit.unit)


def _figure_like(limit: Limit | None) -> str:
    """What a figure of that limit looks like."""
    return LIKE[limit.unit if limit else "mm"][1]
