"""What is told beside the frame, each check by itself: how often a claim is false, and how often what is
there is told.

    python -m tests.bench.beside_alone --surveys 20000 --seed 1

Truths and readings are those of tests/bench/sentences/beside.py, which shares nothing with `wizard/`: an
axle set by hands with rules in 1/16, 1/32 in and mm and an angle gauge of its own doubt, some with slips;
what the frame has to do with it; thin metal by caliper; the body's bolts under a string. Each figure is
absent, or half, just, or twice what may be left. What is said is taken from the findings as claims
(`wizard/judgment/claims.py`), and no line is typed through a sitting.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from typing import NamedTuple

from tests.bench.rates import HEAD, Count, Table
from tests.bench.sentences import beside, faults, hands, truth
from tests.bench.sentences.beside import AXLE_PROMPTS, BENT, BOOK, Rail, Thin, bent, leaves
from tests.bench.sentences.frame import SIDES, Frame, all_layouts
from tests.bench.sentences.hands import RULERS, Hand
from tests.bench.twist_alone import asked
from tests.checks.surveys import found, library
from wizard.checks import axle_set, pitting, sag, section_left
from wizard.checks.case import Case
from wizard.checks.finding import Finding
from wizard.checks.run import findings_of
from wizard.judgment.bands import Judged, judge
from wizard.judgment.claims import Claim, of_finding, of_part
from wizard.judgment.consequences import LEAST_DEG, SEEN_MM, frame_parts
from wizard.judgment.facts import beyond
from wizard.library import marks
from wizard.math.uncertain import Part, Uncertain
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Reading, State
from wizard.survey.state import with_tool

TIMES = {"absent": 0.0, "half": 0.5, "at limit": 1.0, "twice": 2.0}
"""So many times the limit."""
BUCKETS = ((0.3, "false: "), (0.7, "false, half is there: "), (1.05, "at limit: "), (1e9, "seen: "))
"""What a figure is counted under by how many times its limit it is in truth."""


@cache
def begun(ruler: str, layout: str) -> Survey:
    """Before anything is read: what is to hand."""
    unit, _, rule = RULERS[ruler]
    survey = Survey(id="bench", layout=layout, unit="in" if unit == "in" else "mm")
    for tool in ("ordinary-tape", rule, "masons-line-hard", "digital-gauge"):
        survey = with_tool(survey, library().tools[tool], survey.started, "owner")
    return survey


def survey_of(
    read: Mapping[str, list[str]], ruler: str, answers: Mapping[str, str], layout: str
) -> Survey:
    """Those readings, each by the tool that its page names."""
    start = begun(ruler, layout)
    by_kind = {t.kind: t.id for t in start.rows["tool"]}
    prompts = Case(start, library()).prompts
    rows = [
        Reading(id="", prompt=prompt, typed=typed, tool=by_kind.get(prompts[prompt].tool, ""))
        for prompt, every in read.items()
        for typed in every
    ]
    said = [Answer(id=f"a{n}", prompt=p, answer=a) for n, (p, a) in enumerate(answers.items())]
    numbered = tuple(replace(row, id=f"r{n}") for n, row in enumerate(rows, 100))
    return replace(start, rows={**start.rows, "reading": numbered, "answer": tuple(said)})


def drawn(rng: random.Random) -> Hand:
    """A steady hand or a hasty one. None slips: what a slip comes to hangs on who is asked to read again,
    and is for whole surveys to say.
    """
    steady = rng.random() < 0.5
    s, tape_s = (rng.choice((0.25, 0.5)), 0.9) if steady else (rng.choice((0.65, 0.8)), 1.5)
    return Hand("steady" if steady else "hasty", rng.choice(list(RULERS)), tape_s, s)


# The axle set -------------------------------------------------------------------------------------

KINDS = {
    "beam-bend": "bent-beam",
    "toe-book": "toe",
    "perch-apart": "perch",
    "shackle-apart": "shackle",
    "rear-shackle-apart": "rear-shackle",
}
"""Limit: the kind of claim, where it has another name."""


def axle_sets(n: int, rng: random.Random, table: Table) -> None:
    """One axle with one figure out, every other as it was made."""
    what, size = BENT[n % len(BENT)], list(TIMES)[n // len(BENT) % len(TIMES)]
    axle = bent(what, TIMES[size], rng.choice((1.0, -1.0)))
    hand = drawn(rng)
    g = beside.gauge(hand, rng)
    read = {
        p: [beside.of_axle(axle, g, p) for _ in range(times)] for p, times in AXLE_PROMPTS.items()
    }
    book = {"axle-book/caster": f"{BOOK['caster']:g}", "axle-book/camber": f"{BOOK['camber']:g}"}
    book |= {"axle-book/toe": f"{BOOK['toe']:g} mm"}
    survey = survey_of(read, hand.ruler, book, "straight-ladder")
    judged = [judge(f, survey, library()) for f in axle_set.check(Case(survey, library()))]
    _score(judged, axle.figures, hand.name, table)


def _score(judged: list[Judged], true: Mapping[str, float], hand: str, table: Table) -> None:
    """Each figure of a survey: what is claimed of it beside what is so."""
    for one in judged:
        finding, value = one.finding, true[str(one.finding.id)]
        off, quantity = abs(finding.value - value), str(finding.quantity)
        table.add("missed: 95 %", hand, quantity, Count(off > one.half_width, 1))
        if not finding.limit:
            continue
        kind = KINDS.get(finding.limit, finding.limit)
        claimed = [c for c in of_finding(one) if c.kind == kind]
        told = [c for c in claimed if (c.size or 0.0) * value > 0]
        times = abs(value) / leaves()[finding.limit]
        row = next(name for most, name in BUCKETS if times < most)
        counted = claimed if row.startswith("false") else told
        table.add(f"{row}{kind}", hand, quantity, Count(bool(counted), 1))
        if not row.startswith("false"):
            wrong = len(claimed) > len(told)
            table.add(f"false, the other way: {kind}", hand, quantity, Count(wrong, 1))


# What the frame has to do with it ------------------------------------------------------------------

KNOWN = {
    marks.WHEELBASE: ("difference", 1.3, 12.0),
    marks.TWIST: ("center rear", 0.45, 9.0),
    marks.RAIL_SHIFT: ("whole front-box rear-box", 0.8, 30.0),
    marks.CASTER: ("ball", 0.09, 12.0),
}
"""Of the frame's own figures where they are, how well they are known, and by how many degrees of freedom."""
SPREAD = {marks.WHEELBASE: 4.0, marks.TWIST: 2.0, marks.RAIL_SHIFT: 2.0, marks.CASTER: 0.5}
"""How large they are in truth, one standard deviation; half of all are nothing."""


