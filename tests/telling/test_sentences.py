"""Every finding in one plain sentence: the side, the way, the doubt."""

from __future__ import annotations

import re

import pytest

from tests.checks.surveys import bent, findings, found, library, survey_of
from wizard.checks.notes import (
    ALL_ALIKE,
    OWN_SIDES_OPEN,
    Against,
    Lean,
    Note,
    ReadOn,
    Rises,
    SagTakenOut,
    Slip,
)
from wizard.judgment.bands import Judged, judge
from wizard.math.uncertain import Part, Uncertain
from wizard.telling.sentences import sentence, sentence_and_band

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


@pytest.mark.parametrize(
    ("quantity", "where", "value", "unit", "notes", "says"),
    [
        ("rail-shift", "whole", 3.2, "mm", (),
         "Whole frame: the right rail sits 1/8 in further back ~."),
        ("rail-shift", "whole", -3.2, "mm", (),
         "Whole frame: the left rail sits 1/8 in further back ~."),
        ("rail-shift", "whole", 0.1, "mm", (),
         "Whole frame: neither rail has moved along the other ~."),
        ("rail-shift", "front-box-bar", 3.2, "mm", (),
         "Front box, by the bar: the right rail sits 1/8 in further back ~."),
        ("sag-loaded", "engine-mount/left", 3.2, "mm", (),
         "The left rail hangs 1/8 in low at the rear engine mount with the engine's weight ~."),
        ("sag-unloaded", "behind/right", -3.2, "mm", (),
         "The right rail stands 1/8 in high behind the center without the weight ~."),
        ("sag-unloaded", "center/left", 0.1, "mm", (),
         "The left rail is straight at the center crossmember without the weight ~."),
        ("elastic", "engine-mount/left", 1.6, "mm", (),
         "The left rail rises 1/16 in at the rear engine mount when the weight goes ~."),
        ("elastic", "engine-mount/left", -1.6, "mm", (),
         "The left rail drops 1/16 in at the rear engine mount when the weight goes ~."),
        ("elastic", "engine-mount/left", 0.0, "mm", (),
         "The left rail stays where it is at the rear engine mount when the weight goes ~."),
        ("twist", "rear", 3.2, "mm", AGAINST,
         "Held against the front crossmember, the rear crossmember stands 1/8 in higher on the left ~."),
        ("twist", "rear", -3.2, "mm", AGAINST,
         "Held against the front crossmember, the rear crossmember stands 1/8 in higher on the right ~."),
        ("twist", "rear", 0.0, "mm", (Against("center"),),
         "The rear crossmember leans no more to one side than the center crossmember ~."),
        ("horn-height", "horns", 3.2, "mm", AGAINST,
         "Held against the front crossmember, the horns stand 1/8 in higher on the left ~."),
        ("horn-height", "horns", 0.0, "mm", AGAINST,
         "The horns lean no more to one side than the front crossmember ~."),
        ("horn", "difference", 3.2, "mm", (),
         "The left horn stands 1/8 in further out than the right one ~."),
        ("horn", "difference", -3.2, "mm", (OWN_SIDES_OPEN,),
         "The right horn stands 1/8 in further out than the left one ~. Or it reaches further forward: "
         "each tip to its own rail would tell."),
        ("horn", "difference", 0.0, "mm", (),
         "Both horns stand equally far out ~. Equal does not say unbent: hold bumper irons and shell to them."),
        ("own-sides", "whole", 3.2, "mm", (),
         "Whole frame: the right rail is 1/8 in shorter than its twin ~."),
        ("own-sides", "whole", -3.2, "mm", (),
         "Whole frame: the left rail is 1/8 in shorter than its twin ~."),
        ("own-sides", "rear-box", 0.0, "mm", (),
         "Rear box: both rails are equally long ~."),
        ("own-sides", "horns", -3.2, "mm", (),
         "The left horn is 1/8 in shorter than its twin ~."),
        ("own-sides", "horns", 0.0, "mm", (),
         "Horns: both horns are equally long ~."),
        ("wheelbase", "difference", 3.2, "mm", (),
         "The right wheelbase is 1/8 in shorter than the other ~."),
        ("wheelbase", "difference", -3.2, "mm", (),
         "The left wheelbase is 1/8 in shorter than the other ~."),
        ("wheelbase", "difference", 0.0, "mm", (),
         "The wheelbase is the same on both sides ~."),
        ("hint", "pulley", 3.2, "mm", (),
         "The pulley stands 1/8 in to the right of the middle ~. A hint only."),
        ("hint", "gearbox-tail", -3.2, "mm", (),
         "The gearbox's tail stands 1/8 in to the left of the middle ~. A hint only."),
        ("hint", "pulley", 0.0, "mm", (),
         "The pulley stands in the middle ~. A hint only."),
        ("level-closing", "horns", 0.1, "mm", (),
         "Back at the first place the level read the same ~: the frame stayed where it was."),
        ("level-closing", "horns", -3.2, "mm", (),
         "Back at the first place the level read 1/8 in differently ~: the frame moved. Read again."),
        ("level-error", "level", 3.2, "mm/m", (),
         "The level itself is out by 1/8 in per yard, give or take 1/32 in per yard; turning it round "
         "took that out."),
        ("level-error", "level", 0.0, "mm/m", (),
         "The level itself is true, give or take 1/32 in per yard."),
        ("caster", "ball", 0.5, "deg", (),
         "By the shape of the rails alone the front axle has about 0.5 degrees more caster, give or take 0.8 degrees."),
        ("caster", "ball", -0.5, "deg", (),
         "By the shape of the rails alone the front axle has about 0.5 degrees less caster, give or take 0.8 degrees."),
        ("caster", "ball", 0.0, "deg", (),
         "The shape of the rails alone leaves the caster of the front axle as it was, give or take 0.8 degrees."),
        ("closure", "whole", 0.3, "mm", (),
         "Whole frame: all six tapes agree with one another ~."),
        ("closure", "whole", -25.4, "mm", (),
         "Whole frame: the six tapes disagree by 1 in ~; one of them is probably wrong. Measure this box "
         "again."),
        ("mash", "whole", 3.2, "mm", (),
         "Whole frame: by all the tapes together the left rail is 1/8 in shorter than its twin ~."),
        ("sway", "center", -3.2, "mm", (),
         "Seen from above the center crossmember lies 1/8 in to the left of the middle line ~."),
        ("horn-back", "difference", 3.2, "mm", (),
         "Each from its own corner, the right horn's tip sits 1/8 in further back than the other ~."),
        ("sag-difference", "behind", 3.2, "mm", (),
         "Behind the center the right rail lies 1/8 in lower ~."),
        ("twist-shape", "rails", 3.2, "mm", (Lean("steady"),),
         "The lean changes steadily from front to rear, 1/8 in across the rails in all ~, as a twist of the whole "
         "frame would."),
        ("mash", "whole", 0.0, "mm", (),
         "Whole frame: by all the tapes together both rails are equally long ~."),
        ("sway", "center", 0.0, "mm", (),
         "Seen from above the frame runs straight past the center crossmember ~."),
        ("horn-back", "difference", 0.0, "mm", (),
         "Each from its own corner, both horn tips reach equally far forward ~."),
        ("horn-out", "left", -3.2, "mm", (),
         "The left horn's tip lies 1/8 in inside its own rail carried straight on ~. "
         "It may be made so; compare the other."),
        ("hand", "tape", 0.8, "mm", (ALL_ALIKE,),
         "One reading of your tape scatters by about 1/32 in; every result reckons with it. "
         "All were alike to the last mark: let go and read afresh each time, or the spread is not real."),
        ("elastic-foretold", "mount", 0.8, "mm", (Rises((("down", "left"), ("far", "right")), unequal=True),),
         "A sound rail of about this size rises 1/32 in at the engine mount when the weight goes ~. "
         "The left rail went down instead: the set-up moved, or the jack carried the frame. Read it again. "
         "The right rail rose far more: look for loose joints or a crack, and check the string. "
         "The two rails rose very unequally: check the jack, the mounts and the string."),
        ("suspect", "plan", -25.4, "mm", (Slip(True, "1 in", ("left front to right rear",)),),
         "One tape does not agree with all the others: “left front to right rear” is probably 1 in too short. "
         "It looks like a slip: a whole inch. Measure it again: /go left front to right rear "
         "stands before it, and /strike takes the old one out."),
        ("suspect", "plan", 25.4, "mm", (Slip(False, "", ("one", "two")),),
         "These 2 tapes disagree by about 1 in: one; two. One is probably wrong and nothing here can say which: "
         "measure them again with the tape turned round, or add a third station."),
        ("twist-shape", "rails", 3.2, "mm", (Lean("one-joint", ("front-crossmember", "center")),),
         "The lean changes at one place, between front crossmember and center crossmember: look at the joints there."),
        ("twist-shape", "rails", 3.2, "mm", (Lean("cannot-tell"),),
         "The lean changes by 1/8 in across the rails from front to rear ~; "
         "whether steadily or at one joint cannot be told."),
        ("thickness", "left", 13.0, "%", (),
         "The left rail's worst pit has taken 13 % of the thickness, give or take 1 %."),
        ("stiffness-left", "left", 95.0, "%", (),
         "If the whole face of the left rail were as thin, 95 % of its stiffness would be left, give or take 1 %. "
         "Square corners reckoned, which flatters a pressed rail a little."),
        ("twist", "center", -0.1, "mm", (*AGAINST, SagTakenOut("left", 4.3)),
         "At the center crossmember the left rail hangs 5/32 in low, and that much of the lean is no twist. With it "
         "taken out: the center crossmember leans no more to one side than the front crossmember ~."),
        ("twist", "rear", 3.2, "mm", (*AGAINST, ReadOn("wheels", -7.0)),
         "Held against the front crossmember, the rear crossmember stands 1/8 in higher on the left ~. On its wheels "
         "it read 9/32 in."),
        ("sag-difference", "center", 0.0, "mm", (),
         "At the center crossmember both rails lie equally low ~."),
    ],
)  # fmt: skip
def test_the_sentence(
    quantity: str, where: str, value: float, unit: str, notes: tuple[Note, ...], says: str
) -> None:
    assert say(quantity, where, value, unit, notes) == says.replace(" ~", ", give or take 1/32 in")


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
    assert said.endswith(
        "give or take 1/32 in. Leave it or keep an eye on it; nothing to put right."
    )


def test_a_place_that_the_layout_lacks_is_called_by_its_id() -> None:
    assert say("rail-shift", "tail-box", 3.2).startswith("Tail-box: the right rail")


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
            or finding.quantity == "twist-shape"
        ), said
        assert not re.search(r"\bat the (behind|at)\b|  |\(\)|_", said), said


def test_the_bent_survey_reaches_most_quantities() -> None:
    """Otherwise the test above would hold for want of anything to say."""
    assert len({f.quantity for f in findings(bent()).values()}) >= 20


def test_a_quantity_without_words_is_an_error_and_not_silence() -> None:
    with pytest.raises(KeyError, match="plus"):
        say("color", "whole", 1.0)
