"""Every finding in one plain sentence: the side, the way, the doubt."""

from __future__ import annotations

import re

import pytest

from tests.checks.surveys import bent, findings, found, library, survey_of
from tests.telling.saying import tells
from wizard.checks.notes import (
    ALL_ALIKE,
    OWN_SIDES_OPEN,
    Against,
    Lean,
    Note,
    OffPlan,
    ReadOn,
    Rises,
    SagLifts,
    SagTakenOut,
    Slip,
)
from wizard.judgment.bands import Judged, judge
from wizard.library.shapes import Layout, LevelPlace
from wizard.math.uncertain import Part, Uncertain
from wizard.telling.sentences import sentence, sentence_and_band

pytestmark = pytest.mark.quick

LAYOUT = library().layouts["straight-ladder"]
NO_DOUBT = ("bend", "suspect", "hand")
"""What names a kind or a reading, not an amount with a doubt of its own."""


def say(
    quantity: str,
    where: str,
    value: float,
    unit: str = "mm",
    notes: tuple[Note, ...] = (),
    u: float = 0.4,
) -> str:
    number = Uncertain(value, (Part("p", u),))
    finding = found(quantity, where, number, *notes, unit=unit)
    return sentence(Judged(finding, (), ()), LAYOUT, "in")


AGAINST = (Against("front-crossmember"),)
DOUBT = ", give or take 1/32 in"
"""Written `~` below."""
NONE = ", as far as these readings can show (a difference of 1/16 in would have been seen)"
"""Written `=` below: what stands in its place where a difference lies inside its doubt."""


