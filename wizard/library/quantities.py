"""content/quantities.toml: everything that is computed of a frame, with its unit and its words."""

from __future__ import annotations

import string
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping

from wizard.library.fields import Fault, Table, nearest
from wizard.library.marks import BY_BAR
from wizard.library.places import QuantityId, StepId, WhereId
from wizard.library.shapes import Limit
from wizard.library.shapes_quantity import UNITS, Forms, Quantity

STATES = ("engine", "body", "supports")
"""Fields of the state that a quantity may hang on."""
PLACES = ("where", "Where", "at", "At", "side", "tape")
"""What a name may have in braces."""
HINT = "A hint only."
"""What a hint says of itself."""
OWN = ("amount", "doubt")
"""What every sentence may have besides; a check that adds notes fills in more of its own."""


def _texts(t: Table, key: str) -> Forms:
    found = t.mapping(key)
    for name, value in found.items():
        if not isinstance(value, str) or not value.strip():
            t.fault(f"{key}.{name}", "is no text", "write a sentence")
    return {k: v for k, v in found.items() if isinstance(v, str)}


def _instead(t: Table) -> dict[str, Forms]:
    """The sentences that stand for others at some box, by its id or role."""
    found: dict[str, Forms] = {}
    for row in t.tables("instead"):
        at = row.text("at")
        row.once(at, found)
        found[at] = {form: row.text(form) for form in row.data if form != "at"}
    return found


def _quantity(t: Table) -> Quantity:
    ends = t.texts("ends") if "" not in t.data.get("ends", ()) else tuple(t.data["ends"])
    t.taken.add("ends")
    if ends and (len(ends) != 2 or not all(isinstance(end, str) for end in ends)):
        t.fault("ends", "are not two", 'write the negative end first, like ["high", "low"]')
        ends = ()
    read_at = t.text("read_at", "")
    made = Quantity(
        id=QuantityId(t.text("id")),
        unit=t.word("unit", UNITS),
        name=t.text("name"),
        subject=t.text("subject", ""),
        plural=t.text("plural", ""),
        part=t.text("part", ""),
        plus=t.text("plus", ""),
        minus=t.text("minus", ""),
        ends=(ends[0], ends[1]) if ends else ("", ""),
        limit=t.text("limit", ""),
        by=t.texts("by", needed=True),
        shown=t.texts("shown"),
        compared=t.flag("compared"),
        hangs_on=t.texts("hangs_on"),
        read_at=StepId(read_at) if read_at else None,
        also=t.text("also", ""),
        hint=t.flag("hint"),
        size=t.flag("size"),
        downward=t.flag("downward"),
        says=_texts(t, "says"),
        at=_instead(t),
        places={WhereId(place): name for place, name in _texts(t, "places").items()},
    )
    t.done()
    _words(t, made)
    return made


def _words(t: Table, made: Quantity) -> None:
    """Every word that some output will ask for."""
    if bool(made.plus) != bool(made.minus):
        t.fault("minus" if made.plus else "plus", "is missing", "name both ways, or neither")
    for key, (is_missing, remedy) in WANTED.items():
        if is_missing(made):
            t.fault(key, "is missing", remedy)
    for name in fields_in(made.name):
        if name not in PLACES:
            t.fault("name", f"{{{name}}} is filled in by nobody", nearest(name, PLACES))
    _stand_ins(t, made)
    _state(t, made)
    _hint(t, made)


def _stand_ins(t: Table, made: Quantity) -> None:
    """What is said instead at some box stands for a sentence that there is."""
    for form in (form for forms in made.at.values() for form in forms):
        if form not in made.says:
            t.fault(f"instead.{form}", "stands for nothing", nearest(form, made.says))


WANTED: Mapping[str, tuple[Callable[[Quantity], bool], str]] = {
    "plural": (
        lambda q: q.compared and not q.plural,
        "say what several of them are called; two surveys need it",
    ),
    "ends": (
        lambda q: bool(q.limit) and not any(q.ends),
        "name the ends of its axis; a quantity with a limit is drawn",
    ),
    "says": (
        lambda q: not q.says and not q.size,
        "add [quantity.says] with straight, plus and minus",
    ),
}
"""Words without which some output has none."""