def frame_has(n: int, rng: random.Random, table: Table) -> None:
    """An axle with something out, under a frame whose own figures are read with their doubt."""
    layout = library().layouts[("straight-ladder", "leaf-ladder-light")[n % 2]]
    axle = bent(rng.choice(BENT), rng.choice((1.0, 2.0, 3.0)), rng.choice((1.0, -1.0)))
    hand = drawn(rng)
    g = beside.gauge(hand, rng)
    read = {
        p: [beside.of_axle(axle, g, p) for _ in range(times)] for p, times in AXLE_PROMPTS.items()
    }
    book = {
        f"axle-book/{name}": f"{value:g}{' mm' if name == 'toe' else ''}"
        for name, value in BOOK.items()
    }
    survey = survey_of(read, hand.ruler, book, layout.id)
    true, findings = _frame(layout.id, rng)
    every = [*axle_set.check(Case(survey, library())), *findings]
    judged = [judge(f, survey, library()) for f in every]
    said = {c.kind: c for part in frame_parts(judged, layout) for c in of_part(part)}
    for kind, judged_by in PARTS.items():
        told = kind in said
        false = told and not judged_by(said[kind], axle.figures, true)
        table.add(f"false: {kind}", hand.name, layout.id, Count(false, 1))
        table.add(f"seen: {kind}, said at all", hand.name, layout.id, Count(told, 1))


