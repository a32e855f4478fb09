"""Lengths as typed, each exact in millimetres, and the twins that must be refused."""

from fractions import Fraction as F

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wizard.readings.figures import Signs, Unit, read_length
from wizard.readings.plain import clean
from wizard.readings.refused import Refused

INCH = F(254, 10)
LOW_HIGH = ("low", "high")


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("25 7/8", F("657.225")),
        ("25-7/8", F("657.225")),
        ("25–7/8", F("657.225")),
        ('25 7/8"', F("657.225")),
        ("25 7/8 in", F("657.225")),
        ("25 7/8in.", F("657.225")),
        ("25⅞", F("657.225")),
        ("25 ⅞″", F("657.225")),
        ("25 7⁄8", F("657.225")),
        ("25\u00a07/8 inches", F("657.225")),
        ("  25   7/8 IN ", F("657.225")),
        ("25.875 in", F("657.225")),
        ("25,87 in", F("657.098")),
        ("6' 8 1/2\"", F("2044.7")),
        ("6 ft 8 1/2 in", F("2044.7")),
        ("6'8½\"", F("2044.7")),
        ("6’ 8½”", F("2044.7")),
        ("6′8½″", F("2044.7")),
        ("6'-8 1/2''", F("2044.7")),
        ("6' 8 1/2", F("2044.7")),
        ("6 ft", F("1828.8")),
        ("6 1/2 feet", F("1981.2")),
        ("2032 mm", F(2032)),
        ("203.2 cm", F(2032)),
        ("203,2 cm", F(2032)),
        ("2.032 m", F(2032)),
        ("1/2 mm", F("0.5")),
        ("7/8", F("22.225")),
        ("½", F("12.7")),
        (".875", F("22.225")),
        ("0,125", F("3.175")),
        ("4/8", F("12.7")),
        ("63/64", F("25.003125")),
        ("0", F(0)),
        ("80", F(2032)),
        ("25\x1b 7/8", F("657.225")),
        ("about 25 7/8", F("657.225")),
        ("ca 25 7/8 in.", F("657.225")),
        ("ca. 25 7/8", F("657.225")),
        ("~25 7/8", F("657.225")),
        ("it's 25 7/8 or so", F("657.225")),
        ("25 and 7/8", F("657.225")),
        ("25 & 7/8 inches", F("657.225")),
        ("25 in 7/8", F("657.225")),
        ('25" and 7/8', F("657.225")),
        ("25 7/8.", F("657.225")),
        ("25 and seven eighths", F("657.225")),
        ("25 and a half inches", F("647.7")),
        ("an eighth", F("3.175")),
        ("half an inch", F("12.7")),
        ("three-sixteenths of an inch", F("4.7625")),
        ("5 thirty-seconds", F("3.96875")),
        ("six feet two", F("1879.6")),
        ("6 feet and 2 inches", F("1879.6")),
    ],
)
def test_a_length_is_read_exactly(text: str, mm: F) -> None:
    assert read_length(text, "in") == mm


@pytest.mark.parametrize(
    ("text", "mm"),
    [("2032", F(2032)), ("0.5", F(1, 2)), ("203,2", F("203.2")), ("7/8 in", F("22.225"))],
)
def test_a_bare_number_means_the_unit_of_the_survey(text: str, mm: F) -> None:
    assert read_length(text, "mm") == mm


@pytest.mark.parametrize(
    ("text", "unit", "said"),
    [
        ("25 9/8", "in", "“25 9/8” comes to 1 or more"),
        ("25 8/8", "in", "comes to 1 or more"),
        ("9/8", "in", "comes to 1 or more"),
        ("25 7/0", "in", "has a 0 at the bottom"),
        ("25 7/9", "in", "2, 4, 8, 16, 32 or 64 at the bottom"),
        ("25⅓", "in", "at the bottom"),
        ("1⅓2", "in", "more than one number"),
        ("7/8 mm", "mm", "2, 4, 5 or 10 at the bottom"),
        ("7/8", "mm", "type the unit after “7/8”"),
        ("25.5 7/8", "in", "mixes a fraction with a decimal"),
        ("3 m 2 in", "in", "“3 m 2 in” mixes metric with"),
        ("6 ft 20 mm", "in", "mixes metric"),
        ("2 m 3 cm", "mm", "more than one number"),
        ("25 7 8", "in", "more than one number"),
        ("25 -7/8", "in", "more than one number"),
        ("25 - 7/8", "in", "no part of a length"),
        ("8 in 6 ft", "in", "more than one number"),
        ("6 ft 12 in", "in", "fewer than 12 inches"),
        ("6.5 ft 2 in", "in", "whole feet before the inches"),
        ("nan", "in", "No tool shows"),
        ("NaN mm", "in", "No tool shows"),
        ("inf", "in", "No tool shows"),
        ("-infinity", "in", "No tool shows"),
        ("∞", "in", "No tool shows"),
        ("1e9", "in", "with an e in it"),
        ("1E-3 mm", "in", "with an e in it"),
        ("", "in", "You typed nothing"),
        (" \x00\u200b ", "in", "You typed nothing"),
        ("5" * 61, "in", "too long"),
        ("some", "in", "no number in “some”"),
        ("twenty five", "in", "“twenty” is not a unit"),
        ("about", "in", "no number"),
        ("25 and 26", "in", "more than one number"),
        ("one hundred", "in", "no number"),
        ("two or three", "in", "“or” is not a unit"),
        ("just over 25", "in", "“just” is not a unit"),
        ("25 furlongs", "in", "“furlongs” is not a unit"),
        ("0x10", "in", "“x” is not a unit"),
        ("1_000", "in", "no part of a length"),
        ("25.", "in", "not a number"),
        ("25..5", "in", "not a number"),
        ("25⁷⁄₈", "in", "no part of a length"),
        ("-3", "in", "takes no plus or minus"),
        ("−1/16", "in", "takes no plus or minus"),
        ("+3", "in", "takes no plus or minus"),
        ("1/16 low", "in", "“low” is not a unit"),
        ("1,234", "in", "can be read two ways.* example 1.234 or 1234"),
        ("1,234 mm", "in", "can be read two ways"),
        ("12,345", "mm", "can be read two ways"),
        ("123,456 mm", "mm", "can be read two ways"),
        ("1,234.5 mm", "in", "marks between the thousands"),
        ("1,234,567", "mm", "marks between the thousands"),
        ("100001", "mm", "over 100 m"),
        ("100.1 m", "in", "over 100 m"),
        ("9" * 60, "in", "over 100 m"),
    ],
)
def test_a_slip_is_refused_with_its_own_sentence_and_an_example(
    text: str, unit: Unit, said: str
) -> None:
    with pytest.raises(Refused, match=said) as refusal:
        read_length(text, unit)
    assert "for example" in str(refusal.value)
    assert len(str(refusal.value)) < 140


