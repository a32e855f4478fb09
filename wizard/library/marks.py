"""Marks: what a rule in code reads in content, in place of an answer's token or a step's id.

Every mark and every meaning that code knows stands here and nowhere else. `crosstape content` holds
content to this list, and this list to content: one that is not here, and one that nothing carries,
are both faults.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from wizard.library.fields import Fault, nearest
from wizard.library.places import NO_PROMPT, SIDES, PlaceId, PromptId, QuantityId, StepId, prompt_id
from wizard.library.shapes import Asked, Choice, PromptTemplate, Step

# Of a step
BARE = "bare"
CRACK_PLACE = "crack-place"
CROSSMEMBER = "crossmember"
AGAIN, ALL_AGAIN = "again", "all-again"
RAIL_SIDE, HORN = "rail-side", "horn"
FOR_EVER, PAST, EXPLAINS = "for-ever", "past", "explains"
DIAGONALS, FROM_THE_MIDDLE, WIDTHS = "diagonals", "from-the-middle", "widths"
RAIL_LENGTHS, HORN_TIPS = "rail-lengths", "horn-tips"
HOOD, ENGINE_WEIGHT, TELLS_NO_FAULT = "hood", "engine-weight", "tells-no-fault"
FRONT_CORNER, REAR_CORNER, BETWEEN = "front-corner", "rear-corner", "between"
DYE = "dye"
OF_STEP: Mapping[str, str] = {
    BARE: "its places count only when they were seen bare: paint bends over a crack",
    CRACK_PLACE: "frames crack there: somebody who was sure must at least have looked",
    CROSSMEMBER: "what is loose there ties the rails",
    AGAIN: "every re-check takes it again",
    ALL_AGAIN: "a re-check takes all of it again where it was looked at: what was free may bind now",
    RAIL_SIDE: "a rail that is short shows there where its length went",
    HORN: "it is looked at ahead of the front box",
    FOR_EVER: "what is answered there holds for every later survey of the car",
    PAST: "it asks what the car has been through, which a report repeats",
    EXPLAINS: "it explains what was found, and is not asked where nothing was",
    DIAGONALS: "it tapes both diagonals of a box; the surer page comes first in the course",
    WIDTHS: "it tapes the frame's width at each pair of points",
    RAIL_LENGTHS: "it tapes the rails of a box along themselves, left and right",
    HORN_TIPS: "it tapes the tips of the horns: crosswise, along the rails, from tip to tip",
    FROM_THE_MIDDLE: "it tapes the corners of a box whose diagonals nobody can tape",
    HOOD: "it reads the gap between hood and body, at the top and low down",
    ENGINE_WEIGHT: "the engine's weight goes off there, or comes back",
    TELLS_NO_FAULT: "it tells no fault from another, or the same as another page",
    FRONT_CORNER: "a knock at the front of its side opens it again",
    REAR_CORNER: "a knock at the rear of its side opens it again",
    DYE: "dye is used there: each of its looks is called after the page whose doubt it settles",
    BETWEEN: "a knock between the wheels opens it again, on both sides",
}
"""Marks of a step, each with what it says."""

# What the readings of a step are, where they are more than distances between points
STRING_BLOCKS, STRING_LOADED, STRING_UNLOADED = "string-blocks", "string-loaded", "string-unloaded"
RAIL_DEPTHS = "rail-depths"
SLOPES, CARRIED_BAR, ENGINE_ENDS, AXLES, METAL = (
    "slopes",
    "carried-bar",
    "engine-ends",
    "axles",
    "metal",
)
BEAM, PERCHES, WHEEL_LEANS, TOE_TAPES = "beam", "perches", "wheel-leans", "toe-tapes"
AXLE_SET = (BEAM, PERCHES, WHEEL_LEANS, TOE_TAPES)
SHIMS, BODY_SLACK, BODY_TIGHT = "shims", "string-slack", "string-tight"
THIN_PLACES, DRILL = "thin-places", "drill"
STRING = (STRING_LOADED, STRING_UNLOADED)
READS: Mapping[str, str] = {
    STRING_BLOCKS: "what the string rests on: its blocks, and how far apart they are",
    RAIL_DEPTHS: "how deep a rail is along the string, where its edges are not alike",
    STRING_LOADED: "from the string to a rail that carries the engine",
    STRING_UNLOADED: "from the string to a rail without the engine's weight",
    SLOPES: "the bubble of a level laid across the rails, both ways round",
    CARRIED_BAR: "a bar that is set on one diagonal and carried to the other",
    ENGINE_ENDS: "how far the ends of the engine lie off the middle",
    AXLES: "from axle to axle, and from each axle to the frame",
    BEAM: "from a string ahead of the front beam to its marks, and the blocks under that string",
    PERCHES: "from each rail to the spring's perch below it, and how the shackles hang",
    WHEEL_LEANS: "how the front beam and its wheels lean, by an angle gauge",
    TOE_TAPES: "how far the front tires stand apart, in front and behind",
    METAL: "how thick the metal of a rail is",
    SHIMS: "what lies between body and frame at each mount",
    BODY_SLACK: "from the string up to a rail, with every body bolt slack",
    BODY_TIGHT: "from the same string to the same rail, with the body bolts tight",
    THIN_PLACES: "where a rail is thin: the metal left, how long and wide it is, how far back",
    DRILL: "one distance again and again, for the hand alone: hidden until all are in",
}
"""What a step may read, each with what that is: the model bends it, a check computes with it."""

CROSSED = {DIAGONALS, FROM_THE_MIDDLE}
"""Pages that tape the diagonals of a box, or what stands in for them."""
ON_ONE_PAGE = (
    *(WIDTHS, RAIL_LENGTHS, HORN_TIPS, HOOD, DYE),
    *(STRING_BLOCKS, RAIL_DEPTHS, STRING_LOADED, STRING_UNLOADED),
    *(SLOPES, CARRIED_BAR, AXLES, METAL),
    *AXLE_SET,
    *(SHIMS, BODY_SLACK, BODY_TIGHT),
    THIN_PLACES,
)
"""Marks and readings of one page each: a rule asks for that page by them (`Library.page`)."""

# Quantities of content/quantities.toml of which rules speak; a check that returns one holds its id
SAG_UNLOADED, SAG_LOADED = QuantityId("sag-unloaded"), QuantityId("sag-loaded")
SAGS = (SAG_UNLOADED, SAG_LOADED)
"""What the string tells of a rail: without the engine's weight, which counts first, and with it."""
STRING_LEVEL = QuantityId("string-level")
ELASTIC, ELASTIC_FORETOLD = QuantityId("elastic"), QuantityId("elastic-foretold")
KINK_OR_BOW, CROWN, CASTER = QuantityId("bend"), QuantityId("crown"), QuantityId("caster")
OWN_SIDES, MASH = QuantityId("own-sides"), QuantityId("mash")
"""Each rail's own length, left against right: as taped, and off the plan."""
RAIL_SHIFT, CLOSURE = QuantityId("rail-shift"), QuantityId("closure")
SWAY, NOSE_OFF = QuantityId("sway"), QuantityId("nose-off")
HORN_APART, HORN_HEIGHT = QuantityId("horn"), QuantityId("horn-height")
HORN_OUT, HORN_BACK = QuantityId("horn-out"), QuantityId("horn-back")
HORNS = (HORN_APART, HORN_OUT, HORN_BACK, HORN_HEIGHT)
"""The horns against each other, and each against its own rail."""
TWIST, TWIST_SHAPE = QuantityId("twist"), QuantityId("twist-shape")
BODY_PULL = QuantityId("body-pull")
LEVEL_CLOSING, LEVEL_ERROR = QuantityId("level-closing"), QuantityId("level-error")
WHEELBASE, AXLE = QuantityId("wheelbase"), QuantityId("axle")
THICKNESS, LENGTH = QuantityId("thickness"), QuantityId("length")
HOOD_TAPER, HINT = QuantityId("hood-taper"), QuantityId("hint")
FAN_DROP = QuantityId("fan-drop")
BEAM_BEND, TOE, TOE_BOOK = QuantityId("beam-bend"), QuantityId("toe"), QuantityId("toe-book")
PERCH_APART, SHACKLE_APART = QuantityId("perch-apart"), QuantityId("shackle-apart")
REAR_SHACKLE_APART = QuantityId("rear-shackle-apart")
CASTER_SIDE, CASTER_APART = QuantityId("caster-side"), QuantityId("caster-apart")
CAMBER_SIDE, CAMBER_APART = QuantityId("camber-side"), QuantityId("camber-apart")
CASTER_BOOK, CAMBER_BOOK = QuantityId("caster-book"), QuantityId("camber-book")
OF_AXLE_SET = (
    *(BEAM_BEND, CASTER_SIDE, CASTER_APART, CASTER_BOOK, CAMBER_SIDE, CAMBER_APART, CAMBER_BOOK),
    *(TOE, TOE_BOOK, PERCH_APART, SHACKLE_APART, REAR_SHACKLE_APART),
)
"""What is read of the axle set, in the order of telling."""
SUSPECT, GAP_SLIP = QuantityId("suspect"), QuantityId("gap-slip")
SLIPS = (SUSPECT, GAP_SLIP)
OF_RULES = frozenset(
    [
        *SAGS,
        *HORNS,
        *OF_AXLE_SET,
        *(STRING_LEVEL, ELASTIC, ELASTIC_FORETOLD, KINK_OR_BOW, CROWN, CASTER, OWN_SIDES, MASH),
        *(RAIL_SHIFT, CLOSURE, SWAY, NOSE_OFF, TWIST, TWIST_SHAPE, LEVEL_CLOSING, LEVEL_ERROR),
        *(WHEELBASE, AXLE, THICKNESS, LENGTH, HOOD_TAPER, HINT, FAN_DROP, SUSPECT, GAP_SLIP),
    ]
)
"""All of them: what is told of any other is told by its own sentence."""
BASE = "wheelbase"
"""The same as a figure of every layout, and as something that a plan foretells."""
BY_BAR = PlaceId("front-box-bar")
"""Where the shift of the front box is found by the bar: a place of that quantity, and no box."""