def _frame(layout: str, rng: random.Random) -> tuple[dict[str, float], list[Finding]]:
    true, findings = {}, []
    for quantity, (places, u, dof) in KNOWN.items():
        if quantity == marks.CASTER and layout != "straight-ladder":
            continue
        for where in places.split():
            value = rng.gauss(0.0, SPREAD[quantity]) if rng.random() < 0.5 else 0.0
            seen = rng.gauss(0.0, u) / math.sqrt(rng.gammavariate(dof / 2, 2 / dof))
            learned = u if math.isinf(dof) else u * math.sqrt(rng.gammavariate(dof / 2, 2 / dof))
            number = Uncertain(value + seen * learned / u, (Part("it", learned, dof),))
            true[f"{quantity}/{where}"] = value
            of = library().quantities[quantity]
            findings.append(found(str(quantity), where, number, limit=of.limit))
    return true, findings


def _half(limit: str, value: float) -> bool:
    return abs(value) >= leaves()[limit] / 2


def _most(true: Mapping[str, float], quantity: str) -> float:
    return max(abs(v) for id, v in true.items() if id.startswith(f"{quantity}/"))


PARTS: Mapping[str, Callable[[Claim, Mapping[str, float], Mapping[str, float]], bool]] = {
    "beam-first": lambda c, axle, frame: (
        _half("beam-bend", max(axle["beam-bend/left"], axle["beam-bend/right"], key=abs))
        and frame["wheelbase/difference"] * (1 if str(c.where.side) == "right" else -1) > 0
    ),
    "ball": lambda c, axle, frame: (
        frame["caster/ball"] * (c.size or 0.0) > 0
        and abs(frame["caster/ball"]) >= abs(c.size or 0.0) / 2
    ),
    "ball-still": lambda c, axle, frame: not _half("caster-book", frame["caster/ball"]),
    "frame-square": lambda c, axle, frame: (
        _most(frame, "rail-shift") <= leaves()["rail-shift"]
        and _most(frame, "twist") <= leaves()["twist"]
    ),
    "frame-twist": lambda c, axle, frame: _half("twist", _most(frame, "twist")),
    "no-frame-twist": lambda c, axle, frame: _most(frame, "twist") <= leaves()["twist"],
}
"""Whether what is said of the frame is so: a figure by half of its limit, or of what is told; "square"
and "no twist" within the limit.
"""


# Thin metal ---------------------------------------------------------------------------------------

FACE = {
    ("top", False): "top-outside",
    ("top", True): "top-inside",
    ("web", False): "web-outside",
    ("web", True): "web-inside",
    ("bottom", False): "bottom-outside",
    ("bottom", True): "bottom-inside",
}


def thin_rails(n: int, rng: random.Random, table: Table) -> None:
    """A rail with one to three thin places, the deepest so many times the limit of a whole rail; of
    every other one they run over more than half of it.
    """
    layout = library().layouts["straight-ladder"]
    size, far = list(TIMES)[n % len(TIMES)], n // len(TIMES) % 2 == 0
    share = TIMES[size] * leaves()["thickness"] / 100
    along = [place.x for place in layout.places]
    length = max(along) - min(along)
    sheet = layout.figures["rail_thickness"] * rng.gauss(1.0, 0.03)
    spots = tuple(
        _spot(k, share, far, sheet, layout.figures, rng) for k in range(rng.randint(1, 3))
    )
    rail = Rail(
        layout.figures["rail_depth"] * rng.gauss(1.0, 0.02),
        layout.figures["rail_flange"] * rng.gauss(1.0, 0.02),
        sheet,
        length,
        tuple(replace(one, back=one.back - min(along)) for one in spots),
    )
    hand = drawn(rng)
    g = beside.gauge(hand, rng)
    caliper = 0.05 if g.scatter < 0.25 else 0.08
    case = Case(survey_of(*_thin_read(rail, spots, g, caliper), layout.id), library())
    judged = [
        judge(f, case.survey, library()) for f in (*pitting.check(case), *section_left.check(case))
    ]
    _score_thin(judged, rail, (far, share), f"{hand.name}", table)


