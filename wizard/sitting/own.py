"""What the owner sets by himself: places of his own on this frame, and figures of a tool, of the
frame's sizes and of a limit.
"""

from __future__ import annotations

import re
from dataclasses import replace

from wizard.judgment.bands import LIKE, own_bounds, own_figure
from wizard.library.figures import figure, unit_of
from wizard.library.places import (
    NO_PLACE,
    PlaceId,
    asked_of,
    box_of_own,
    numbered,
    pair_ids,
    without_own,
)
from wizard.library.shapes import Layout, Limit
from wizard.readings.figures import read_length
from wizard.readings.instruments import instrument
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.answer import Doubted
from wizard.survey.guide import layout_of
from wizard.survey.own_frame import base_of
from wizard.survey.own_places import KINDS, LONGEST_NAME, MOST, USES, added, place_id, where
from wizard.survey.record import Survey, Unit
from wizard.survey.rows import Doubt, OwnLimit, OwnPlace, Reading, Size, Tool
from wizard.survey.sizes import amount, doubtful, size_of, sizes_of, with_unit
from wizard.telling.amounts import sides

HOW = """To add a pair of points for the tape, say how far they are behind the front points:
  /add tape cowl bracket, hole, {far}
They may be holes, rivets, bolts or edges, the same on both rails.
To add a place on the string:   /add string by the cowl, {far}
To add a place for the level:   /add level cowl, {far}
To take one out again:          /add drop cowl bracket"""
SHORT = "Type it like /add tape cowl bracket, hole, {far}. Type /add alone to see more."
SPLIT = re.compile(r"[,;](?:\s+|$)")
FAR = {"in": "31 1/2", "mm": "800"}
"""How far behind the front points, in the examples."""
NOWHERE = "No page asks for it as the car stands, or in a short survey. Type /whole to be asked everything."
KINDS_SAID = {
    "tape": "a pair of points",
    "string": "a place on the string",
    "level": "a place for the level",
}


def add(sitting: Sitting, rest: str) -> Reply:
    """Add a place of the owner's own to this frame, take one out, or tell which there are."""
    use, _, said = rest.strip().partition(" ")
    use, said = use.lower(), said.strip()
    if not use:
        return Reply("told", _listed(sitting), "Places of your own")
    if use == "drop":
        return _drop(sitting, said)
    if use not in USES or not said:
        return Reply("refused", SHORT.format(far=FAR[sitting.survey.unit]))
    survey = sitting.survey
    if len(survey.standing(OwnPlace)) >= MOST:
        return Reply(
            "refused",
            f"You have added {MOST} places, and a survey takes no more. Type /add drop and a name to"
            " take one out first.",
        )
    try:
        row = _row(sitting, use, said)
        _mind(sitting, row)
    except Refused as refused:
        like = f"{str(refused).rstrip('.')}. Type it like {_example(use, survey.unit)}."
        return Reply("refused", like.replace("?.", "?"))
    return sitting.change(survey.with_row(row)) or Reply("told", _told(sitting, row))


def _mind(sitting: Sitting, row: OwnPlace) -> None:
    """That its name is free and that it lies on this frame. Raises Refused."""
    survey, library = sitting.survey, sitting.library
    layout = layout_of(survey, library)
    own = {(r.use, r.name.lower()) for r in survey.standing(OwnPlace)}
    if (row.use, row.name.lower()) in own:
        raise Refused(f"You already have a place called {row.name}: take another name")
    if row.use == "tape" and without_own(row.place) in {p.id for p in layout.places}:
        raise Refused(f"The drawing already has a place called “{row.name}”: take another name")
    added(layout, row, base_of(survey, library))