@pytest.mark.parametrize(
    ("quantity", "where", "value", "unit", "notes", "words"),
    [
        ("rail-shift", "whole", 3.2, "mm", (),
         "Whole frame .. as if .. right rail .. 1/8 in .. back ~"),
        ("rail-shift", "whole", -3.2, "mm", (),
         "Whole frame .. as if .. left rail .. 1/8 in .. back ~"),
        ("rail-shift", "whole", 0.1, "mm", (),
         "Whole frame .. neither rail .. moved .. ="),
        ("rail-shift", "front-box-bar", 3.2, "mm", (),
         "Front box, by the bar .. as if .. right rail .. 1/8 in .. back ~"),
        ("sag-loaded", "engine-mount/left", 3.2, "mm", (),
         "left rail hangs 1/8 in low .. rear engine mount with .. weight ~"),
        ("sag-unloaded", "behind/right", -3.2, "mm", (),
         "right rail stands 1/8 in high behind the center without .. weight ~"),
        ("sag-unloaded", "center/left", 0.1, "mm", (),
         "left rail is straight .. center crossmember without .. weight ="),
        ("elastic", "engine-mount/left", 1.6, "mm", (),
         "left rail rises 1/16 in .. rear engine mount .. weight goes ~"),
        ("elastic", "engine-mount/left", -1.6, "mm", (),
         "left rail drops 1/16 in .. rear engine mount .. weight goes ~"),
        ("elastic", "engine-mount/left", 0.0, "mm", (),
         "left rail stays .. rear engine mount .. weight goes ="),
        ("twist", "rear", 3.2, "mm", AGAINST,
         "ompared with the front crossmember .. 1/8 in higher on the left at the rear crossmember ~"),
        ("twist", "rear", -3.2, "mm", AGAINST,
         "ompared with the front crossmember .. 1/8 in higher on the right at the rear crossmember ~"),
        ("twist", "rear", 0.0, "mm", (Against("center"),),
         "frame leans no more at the rear crossmember than at the center crossmember ="),
        ("horn-height", "horns", 3.2, "mm", AGAINST,
         "ompared with the front crossmember .. horns .. 1/8 in higher on the left ~"),
        ("horn-height", "horns", 0.0, "mm", AGAINST,
         "horns lean no more .. than the front crossmember ="),
        ("horn", "difference", 3.2, "mm", (),
         "two horns differ by 1/8 in ~ .. left one .. further out .. right one further in"),
        ("horn", "difference", -3.2, "mm", (OWN_SIDES_OPEN,),
         "two horns differ by 1/8 in ~ .. right one .. further out .. further forward .. each tip to its own rail"),
        ("horn", "difference", 0.0, "mm", (),
         "Both horns .. equally far out = .. can still be bent .. bumper irons"),
        ("own-sides", "whole", 3.2, "mm", (),
         "Whole frame .. right rail .. 1/8 in shorter .. twin ~"),
        ("own-sides", "whole", -3.2, "mm", (),
         "Whole frame .. left rail .. 1/8 in shorter .. twin ~"),
        ("own-sides", "rear-box", 0.0, "mm", (),
         "Rear box .. both rails .. equally long ="),
        ("own-sides", "horns", -3.2, "mm", (),
         "left horn .. 1/8 in shorter .. twin ~"),
        ("own-sides", "horns", 0.0, "mm", (),
         "both horns .. equally long ="),
        ("wheelbase", "difference", 3.2, "mm", (),
         "right wheelbase .. 1/8 in shorter .. other ~"),
        ("wheelbase", "difference", -3.2, "mm", (),
         "left wheelbase .. 1/8 in shorter .. other ~"),
        ("wheelbase", "difference", 0.0, "mm", (),
         "wheelbase is the same on both sides ="),
        ("hint", "pulley", 3.2, "mm", (),
         "pulley .. 1/8 in to the right of the middle ~ .. hint only"),
        ("hint", "gearbox-tail", -3.2, "mm", (),
         "gearbox's tail .. 1/8 in to the left of the middle ~ .. hint only"),
        ("hint", "pulley", 0.0, "mm", (),
         "pulley .. in the middle = .. hint only"),
        ("level-closing", "horns", 0.1, "mm", (),
         "first place .. level read the same ~ .. the frame stayed"),
        ("level-closing", "horns", -3.2, "mm", (),
         "first place .. level read 1/8 in differently ~ .. the frame moved .. Read again"),
        ("level-error", "level", 3.2, "mm/m", (),
         "level itself is out by 1/8 in per yard, give or take 1/32 in per yard .. turning it around"),
        ("level-error", "level", 0.0, "mm/m", (),
         "level itself reads right, give or take 1/32 in per yard"),
        ("caster", "ball", 1.5, "deg", (),
         "rails alone .. front axle .. 1.5 degrees more caster, give or take 0.8 degrees"),
        ("caster", "ball", -1.5, "deg", (),
         "rails alone .. front axle .. 1.5 degrees less caster, give or take 0.8 degrees"),
        ("caster", "ball", 0.0, "deg", (),
         "rails alone .. caster of the front axle as it was, as far as .. a difference of 1.5 degrees would have been seen"),
        ("closure", "whole", 0.3, "mm", (),
         "Whole frame .. six measurements agree .. ~"),
        ("closure", "whole", -25.4, "mm", (),
         "Whole frame .. six measurements disagree by 1 in ~ .. probably wrong .. Measure this box again"),
        ("mash", "whole", 3.2, "mm", (),
         "Whole frame .. all the measurements together .. left rail .. 1/8 in shorter .. twin ~"),
        ("sway", "center", -3.2, "mm", (),
         "from above .. center crossmember .. 1/8 in to the left of the middle line ~"),
        ("horn-back", "difference", 3.2, "mm", (),
         "own corner .. right horn's tip .. 1/8 in .. back .. ~"),
        ("sag-difference", "behind", 3.2, "mm", (),
         "Behind the center .. right rail .. 1/8 in lower ~"),
        ("twist-shape", "rails", 3.2, "mm", (Lean("steady"),),
         "steadily .. 1/8 in across the rails .. ~ .. twist of the whole frame"),
        ("mash", "whole", 0.0, "mm", (),
         "Whole frame .. all the measurements together .. both rails .. equally long ="),
        ("sway", "center", 0.0, "mm", (),
         "from above .. straight past the center crossmember ="),
        ("horn-back", "difference", 0.0, "mm", (),
         "own corner .. both horn tips .. equally far forward ="),
        ("horn-out", "left", -3.2, "mm", (),
         "left horn's tip .. 1/8 in inside .. its own rail, give or take 1/32 in .. compare the other"),
        ("hand", "tape", 0.8, "mm", (ALL_ALIKE,),
         "reading with your tape .. 1/32 in .. exactly the same .. let go and start again"),
        ("elastic-foretold", "mount", 0.8, "mm", (Rises((("down", "left"), ("far", "right")), unequal=True),),
         "sound rail .. rises 1/32 in at the engine mount .. ~ .. left rail went down .. Read it again .. right rail rose far more .. loose joints or a crack .. One rail rose far more than the other .. jack, the mounts and the string"),
        ("suspect", "plan", -25.4, "mm", (Slip(True, "1 in", ("left front to right rear",)),),
         "does not agree .. left front to right rear .. probably 1 in too short .. a whole inch .. /go left front to right rear .. /strike"),
        ("suspect", "plan", 25.4, "mm", (Slip(False, "", ("one", "two")),),
         "2 measurements disagree by about 1 in .. one; two .. nothing here can say which .. measure them again"),
        ("twist-shape", "rails", 3.2, "mm", (Lean("one-joint", ("front-crossmember", "center")),),
         "one place, between front crossmember and center crossmember .. joints there"),
        ("twist-shape", "rails", 3.2, "mm", (Lean("cannot-tell"),),
         "1/8 in across the rails .. ~ .. not known whether steadily or at one joint"),
        ("thickness", "left", 13.0, "%", (),
         "left rail's worst pit .. 13 % of the thickness, give or take 1 %"),
        ("stiffness-left", "left", 95.0, "%", (),
         "left rail .. as thin .. 95 % of its stiffness .. left, give or take 1 % .. a pressed rail has a little less"),
        ("horn-height", "horns", 0.4, "mm", (*AGAINST, SagLifts("left", 4.3)),
         "left rail hangs low .. lifts its own horn .. 5/32 in .. taken out .. horns lean no more .. front crossmember ="),
        ("twist", "center", -0.1, "mm", (*AGAINST, SagTakenOut("left", 4.3)),
         "center crossmember the left rail hangs 5/32 in low .. no twist .. taken out .. the frame leans no more at the center crossmember than at the front crossmember ="),
        ("twist", "rear", 3.2, "mm", (*AGAINST, ReadOn("wheels", -7.0)),
         "ompared with the front crossmember .. 1/8 in higher on the left at the rear crossmember ~ .. On its wheels .. 9/32 in"),
        ("sag-difference", "center", 0.0, "mm", (),
         "center crossmember both rails .. equally low ="),
    ],
)  # fmt: skip
def test_the_sentence(
    quantity: str, where: str, value: float, unit: str, notes: tuple[Note, ...], words: str
) -> None:
    """What it must say, in that order: the part, its side, the way, the amount and its doubt."""
    said = say(quantity, where, value, unit, notes)
    parts = (re.sub(" ?~", DOUBT, re.sub(" ?=", NONE, part)) for part in words.split(" .. "))
    tells(said, *parts)
    assert said.endswith(".")
    assert said[0].isupper()