def _spot(
    k: int, share: float, far: bool, sheet: float, figures: Mapping[str, float], rng: random.Random
) -> Thin:
    face, inside = rng.choice(list(FACE))
    across = figures["rail_depth"] if face == "web" else figures["rail_flange"]
    part = 1.0 if k == 0 else rng.uniform(0.3, 1.0)
    long = rng.uniform(1500.0, 2000.0) if far and k == 0 else rng.uniform(20.0, 150.0)
    wide = across * rng.uniform(0.15, 0.9)
    back = 1100.0 if far and k == 0 else rng.uniform(200.0, 2000.0)
    return Thin(face, inside, share * part * sheet, long, wide, back, rng.uniform(0.0, 0.5))


def _thin_read(
    rail: Rail, spots: tuple[Thin, ...], g: beside.Gauge, caliper: float
) -> tuple[dict[str, list[str]], str, dict[str, str]]:
    page = "thin-metal/left"

    def metal(value: float) -> list[str]:
        return [f"{max(0.05, g.rng.gauss(value, caliper)):.2f} mm"]

    read = {f"{page}/sound": metal(rail.sheet)}
    answers = {f"{page}/count": ("one-more", "two-more", "three-more")[len(spots) - 1]}
    for nth, one in enumerate(spots, 1):
        read[f"{page}/metal-{nth}"] = metal(rail.sheet - one.lost)
        read[f"{page}/long-{nth}"] = [g.rule(one.long)]
        read[f"{page}/wide-{nth}"] = [g.rule(one.wide)]
        read[f"{page}/from-{nth}"] = [g.tape(max(one.back, 30.0))]
        answers[f"{page}/face-{nth}"] = FACE[one.face, one.inside]
    return read, g.hand.ruler, answers


def _score_thin(
    judged: list[Judged], rail: Rail, truth: tuple[bool, float], hand: str, table: Table
) -> None:
    far, share = truth
    stiffness, strength = rail.left
    for one in judged:
        finding, quantity = one.finding, str(one.finding.quantity)
        if quantity in ("rail-stiffness", "rail-strength"):
            value = stiffness if quantity == "rail-stiffness" else strength
            off = abs(finding.value - value)
            table.add("missed: 95 %", hand, quantity, Count(off > one.half_width, 1))
    kinds = {c.kind for one in judged for c in of_finding(one)}
    times = 100 * share / leaves()["thickness"]
    row = next(name for most, name in BUCKETS if times < most)
    table.add(
        f"{row}thin-place", hand, "one place" if not far else "far", Count("thin-place" in kinds, 1)
    )
    whole = row if far else "false: "
    table.add(f"{whole}thin", hand, "far" if far else "one place", Count("thin" in kinds, 1))


# Under the string ---------------------------------------------------------------------------------


