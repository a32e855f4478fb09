"""Whole surveys of frames whose truth is known: does the program know what it does not know?

    python -m tests.bench.simulation --surveys 20000

Prints for each quantity: how often the 95 % interval holds the truth; how often a value is wrongly
called over or within when the truth lies right at the limit, at twice and at half of it; how often
it cannot be told; and for slips of one inch, how often they are found and named, and how often a
sound survey is doubted. The frames share no code with the program.
"""

from __future__ import annotations

import argparse
import multiprocessing
import random
import sys
from collections import Counter
from dataclasses import replace
from datetime import datetime

from tests.bench.frame_draw import frame
from tests.bench.frame_tools import Tools, drawn
from tests.bench.frame_truths import expected, without_sag
from tests.bench.frames import Truth, reading
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.notes import SagLifts, SagTakenOut, Slip
from wizard.checks.run import findings_of
from wizard.judgment.bands import judge
from wizard.library import load_library
from wizard.math.conformance import over, within
from wizard.math.student import coverage_factor
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State
from wizard.survey.state import with_tool, with_tool_start

AT = datetime(2026, 4, 11, 9)
TOOLS = ("ordinary-tape", "steel-ruler", "masons-line-hard", "carpenters-level", "home-made-bar")
SKIPPED = ("pitting", "your-hand", "diagonals-below")
ROUNDS = 8
"""How many times a person measures again what the program doubts, before he gives up."""
EXEMPT = (
    "bend",
    "hand",
    "suspect",
    "twist-shape",
    "elastic-foretold",
    "level-error",
    "hint",
    "level-closing",
)
"""Quantities without a truth of their own in the frame, or exempt: hinge place, the hand, the
level's own error.
"""


def blank(unit: str) -> Survey:
    """A survey with its state and tools, before the first reading."""
    library = load_library()
    survey = Survey(id="sim", car="Sim", started=AT, unit="mm" if unit == "mm" else "in")
    survey = survey.with_row(State(id="s1", at=AT, engine="in", body="off", supports="wheels"))
    for name in TOOLS:
        survey = with_tool(survey, library.tools[name], AT, "owner")
    survey = with_tool_start(survey, "taken-off", AT, "owner")
    for n, (prompt, token) in enumerate(
        (("string-set-up/where", "above"), ("string-set-up/steady", "steady"))
    ):
        survey = survey.with_row(Answer(id=f"a9{n}", at=AT, prompt=prompt, answer=token))
    return survey


def measured(truth: Truth, tools: Tools, rng: random.Random, repeats: int | None) -> Survey:
    """The survey that a person brings home: every reading that the steps ask for, repeats in turn."""
    survey = blank(tools.unit)
    steps = load_library().steps
    asked = Case(survey, load_library()).prompts.values()
    prompts = [p for p in asked if not steps[p.step].called]
    rows = []
    kinds = {t.kind: t.id for t in survey.rows["tool"]}  # type: ignore[attr-defined]
    for prompt in prompts:
        called = load_library().steps[prompt.step].called
        if not prompt.kind.measures or called or prompt.step in SKIPPED:
            continue
        if load_library().steps[prompt.step].called:  # nobody is asked for it
            continue
        for _ in range(max(repeats or 0, prompt.repeats) if prompt.kind.spans else prompt.repeats):
            typed = reading(truth, prompt.id, rng, tools)
            rows.append(
                Reading(
                    id=f"r{100 + len(rows)}",
                    at=AT,
                    prompt=prompt.id,
                    typed=typed,
                    tool=kinds[prompt.tool],
                    state="s1",
                )
            )
    return replace(survey, rows={**survey.rows, "reading": tuple(rows)})