PLURAL = re.compile(r"\b(?:horns|mounts|brackets|rails|legs|pairs)$")
LEVELS = [(kind, v) for kind in library().layouts.values() for v in kind.levels]


@pytest.mark.parametrize("value", [0.0, 3.2, -3.2])
@pytest.mark.parametrize(("kind", "level"), LEVELS, ids=[f"{k.id}-{v.id}" for k, v in LEVELS])
def test_one_place_or_several_the_verb_fits(kind: Layout, level: LevelPlace, value: float) -> None:
    """`The rear mounts leans` was said: one sentence serves one crossmember and a pair of mounts."""
    horns = level.id == "horns"
    where, first = level.id, kind.levels[int(kind.levels[0].id == "horns")]
    finding = found("horn-height" if horns else "twist", where, Uncertain(value), Against(first.id))
    said = sentence(Judged(finding, (), ()), kind, "in")
    assert level.name in said
    if level.id != first.id:
        assert first.name in said
    for name in (level.name, first.name):
        for verb in ("leans", "is", "stands"):
            assert not (PLURAL.search(name) and f"{name} {verb} " in said), said
        for verb in ("lean", "are", "stand"):
            assert not (not PLURAL.search(name) and f"{name} {verb} " in said), said
    assert "the ahead of" not in said
    assert "the behind" not in said


TWISTED = (
    AGAINST,
    (*AGAINST, SagTakenOut("left", 3.0)),
    (*AGAINST, SagTakenOut("left", 0.1)),
    (*AGAINST, ReadOn("wheels", 0.1)),
    (*AGAINST, ReadOn("stands-under-frame", -3.0)),
)
ZERO = [
    *(
        (q, w, "mm", ())
        for q, w in (
            ("rail-shift", "whole"),
            ("sag-loaded", "center/left"),
            ("elastic", "center/left"),
        )
    ),
    *(("twist", "rear", "mm", notes) for notes in TWISTED),
    *(
        (q, "horns", "mm", AGAINST)
        for q in ("horn-height", "horn", "horn-back", "own-sides", "level-closing")
    ),
    *((q, "left", "mm", ()) for q in ("horn-out", "hood-taper")),
    *(
        (q, "center", "mm", ())
        for q in ("mash", "sway", "sag-difference", "string-level", "plate-off")
    ),
    *((q, "front", "mm", ()) for q in ("wheelbase", "axle", "nose-off", "hint")),
    *(
        ("elastic-foretold", "mount", "mm", ()),
        ("thickness", "left", "%", ()),
        ("caster", "ball", "deg", ()),
    ),
    ("level-error", "level", "mm/m", ()),
]


