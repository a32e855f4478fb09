"""The words after a slash that tell something or note something, and leave the question where it
is.
"""

from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver, finished
from tests.told import says
from wizard.sitting.commands import COMMANDS
from wizard.sitting.words import taken_words
from wizard.survey.rows import Remark

STRING = ("/go sag-loaded", READ)


@pytest.fixture
def begun(driver: Driver) -> Driver:
    return driver.run(*BEGUN, "i", "l", *STRING)


def test_a_remark_and_a_photo_belong_to_the_question_in_front(begun: Driver) -> None:
    begun.run("/remark left rivet worn", "/photo 112")
    rows = [(r.prompt, r.text, r.photo) for r in begun.saved.table(Remark)]
    assert rows == [
        ("sag-loaded/front-crossmember/left", "left rivet worn", ""),
        ("sag-loaded/front-crossmember/left", "", "112"),
    ]
    assert begun.at == "sag-loaded/front-crossmember/left"


@pytest.mark.parametrize("line", ["/photo", "/photo   "])
def test_a_photo_of_nothing_lists_those_that_every_record_needs(begun: Driver, line: str) -> None:
    begun.run("/photo 31 left front corner", "/photo right-front 32", "/photo car as it stands")
    reply = begun.say(line)
    assert reply.kind == "told"
    assert "Left front corner" in reply.says
    assert reply.says.count("Noted: ") == 3
    assert reply.says.count("Not noted yet.") == 5
    rows = [(r.photo, r.shows) for r in begun.saved.standing(Remark)]
    assert rows == [
        ("31", "left-front"),
        ("32", "right-front"),
        ("car-as-it-stands", "car"),
    ]


@pytest.mark.parametrize("line", ["/remark", "/remark   "])
def test_a_remark_of_nothing(begun: Driver, line: str) -> None:
    assert begun.say(line).kind == "refused"
    assert begun.saved.table(Remark) == ()


@pytest.mark.parametrize(
    ("line", "title", "says"),
    [
        ("/why", "Why this matters", "Read this before the engine leaves"),
        ("/spoils", "What spoils it", "Paint or dirt"),
        ("/words", "What the words mean", "sag: "),
        ("/words crown", "What the words mean", "crown: "),
        ("/words zebra", "What the words mean", "not in the list"),
        ("/trail", "Where you are", "left out for this car as it stands"),
        ("/verdict", "The answer", ""),
        ("/help", "What you can type", "/undo"),
        ("/WHY", "Why this matters", "engine leaves"),
    ],
)
def test_what_can_be_asked_at_any_question(begun: Driver, line: str, title: str, says: str) -> None:
    before = begun.survey, begun.sitting.ask
    reply = begun.say(line)
    assert (reply.kind, reply.title) == ("told", title)
    assert says in reply.says
    assert (begun.survey, begun.sitting.ask) == before


def test_help_lists_every_word(begun: Driver) -> None:
    told = begun.say("/help").says
    assert all(f"/{c.word} " in told for c in COMMANDS)


@pytest.mark.parametrize("line", ["/", "/ why", "/whyy", "/\x1b[2J", "/" + "x" * 5000, "/é"])
def test_a_word_that_is_none(begun: Driver, line: str) -> None:
    reply = begun.say(line)
    assert reply.kind == "refused"
    assert len(reply.says) < 120
    assert reply.says.isprintable()


def test_quit_says_where_it_is_saved(
    driver: Driver, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert driver.say("/quit").says == "You wrote nothing down yet."
    path = tmp_path / "bramble-2026-04-11.toml"
    assert (
        driver.run("Bramble").say("/quit").says
        == f"Saved in {path}. Start Crosstape again to go on."
    )
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert says(driver.say("/quit").says, "Saved in ~/bramble-2026-04-11.toml. … again … to go on")

    def homeless() -> Path:
        raise RuntimeError

    monkeypatch.setattr(Path, "home", homeless)
    assert driver.say("/quit").says == f"Saved in {path}. Start Crosstape again to go on."


@pytest.mark.parametrize("word", ["why", "spoils", "skip x", "next"])
def test_words_at_the_end(tmp_path: Path, word: str) -> None:
    driver = finished(tmp_path)
    assert driver.say(f"/{word}").kind == "ended"
    assert driver.say("anything").kind == "refused"  # nothing asks for it, so it is not taken


def test_what_was_seen_is_said_back_in_words(driver: Driver) -> None:
    driver.run(*BEGUN, "/go rail-tops", READ, "b t")
    prompt = driver.sitting.prompt
    assert prompt is not None
    assert prompt.kind.looks
    letter = next(c for c in prompt.choices if not c.nothing)
    driver.run(f"b {letter.letter}")
    said = taken_words(f"b {letter.letter}", prompt, driver.survey)
    assert said.endswith(f"{letter.words} (bare).")


def test_a_word_that_says_twice_how_it_was_seen_is_no_row_of_letters(driver: Driver) -> None:
    """b, e, n and t are letters there; bent is a word, and may be a curve or a kink."""
    driver.run(*BEGUN, "/go horn-welds", READ, "b h")
    assert driver.at == "horn-welds/left"
    assert "“bent” is not an answer here" in driver.say("b bent").says
    assert driver.say("b gi").kind == "taken"