# Of what a survey finds out
BEFORE: Mapping[str, str] = {
    "engine": "Before the engine leaves",
    "supports": "Before the supports move",
    "body": "Before the body goes on",
}
"""What ends the chance to read a thing, each as a sentence begins."""
LACKED = ("rail-shift", "sag", "twist", "looks")
"""What no verdict can do without: wizard/judgment/verdict.py."""

# Of a box of a kind of frame, as its role
BALL_ON_GEARBOX = "ball-on-gearbox"
"""A trait of a kind of frame: the rear ball of the front axle's rod hangs on the gearbox."""
NOSE = "nose"
"""It begins at one point in the middle, from which both corners behind are taped."""
PART, RAIL_PAIR, FIRST_LEVEL = "part", "rail", "first"
"""What the pages call one more box, one more pair along the rails, and the place for the level to
which they come back where there are no horns.
"""
TIP, HORN_BOX = PlaceId("tip"), PlaceId("horns")
"""The place at the tips of the horns, and the box behind it."""
KICKS, WITH_HORNS = "kicks", "horns"
"""The trait of rails that rise or drop on the way, also as an owner's answer; and his answer that
there are horns.
"""
MADE_SAID: Mapping[str, str] = {
    **{"open-channel": "open-rails", "closed-box": "closed-rails"},
    **{"riveted-joints": "riveted", "welded-joints": "welded"},
}
"""The trait of a kind of frame by an owner's answer about his own."""
PAIRS_SAID: Mapping[str, int] = {"three-pairs": 3, "four-pairs": 4, "five-pairs": 5, "six-pairs": 6}
"""How many pairs of points an owner's own frame has, by the answer that says so."""