@pytest.mark.parametrize(("quantity", "where", "unit", "notes"), ZERO)
@pytest.mark.parametrize("value", [0.0, 0.1, -0.1])
def test_nothing_is_never_an_amount(
    quantity: str, where: str, unit: str, notes: tuple[Note, ...], value: float
) -> None:
    """`0 mm higher` was read as a slip of the program; there is a word for every zero."""
    said = say(quantity, where, value * (0.1 if unit == "deg" else 1.0), unit, notes)
    assert not re.search(r"(?<![\d./])-?0(\.0)? (in|mm|degrees|%)", said), said


def test_the_band_follows_as_a_sentence_of_its_own() -> None:
    number = Uncertain(3.0, (Part("p", 0.4),))
    finding = found("rail-shift", "whole", number, limit="rail-shift")
    said = sentence_and_band(judge(finding, survey_of({}), library()), LAYOUT, "in")
    figure, band = said.split(". ")
    assert figure.endswith("give or take 1/32 in")
    assert band.startswith("Leave it or keep an eye on it")


def test_a_place_that_the_layout_lacks_is_called_by_its_id() -> None:
    assert say("rail-shift", "tail-box", 3.2).startswith("Tail-box: it measures")


def test_every_quantity_found_has_words_ends_in_a_full_stop_and_names_its_doubt() -> None:
    survey = bent()
    for finding in findings(survey).values():
        said = sentence_and_band(judge(finding, survey, library()), LAYOUT, survey.unit)
        assert said.endswith("."), said
        assert ".." not in said
        assert said[0].isupper(), said
        assert (
            finding.quantity in NO_DOUBT
            or "give or take" in said
            or "would have been seen" in said
            or finding.quantity == "twist-shape"
        ), said
        assert not re.search(r"\bat the (behind|at)\b|  |\(\)|_", said), said


def test_the_bent_survey_reaches_most_quantities() -> None:
    """Otherwise the test above would hold for want of anything to say."""
    assert len({f.quantity for f in findings(bent()).values()}) >= 20


def test_a_quantity_without_words_is_an_error_and_not_silence() -> None:
    with pytest.raises(KeyError, match="plus"):
        say("color", "whole", 1.0)


def test_what_the_tapes_contradict_is_named_once() -> None:
    """Under a heading of its own name a sentence that began with it would say it twice."""
    number = Uncertain(3.0, (Part("p", 0.4),))
    for quantity, where in (("horn", "difference"), ("rail-shift", "front-box")):
        finding = found(quantity, where, number, OffPlan(disagrees=True), limit=quantity)
        said = sentence(judge(finding, survey_of({}), library()), LAYOUT, "in")
        assert said.count("horns") == (quantity == "horn")
        assert not said.startswith("The horns")
        assert "cannot all be right" in said


@pytest.mark.parametrize("mm", [0.0, 2.0, -2.0])
def test_every_word_of_a_hint_says_that_it_is_one(mm: float) -> None:
    for side in ("left", "right"):
        assert say("hood-taper", side, mm).endswith("A hint only.")


@pytest.mark.parametrize(
    ("notes", "more"),
    [((OffPlan(False),), "measure between other points"), ((), "or with a finer tool")],
)
def test_a_size_so_large_that_it_is_no_news_is_not_told(notes: tuple[Note, ...], more: str) -> None:
    """Inches would have to be out to be seen: nobody is told that the frame is straight to that."""
    number = Uncertain(3.0, (Part("p", 20.0),))
    judged = judge(
        found("sway", "center", number, *notes, limit="rail-bow"), survey_of({}), library()
    )
    said = sentence_and_band(judged, LAYOUT, "in")
    tells(said, "Not known yet: center crossmember, off the middle line", more)
    assert "would have been seen" not in said
    assert "straight" not in said
    assert " in " not in said
    fine = found("sway", "center", number.scaled(0.05), limit="rail-bow")
    finer = judge(fine, survey_of({}), library())
    assert "would have been seen" in sentence_and_band(finer, LAYOUT, "in")
