"""Commands that set a figure of the person's own: a tool's, a size of this frame, a limit."""

from __future__ import annotations

from dataclasses import replace

from wizard.judgment.bands import LIKE, own_figure
from wizard.library.figures import figure, unit_of
from wizard.library.shapes import Limit
from wizard.readings.instruments import instrument
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import Doubted
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
    out_before = {left.id for left, _ in sizes_of(layout, survey).left_out}
    if why := next(
        (why for left, why in sizes_of(layout, after).left_out if left.id not in out_before), ""
    ):
        return Reply(
            "refused", why
        )  # whichever of them would be left out: it is this one that does not fit
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


def set_limit(sitting: Sitting, rest: str) -> Reply:
    """`/limit sag-unloaded watch 1/4 in the works manual`: your own end of a band, with where it
    comes from.
    """
    words = rest.split()
    limit = sitting.library.limits.get(words[0]) if words else None
    bands = [b.band for b in limit.above] if limit else []
    if limit is None or len(words) < 4 or words[1] not in bands:
        names = ", ".join(sorted(sitting.library.limits))
        what, band = (limit.id, bands[-1]) if limit else ("twist", "watch")
        like = f"/limit {what} {band} {_figure_like(limit)} shop manual"
        there = f"Its bands are {', '.join(bands)}" if limit else f"There are {names}"
        return Reply(
            "refused",
            f"Say the limit, the band, the figure and where it comes from, like {like}. {there}.",
        )
    for cut in range(len(words), 2, -1):
        upto, source = " ".join(words[2:cut]), " ".join(words[cut:])
        try:
            figure(upto)
        except (Refused, ValueError):
            continue
        if (
            not source
            or upto.replace(".", "").isdigit()
            or (limit.unit != "mm" and unit_of(upto) != limit.unit)
        ):
            break
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
    like = f"{_figure_like(limit)} shop manual"
    return Reply("refused", f"Give the figure with its unit and where it comes from, like {like}.")


def _figure_like(limit: Limit | None) -> str:
    """What a figure of that limit looks like."""
    return LIKE[limit.unit if limit else "mm"][1]