# Of an answer to a look
CALIPERED = "calipered"
BARE_ONLY = "bare-only"
PAIRED = "paired"
JACK = "jack"
BENT, DENT = "bent-there", "dent"
BY_DYE = "by-dye"
OF_ANSWER: Mapping[str, str] = {
    CALIPERED: "a caliper on that rail settles it: the thickness lost has a limit of its own",
    BARE_ONLY: "under paint it may as well be bad paint: strip it and answer again",
    PAIRED: "alike on both rails it comes with an even sag, which the string judges",
    JACK: "a jack or a chain left it there",
    BY_DYE: "dye on bare metal there settles it: a crack was seen, or none was seen",
    BENT: "the metal is bent or rippled there",
    DENT: "the metal is dented there, without a crease: named, and worth an eye",
}
"""Marks of an answer, each with what it says."""

BENT_THERE, RIPPLE, BENT_HORN = "bent", "ripple", "bent-horn"
VOICES = (
    *("pits", "rust", "welds", "heat", "wrinkle", BENT_THERE, RIPPLE, BENT_HORN, "rust-ring"),
    *("held-by-wood", "rot"),
    *("slack", "moves", "binds"),
)
"""What an answer may speak for, in the order of saying: no stop sign, and yet no sound frame.

Source: common practice, no published source. What speaks for nothing is harmless by itself: light
pits, old lines in paint, whatever has its twin on the other rail, bolts for rivets, a plate laid
over a horn. Bent metal always speaks: a horn that is bent until the tape has told how far.
"""
DEEP = "deep"
"""What a caliper says in place of the look that it answers: at one place much is gone."""
SLACK, MOVES, BINDS = "slack", "moves", "binds"
NOT_TO_MOVE = (SLACK, MOVES, BINDS)
"""Voices of what comes apart, cracks on or jams while it moves: nobody drives it until somebody has
looked.
"""
OWN_HAND = ("pits", "rust", BENT_HORN, "rust-ring", "held-by-wood")
"""Voices that whoever surveys answers alone, with a caliper, a hammer, a tape or a string; the
others want somebody who knows.
"""
BENT_METAL = (DEEP, "wrinkle", BENT_THERE, RIPPLE)
"""Voices of metal that somebody who knows frames must look at."""