def measured_again(
    survey: Survey, truth: Truth, tools: Tools, rng: random.Random, ids: set[str]
) -> Survey:
    """The doubted readings struck and read afresh, by a hand that takes more care this time."""
    careful = replace(tools, slips=0.0)
    fresh = [
        replace(r, typed=reading(truth, r.prompt, rng, careful)) if r.id in ids else r
        for r in survey.rows["reading"]
    ]  # type: ignore[attr-defined, type-var]
    return replace(survey, rows={**survey.rows, "reading": tuple(fresh)})


def spread_out(survey: Survey) -> set[str]:
    """Repeats of one distance more than 3 mm apart, or twins of a slip: what the prompt doubts at
    once.
    """
    case = Case(survey, load_library())
    doubted = set()
    for prompt in case.by_prompt:
        taken = case.taken(prompt)
        if taken and len(taken.values) > 1 and max(taken.values) - min(taken.values) > 3.0:
            doubted |= set(taken.ids)
    return doubted


def settled(
    survey: Survey, truth: Truth, tools: Tools, rng: random.Random
) -> tuple[Survey, tuple[Finding, ...]]:
    """The survey after the person measured again whatever the program doubted."""
    for _ in range(ROUNDS):
        found = findings_of(survey, load_library())
        doubted = spread_out(survey) | {
            i for f in found if f.quantity == "suspect" for i in f.readings
        }
        if not doubted:
            break
        survey = measured_again(survey, truth, tools, rng, doubted)
    return survey, findings_of(survey, load_library())


def one(seed: int) -> Counter[tuple[str, str]]:
    """One frame, surveyed by ordinary and by careful hands, counted."""
    rng = random.Random(seed)
    truth, counts = frame(rng), Counter[tuple[str, str]]()
    tools = drawn(rng, rng.choice(("in", "mm")), slips=0.02)
    _, found = settled(measured(truth, tools, rng, None), truth, tools, rng)
    for f in found:
        true = _true(truth, tools, f) if f.quantity not in EXEMPT else None
        if true is not None:
            _coverage(counts, f, true)
            _limits(counts, f, true)
    careful = replace(tools, slips=0.0)
    survey = measured(truth, careful, rng, 3)
    found = findings_of(survey, load_library())
    counts["survey", "sound"] += 1
    counts["survey", "doubted"] += any(f.quantity == "suspect" for f in found)
    for f in found:
        true = _true(truth, careful, f) if f.limit else None
        if true is not None:
            _cannot_tell(counts, f, true, survey)
    _slip(counts, truth, careful, rng)
    return counts


def _true(truth: Truth, tools: Tools, f: Finding) -> float | None:
    """What the finding should have said: a twist out of which a sag was taken speaks of what is
    left.
    """
    if f.note(SagLifts):
        return truth.horn_left.up - truth.horn_right.up
    if f.note(SagTakenOut):
        return without_sag(truth, f.where)
    return expected(truth, tools, f.id)


def _coverage(counts: Counter[tuple[str, str]], f: Finding, true: float) -> None:
    k = coverage_factor(f.number.dof)
    counts[f.quantity, "n"] += 1
    counts[f.quantity, "held"] += abs(f.value - true) <= k * f.number.u


def _limits(counts: Counter[tuple[str, str]], f: Finding, true: float) -> None:
    """As if the limit were the truth itself, half of it and twice of it: any limit may be asked
    about.
    """
    size, number = abs(true), f.number
    if size < 0.2 or not f.limit:
        return
    args = (f.value, number.u, number.dof)
    counts[f.quantity, "at"] += 1
    counts[f.quantity, "at over"] += over(*args, size, -size)
    counts[f.quantity, "at within"] += within(*args, size, -size)
    for name, limit in (("twice", size / 2), ("half", size * 2)):
        if number.u < limit / 2:
            counts[f.quantity, name] += 1
            wrong = within(*args, limit, -limit) if name == "twice" else over(*args, limit, -limit)
            counts[f.quantity, f"{name} wrong"] += wrong


