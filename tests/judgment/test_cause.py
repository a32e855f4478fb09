"""Rules that keep the causes honest, over any set of signs and any set of looks."""

from __future__ import annotations

from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.checks.surveys import library
from tests.judgment.stories import causes, evidence_for, stories, survey
from wizard.judgment.cause import STRENGTHS, Causes, weigh
from wizard.judgment.signs import Evidence, evidence_of
from wizard.library.shapes_signs import CAUSES
from wizard.survey.prompts import Prompt, expand
from wizard.survey.record import Survey
from wizard.survey.rows import Answer, Look

SPOKEN = ("cannot-tell", "none", "hint", "likely", "strong")


@cache
def pool() -> tuple[Evidence, ...]:
    """Every sign that any story shows."""
    return tuple(
        e for s in stories().values() for e in evidence_of(*evidence_for(s), library().signs)
    )


@cache
def places() -> tuple[Prompt, ...]:
    """Every look that the content asks everybody for, left and right."""
    layout = library().layouts["straight-ladder"]
    steps = (s for s in library().steps.values() if not s.called)
    return tuple(p for s in steps for p in expand(s, layout) if p.kind.looks)


def rank(found: Causes, cause: str) -> int:
    return STRENGTHS.index(found[cause].strength)


@settings(max_examples=400, deadline=None)
@given(st.data())
def test_leaving_out_a_sign_never_makes_a_cause_stronger_unless_it_spoke_against_it(
    data: st.DataObject,
) -> None:
    picked = data.draw(
        st.lists(st.sampled_from(range(len(pool()))), min_size=1, max_size=9, unique=True)
    )
    signs = tuple(pool()[n] for n in picked)
    gone = data.draw(st.sampled_from(range(len(signs))))
    every, fewer = weigh(signs, {}), weigh(signs[:gone] + signs[gone + 1 :], {})
    for cause in CAUSES:
        if not signs[gone].against.get(cause):
            assert rank(fewer, cause) <= rank(every, cause), (
                cause,
                [s.sign.id for s in signs],
                signs[gone].sign.id,
            )


@pytest.mark.parametrize("name", stories())
def test_the_same_for_every_sign_of_every_story(name: str) -> None:
    signs = evidence_of(*evidence_for(stories()[name]), library().signs)
    every = weigh(signs, {})
    for gone, sign in enumerate(signs):
        fewer = weigh(signs[:gone] + signs[gone + 1 :], {})
        assert all(rank(fewer, c) <= rank(every, c) for c in CAUSES if not sign.against.get(c)), (
            sign.sign.id
        )


def test_a_sign_against_does_make_it_stronger_when_left_out() -> None:
    signs = evidence_of(*evidence_for(stories()["never-hit-one-smooth-dent"]), library().signs)
    assert rank(weigh(signs, {}), "collision") == 0
    assert rank(weigh(tuple(s for s in signs if not s.against), {}), "collision") == 1


def looked(draw: Any) -> Survey:
    """A survey with any looks at some of the places, on top of the findings of the quiet frame."""
    made = Survey(id="any")
    for prompt in draw(st.lists(st.sampled_from(places()), max_size=14, unique_by=lambda p: p.id)):
        token = draw(st.sampled_from([c.token for c in prompt.choices] + ["nothing-found"]))
        seen = draw(st.sampled_from(("bare", "bare", "painted", "dirty")))
        made = made.with_row(Look(id=made.new_id(Look), prompt=prompt.id, seen=seen, answer=token))
        twin = next(p for p in places() if p.step == prompt.step and p.item != prompt.item)
        if draw(st.booleans()) and not made.looks_at(twin.id):
            other = token if draw(st.booleans()) else "nothing-found"
            made = made.with_row(
                Look(id=made.new_id(Look), prompt=twin.id, seen="bare", answer=other)
            )
        where = draw(st.sampled_from(("front", "rear")))
        for side in ("left", "right"):
            made = made.with_row(
                Answer(id=made.new_id(Answer), prompt=f"{prompt.step}/{side}/where", answer=where)
            )
    return made


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.data(), st.sampled_from(("quiet-frame", "front-box-out-alone", "equal-sag", "one-rail-sags"))
)
def test_skipping_a_look_never_raises_confidence(data: st.DataObject, name: str) -> None:
    made = looked(data.draw)
    prompts = sorted({k.prompt for k in made.standing(Look)})
    if not prompts:
        return
    gone = data.draw(st.sampled_from(prompts))
    skipped = made
    for look in made.looks_at(gone):
        skipped = skipped.with_struck(look.id, "skipped")
    every, fewer = causes(stories()[name], made), causes(stories()[name], skipped)
    for cause in CAUSES:
        assert rank(fewer, cause) <= rank(every, cause), (cause, gone)
        assert SPOKEN.index(fewer[cause].answer) <= SPOKEN.index(every[cause].answer), (cause, gone)