ASKED_FOR = (
    *("stop", "loose", "moves", "again", "specialist", "see", "put-right", "axle-first"),
    *("gauge", "open", "watch"),
)
"""What a finding may ask for of which something can be done (wizard/judgment/fact.py has them
all): a work of content/paper.toml says with which of them it is a choice.
"""

# What an answer to a question means
YES, NO, OWNER = "yes", "no", "owner"
LEFT_FRONT, RIGHT_FRONT, LEFT_REAR, RIGHT_REAR, BESIDE = (
    "left-front",
    "right-front",
    "left-rear",
    "right-rear",
    "side",
)
NOTHING, KNOCK = "nothing", "knock"
RENEWED, NEVER_MARKED = "renewed", "never-marked"
SAME, OTHER_TAPE, OTHERS = "same", "another-tape", "others"
OLD, RECENT = "old", "recent"
FRONT, MIDDLE, REAR = "front", "middle", "rear"
BELOW, STEADY = "below", "steady"
BOTH_STRAIGHT, TOP_STRAIGHT, NEITHER = "both-straight", "top-straight", "none-straight"
TOP, WEB, BOTTOM = "top", "web", "bottom"
TOP_INSIDE, WEB_INSIDE, BOTTOM_INSIDE = "top-inside", "web-inside", "bottom-inside"
EVEN, TIGHT, WIDE, UNLIKE = "even", "tight-at-top", "wide-at-top", "sides-differ"
LOW, HIGH, IN_THE_MIDDLE, OFF, UNKNOWN = "low", "high", "middle", "off", "not-known"
SOMETHING = "something"
"""What an answer says that means nothing to the rule: it was looked at all the same."""
QUIET, WOBBLE, WANDER = "quiet", "wobble", "wander"
SHAKE, HOP, PULL = "shake", "hop", "pull"
SLOW, FAST, BRAKING, ALWAYS = "slow", "fast", "braking", "always"
NEW_TIRES, AXLE_WORK, A_HIT, BY_AND_BY = "new-tires", "axle-work", "a-hit", "by-and-by"
TIGHT_PIN, PLAY, TO_A_SHOP = "tight-pin", "play", "to-a-shop"
MEASURE_AGAIN, ASK_MENTOR, ASK_SPECIALIST = "measure-again", "ask-mentor", "ask-specialist"
MONTH, MENDED = "month", "mended"
SEASON, YEAR, TWO_YEARS, NO_DATE = "season", "year", "two-years", "no-date"
WHOLE, SHORT, EVERY = "whole", "short", "every"