def bodies(n: int, rng: random.Random, table: Table) -> None:
    """The body's bolts lift the middle of both rails so many times the limit, or none of it; the widest
    gap at the mounts is what the rails rose, or half an inch that the body came down.
    """
    size = list(TIMES)[n % len(TIMES)]
    gave = n % len(TIMES) == 0 and n // len(TIMES) % 2 == 0
    lift = TIMES[size] * leaves()["body-pull"] * rng.choice((1.0, -1.0))
    car = _car(rng, n)
    made = car.bench.frame.made
    true, read = bolted(car, lift, 12.7 if gave else max(abs(lift), 0.3))
    survey = survey_of(read, car.bench.hand.ruler, {}, made.layout)
    hand, claims = car.bench.hand.name, []
    for finding in sag.check(Case(survey, library())):
        if finding.quantity == marks.BODY_PULL:
            one = judge(finding, survey, library())
            off = abs(finding.value - true[str(finding.where)])
            table.add("missed: 95 %", hand, made.layout, Count(off > one.half_width, 1))
            claims += of_finding(one)
    row = next(name for most, name in BUCKETS if TIMES[size] < most)
    told = any(c.kind == "body-pull" for c in claims)
    table.add(f"{row}body-pull, any station", hand, made.layout, Count(told, 1))
    if size == "absent":
        gone = any(c.kind == "body-gave" for c in claims)
        table.add(
            "seen: body-gave" if gave else "false: body-gave", hand, made.layout, Count(gone, 1)
        )


def bolted(
    car: StringCar, lift: float, gap: float
) -> tuple[dict[str, float], dict[str, list[str]]]:
    """How far the bolts lift each rail at each station, and what the string reads with them slack and
    tight. gap: the widest at the mounts, mm.
    """
    made = car.bench.frame.made
    first, last = made.blocks
    true: dict[str, float] = {}
    read: dict[str, list[str]] = {}
    for side in SIDES:
        read[f"string-slack/{side}/gap"] = [car.gap(gap)]
        for station, x in made.stations.items():
            share = (x - first) / (last - first)
            true[f"{station}/{side}"] = up = 4.0 * lift * share * (1.0 - share)
            low = car.bench.frame.sag(side, x, weight=True) + car.bench.uneven[station, side]
            for page, more in (("string-slack", 0.0), ("string-tight", up)):
                read[f"{page}/{station}/{side}"] = [
                    car.gap(car.bench.block - low + more) for _ in range(2)
                ]
    return true, read


def helps(n: int, rng: random.Random, table: Table) -> None:
    """Whether the bolts bring a rail nearer to straight, where a string above it read how it lies with
    them slack.
    """
    car = _car(rng, n)
    frame = car.bench.frame
    lift = rng.choice((1.0, 2.0, 3.0)) * leaves()["body-pull"] * rng.choice((1.0, -1.0))
    true, body = bolted(car, lift, abs(lift))
    read = {**strung(car, below=False, more=lambda side, x: 0.0), **body}
    where = {"string-set-up/where": "above"}
    survey = survey_of(read, car.bench.hand.ruler, where, frame.made.layout)
    for finding in sag.check(Case(survey, library())):
        if finding.quantity != marks.BODY_PULL:
            continue
        station, _, side = str(finding.where).partition("/")
        low = frame.sag(side, frame.made.stations[station], weight=True)
        nearer = abs(low - true[f"{station}/{side}"]) < abs(low)
        claims = of_finding(judge(finding, survey, library()))
        said = [claim.way for claim in claims if claim.kind == "body-helps"]
        hand = car.bench.hand.name
        for way in said:
            wrong = (way == "straighter") is not nearer
            table.add("false: body-helps, of what is said", hand, "any", Count(wrong, 1))
        table.add("seen: body-helps, said at all", hand, "any", Count(bool(said), 1))


def _car(rng: random.Random, n: int, states: str = "both") -> StringCar:
    layouts = all_layouts()
    hand = replace(drawn(rng), states=states)
    frame = faults.drawn(rng, layouts[n % len(layouts)])
    return StringCar(hands.bench(frame, hand, rng))


class StringCar(NamedTuple):
    """A car under its string."""

    bench: hands.Bench

    def gap(self, mm: float) -> str:
        """What a rule reads of it."""
        hand = self.bench.hand
        marks_ = max(
            hands.rounded(self.bench.rng.gauss(mm, hand.ruler_s), hand.division, hand.unit), 0
        )
        return hands.said(marks_ or hand.division, hand.unit)