@pytest.mark.parametrize("name", stories())
def test_skipping_any_look_of_a_story_never_raises_confidence(name: str) -> None:
    story = stories()[name]
    made = survey(story)
    every = causes(story, made)
    for prompt in sorted({k.prompt for k in made.standing(Look)}):
        fewer = made
        for look in made.looks_at(prompt):
            fewer = fewer.with_struck(look.id, "skipped")
        found = causes(story, fewer)
        assert all(
            SPOKEN.index(found[c].answer) <= SPOKEN.index(every[c].answer) for c in CAUSES
        ), prompt


def test_no_collision_is_named_from_one_kind_of_sign() -> None:
    for found in (weigh((e,), {}) for e in pool()):
        assert not found["collision"].named


def test_two_signs_of_one_kind_at_one_corner_are_not_enough_and_two_kinds_are() -> None:
    metal = next(e for e in pool() if e.sign.id == "kink" and e.zones == (("left", "front"),))
    other = next(e for e in pool() if e.sign.id == "re-welded-horn")
    body = next(
        e for e in pool() if e.sign.id == "body-ripples" and e.zones == (("left", "front"),)
    )
    away = next(e for e in pool() if e.sign.id == "body-ripples" and e.zones == (("left", "rear"),))
    assert weigh((metal, other), {})["collision"].strength == "hint"
    assert weigh((metal, other), {})["collision"].one_kind
    assert weigh((metal, away), {})["collision"].strength == "hint"
    assert weigh((metal, body), {})["collision"].strength == "strong"


def test_a_bend_that_is_seen_and_measured_is_one_witness() -> None:
    """A kink by the string and the wrinkle at it were a collision, whoever had bent the rail."""
    here, book = (("left", "front"),), library().signs.signs
    signs = ("string-kink", "one-rail-sag", "wrinkle-lower", "ripple", "kink")
    bend = tuple(Evidence(book[id], {"collision": 2}, {}, (), here) for id in signs)
    found = weigh(bend, {})["collision"]
    assert (found.strength, found.one_kind, found.one_bend) == ("hint", True, True)
    short = Evidence(book["rail-short"], {"collision": 2}, {}, (), here)
    body = Evidence(book["body-ripples"], {"collision": 2}, {}, (), here)
    told = Evidence(book["told-of-a-hit"], {"collision": 2}, {}, ())
    assert weigh((*bend, told), {})["collision"].strength == "likely"
    assert weigh((bend[0], told), {})["collision"].strength == "hint"
    assert weigh((*bend, short), {})["collision"].strength == "strong"
    assert weigh((*bend, body), {})["collision"].strength == "strong"


