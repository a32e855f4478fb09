"""The body on its mounts: the shims of a pair against each other, and what its bolts do to the rails.

The rail that the bolts lift is bent by tests/bench/frames.py, which reads it off a circle and shares
nothing with the program; hands, tools and limits of false claims as the bench has them.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from datetime import datetime
from fractions import Fraction

import pytest

from tests.bench import frames
from tests.bench.frames import Bend, Tools, Truth
from tests.checks.surveys import library, survey_of
from wizard.checks.finding import Finding
from wizard.checks.notes import BODY_GAVE, FURTHER, STRAIGHTER, Mark
from wizard.checks.run import findings_of
from wizard.judgment.bands import Judged, judge
from wizard.survey.prompts import expand
from wizard.survey.record import Survey
from wizard.survey.rows import Reading, State

STATIONS = ("front-crossmember", "mid-engine", "engine-mount", "center", "behind")
AT = datetime(2026, 4, 11, 9, 0)


def pulls(survey: Survey) -> dict[str, Finding]:
    found = findings_of(survey, library())
    return {str(f.where): f for f in found if str(f.quantity) == "body-pull"}


def strung(slack: float, tight: float, side: str = "left", **more: list[str]) -> Survey:
    """One rail read at each station both times, mm; more: readings by other prompts."""
    readings = {f"string-slack/{s}/{side}": [f"{slack} mm"] for s in STATIONS}
    readings |= {f"string-tight/{s}/{side}": [f"{tight} mm"] for s in STATIONS}
    return survey_of({**readings, **more}, unit="mm")


# By hand ------------------------------------------------------------------------------------------


def test_shims_are_the_left_stack_less_the_right_one() -> None:
    survey = survey_of({"body-shims/left/pair-2": ["6 mm"], "body-shims/right/pair-2": ["9.5 mm"]})
    [found] = [f for f in findings_of(survey, library()) if str(f.quantity) == "mount-shims"]
    assert (str(found.where), found.value) == ("pair-2", -3.5)
    assert found.limit == ""


def test_a_stack_without_its_twin_says_nothing() -> None:
    survey = survey_of({"body-shims/left/pair-1": ["6 mm"]})
    assert not [f for f in findings_of(survey, library()) if str(f.quantity) == "mount-shims"]


@pytest.mark.parametrize(("tight", "value"), [(53.0, 3.0), (48.0, -2.0), (50.0, 0.0)])
def test_what_the_bolts_do_is_the_gap_tight_less_the_gap_slack(tight: float, value: float) -> None:
    """With the string below, a rail that rises leaves a wider gap."""
    found = pulls(strung(50.0, tight))
    assert len(found) == len(STATIONS)
    assert {f.value for f in found.values()} == {value}


def test_a_station_read_once_only_says_nothing() -> None:
    survey = survey_of({"string-slack/center/left": ["50 mm"]}, unit="mm")
    assert pulls(survey) == {}


@pytest.mark.parametrize(
    ("low", "lift", "way"),
    [
        (8.0, 4.0, STRAIGHTER),
        (8.0, -4.0, FURTHER),
        (4.0, 16.0, FURTHER),
        (-8.0, -4.0, STRAIGHTER),
        (-8.0, 4.0, FURTHER),
        (0.0, 4.0, FURTHER),
        (8.0, 0.5, None),
        (2.0, 4.0, None),
    ],
)
def test_nearer_to_straight_or_further_from_it(low: float, lift: float, way: Mark | None) -> None:
    """A rail `low` by the string above it, with the body slack both times: |low - lift| against |low|.
    The last two: it hardly moves; it comes out as far on the other side."""
    gap = 50.0 + low
    survey = strung(
        50.0, 50.0 + lift, **{"sag-loaded/center/left": [f"{gap} mm"], "string-set-up/block": ["50 mm"]}
    )  # fmt: skip
    found = pulls(as_stood(survey))["center/left"]
    assert [n for n in found.notes if n in (STRAIGHTER, FURTHER)] == ([way] if way else [])


def as_stood(survey: Survey, body: str = "loosened", engine: str = "in") -> Survey:
    """Every reading with the body slack and the engine in, but those under a tight body."""
    states = (
        State(id="s1", at=AT, engine=engine, body=body, supports="wheels"),
        State(id="s2", at=AT, engine="in", body="bolted", supports="wheels"),
        State(id="s3", at=AT, engine="in", body="loosened", supports="wheels"),
    )
    rows = []
    for row in survey.table(Reading):
        page = str(row.prompt).partition("/")[0]
        state = {"string-tight": "s2", "string-slack": "s3"}.get(page, "s1")
        rows.append(Reading(**{f: getattr(row, f) for f in FIELDS} | {"state": state}))
    return Survey(
        id="m", car="m", started=AT, unit="mm", rows={**survey.rows, "state": states, "reading": tuple(rows)}
    )  # fmt: skip


FIELDS = ("id", "at", "by", "prompt", "typed", "tool")


@pytest.mark.parametrize(("body", "engine"), [("bolted", "in"), ("loosened", "out"), ("off", "in")])
def test_a_sag_read_under_another_load_says_nothing_of_it(body: str, engine: str) -> None:
    more = {"sag-loaded/center/left": ["58 mm"], "string-set-up/block": ["50 mm"]}
    survey = as_stood(strung(50.0, 54.0, **more), body, engine)
    assert not {STRAIGHTER, FURTHER} & {*pulls(survey)["center/left"].notes}


@pytest.mark.parametrize(
    ("gap", "tight", "gave"), [(8.0, 50.0, True), (1.0, 50.0, False), (8.0, 54.0, False)]
)
def test_the_body_gave_where_the_gap_is_surely_more_than_the_rail_moved(
    gap: float, tight: float, gave: bool
) -> None:  # fmt: skip
    survey = strung(50.0, tight, **{"string-slack/left/gap": [f"{gap} mm"]})
    assert any(f.has(BODY_GAVE) for f in pulls(survey).values()) is gave


# By the bench: how often a claim is false, and how often what is there is told --------------------


def surveyed(truth: Truth, rng: random.Random) -> dict[str, Judged]:
    """Both pages read by an ordinary hand, each finding judged."""
    survey = survey_of(typed(truth, rng, BOTH), unit="mm")
    return {where: judge(f, survey, library()) for where, f in pulls(survey).items()}


BOTH = ("string-slack", "string-tight")


def typed(truth: Truth, rng: random.Random, pages: tuple[str, ...]) -> dict[str, list[str]]:
    """What an ordinary hand reads on these pages, by prompt."""
    hand = Tools(unit="mm", rule_s=0.5, rule_step=Fraction(1, 2))  # the reference hand
    layout = library().layouts["straight-ladder"]
    steps = (library().steps[page] for page in pages)
    asked = (p for step in steps for p in expand(step, layout) if p.kind.measures)
    return {
        str(p.id): [frames.reading(truth, str(p.id), rng, hand) for _ in range(p.repeats)]
        for p in asked
    }


def runs(truth: Truth, count: int, seed: int) -> Iterator[dict[str, Judged]]:
    rng = random.Random(seed)
    for _ in range(count):
        yield surveyed(truth, rng)


def ways(count: int, seed: int) -> tuple[int, int, int]:
    """Of frames with a sag and a body that moves it anyhow: the claims that the bolts bring a station
    nearer to straight or further from it, those that are false, and the stations.
    """
    rng = random.Random(seed)
    claims, false, stations = 0, 0, 0
    for _ in range(count):
        depth, body = rng.uniform(-9.0, 9.0), (rng.uniform(-12.0, 12.0), rng.uniform(-12.0, 12.0))
        bends = (Bend(depth, 640.0, 600.0),)
        truth = Truth(left=bends, right=bends, body=body)
        found = pulls(as_stood(surveyed_whole(truth, rng)))
        for where, finding in found.items():
            station, side = where.split("/")
            low = frames.sag(truth, side, dict(truth.sizes.stations)[station], loaded=True)
            lift = lifted(truth, station, side)
            said = next((n for n in finding.notes if n in (STRAIGHTER, FURTHER)), None)
            claims += said is not None
            false += said is not None and (said is STRAIGHTER) != (abs(low - lift) < abs(low))
            stations += 1
    return claims, false, stations


def lifted(truth: Truth, station: str, side: str) -> float:
    """A parabola through the blocks and the middle, mm up."""
    front, rear = truth.sizes.string
    share = (dict(truth.sizes.stations)[station] - front) / (rear - front)
    return 4.0 * truth.body[0 if side == "left" else 1] * share * (1.0 - share)


def surveyed_whole(truth: Truth, rng: random.Random) -> Survey:
    """The string above for the sag, and below for both ways of the bolts."""
    return survey_of(typed(truth, rng, ("string-set-up", "sag-loaded", *BOTH)), unit="mm")


SURVEYS = 60
BENT = Truth(left=(Bend(5.0, 640.0, 600.0),))
"""A sag that was there before: it is in both readings."""


def test_a_body_that_moves_nothing_is_seldom_told_to() -> None:
    """At most one survey in twenty tells any of its ten stations to move, one in fifty beyond `leave`."""
    told = [[j for j in found.values() if j.is_told] for found in runs(BENT, SURVEYS, 21)]
    assert sum(map(bool, told)) <= SURVEYS * 0.07
    assert sum(any(j.established != "leave" for j in some) for some in told) <= SURVEYS * 0.02


def test_the_interval_holds_the_truth_and_six_millimeters_are_told() -> None:
    truth = Truth(left=BENT.left, body=(6.0, -6.0))
    inside, total, told = 0, 0, 0
    for found in runs(truth, SURVEYS, 22):
        for where, judged in found.items():
            true = lifted(truth, *where.split("/"))
            inside += abs(judged.finding.value - true) <= judged.k * judged.finding.number.u
            total += 1
        told += all(found[f"center/{side}"].established == "watch" for side in ("left", "right"))
    assert inside / total >= 0.95
    assert told >= SURVEYS * 0.8


def test_nearer_to_straight_or_further_is_seldom_false() -> None:
    claims, false, stations = ways(40, 23)
    assert claims > stations / 3
    assert false <= claims * 0.01
