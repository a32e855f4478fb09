"""`/add tape cowl bracket, hole, 31 1/2`: places of the owner's own, and taking one out again."""

from __future__ import annotations

import re

from wizard.library.layouts import OWN
from wizard.readings.plain import clean_line
from wizard.readings.refused import Refused
from wizard.sitting.reply import Reply
from wizard.sitting.sitting import Sitting
from wizard.survey.guide import layout_of
from wizard.survey.own_places import KINDS, LONGEST_NAME, MOST, USES, added, place_id
from wizard.survey.rows import OwnPlace

HOW = """A pair of points for the tape, so far behind the front points:
  /add tape cowl bracket, hole, 31 1/2
It may be a hole, rivet, bolt or edge, alike on both rails. A second figure
is the width across.
A place on the string:   /add string by the cowl, 31 1/2
A place for the level:   /add level cowl, 31 1/2
To take one out again:   /add drop cowl bracket"""
SHORT = "Say it like /add tape cowl bracket, hole, 31 1/2. /add alone tells more."
NOWHERE = "No page asks for it as the car stands, or with this short list; /whole asks for everything."
KINDS_SAID = {"tape": "a pair of points", "string": "a place on the string", "level": "a place for the level"}


def add(sitting: Sitting, rest: str) -> Reply:
    """Add a place of the owner's own to this frame, take one out, or tell which there are."""
    use, _, said = rest.strip().partition(" ")
    use, said = use.lower(), said.strip()
    if not use:
        return Reply("told", _listed(sitting), "Places of your own")
    if use == "drop":
        return _drop(sitting, said)
    if use not in USES or not said:
        return Reply("refused", SHORT)
    survey = sitting.survey
    if len(survey.standing(OwnPlace)) >= MOST:
        return Reply("refused", f"There are {MOST} places of your own, as many as a survey takes; drop one first.")
    try:
        row = _row(sitting, use, said)
        base = sitting.library.layouts.get(survey.layout) or next(iter(sitting.library.layouts.values()))
        added(layout_of(survey, sitting.library), row, base)
    except Refused as refused:
        return Reply("refused", f"{refused} Say it like {_example(use)}")
    return sitting.change(survey.with_row(row)) or Reply("told", _told(sitting, row))


def _row(sitting: Sitting, use: str, said: str) -> OwnPlace:
    """What was typed, as a row. Raises Refused."""
    parts = [clean_line(p, 60).strip() for p in re.split(r"[,;](?:\s+|$)", said) if p.strip()]
    kind = next((p.lower() for p in parts[1:] if p.lower() in KINDS), "")
    sizes = [_with_unit(p, sitting.survey.unit) for p in parts[1:] if p.lower() != kind]
    if not parts or len(parts[0]) > LONGEST_NAME or not 1 <= len(sizes) <= (2 if use == "tape" else 1):
        raise Refused("That is too little or too much.")
    if use == "tape" and not kind:
        raise Refused(f"What is it: {', '.join(KINDS[:-1])} or {KINDS[-1]}?")
    survey = sitting.survey
    return OwnPlace(
        id=survey.new_id(OwnPlace),
        at=sitting.now().replace(microsecond=0),
        by=survey.answer_to("about-the-car/by") or "owner",
        use=use,
        place=place_id(parts[0]),
        name=parts[0],
        kind=kind if use == "tape" else "",
        behind=sizes[0],
        across=sizes[1] if len(sizes) > 1 else "",
    )


def _with_unit(typed: str, unit: str) -> str:
    """With its unit, since a re-check may be made in the other one."""
    return typed if re.search(r"[a-z\"']", typed, re.IGNORECASE) else f"{typed} {unit}"


def _told(sitting: Sitting, row: OwnPlace) -> str:
    steps = [p.step.title for p in sitting.pages() if any(_of(row.place, q.id) for q in p.prompts)]
    where = f"It is asked for at {', '.join(steps)}." if steps else NOWHERE
    mark = f" Mark it: /point {row.place.removeprefix(OWN)}-left punch dot." if row.use == "tape" else ""
    return f"Added {KINDS_SAID[row.use]}: {row.name}, {row.behind} behind the front points. {where}{mark}"


def _of(place: str, prompt: str) -> bool:
    """Whether a prompt reads an own place: its own item, or that of the box that ties it."""
    return any(part in (place, f"{place}-box") for part in prompt.split("/"))


def _drop(sitting: Sitting, name: str) -> Reply:
    survey = sitting.survey
    row = next((r for r in survey.standing(OwnPlace) if place_id(name) == r.place), None)
    if row is None:
        names = ", ".join(r.name for r in survey.standing(OwnPlace))
        return Reply("refused", f"You added {names}." if names else "You have added no place of your own yet.")
    here = [r for r in survey.rows.get("reading", ()) if _of(row.place, getattr(r, "prompt", "")) and not r.struck]
    failed = sitting.change(survey.with_struck(row.id, "taken out"))
    if failed:
        return failed
    ids = {p.id for page in sitting.pages() for p in page.prompts}
    if sitting.ask and sitting.ask.prompt.id not in ids and sitting.ask.prompt.kind != "ack":
        sitting.ask = None
        sitting.forward()
    kept = f" What was read there stays in the file: {len(here)}." if here else ""
    return Reply("told", f"{row.name} is asked for no more.{kept}")


def _listed(sitting: Sitting) -> str:
    rows = sitting.survey.standing(OwnPlace)
    own = [f"{r.name}: {KINDS_SAID.get(r.use, r.use)}, {r.behind} behind the front points" for r in rows]
    return "\n".join((*(own or ["You have added none yet."]), "", HOW))


def _example(use: str) -> str:
    return f"/add {use} cowl bracket, hole, 31 1/2" if use == "tape" else f"/add {use} by the cowl, 31 1/2"
