"""All checks over one survey: which modules there are, and in which order they are asked.

A check is a module of this package with `RETURNS`, the quantities that it returns, and `check`. The
quantities of content/quantities.toml name the module that returns them (`by`), and checks run in
their order: so a new check stands in no list here.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from importlib import import_module
from types import ModuleType

import wizard.checks
from wizard.checks.case import Case, case_of
from wizard.checks.finding import Finding, one_of_many
from wizard.checks.plan import Plan, plan_of
from wizard.library import marks
from wizard.library.fields import Fault, nearest
from wizard.library.places import FindingId, QuantityId
from wizard.library.shapes import Library, Quantity
from wizard.survey.record import Survey

READINGS, PLAN, FINDINGS, SURVEYS = "readings", "plan", "findings", "surveys"
"""What a check starts from, its `FROM`: the readings alone (`check(case)`, what it is where the
module says nothing); the plan of everything taped (`check(case, plan)`); what was found before
(`check(case, findings)`); or nothing, because it only serves to compare two surveys. One that starts
from the readings may have `settled(case, findings)` too: its own findings as the others leave them.
"""


@lru_cache(maxsize=1024)
def _module(name: str) -> ModuleType:
    return import_module(f"{wizard.checks.__name__}.{name}")


def _modules(quantities: Iterable[Quantity], start: str) -> tuple[ModuleType, ...]:
    """The modules that return these, in order, of those that start so."""
    return _starting(tuple(dict.fromkeys([name for q in quantities for name in q.by])), start)


@lru_cache(maxsize=1024)
def _starting(names: tuple[str, ...], start: str) -> tuple[ModuleType, ...]:
    modules = (_module(name) for name in names)
    return tuple(m for m in modules if getattr(m, "FROM", READINGS) == start)


def on_readings(case: Case, quantities: Iterable[Quantity]) -> list[Finding]:
    """What the checks of these quantities find in the readings alone."""
    return [f for module in _modules(quantities, READINGS) for f in module.check(case)]


def on_plan(case: Case, quantities: Iterable[Quantity], plan: Plan) -> list[Finding]:
    """What the checks of these quantities read off the plan of everything taped.

    Tapes that make no frame, such as all of one length, may lay points upon each other: between them
    runs no line, and what would go by it is no figure.
    """
    found = (f for module in _modules(quantities, PLAN) for f in module.check(case, plan))
    return [f for f in found if math.isfinite(f.value) and math.isfinite(f.number.u)]


def findings_of(survey: Survey, library: Library) -> tuple[Finding, ...]:
    """Every finding that the survey's readings allow, in the order of the survey."""
    return case_of(survey, library).once(_found)


def _found(case: Case) -> tuple[Finding, ...]:
    quantities = case.library.quantities.values()
    findings = on_readings(case, quantities)
    plan = plan_of(case)
    if plan is not None:
        findings = preferred(believed(on_plan(case, quantities, plan), findings), findings)
    findings = _settled(case, quantities, _limited(case, findings))
    later = [f for m in _modules(quantities, FINDINGS) for f in m.check(case, findings)]
    return tuple(_counted([*findings, *later]))


ONE_OF_SEVERAL = (marks.OWN_SIDES, marks.RAIL_SHIFT, marks.MASH, marks.SWAY)
"""Quantities that are found at several places and judged by one limit each: of their worst more is
wanted before it is called out than of one that stands alone.
"""
BY_ITSELF = (marks.HORN_APART, marks.HORN_BACK, marks.HORN_HEIGHT)
"""Two horns that differ sideways, along or in height are no three places: each is called out by
itself. But the one that is told, with its give or take, is the worst of them.
"""


def _counted(findings: list[Finding]) -> list[Finding]:
    """The findings of a plan, each with how many are judged by its limit and whether it is the worst."""
    several = {*ONE_OF_SEVERAL, *BY_ITSELF}
    return one_of_many(findings, lambda f: f.limit if f.quantity in several else "", BY_ITSELF)


