"""What is told of frames that their owners set up: the sentences' bench on frames of none of the kinds.

Each frame has three to six pairs where somebody might put them; its owner tapes them roughly, a hand's
width off, and then as any other hand. Half of all frames have horns, a third closed rails, a quarter
kicks.

Run from the project's folder: python -m tests.bench.own_frames --surveys 200
"""

from __future__ import annotations

import argparse
import random
import sys
import time
import tomllib
from collections.abc import Iterator, Mapping
from typing import Any
from unittest import mock

from tests.bench.sentences import faults, frame, hands, story, truth, walk
from tests.bench.sentences.one import Known, Scored, Whole, library, score
from tests.bench.sentences.story import LAYOUT
from tests.bench.sentences.table import counted, text
from wizard.judgment.claims import claims_of
from wizard.judgment.sight import sight_of
from wizard.survey.built_frame import built, layout_text

OWN, PAGE = "own", "my-points"
ALONG, ACROSS = 30.0, 15.0
"""mm, one standard deviation: how far the owner's rough sizes are off."""
NUMBERS = {3: "t", 4: "f", 5: "v", 6: "s"}
KINDS = ("rivet", "hole", "bolt")


def said(rng: random.Random) -> dict[str, str]:
    """What an owner types on the page, by the last part of each question."""
    pairs = rng.choice((3, 4, 4, 5, 5, 6))
    whole, narrow = rng.uniform(1900, 3100), rng.uniform(560, 800)
    wide = narrow + rng.uniform(0, 420)
    xs = [
        whole * n / (pairs - 1) + rng.uniform(-60, 60) * (0 < n < pairs - 1) for n in range(pairs)
    ]
    kicks, horns = rng.random() < 0.25, rng.random() < 0.5
    lines = {"pairs": NUMBERS[pairs], "heights": "yn"[kicks], "horns": "ny"[horns]}
    for n, x in enumerate(xs, start=1):
        lines[f"name-{n}"] = f"place {n}, {rng.choice(KINDS)}"
        lines[f"across-{n}"] = _mm(narrow + (wide - narrow) * x / whole)
        lines[f"behind-{n}"] = _mm(x)
        inner = 1 < n < pairs
        lines[f"up-{n}"] = f"{_mm(80 * inner)} down"
    straight = (xs[1] + 60, xs[-2] + 900) if kicks else (-60, whole - rng.uniform(0, 250))
    first = rng.uniform(-150, 60)
    return lines | {
        "rails": "oc"[rng.random() < 0.33],
        "joints": "rw"[rng.random() < 0.33],
        "tip-ahead": _mm(rng.uniform(350, 500)),
        "tip-across": _mm(narrow - 30),
        "depth": _mm(rng.uniform(80, 160)),
        "mount": _mm(rng.uniform(500, 800)),
        "front-axle": f"{_mm(abs(first))} {'ahead' if first < 0 else 'behind'}",
        "rear-axle": _mm(whole + rng.uniform(0, 350)),
        "string-from": f"{_mm(abs(straight[0]))} {'ahead' if straight[0] < 0 else 'behind'}",
        "string-to": _mm(straight[1]),
    }


def _mm(value: float) -> str:
    return f"{value:.0f} mm"


def true(lines: Mapping[str, str], rng: random.Random) -> dict[str, Any]:
    """The frame as it is, in the form of a layout's file."""
    steps = library().steps.values()
    prompts = {p.last: p for step in steps for p in step.prompts if step.id == PAGE}
    kept = {
        prompts[name].keep: next((c.token for c in prompts[name].choices if c.letter == line), line)
        for name, line in lines.items()
        if name in prompts
    }
    template = library().own
    assert template
    data = tomllib.loads(layout_text(built(template, kept, "in")))
    for place in data["place"]:
        if place["id"] != "front":
            place["x"] += rng.gauss(0, ALONG)
        place["half_width"] += rng.gauss(0, ACROSS / 2)
    return data


def whole(seed: int, number: int) -> Whole:
    """The survey of that number, the same every time."""
    rng, began = random.Random(f"own {seed}/{number}"), time.process_time()
    lines = said(rng)
    data = true(lines, rng)
    with (
        mock.patch.object(frame, "authored", return_value=data),
        mock.patch.dict(LAYOUT, {OWN: "n"}),
    ):
        made = faults.drawn(rng, OWN)
        tale = story.told_of(made, rng)
        hand = hands.drawn(rng)
        made = made.with_(engine_in=hand.engine_in)
        car = hands.bench(made, hand, rng)
        answers = {f"{PAGE}/{name}": line for name, line in lines.items()}
        typed = walk.typed(car, tale, library(), rng, said=answers)
    sight = sight_of(typed.survey, library())
    verdict = sight.verdict(typed.at)
    claims = claims_of(verdict, sight.layout)
    steps = frozenset(prompt.split("/")[0] for prompt in typed.slipped_prompts.values())
    known = Known(made, tale, truth.truth_of(made), typed, steps, hand.states == "bare")
    return Whole(known, hand, sight, verdict, claims, time.process_time() - began)


def surveys(seed: int, many: int) -> Iterator[Scored]:
    """Each counted; one that did not come to its end is named."""
    for number in range(many):
        try:
            yield score(whole(seed, number), number)
        except Exception as why:  # what the program cannot bear is told, and ends no long run
            print(f"not to its end: {number}: {type(why).__name__}: {why}", file=sys.stderr)


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.own_frames")
    parser.add_argument("--surveys", type=int, default=200)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    print(text(counted(surveys(args.seed, args.surveys))))


if __name__ == "__main__":
    main()