def _state(t: Table, made: Quantity) -> None:
    if bool(made.hangs_on) != bool(made.read_at):
        t.fault("read_at", "needs hangs_on beside it", "name both, or neither")
    for name in made.hangs_on:
        if name not in STATES:
            t.fault("hangs_on", f"'{name}' is not known", nearest(name, STATES))


def _hint(t: Table, made: Quantity) -> None:
    """A hint says so, or it would read as a finding."""
    if not made.hint:
        return
    if made.limit:
        t.fault("limit", "judges a hint", "leave one of the two out")
    for form in ("plus", "minus", "out"):
        if form in made.says and HINT not in made.says[form]:
            t.fault(f"says.{form}", "does not say that it is a hint", f'end it with "{HINT}"')


def fields_in(text: str) -> list[str]:
    """What stands in braces; a brace that is not closed counts as one that nobody fills in.

    >>> fields_in("The {side} rail hangs {amount} low"), fields_in("The {side rail")
    (['side', 'amount'], ['{'])
    """
    try:
        return [name for _, name, *_ in string.Formatter().parse(text) if name is not None]
    except ValueError:
        return ["{"]


def read_quantities(t: Table) -> dict[QuantityId, Quantity]:
    """Quantities by id, in the order in which they are found and told."""
    t.format()
    found: dict[QuantityId, Quantity] = {}
    for row in t.tables("quantity"):
        made = _quantity(row)
        row.once(made.id, found)
        found[made.id] = made
    t.done()
    return found


def quantity_faults(
    quantities: Mapping[QuantityId, Quantity],
    limits: Mapping[str, Limit],
    steps: Mapping[StepId, str],
) -> Iterator[Fault]:
    """Limits of another unit or of nothing, and pages that show nothing.

    steps: each step's check by its id; empty for one that shows no result.
    """
    for q in quantities.values():
        yield from _limit_faults(q, limits)
    yield from _page_faults(quantities.values(), steps)
    yield from _place_faults(quantities.values())
    judged = {q.limit for q in quantities.values()}
    for id in limits:
        if id not in judged:
            yield Fault("limits.toml", f"limit[{id}]", "judges nothing", nearest(id, quantities))


def _place_faults(quantities: Collection[Quantity]) -> Iterator[Fault]:
    """Where a check finds what no layout has a place for, the quantity names it."""
    named = {place for q in quantities for place in q.places}
    if BY_BAR not in named:
        wrong = f"name nothing '{BY_BAR}', where a check finds a shift"
        remedy = f'write {BY_BAR} = "..." under [quantity.places] of that shift'
        yield Fault("quantities.toml", "quantity.places", wrong, remedy)


def _page_faults(quantities: Collection[Quantity], steps: Mapping[StepId, str]) -> Iterator[Fault]:
    checks = {check for check in steps.values() if check}
    for q in quantities:
        if q.read_at:
            yield from _unknown_steps(q, "read_at", (q.read_at,), steps)
        yield from _unknown_steps(q, "shown", filter(None, q.shown), checks)
    shown = {name for q in quantities for name in q.shown}
    for id, check in steps.items():
        if check and check not in shown:
            yield Fault(f"{id}.toml", "check", f"'{check}' shows nothing", nearest(check, shown))


def _unknown_steps(
    q: Quantity,
    key: str,
    names: Iterable[str | StepId],
    known: Collection[str] | Collection[StepId],
) -> Iterator[Fault]:
    for name in names:
        if name not in known:
            yield _fault(q, key, f"no step has '{name}'", nearest(name, known))


def _limit_faults(q: Quantity, limits: Mapping[str, Limit]) -> Iterator[Fault]:
    if not q.limit:
        return
    limit = limits.get(q.limit)
    if limit is None:
        yield _fault(q, "limit", f"'{q.limit}' is not known", nearest(q.limit, limits))
    elif limit.unit != q.unit:
        remedy = f"give its figures in {q.unit}, or the quantity another limit"
        yield _fault(q, "limit", f"'{q.limit}' is in {limit.unit}, not in {q.unit}", remedy)


def _fault(q: Quantity, key: str, wrong: str, remedy: str) -> Fault:
    return Fault("quantities.toml", f"quantity[{q.id}].{key}", wrong, remedy)
