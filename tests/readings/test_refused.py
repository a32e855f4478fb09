"""A refusal is one sentence, with an example where there is one."""

from wizard.readings.refused import Refused


def test_a_refusal_is_a_value_error_that_reads_as_a_sentence() -> None:
    refusal = Refused("You typed nothing: type a length", "25 7/8 in")
    assert isinstance(refusal, ValueError)
    assert str(refusal) == "You typed nothing: type a length, for example 25 7/8 in."
    assert (refusal.said, refusal.like) == ("You typed nothing: type a length", "25 7/8 in")


def test_without_an_example_the_sentence_still_ends() -> None:
    assert str(Refused("That tool is not known")) == "That tool is not known."