# Questions
KNOCKED, WHERE_HIT, PULLEY = "knocked", "where-hit", "pulley-was-centered"
STRAIGHTENED = "straightened"
FITTED, HOOD_FITS, DOORS_FIT = "fitted-to-it", "hood-fits", "doors-fit"
HAPPENED, CORRECTED = "happened-since", "corrected-since"
POINT_MARKS, TOOLS_NOW, MEASURED_BY = "marks-now", "tools-now", "measured-by"
THIRD, IN_THE_FOLD = "which-third", "in-the-fold"
STRING_SIDE, STRING_STEADY, PIT_FACE = "string-side", "string-steady", "pitted-face"
THIN_FACE, THIN_NEAR = "thin-face", "thin-near"
BY_HANGER, BY_MOUNT, BY_STEERING = "by-hanger", "by-mount", "by-steering"
BY_MOUNTING = (BY_HANGER, BY_MOUNT, BY_STEERING)
"""What a deep pit may lie near; each is a sentence of the thickness lost, too."""
EDGES, EDGES_KNOWN_BY = "edges-by-make", "edges-known-by"
HOOD_GAP, DOOR_GAPS, FAN, STEERING = "hood-gap", "door-gaps", "fan", "steering"
FELT, FELT_WHEN, FELT_SINCE = "felt", "felt-when", "felt-since"
KINGPIN = "kingpin"
BOOK_CASTER, BOOK_CAMBER, BOOK_TOE = "book-caster", "book-camber", "book-toe"
WISH, WHEN_AGAIN, HOW_MUCH = "wish", "when-again", "how-much"
LAST_WORD, OWN_QUESTION = "last-word", "own-question"
QUESTIONS: Mapping[str, tuple[str, ...]] = {
    KNOCKED: (YES, NO),
    WHERE_HIT: (LEFT_FRONT, RIGHT_FRONT, LEFT_REAR, RIGHT_REAR, BESIDE),
    PULLEY: (YES,),
    STRAIGHTENED: (YES,),
    FITTED: (YES, NO),
    HOOD_FITS: (YES,),
    DOORS_FIT: (YES,),
    HAPPENED: (NOTHING, KNOCK),
    CORRECTED: (YES, NO),
    POINT_MARKS: (RENEWED, NEVER_MARKED),
    TOOLS_NOW: (SAME, OTHER_TAPE, OTHERS),
    MEASURED_BY: (),
    THIRD: (FRONT, MIDDLE, REAR),
    IN_THE_FOLD: (OLD, RECENT),
    STRING_SIDE: (BELOW,),
    STRING_STEADY: (STEADY,),
    EDGES: (BOTH_STRAIGHT, TOP_STRAIGHT, NEITHER, UNKNOWN),
    EDGES_KNOWN_BY: (),
    PIT_FACE: (TOP, WEB, BOTTOM),
    THIN_FACE: (TOP, TOP_INSIDE, WEB, WEB_INSIDE, BOTTOM, BOTTOM_INSIDE),
    THIN_NEAR: BY_MOUNTING,
    HOOD_GAP: (EVEN, TIGHT, WIDE, UNLIKE, OFF, UNKNOWN),
    DOOR_GAPS: (EVEN, UNLIKE, OFF, UNKNOWN),
    FAN: (LOW, HIGH, IN_THE_MIDDLE, OFF, UNKNOWN),
    STEERING: (QUIET, WOBBLE, WANDER),
    FELT: (SHAKE, HOP, WANDER, PULL),
    FELT_WHEN: (SLOW, FAST, BRAKING, ALWAYS),
    FELT_SINCE: (NEW_TIRES, AXLE_WORK, A_HIT, BY_AND_BY),
    KINGPIN: (TIGHT_PIN, PLAY, TO_A_SHOP),
    BOOK_CASTER: (),
    BOOK_CAMBER: (),
    BOOK_TOE: (),
    WISH: (MEASURE_AGAIN, ASK_MENTOR, ASK_SPECIALIST),
    LAST_WORD: (),
    OWN_QUESTION: (),
    WHEN_AGAIN: (MONTH, MENDED, SEASON, YEAR, TWO_YEARS, NO_DATE),
    HOW_MUCH: (),
}
"""What a rule asks, and what an answer may mean to it. An answer that means none of these says
nothing to the rule.
"""
MANY = (WHERE_HIT, THIRD, IN_THE_FOLD, THIN_FACE)
"""Questions that more than one page, or one page more than once, may ask."""

STATES: Mapping[str, tuple[str, ...]] = {
    "engine": ("in", "weight-off", "out"),
    "body": ("bolted", "loosened", "off"),
    "supports": ("wheels", "stands-under-axles", "stands-under-frame", "three-points"),
    "panels": ("on", "off"),
    "tires": ("equal", "unequal", "off"),
    "fuel": ("empty", "some", "full"),
}
"""What a field of the state may hold: a file keeps these words for ever, so an answer that sets one
is called so and not otherwise.
"""
NOT_SAID = "not-said"
"""Written in a need that is to hold only as long as nobody has said."""
KEPT: Mapping[str, tuple[str, ...]] = {
    **{f"state.{field}": words for field, words in STATES.items()},
    "survey.unit": ("in", "mm"),
    "tool.tape.start": ("mark", "taken-off", "hook"),
    HOW_MUCH: (WHOLE, SHORT, EVERY),
    MEASURED_BY: (OWNER, "mentor", "helper"),
    "frame.pairs": tuple(PAIRS_SAID),
    "frame.heights": ("one-height", KICKS),
    "frame.rails": ("open-channel", "closed-box"),
    "frame.joints": ("riveted-joints", "welded-joints"),
    "frame.horns": (WITH_HORNS, "no-horns"),
}
"""What an answer keeps, or what its prompt asks, and the words for it that a file holds."""