BLOCK = "string-set-up/block"


def strung(
    car: StringCar, below: bool, more: Callable[[str, float], float]
) -> dict[str, list[str]]:
    """Both states read as the pages ask; more: what a rail's own edge adds to how low it lies."""
    frame, read = car.bench.frame, {BLOCK: [car.bench.read(BLOCK)]}
    for page, weight in (("sag-loaded", True), ("sag-unloaded", False)):
        for station, x in frame.made.stations.items():
            for side in SIDES:
                low = frame.sag(side, x, weight=weight) + car.bench.uneven[station, side]
                low += more(side, x)
                gap = car.bench.block + (-low if below else low)
                times = dict(asked(page, frame.made.layout))[f"{page}/{station}/{side}"]
                read[f"{page}/{station}/{side}"] = [car.gap(gap) for _ in range(times)]
    return read


def edges(n: int, rng: random.Random, table: Table) -> None:
    """A straight frame whose lower edge its maker shaped by up to 20 mm, the string below it: nobody
    knows of it, or the rail's depths were read.
    """
    car = _car(rng, n)
    frame = car.bench.frame.with_(faults=(), low={}, turn=())
    car = StringCar(replace(car.bench, frame=frame))
    made, known = frame.made, n % 2 == 0
    first, last = made.blocks
    deep, at = rng.uniform(-20.0, 20.0), rng.uniform(0.3, 0.7)

    def shape(x: float) -> float:
        share = (x - first) / (last - first)
        return deep * math.exp(-(((share - at) / 0.25) ** 2))

    def off(_: str, x: float) -> float:
        share = (x - first) / (last - first)
        return shape(x) - shape(first) * (1.0 - share) - shape(last) * share

    read = strung(car, below=True, more=off)
    answers = {
        "string-set-up/where": "below",
        "by-make/edges": "top-straight" if known else "not-known",
    }
    if known:
        for name, x in {"front-block": first, "rear-block": last}.items():
            read[f"by-make/{name}"] = [car.gap(100.0 + shape(x))]
        for station, x in made.stations.items():
            read[f"by-make/{station}/depth"] = [car.gap(100.0 + shape(x))]
    survey = survey_of(read, car.bench.hand.ruler, answers, made.layout)
    _on_straight(survey, frame, car, "depths read" if known else "nobody knows", table)


def suns(n: int, rng: random.Random, table: Table) -> None:
    """A straight frame of which one side stands in the sun, its top up to ten degrees warmer than below."""
    car = _car(rng, n)
    frame = car.bench.frame.with_(faults=(), low={}, turn=())
    car = StringCar(replace(car.bench, frame=frame))
    sunny, said = rng.choice(SIDES), n % 2 == 0
    first, last = frame.made.blocks
    warmer = rng.uniform(0.0, 10.0)
    rise = 12e-6 * warmer * (last - first) ** 2 / (8.0 * frame.made.section.depth)

    def up(side: str, x: float) -> float:
        share = (x - first) / (last - first)
        return -4.0 * rise * share * (1.0 - share) if side == sunny else 0.0

    survey = survey_of(
        strung(car, below=False, more=up), car.bench.hand.ruler, {"string-set-up/where": "above"}, frame.made.layout
    )  # fmt: skip
    if said:
        survey = survey.with_row(
            State(id="s", engine="in", temperature=f"20 C, sun on the {sunny}")
        )
    _on_straight(survey, frame, car, "sun said" if said else "sun not said", table)