def _row(sitting: Sitting, use: str, said: str) -> OwnPlace:
    """What was typed, as a row. Raises Refused."""
    name, kind, behind = _parts(said, sitting.survey.unit)
    if use == "tape" and not kind:
        raise Refused(f"Say what it is: {', '.join(KINDS[:-1])} or {KINDS[-1]}")
    survey = sitting.survey
    row = OwnPlace(
        id=survey.new_id(OwnPlace),
        at=sitting.at,
        by=sitting.by,
        use=use,
        place=place_id(name),
        name=name,
        kind=kind if use == "tape" else "",
        behind=behind,
    )
    return replace(row, place=_free(row, survey))


def _parts(said: str, unit: Unit) -> tuple[str, str, str]:
    """Name, kind (empty for none) and how far behind, with its unit. Raises Refused."""
    name, *more = _split(said)
    kind = next((p.lower() for p in more if p.lower() in KINDS), "")
    sizes = [_with_unit(p, unit) for p in more if p.lower() != kind]
    if not name or len(name) > LONGEST_NAME or len(sizes) != 1:
        raise Refused("A place needs a short name and one distance.")
    return name, kind, sizes[0]


def _split(said: str) -> list[str]:
    """What stands between the commas; one empty text for nothing."""
    return [clean_line(p, 60).strip() for p in SPLIT.split(said) if p.strip()] or [""]


def _free(row: OwnPlace, survey: Survey) -> PlaceId:
    """The id, with a number behind it where it ever was another place's: readings there must not
    become this one's.
    """
    others = {r.place for r in survey.table(OwnPlace) if where(r) != where(row)}
    names = (row.place, *(numbered(row.place, n) for n in range(2, MOST * MOST)))
    return next(name for name in names if name not in others) if row.place else NO_PLACE


def _with_unit(typed: str, unit: Unit) -> str:
    """With its unit, since a re-check may be made in the other one; `62 behind` is as good as 62.

    Raises Refused.
    """
    typed = re.sub(r"\s*\b(behind|back|wide|across)\b.*$", "", typed, flags=re.IGNORECASE)
    read_length(typed, unit)  # as any other length is read, before a unit is put behind it
    return typed if re.search(r"[a-z\"']", typed, re.IGNORECASE) else f"{typed} {unit}"


def _told(sitting: Sitting, row: OwnPlace) -> str:
    steps = [
        p.step.title for p in sitting.pages() if any(q.item in _items(row.place) for q in p.prompts)
    ]
    where = f"You measure it at {', '.join(steps)}." if steps else NOWHERE
    mark = (
        f" Say how it is marked: /point {pair_ids(without_own(row.place))[0]} punch dot."
        if row.use == "tape"
        else ""
    )
    return (
        f"Added {KINDS_SAID[row.use]}: {row.name}, {row.behind} behind the front points."
        f" {where}{mark}"
    )


def _items(place: PlaceId) -> tuple[PlaceId, PlaceId]:
    """The items by which prompts read an own place: its own, and the box that ties it."""
    return place, box_of_own(place)


def _drop(sitting: Sitting, name: str) -> Reply:
    survey = sitting.survey
    own = survey.standing(OwnPlace)
    row = next((r for r in own if r.name.lower() == name.lower()), None)
    if row is None:
        names = ", ".join(r.name for r in own)
        return Reply(
            "refused",
            f"You added {names}. Type /add drop and one of these names."
            if names
            else "You have added no place of your own yet.",
        )
    if lies := _level_on(sitting, row):
        return Reply(
            "refused",
            f"The level lies on these points, at “{lies}”. Type /add drop {lies} first.",
        )
    read = _read_at(survey, row)
    failed = sitting.change(survey.with_struck(row.id, "taken out"))
    if failed:
        return failed
    sitting.struck_now = row.id
    leave_gone(sitting)
    kept = f" Readings that stay in the file: {read}." if read else ""
    return Reply("told", f"You will not be asked for {row.name} again.{kept}")


def _level_on(sitting: Sitting, row: OwnPlace) -> str:
    """Name of the place for the level that is laid on a pair of points; empty for none."""
    if row.use != "tape":
        return ""
    levels = layout_of(sitting.survey, sitting.library).levels
    return next((v.name for v in levels if v.place == row.place), "")


