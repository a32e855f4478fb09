"""How many sound readings the model doubts, and how many absurd slips are doubted by anything.

    python -m tests.bench.foretold_bench --surveys 100

Status 1 where a sound reading is doubted by the model.
"""

from __future__ import annotations

import argparse
import random
import re
import sys
import time
from collections import Counter
from pathlib import Path

from tests.bench.foretold_frames import Typed, aged, drawn_survey, sampled
from wizard.checks.foretell import foretelling
from wizard.library import load_library
from wizard.sitting.foretold import foretell_with
from wizard.sitting.foretold_model import doubt_of
from wizard.survey.prompts import Prompt
from wizard.survey.record import Survey

SAMPLES = Path(__file__).resolve().parents[2] / "sample_sessions"
SLIPS = ("first figure lost", "last figure lost", "ten times", "half", "the other unit")
MOST = 10
"""Surveys of each kind in which slips are tried."""


def slipped(typed: str, unit: str, slip: str) -> str:
    """A plain length with a slip; empty where it cannot have that one."""
    match = re.match(r"(\d+)( \d+/\d+|\.\d+)?$", typed)
    if match is None:
        return ""
    whole, rest = match.group(1), match.group(2) or ""
    if slip in ("first figure lost", "last figure lost"):
        kept = whole[1:] if slip.startswith("first") else whole[:-1]
        return f"{kept}{rest}" if kept.strip("0") else ""
    if slip == "ten times":
        return f"{whole}0{rest}"
    if slip == "half":
        return f"{int(whole) / 2}"
    return f"{int(whole) / 25.4:.1f}" if unit == "mm" else f"{int(whole) * 25.4:.0f}"


def run(name: str, surveys: list[Typed], slips: Counter[str] | None = None) -> int:
    """Count, print, and give how many sound readings the model doubted."""
    library = load_library()
    count, wrong, spent = Counter[str](), 0, 0.0
    for nth, survey_of in enumerate(surveys):
        first = True
        for survey, prompt, typed in survey_of:
            count["readings"] += 1
            count["asked of the model"] += not survey.readings_of(prompt.id)
            began = time.perf_counter()
            doubt = doubt_of(survey, library, prompt, typed)
            spent += time.perf_counter() - began
            if doubt:
                wrong += 1
                print(f"  DOUBTED {survey.layout} {prompt.id} {typed}: {doubt}")
            if (
                prompt.tool == "tape"
                and nth < MOST
                and slips is not None
                and not survey.readings_of(prompt.id)
            ):
                _slips(survey, prompt, typed, slips, "first tape" if first else "later tape")
                first = False
    each = 1000 * spent / max(count["readings"], 1)
    print(
        f"{name}: {len(surveys)} surveys, {count['readings']} readings,"
        f" {count['asked of the model']} of them asked of"
    )
    print(f"  the model, {wrong} doubted; {each:.1f} ms each")
    return wrong


def _slips(survey: Survey, prompt: Prompt, typed: str, slips: Counter[str], when: str) -> None:
    library = load_library()
    joint, others = foretell_with(library), foretelling(library)
    for slip in SLIPS:
        text = slipped(typed, survey.unit, slip)
        if text:
            slips[f"{when}: {slip} n"] += 1
            slips[f"{when}: {slip} joint"] += bool(joint(survey, prompt, text))
            slips[f"{when}: {slip} others"] += bool(others(survey, prompt, text))


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=(__doc__ or "").split("\n")[0])
    parser.add_argument("--surveys", type=int, default=20, help="of each kind of frame")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    layouts, slips = load_library().layouts.values(), Counter[str]()
    wrong = run("samples", [sampled(p) for p in sorted(SAMPLES.glob("*.toml"))])
    numbers = range(args.seed * 1_000_000, args.seed * 1_000_000 + args.surveys)
    wrong += run("ladders of the simulation", [aged(random.Random(n)) for n in numbers], slips)
    for layout in layouts:
        wrong += run(layout.id, [drawn_survey(layout, random.Random(n)) for n in numbers], slips)
    print("\nabsurd slips doubted, in percent: by the other readings alone, with the model")
    for name in sorted(k.removesuffix(" n") for k in slips if k.endswith(" n")):
        count = slips[f"{name} n"]
        others, joint = (100 * slips[f"{name} {by}"] / count for by in ("others", "joint"))
        print(f"  {name:32s} {others:6.1f} {joint:6.1f}   of {count}")
    apart = [drawn_survey(x, random.Random(f"{n}"), apart=True) for x in layouts for n in numbers]
    print("\nbeyond what is promised")
    run("lengths and widths scaled each on its own", apart)
    return int(wrong > 0)


if __name__ == "__main__":
    sys.exit(main())