CALLED: Mapping[str, PromptId] = {
    HOW_MUCH: PromptId("about-the-car/course"),
    MEASURED_BY: PromptId("about-the-car/by"),
}
"""Ids of the prompts that ask these: how much is asked and who measures is read in a survey before
there is any content to ask.
"""
PUSH_TEST = PromptId("set-supports/push")
"""Id of the push test that stands for them all in the record of what a verdict rests on."""


def pages_of(steps: Mapping[StepId, Step]) -> dict[str, StepId]:
    """The page of each mark, and of each reading, that one page carries."""
    return {m: s.id for s in steps.values() for m in (*s.marks, s.reads) if m in ON_ONE_PAGE}


def questions_of(steps: Mapping[StepId, Step]) -> dict[str, tuple[Asked, ...]]:
    """The prompts behind each question."""
    found: dict[str, tuple[Asked, ...]] = {}
    for step in steps.values():
        for prompt in step.prompts:
            if prompt.asks:
                found[prompt.asks] = found.get(prompt.asks, ()) + tuple(_asked(step, prompt))
    return found


def _asked(step: Step, prompt: PromptTemplate) -> Iterator[Asked]:
    """As wizard/survey/prompts.py makes them: such a prompt stands alone or is asked of each side."""
    says = {c.token: c.says for c in prompt.choices}
    for side in SIDES if prompt.each == "side" else ("",):
        yield Asked(prompt_id(step.id, PlaceId(side), prompt.last), step.id, side, says)