def _read_at(survey: Survey, row: OwnPlace) -> int:
    """How many readings were taken at an own place."""
    items = _items(row.place)
    return sum(asked_of(r.prompt).item in items for r in survey.standing(Reading))


def leave_gone(sitting: Sitting) -> None:
    """Go on from a prompt that went with a place: to what is next on its page, else in the course."""
    ids = {p.id for page in sitting.pages() for p in page.prompts}
    ask = sitting.target
    if ask and ask.prompt.id not in ids and not sitting.go(ask.prompt.step):
        sitting.target = None
        sitting.forward()


def _listed(sitting: Sitting) -> str:
    rows, layout = sitting.survey.standing(OwnPlace), layout_of(sitting.survey, sitting.library)
    known = {x.id for group in (layout.places, layout.stations, layout.levels) for x in group}
    own = [
        f"{r.name}: {KINDS_SAID.get(r.use, r.use)}, {r.behind} behind the front points"
        + ("" if r.place in known else " (not on this kind of frame)")
        for r in rows
    ]
    return "\n".join(
        (*(own or ["You have added none yet."]), "", HOW.format(far=FAR[sitting.survey.unit]))
    )


def _example(use: str, unit: Unit) -> str:
    return f"/add {use} {'cowl bracket, hole' if use == 'tape' else 'by the cowl'}, {FAR[unit]}"


# Figures: of a tool, a size of this frame, a limit ------------------------------------------------


TOOL_FIELDS = {
    "tape": ("class", "division", "end"),
    "ruler": ("class", "division"),
    "string": ("mass", "pull"),
    "level": ("sensitivity", "length", "resolution"),
    "gauge": ("resolution",),
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
            f"Type it like /tool tape class I or /tool string pull 30 N. You can set {known}.",
        )
    survey, tool = sitting.survey, sitting.survey.tool(kind)
    if tool is None:
        return Reply(
            "refused", f"Choose a {kind} first, on the page of your tools: type /go tools."
        )
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
        "told", f"The {field} of your {kind} is {value} from now on."
    )


def set_size(sitting: Sitting, rest: str) -> Reply:
    """`/size engine_mass_kg 180` or `/size rail_depth 4 in`: a size of this frame in place of the
    round figure.
    """
    name, _, typed = rest.partition(" ")
    survey, layout = sitting.survey, base_of(sitting.survey, sitting.library)
    value = typed.rstrip("! ")
    if name not in layout.figures or not value:
        return Reply(
            "refused",
            f"Type it like /size rail_depth 4 in. You can set {', '.join(sorted(layout.figures))}.",
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
            "refused", f"Type the figure with its unit and where it comes from, like {like}."
        )
    row = OwnLimit(
        id=sitting.survey.new_id(OwnLimit),
        at=sitting.at,
        by=sitting.by,
        limit=limit.id,
        band=words[1],
        upto=upto,
        source=f"{sitting.signs}'s figure: {source}",
    )
    if isinstance(why := own_figure(row, sitting.survey, limit), str):
        return Reply("refused", why)
    after = sitting.survey.with_row(row)
    said = sides(own_bounds(after, limit), after.unit)
    return sitting.change(after) or Reply("told", f"{limit.name}: {said}.")


def _bands(limit: Limit) -> list[str]:
    return [b.band for b in limit.above]


def _limit_remedy(sitting: Sitting, limit: Limit | None) -> str:
    """How to say it: with the bands of that limit, or with the limits of the frame where it is none."""
    judged = (q for q in sitting.library.quantities.values() if q.limit and not q.also)
    names = ", ".join(sorted({q.limit for q in judged}))
    what, band = (limit.id, _bands(limit)[-1]) if limit else ("twist", "watch")
    like = f"/limit {what} {band} {_figure_like(limit)} shop manual"
    there = f"Its bands are {', '.join(_bands(limit))}" if limit else f"The limits are {names}"
    return f"Type the limit, the band, the figure and where it comes from, like {like}. {there}."


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
