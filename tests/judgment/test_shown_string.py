"""What the string shows, and what a jack's mark, a look not made or the engine's own mount take
away from it.
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.checks.surveys import library
from tests.judgment.stories import causes, evidence_for, stories, verdict
from wizard.judgment.cause import Causes
from wizard.judgment.signs import Evidence, evidence_of

ONE_RAIL = "one-rail-sags"
MARK = "jack-or-chain-mark"


def story(name: str, **other: Any) -> dict[str, Any]:
    """A story with something otherwise."""
    return {**stories()[name], **other}


def signs(of: dict[str, Any]) -> dict[str, Evidence]:
    return {e.sign.id: e for e in evidence_of(*evidence_for(of), library().signs)}


def sagging(
    depth: float,
    u: float = 0.3,
    right: float | None = None,
    bends: tuple[str, str] = ("bow", "bow"),
) -> Any:
    """Both rails (or the left one, the right by `right`) low at the mount, fading to both ends."""
    rows: list[list[Any]] = []
    for side, size in (("left", depth), ("right", depth if right is None else right)):
        for station, share in (("mid-engine", 0.75), ("engine-mount", 1.0), ("center", 0.8)):
            rows.append(["sag-unloaded", f"{station}/{side}", share * size, u])
    kinds = zip(("left", "right"), bends, strict=True)
    return rows + [["bend", side, depth, 0.6, kind, "engine-mount"] for side, kind in kinds]


@pytest.mark.parametrize(
    ("depth", "found"), [(1.6, False), (3.0, False), (3.4, False), (4.2, True), (8.0, True)]
)
def test_an_even_sag_is_a_sign_once_it_is_past_what_sound_frames_show(
    depth: float, found: bool
) -> None:
    """1/8 in (3.175 mm) is left (common practice, no published source); 0.3 mm of doubt makes it
    3.7.
    """
    assert ("equal-sag" in signs(story("equal-sag", findings=sagging(depth)))) is found


def test_one_rail_a_little_low_is_no_sign_either() -> None:
    assert "one-rail-sag" not in signs(story(ONE_RAIL, findings=sagging(3.0, 0.1, 0.0)))
    assert "one-rail-sag" in signs(story(ONE_RAIL, findings=sagging(4.5, 0.1, 0.0)))


def with_mark(third: str, side: str = "left", findings: Any = None) -> dict[str, Any]:
    made = story(ONE_RAIL, looks=[["rail-sides", side, third, "bare", MARK]])
    return made if findings is None else {**made, "findings": findings}


@pytest.mark.parametrize("third", ["front", "middle", ""])
def test_a_jacks_mark_under_the_low_rail_takes_the_collision_away(third: str) -> None:
    """It hangs low from the mount (front third) to the center (middle third); nobody said where: it
    may be there.
    """
    found = causes(with_mark(third))
    assert found["collision"].answer == "none"
    assert [e.sign.id for e in found["collision"].against] == ["low-by-a-jack"]
    assert found.corner is None


@pytest.mark.parametrize(("third", "side"), [("rear", "left"), ("front", "right")])
def test_a_mark_elsewhere_takes_nothing_away(third: str, side: str) -> None:
    assert causes(with_mark(third, side))["collision"].answer == "hint"


def test_a_jacks_mark_speaks_against_nothing_but_that_sag() -> None:
    fender = ["body-ripples", "left", "front", "bare", "ripples"]
    mark = ["rail-sides", "left", "front", "bare", MARK]
    alone = causes(story("quiet-frame", looks=[fender]))["collision"]
    both = causes(story(ONE_RAIL, looks=[fender, mark]))["collision"]
    assert (both.strength, alone.strength) == ("hint", "hint")
    assert sum(e.points["collision"] for e in both.signs) == sum(
        e.points["collision"] for e in alone.signs
    )
    assert causes(story(ONE_RAIL, looks=[fender]))["collision"].strength == "strong"


def test_a_kink_of_the_string_at_the_mark_is_the_jacks_as_well() -> None:
    bent = sagging(7.0, 0.3, 0.3, ("kink", "bow"))
    assert "string-kink" in signs(story(ONE_RAIL, findings=bent))
    marked = signs(with_mark("front", findings=bent))
    assert "string-kink" not in marked
    assert "low-by-a-jack" in marked


RANK = ("none", "hint", "likely", "strong")


@pytest.mark.parametrize("fender", [[], [["body-ripples", "left", "front", "bare", "ripples"]]])
@pytest.mark.parametrize(
    "seen", [("bare", MARK), ("bare", "nothing-found"), ("painted", "nothing-found")]
)
def test_not_looking_at_the_rails_side_is_never_bolder(
    fender: list[list[str]], seen: tuple[str, str]
) -> None:
    looked = causes(story(ONE_RAIL, looks=[*fender, ["rail-sides", "left", "front", *seen]]))[
        "collision"
    ]
    unseen = causes(
        story(ONE_RAIL, looks=[*fender, ["rail-sides", "left", "", "not-reached", ""]])
    )["collision"]
    assert RANK.index(unseen.strength) <= RANK.index(looked.strength)
    assert unseen.answer == "cannot-tell"
    assert "one-rail-sag" in {e.sign.id for e in unseen.signs}  # It is still said.


@pytest.mark.parametrize("bends", [("kink", "kink"), ("kink", "bow"), ("cannot-tell", "kink")])
def test_both_rails_bent_alike_at_the_engine_mount_are_age_and_no_corner(
    bends: tuple[str, str],
) -> None:
    found = causes(story("equal-sag", findings=sagging(5.5, bends=bends)))
    assert (found["age"].answer, found["collision"].answer, found.corner) == ("hint", "none", None)
    assert (
        "wrinkle"
        in signs(story("equal-sag", findings=sagging(5.5, bends=bends)))["equal-sag-bent"].sign.also
    )


def test_one_rail_bent_there_and_its_twin_straight_is_suspect() -> None:
    found = causes(story("equal-sag", findings=sagging(5.5, right=0.5, bends=("kink", "bow"))))
    assert (found["collision"].answer, found.corner) == ("hint", ("left", "front"))


def test_both_bent_a_little_are_no_sign_of_anything() -> None:
    found = signs(story("equal-sag", findings=sagging(2.5, bends=("kink", "kink"))))
    assert not found.keys() & {"equal-sag-bent", "string-kink", "equal-sag"}


def test_a_kink_whose_twin_was_not_read_is_the_jacks_where_its_mark_is() -> None:
    rows = [r for r in sagging(7.0, bends=("kink", "kink")) if "right" not in r[1]]
    assert "low-by-a-jack" in signs(with_mark("front", findings=rows))
    assert "string-kink" in signs(with_mark("rear", findings=rows))


def test_nothing_found_under_dirt_is_nothing_looked_at() -> None:
    found = causes(story(ONE_RAIL, looks=[["rail-sides", "left", "", "dirty", "nothing-found"]]))[
        "collision"
    ]
    assert (found.strength, found.answer) == ("none", "cannot-tell")


def test_both_bent_alike_elsewhere_are_suspect() -> None:
    rows = [
        [*r[:5], "center"] if r[0] == "bend" else r for r in sagging(5.5, bends=("kink", "kink"))
    ]
    found: Causes = causes(story("equal-sag", findings=rows))
    assert found["collision"].answer == "hint"
    assert found.corner is None  # Left and right alike: it gathers at neither.


def test_a_kink_of_both_rails_is_told_of_both() -> None:
    rows = [
        [*r[:5], "center"] if r[0] == "bend" else r for r in sagging(5.5, bends=("kink", "kink"))
    ]
    of = evidence_of(*evidence_for(story("equal-sag", findings=rows)), library().signs)
    assert [e.zones[0][0] for e in of if e.sign.id == "string-kink"] == ["left", "right"]


CARS = [
    {"supports": supports, "engine": "out", "body": "off"}
    for supports in ("stands-under-frame", "stands-under-axles", "wheels", "")
] + [
    {"supports": "three-points", "engine": engine, "body": body}
    for engine in ("in", "weight-off", "out", "")
    for body in ("bolted", "loosened", "off", "")
    if (engine, body) != ("out", "off")
]
"""Every way to stand but the bare frame on three points."""


@pytest.mark.parametrize("state", CARS, ids=str)
def test_a_twist_of_anything_but_the_bare_frame_on_three_points_is_open_at_best(
    state: dict[str, str],
) -> None:
    found = verdict(story("twist-on-three-points", state=state))
    assert "twist-on-three" not in {
        e.sign.finding for c in found.causes.conclusions.values() for e in c.signs
    }
    assert found.action == "open"
    assert found.open[0].bands == ("leave", "watch", "specialist")


def test_no_twist_on_wheels_is_no_twist() -> None:
    assert verdict(story("quiet-frame", state={"supports": "wheels"})).action == "leave"


@pytest.mark.parametrize(("right", "corner"), [(-4.0, None), (0.5, ("left", "front"))])
def test_a_crown_gathers_at_a_rail_only_where_its_twin_is_surely_lower(
    right: float, corner: tuple[str, str] | None
) -> None:
    """Both may stand high, and one was told for being the surer of the two."""
    high = [["sag-loaded", f"engine-mount/{s}", mm, 0.4] for s, mm in TWINS]
    high[1][2] = right
    crown = ["crown", "left", -4.5, 0.4, "engine-mount", "loaded", "counts"]
    told = story("quiet-frame", findings=[*high, crown])
    assert causes(told).corner == corner


TWINS = (("left", -4.5), ("right", 0.0))