def _cannot_tell(counts: Counter[tuple[str, str]], f: Finding, true: float, survey: Survey) -> None:
    for edge in judge(f, survey, load_library()).edges:
        limit = edge.high if true >= 0 else (-edge.low if edge.low is not None else None)
        if (
            limit is None
            or (f.quantity == "twist" and limit < 2.0)
            or 0.5 * limit <= abs(true) <= 1.5 * limit
        ):
            continue
        counts[f"{f.quantity} {edge.band}", "clear"] += 1
        counts[f"{f.quantity} {edge.band}", "untold"] += not edge.is_over and not edge.is_within


def _slip(counts: Counter[tuple[str, str]], truth: Truth, tools: Tools, rng: random.Random) -> None:
    """One taped distance read a whole inch wrong, all its repeats alike: is it found and named?"""
    survey = measured(truth, tools, rng, None)
    case = Case(survey, load_library())
    taped = [p for p in case.by_prompt if case.prompts[p].start and case.prompts[p].kind.spans]
    wrong = rng.choice(taped)
    sign = rng.choice((1, -1))
    ids = {r.id for r in case.by_prompt[wrong]}
    rows = tuple(
        replace(r, typed=f"{case.value(r) + sign * 25.4:.4f} mm") if r.id in ids else r
        for r in survey.rows["reading"]  # type: ignore[attr-defined, type-var]
    )
    found = findings_of(replace(survey, rows={**survey.rows, "reading": rows}), load_library())
    suspect = next((f for f in found if f.quantity == "suspect"), None)
    counts["slip", "n"] += 1
    if suspect is None:
        counts["slip", "missed"] += 1
    elif (slip := suspect.note(Slip)) and slip.named:
        right = set(suspect.readings) == ids
        counts["slip", "named right" if right else "named wrong"] += 1
        counts["slip", "kind known"] += right and (tools.unit == "mm" or slip.kind == "1 in")
    else:
        counts["slip", "set right" if ids <= set(suspect.readings) else "set wrong"] += 1


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    parser.add_argument("--surveys", type=int, default=20_000)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    total: Counter[tuple[str, str]] = Counter()
    seeds = range(args.seed * 10_000_000, args.seed * 10_000_000 + args.surveys)
    with multiprocessing.Pool() as pool:
        for counts in pool.imap_unordered(one, seeds, chunksize=20):
            total.update(counts)
    report(total, args.surveys)
    return 0


def _share(total: Counter[tuple[str, str]], name: str, part: str, of: str) -> str:
    whole = total[name, of]
    return f"{100 * total[name, part] / whole:6.2f}" if whole else "     -"


def report(total: Counter[tuple[str, str]], surveys: int) -> None:
    """The tables, in percent."""
    print(f"{surveys} surveys\n")
    print(
        "quantity          n      95 % holds | truth at limit: over  within | at twice: within  at"
        " half: over"
    )
    for name in sorted({n for n, what in total if what == "n" and n != "slip"}):
        row = [
            _share(total, name, "held", "n"),
            *(_share(total, name, f"at {w}", "at") for w in ("over", "within")),
        ]
        row += [_share(total, name, f"{w} wrong", w) for w in ("twice", "half")]
        print(
            f"{name:16s} {total[name, 'n']:7d}   {row[0]}    |        {row[1]}  {row[2]}  |  "
            f" {row[3]}     {row[4]}"
        )
    print(
        "\ncannot tell yet, truth under half or over one and a half times the limit, careful hands"
    )
    for name in sorted({n for n, what in total if what == "clear"}):
        print(f"  {name:28s} {total[name, 'clear']:7d}   {_share(total, name, 'untold', 'clear')}")
    print("\none-inch slips")
    for what in ("named right", "kind known", "named wrong", "set right", "set wrong", "missed"):
        print(f"  {what:14s} {_share(total, 'slip', what, 'n')}")
    print(f"sound surveys doubted {_share(total, 'survey', 'doubted', 'sound')}")


if __name__ == "__main__":
    sys.exit(main())