def _settled(case: Case, quantities: Iterable[Quantity], findings: list[Finding]) -> list[Finding]:
    for module in _modules(quantities, READINGS):
        if settled := getattr(module, "settled", None):
            findings = settled(case, findings)
    return findings


def comparable(case: Case) -> tuple[Finding, ...]:
    """What can be held against another survey of the same frame: every finding that tells of its
    shape, and what checks find for that alone.
    """
    quantities = case.library.quantities.values()
    compared = [q for q in quantities if q.compared]
    findings, plan = on_readings(case, compared), plan_of(case)
    if plan is not None:
        findings = preferred(on_plan(case, compared, plan), findings)
    alone = [f for m in _modules(quantities, SURVEYS) for f in m.check(case)]
    return (*(f for f in findings if f.of.compared), *alone)


def _limited(case: Case, findings: list[Finding]) -> list[Finding]:
    """Where no plan says which rail is short, its own tapes are held against that limit."""
    told = {f.where for f in findings if f.quantity == marks.MASH} | {case.layout.horns}
    return [
        replace(f, limit="rail-length")
        if f.quantity == marks.OWN_SIDES and f.where not in told
        else f
        for f in findings
    ]


def believed(by_plan: list[Finding], plain: list[Finding]) -> list[Finding]:
    """Of the plan's findings those to be preferred to a plain one.

    Where the tapes disagree the whole plan is in doubt. A box whose own tapes close, and which none
    of the doubted readings touches, is known better by its own two diagonals.
    """
    doubted = {i for f in by_plan if f.quantity == marks.SUSPECT for i in f.readings}
    # A horn leans on the shape of the box behind it, which no tape of its own page tells.
    strained = {f.id for f in by_plan if f.disagrees and f.quantity not in marks.HORNS}
    sound = _sound(plain, doubted) & strained
    return [f for f in by_plan if f.id not in sound]


def _sound(plain: list[Finding], doubted: set[str]) -> set[FindingId]:
    """Ids of the plain findings whose box closes and which no doubted reading touches."""
    open_ = {
        f.where for f in plain if f.quantity == marks.CLOSURE and abs(f.value) > 3 * f.number.u
    }
    return {f.id for f in plain if f.where not in open_ and not doubted & set(f.readings)}


def preferred(better: list[Finding], plain: list[Finding]) -> list[Finding]:
    """The plan's findings in place of those that one pair of distances gave, at their place in the
    order.
    """
    new = {f.id: f for f in better}
    merged = [new.pop(f.id, f) for f in plain]
    return merged + list(new.values())


def check_faults(library: Library) -> Iterator[Fault]:
    """A quantity whose check is missing or does not know of it, and a check that no quantity names."""
    import pkgutil  # to check the content alone

    names = [m.name for m in pkgutil.iter_modules(wizard.checks.__path__)]
    returns = {n: r for n in names if (r := getattr(_module(n), "RETURNS", ()))}
    for quantity in library.quantities.values():
        yield from _named(quantity, returns)
    for name, ids in returns.items():
        known = {q.id for q in library.quantities.values() if name in q.by}
        for id in sorted(set(ids) - known):
            remedy = f'add a [[quantity]] with id = "{id}" and by = ["{name}"]'
            yield Fault("quantities.toml", "quantity", f"{name}.py returns '{id}'", remedy)


def _named(quantity: Quantity, returns: dict[str, Sequence[QuantityId]]) -> Iterator[Fault]:
    for name in quantity.by:
        key = f"quantity[{quantity.id}].by"
        if name not in returns:
            wrong = f"wizard/checks has no check '{name}'"
            yield Fault("quantities.toml", key, wrong, nearest(name, returns))
        elif quantity.id not in returns[name]:
            remedy = f"add it to RETURNS in {name}.py"
            yield Fault("quantities.toml", key, f"{name}.py does not return it", remedy)