def _on_straight(survey: Survey, frame: Frame, car: StringCar, what: str, table: Table) -> None:
    """What is claimed of a straight frame, and whether the intervals of its sags hold."""
    hand, cell, true = car.bench.hand.name, frame.made.layout, truth.truth_of(frame)
    kinds = set()
    for finding in findings_of(survey, library()):
        one = judge(finding, survey, library())
        kinds |= {c.kind for c in of_finding(one)}
        value = true.get((str(finding.quantity), str(finding.where)))
        if value is not None and str(finding.quantity).startswith("sag-"):
            off = abs(finding.value - value)
            table.add(f"missed: 95 %, {what}", hand, cell, Count(off > one.half_width, 1))
    for kind in ("sag", "crown", "kink", "alarm"):
        table.add(f"false: {kind}, {what}", hand, cell, Count(kind in kinds, 1))


def balls(n: int, rng: random.Random, table: Table) -> None:
    """What set rails do to the ball and so to the caster, and to the fan, by the string."""
    car = _car(rng, n, rng.choice(("both", "unloaded")))
    frame = car.bench.frame
    if not beside.has_ball(frame):
        return
    read = strung(car, below=False, more=lambda side, x: 0.0)
    survey = survey_of(
        read, car.bench.hand.ruler, {"string-set-up/where": "above"}, frame.made.layout
    )
    hand, cell, true = car.bench.hand.name, frame.made.layout, beside.caster_of(frame)
    for finding in findings_of(survey, library()):
        if finding.quantity == marks.CASTER:
            one = judge(finding, survey, library())
            off = abs(finding.value - true)
            table.add("missed: 95 %, caster", hand, cell, Count(off > one.half_width, 1))
            told = beyond(one, LEAST_DEG)
            right = finding.value * true > 0 and abs(true) >= abs(finding.value) / 2
            table.add("false: ball", hand, cell, Count(told and not right, 1))
            table.add("seen: ball, said at all", hand, cell, Count(told, 1))


def fans(n: int, rng: random.Random, table: Table) -> None:
    """What set rails do to the fan, on kinds of frame whose engine does not stand on the front
    crossmember.
    """
    car = _car(rng, n, rng.choice(("both", "unloaded")))
    frame = car.bench.frame
    if not beside.fan_moves(frame):
        return
    read = strung(car, below=False, more=lambda side, x: 0.0)
    where = {"string-set-up/where": "above"}
    survey = survey_of(read, car.bench.hand.ruler, where, frame.made.layout)
    hand, cell, true = car.bench.hand.name, frame.made.layout, beside.fan_of(frame)
    said = 0
    for finding in findings_of(survey, library()):
        if finding.quantity == marks.FAN_DROP:
            one = judge(finding, survey, library())
            off = abs(finding.value - true)
            table.add("missed: 95 %, fan", hand, cell, Count(off > one.half_width, 1))
            told = beyond(one, 0.0) and abs(finding.value) >= SEEN_MM
            right = finding.value * true > 0 and abs(true) >= abs(finding.value) / 2
            table.add("false: fan", hand, cell, Count(told and not right, 1))
            table.add("seen: fan, said at all", hand, cell, Count(told, 1))
            said = 1
    table.add("seen: fan, computed at all", hand, cell, Count(said, 1))


CHECKS: Mapping[str, Callable[[int, random.Random, Table], None]] = {
    "axle": axle_sets,
    "frame": frame_has,
    "thin": thin_rails,
    "body": bodies,
    "helps": helps,
    "edge": edges,
    "sun": suns,
    "ball": balls,
    "fan": fans,
}


def main() -> None:
    """Run and print."""
    parser = argparse.ArgumentParser(prog="python -m tests.bench.beside_alone")
    parser.add_argument("--surveys", type=int, default=20000, help="of each")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", action="append", choices=CHECKS)
    args = parser.parse_args()
    print(HEAD)
    for name in args.only or CHECKS:
        table = Table()
        for n in range(args.surveys):
            CHECKS[name](n, random.Random(f"{args.seed} {name} {n}"), table)
        print(f"{name}, {args.surveys} surveys")
        print("\n".join(table.lines()))


if __name__ == "__main__":
    main()
