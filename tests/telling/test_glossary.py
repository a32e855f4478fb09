"""F3: the words of a page are those that its author names, and every other that stands on it."""

from __future__ import annotations

from tests.checks.surveys import library
from wizard.telling.glossary import words_of, words_text

STEP = library().steps["wheelbase"]
LADDER = library().layouts["straight-ladder"]


def test_the_step_s_own_words_come_first() -> None:
    said = words_text(library(), LADDER, STEP).split("\n\n")
    assert [line.partition(":")[0] for line in said[: len(STEP.words)]] == list(STEP.words)


def test_a_word_that_stands_on_the_page_is_explained_though_nobody_named_it() -> None:
    bare = STEP._replace(words=(), how=("Poke at it with a scriber.",))
    assert "scriber" in [w.word for w in words_of(library(), LADDER, bare)]
    assert "scriber" not in [
        w.word for w in words_of(library(), LADDER, bare._replace(how=("Poke at it.",)))
    ]
    assert "rivet" in [
        w.word for w in words_of(library(), LADDER, bare._replace(spoils=("Two rivets alike.",)))
    ]
    assert "rivet" not in [
        w.word for w in words_of(library(), LADDER, bare._replace(spoils=("It is riveted.",)))
    ]


def test_an_everyday_word_is_left_out_but_where_it_is_named() -> None:
    said = STEP._replace(words=(), how=("Left rail first.",))
    assert not {"left", "rail"} & {w.word for w in words_of(library(), LADDER, said)}
    assert "rail" in [w.word for w in words_of(library(), LADDER, said._replace(words=("rail",)))]


def test_one_word_a_part_of_one_and_all_words() -> None:
    assert words_text(library(), LADDER, STEP, " Sag ").startswith("sag: ")
    assert "string line: " in words_text(library(), LADDER, None, "string")
    assert words_text(library(), LADDER, None).count("\n\n") == len(library().words) - 1
    assert "not in the list" in words_text(library(), LADDER, STEP, "flux")


def test_the_words_that_made_first_timers_stop_are_in_the_list() -> None:
    for word, step in {
        "webbing": "rail-tops",
        "scriber": "inside-channel",
        "bell housing": "lift-engine",
        "pan": "lift-engine",
        "caliper": "pitting",
        "caster": "consequences",
    }.items():
        assert word in [w.word for w in words_of(library(), LADDER, library().steps[step])], word


def test_at_the_end_the_words_of_the_result_are_explained_and_not_the_whole_list() -> None:
    said = words_text(library(), LADDER, None, page="Look at SPINDLES, toe and caster.").split(
        "\n\n"
    )
    assert [line.partition(":")[0] for line in said] == ["caster", "spindle", "toe"]


def test_the_other_country_s_word_leads_to_ours() -> None:
    for word, ours in {
        "bonnet": "hood",
        "wing": "fender",
        "tyre": "tire",
        "Chassis": "frame",
    }.items():
        assert words_text(library(), LADDER, STEP, word).startswith(f"{ours}: "), word