def test_a_hundred_meters_is_still_read() -> None:
    assert read_length("100 m", "mm") == 100_000


@pytest.mark.parametrize(
    "text", ["x" * 10_000, "7/8 " * 2500, "½" * 10_000, " " * 9_999 + "9", "low" * 100_000]
)
def test_a_book_gets_one_short_sentence_at_once_and_is_not_echoed(text: str) -> None:
    with pytest.raises(Refused, match="too long") as refusal:
        read_length(text, "in", LOW_HIGH)
    assert len(str(refusal.value)) < 120


def test_an_escape_in_a_refused_text_does_not_reach_the_sentence() -> None:
    with pytest.raises(Refused) as refusal:
        read_length("5 \x1b[31m\u202efoo", "in")
    assert str(refusal.value).isprintable()


@pytest.mark.parametrize(
    ("text", "signs", "mm"),
    [
        ("-1/16", LOW_HIGH, -INCH / 16),
        ("−1/16 in", LOW_HIGH, -INCH / 16),
        ("- 1/16", LOW_HIGH, -INCH / 16),
        ("+1/16", LOW_HIGH, INCH / 16),
        ("1/16", LOW_HIGH, INCH / 16),
        ("1/16 low", LOW_HIGH, INCH / 16),
        ("1/16 High", LOW_HIGH, -INCH / 16),
        ("1.5 mm high", LOW_HIGH, F("-1.5")),
        ("1/8 past", ("past", "short"), INCH / 8),
        ("1/8 short", ("past", "short"), -INCH / 8),
        ("0", LOW_HIGH, F(0)),
        ("0 high", LOW_HIGH, F(0)),
        ("low 1/16", LOW_HIGH, INCH / 16),
        ("high by 1/16 in", LOW_HIGH, -INCH / 16),
        ("1/16 too high", LOW_HIGH, -INCH / 16),
        ("an eighth past", ("past", "short"), INCH / 8),
        ("about 1/8 to the left", ("right", "left"), -INCH / 8),
        ("flush", LOW_HIGH, F(0)),
        ("no gap", ("past", "short"), F(0)),
    ],
)
def test_a_side_word_or_a_sign_is_read_where_it_has_a_meaning(
    text: str, signs: Signs, mm: F
) -> None:
    assert read_length(text, "in", signs) == mm


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("-1/16 low", "Say which way only once: low or high"),
        ("1/16 below", "“below” is not a unit"),
        ("1/16 short", "“short” is not a unit"),
        ("low", "no number"),
        ("-", "no number"),
        ("--1/16", "no part of a length"),
    ],
)
def test_an_unclear_side_is_refused(text: str, said: str) -> None:
    with pytest.raises(Refused, match=said) as refusal:
        read_length(text, "in", LOW_HIGH)
    assert "1/16 low" in str(refusal.value)


def outcome(text: str, unit: Unit, signs: Signs) -> F | str:
    try:
        return read_length(text, unit, signs)
    except Refused as refusal:
        return str(refusal)


@given(st.text(max_size=70), st.sampled_from(["in", "mm"]), st.sampled_from([(), LOW_HIGH]))
def test_any_text_is_read_within_bounds_or_refused_in_clean_words(
    text: str, unit: Unit, signs: Signs
) -> None:
    result = outcome(text, unit, signs)
    if isinstance(result, str):
        assert result == clean(result)
        assert len(result) < 140
    else:
        assert abs(result) <= 100_000
        assert result >= 0 or signs


@given(st.text(alphabet="0123456789 /-.,'\"inftmc½⅞low", max_size=16))
def test_near_lengths_are_read_within_bounds_or_refused(text: str) -> None:
    result = outcome(text, "in", ())
    assert result.endswith(".") if isinstance(result, str) else 0 <= result <= 100_000