def mark_faults(steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """What code reads and nothing carries, and what is kept under a word that no file knows."""
    for key, (known, there) in _carried(steps).items():
        for mark in known:
            if mark not in there:
                wrong = f"nothing has the mark '{mark}', which a rule needs"
                yield Fault("steps", key, wrong, "write it where it belongs")
    yield from _page_faults(steps)
    for step in steps.values():
        for prompt in step.prompts:
            yield from _answer_faults(step, prompt)
    yield from _question_faults(steps)
    yield from _kept_faults(steps)
    yield from _called_faults(steps)


def _page_faults(steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """A mark by which a rule asks for one page stands on no other."""
    page = pages_of(steps)
    for step in steps.values():
        for mark in (*step.marks, step.reads):
            if step.id != page.get(mark, step.id):
                wrong = f"'{mark}' stands on '{page[mark]}' too"
                yield Fault(f"{step.id}.toml", "marks", wrong, "leave it on one of the two pages")


def _carried(steps: Mapping[StepId, Step]) -> Mapping[str, tuple[Iterable[str], set[str]]]:
    """By field, the marks that rules read and those that the content carries."""
    choices = [c for step in steps.values() for prompt in step.prompts for c in prompt.choices]
    return {
        "marks": (OF_STEP, {m for s in steps.values() for m in s.marks}),
        "reads": (READS, {s.reads for s in steps.values()}),
        "choice.marks": (OF_ANSWER, {m for c in choices for m in c.marks}),
        "choice.speaks": (VOICES, {c.speaks for c in choices}),
    }


def _answer_faults(step: Step, prompt: PromptTemplate) -> Iterator[Fault]:
    """Answers that say what they cannot say there."""
    file, is_look = f"{step.id}.toml", prompt.kind.looks
    if is_look and sum(c.nothing for c in prompt.choices) != 1:
        wrong = "is not said by just one answer of a look"
        yield Fault(file, "choice.nothing", wrong, "write nothing = true where nothing was found")
    for choice in prompt.choices:
        for broken, key, wrong, remedy in _rules(step, prompt, choice):
            if broken:
                yield Fault(file, f"choice[{choice.token}].{key}", wrong, remedy)


def _rules(
    step: Step, prompt: PromptTemplate, choice: Choice
) -> tuple[tuple[object, str, str, str], ...]:
    """What holds of each answer: whether it is broken, its field, what is wrong and the remedy."""
    of_a_look = choice.loose or choice.nothing or choice.speaks or choice.marks
    return (
        (of_a_look and not prompt.kind.looks, "marks", "are not on a look", "take them out"),
        (
            choice.stop and (choice.loose or choice.speaks),
            "stop",
            "outranks loose and speaks",
            "keep just one of them",
        ),
        (
            choice.loose and not step.joint,
            "loose",
            "does not belong to a joint",
            'write what is loose, like joint = "the front crossmember"',
        ),
        (
            choice.says and not prompt.asks,
            "says",
            "answers no question",
            "write asks on its prompt, or take it out",
        ),
    )


def _question_faults(steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """Every question is asked, once where a rule wants one answer, and every meaning can be given."""
    asked: dict[str, list[tuple[Step, PromptTemplate]]] = {}
    for step in steps.values():
        for prompt in step.prompts:
            asked.setdefault(prompt.asks, []).append((step, prompt))
    for question, meanings in QUESTIONS.items():
        rows = asked.get(question, [])
        if not rows:
            wrong = f"nothing asks '{question}', which a rule needs"
            yield Fault("steps", "prompt.asks", wrong, f'write asks = "{question}" on its prompt')
            continue
        if len(rows) > 1 and question not in MANY:
            wrong = f"'{question}' is asked {len(rows)} times"
            yield Fault("steps", "prompt.asks", wrong, "ask it once")
        yield from _meaning_faults(question, meanings, rows)


def _meaning_faults(
    question: str, meanings: tuple[str, ...], rows: list[tuple[Step, PromptTemplate]]
) -> Iterator[Fault]:
    """Meanings that a rule reads and no answer has, and those that no rule reads."""
    said = {c.says: f"{step.id}.toml" for step, prompt in rows for c in prompt.choices}
    said.pop("", None)
    for meaning in meanings:
        if meaning not in said:
            wrong = f"no answer to '{question}' says '{meaning}', which a rule needs"
            file = f"{rows[0][0].id}.toml"
            yield Fault(file, "choice.says", wrong, f'write says = "{meaning}"')
    for meaning, file in said.items():
        if meaning not in meanings:
            wrong = f"'{meaning}' is not an answer to '{question}'"
            yield Fault(file, "choice.says", wrong, nearest(meaning, meanings))


def _kept_faults(steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """What is kept has just the words that a file has for it."""
    kept_words = list(_kept_words(steps))
    for id, kept, word in kept_words:
        if word not in KEPT[kept]:
            wrong = f"'{word}' is not a word for {kept} in a file"
            yield Fault(f"{id}.toml", "prompt.choice.token", wrong, nearest(word, KEPT[kept]))
    offered = {(kept, word) for _, kept, word in kept_words}
    for keep, words in KEPT.items():
        for word in words:
            if (keep, word) not in offered:
                wrong = f"no answer keeps '{word}' as {keep}"
                yield Fault("steps", "prompt.choice.token", wrong, "offer it as an answer")


def _kept_words(steps: Mapping[StepId, Step]) -> Iterator[tuple[StepId, str, str]]:
    """Every answer that a file keeps: its step's id, what is kept, and the word for it."""
    for step in steps.values():
        for prompt in step.prompts:
            kept = prompt.keep or prompt.asks
            for choice in prompt.choices if kept in KEPT else ():
                yield step.id, kept, choice.token


def _called_faults(steps: Mapping[StepId, Step]) -> Iterator[Fault]:
    """A prompt that a survey is read by without any content is called so for ever."""
    for question, asked in questions_of(steps).items():
        called = CALLED.get(question, NO_PROMPT)
        for one in asked if called else ():
            if one.prompt != called:
                wrong = f"'{one.prompt}' asks '{question}', and every survey calls it '{called}'"
                yield Fault(f"{one.step}.toml", "prompt.id", wrong, f"call it '{called}'")
    from wizard.library.exposures import pushes_of  # content that is kept was found in order

    if "still" not in pushes_of(steps).get(PUSH_TEST, {}).values():
        wrong = f"no push test is called '{PUSH_TEST}', as every verdict calls it"
        yield Fault("steps", "prompt.id", wrong, "call the one beside the supports so")