def test_a_past_that_is_wholly_known_and_has_no_blow_wants_a_third_witness() -> None:
    """A corner that the tape finds and the wrinkle at it were a blow, whoever knew that there was none."""
    here, book = (("left", "rear"),), library().signs.signs
    short = Evidence(book["rail-short"], {"collision": 5}, {}, (), here)
    wrinkle = Evidence(book["ripple"], {"collision": 2}, {}, (), here)
    body = Evidence(book["body-ripples"], {"collision": 2}, {}, (), here)
    never = Evidence(book["told-of-no-hit"], {}, {"collision": 2}, ())
    assert weigh((short, wrinkle), {})["collision"].named
    denied = weigh((short, wrinkle, never), {})["collision"]
    assert (denied.strength, denied.one_kind) == ("hint", False)
    assert weigh((short, wrinkle, body, never), {})["collision"].named


MIRROR = {"left": "right", "right": "left"}
SIGNED = ("rail-shift", "own-sides", "mash", "sway", "horn", "hint", "wheelbase")


def mirrored(story: dict[str, Any]) -> dict[str, Any]:
    """The same car seen in a mirror."""

    def word(text: str) -> str:
        return "-".join(MIRROR.get(w, w) for w in text.split("-"))

    def row(quantity: str, where: str, value: float, *rest: Any) -> list[Any]:
        flipped = -value if quantity in SIGNED else value
        return [quantity, "/".join(MIRROR.get(w, w) for w in where.split("/")), flipped, *rest]

    return {
        **story,
        "looks": [[k[0], MIRROR.get(k[1], k[1]), *k[2:]] for k in story.get("looks", [])],
        "findings": [row(*f) for f in story.get("findings", [])],
        "answers": {
            p: word(a) if p == "history/where" else a for p, a in story.get("answers", {}).items()
        },
    }


@pytest.mark.parametrize("name", stories())
def test_a_car_in_a_mirror_has_the_same_past_on_the_other_side(name: str) -> None:
    here, there = causes(stories()[name]), causes(mirrored(stories()[name]))
    assert {c: here[c].answer for c in CAUSES} == {c: there[c].answer for c in CAUSES}
    assert there.box == here.box
    assert there.corner == (here.corner and (MIRROR[here.corner[0]], here.corner[1]))


def signs_of(*looks: list[str]) -> dict[str, Evidence]:
    story = {**stories()["quiet-frame"], "looks": list(looks)}
    return {e.sign.id: e for e in evidence_of(*evidence_for(story), library().signs)}


def test_dents_at_different_places_are_no_twins() -> None:
    """The same dent in the same third is the press; in another third it is neither a pair nor
    alone.
    """
    left = ["rail-sides", "left", "middle", "bare", "smooth-dent"]
    assert set(signs_of(left, ["rail-sides", "right", "middle", "bare", "smooth-dent"])) == {
        "dents-like-twins"
    }
    assert set(signs_of(left, ["rail-sides", "right", "front", "bare", "smooth-dent"])) == set()
    assert set(signs_of(left)) == {"dent-alone"}
    assert set(signs_of(left, ["rail-sides", "right", "", "painted", "nothing-found"])) == set()


@pytest.mark.parametrize(
    ("seen", "weight"), [("bare", "strong"), ("painted", "medium"), ("dirty", "medium")]
)
def test_what_was_seen_poorly_weighs_a_step_less(seen: str, weight: str) -> None:
    assert signs_of(["rail-sides", "left", "front", seen, "kink"])["kink"].weight == {
        "collision": weight
    }


def test_the_better_of_two_looks_at_one_place_counts() -> None:
    poor, good = (["rail-sides", "left", "front", seen, "kink"] for seen in ("dirty", "bare"))
    assert signs_of(poor, good)["kink"].weight == {"collision": "strong"}


def test_signs_that_each_leave_several_corners_open_gather_nowhere() -> None:
    """A frame bowed by 9 mm has its boxes out of square and its horns out of line: the three meet at
    one corner, and none of them says that it was hit there.
    """
    bowed = [["sway", "center", 9.0, 0.6], ["horn", "difference", 8.0, 1.0]]
    story = {**stories()["quiet-frame"], "findings": bowed}
    assert causes(story).corner is None
    hit = [["body-ripples", "right", "front", "bare", "ripples"]]
    assert causes({**story, "looks": hit}).corner == ("right", "front")
