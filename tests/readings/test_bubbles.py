"""Bubbles: positive when the left side is higher."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.readings.figures import Bubble, Scale, read_bubble
from wizard.readings.refused import Refused

pytestmark = pytest.mark.quick


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("2 left", "divisions", F(2)),
        ("2 LEFT", "divisions", F(2)),
        ("2 l", "divisions", F(2)),
        ("2l", "divisions", F(2)),
        ("2 r", "divisions", F(-2)),
        ("1/2 right", "divisions", F(-1, 2)),
        ("½ right", "divisions", F(-1, 2)),
        ("1 1/2 left", "divisions", F(3, 2)),
        ("0.5 div left", "divisions", F(1, 2)),
        ("1/3 right", "divisions", F(-1, 3)),
        ("0", "divisions", F(0)),
        ("0 left", "divisions", F(0)),
        ("level", "divisions", F(0)),
        ("Center", "divisions", F(0)),
        ("0.3° left", "degrees", F(3, 10)),
        ("0,3° right", "degrees", F(-3, 10)),
        ("0.3 deg left", "degrees", F(3, 10)),
        ("0°", "degrees", F(0)),
        ("1.5 mm left", "shim", F(3, 2)),
        ("1/16 in left", "shim", F(127, 80)),
        ('1/16" right', "shim", F(-127, 80)),
        ("0 mm", "shim", F(0)),
        ("20 left", "divisions", F(20)),
        ("45° right", "degrees", F(-45)),
        ("100 mm left", "shim", F(100)),
        ("left 2", "divisions", F(2)),
        ("left high by 1 1/2", "divisions", F(3, 2)),
        ("2 left high", "divisions", F(2)),
        ("2 left side high", "divisions", F(2)),
        ("2 lines, high on the left", "divisions", F(2)),
        ("half a line to the right", "divisions", F(-1, 2)),
        ("about 2 lines left", "divisions", F(2)),
        ("right: 0.3 degrees", "degrees", F(-3, 10)),
        ("dead level", "divisions", F(0)),
        ("in the middle", "divisions", F(0)),
    ],
)
def test_the_word_names_the_high_side(text: str, kind: Scale, value: F) -> None:
    assert read_bubble(text, "in") == Bubble(kind, value)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("2", "Say which side is high, for example 2 left or 2 right"),
        ("0.3°", "Say which side is high, for example 0.3° left"),
        ("1.5 mm", "Say which side is high"),
        ("-2", "Type the high side, not a plus or minus"),
        ("-2 left", "Type the high side, not a plus or minus"),
        ("nan left", "No tool shows"),
        ("inf", "No tool shows"),
        ("1e2 left", "with an e in it"),
        ("", "You typed nothing"),
        ("x" * 10_000, "too long"),
        ("left", "no number"),
        ("right level", "no number"),
        ("2 up", "“up” is not a unit.* 2 left, 0.3° left or 1/16 in left"),
        ("2 low left", "“low” is not a unit"),
        ("low left 2", "“low” is not a unit|no part|no number"),
        ("2 left low", "“left” is not a unit"),
        ("2 left right", "not a unit|no part"),
        ("9/8 left", "comes to 1 or more"),
        ("1 3/2 left", "comes to 1 or more"),
        ("1/0 left", "a 0 at the bottom"),
        ("1/7 left", "2, 3, 4, 5, 8 or 10 at the bottom"),
        ("21 left", "over 20 lines"),
        ("46° left", "over 45 degrees"),
        ("101 mm left", "over 100 mm of shim"),
    ],
)
def test_a_bubble_that_says_too_little_is_refused(text: str, said: str) -> None:
    with pytest.raises(Refused, match=said) as refusal:
        read_bubble(text, "in")
    assert "for example" in str(refusal.value)


def test_the_example_of_a_shim_is_in_the_unit_of_the_survey() -> None:
    with pytest.raises(Refused, match=r"1\.5 mm left"):
        read_bubble("2 up", "mm")


@given(st.text(alphabet="0123456789 /.,-°leftrigh½mm", max_size=14))
def test_left_and_right_are_mirror_images(amount: str) -> None:
    def read(side: str) -> F | str:
        try:
            return read_bubble(f"{amount} {side}", "mm").value
        except Refused as refusal:
            return refusal.said.replace("right", "left")

    left, right = read("left"), read("right")
    assert (left == -right) if isinstance(left, F) and isinstance(right, F) else left == right
