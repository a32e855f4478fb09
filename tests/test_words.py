"""Words that made people stop: none of them stands in content, code or README.

Beside each stands what a person says instead. Those of `tests/test_no_leave_to_drive.py` stand
there.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

import pytest

from tests.told import HOME, Told, of_code, of_content, sentences


class Stopper(NamedTuple):
    """A word or a phrase at which a reader stops."""

    pattern: str
    says: str
    """A sentence that has it, as it once stood or might have."""
    better: str
    """The same in plainer words."""

    def in_(self, sentence: str) -> str:
        """The word as a sentence has it; empty where it has none."""
        found = re.search(self.pattern, sentence, re.IGNORECASE)
        return found[0].lower() if found else ""


STOPPERS = (
    # Spelling and words of one country
    Stopper(r"\bcolour", "Different colour is nothing.", "A different color means nothing."),
    Stopper(r"\bgrey", "A grey crust.", "A gray crust."),
    Stopper(r"\bcentre|\bcentring", "The centre crossmember.", "The center crossmember."),
    Stopper(r"\b(milli|kilo)?metres?\b", "In millimetres.", "In millimeters."),
    Stopper(r"\bneighbour", "A neighbouring rivet.", "A neighboring rivet."),
    Stopper(r"\balumini", "Aluminium.", "Aluminum."),
    Stopper(r"\btyres?\b", "One soft tyre.", "One soft tire."),
    Stopper(r"\bbonnets?\b", "Shut the bonnet.", "Shut the hood."),
    Stopper(r"\bkerbs?\b", "A kerb.", "A curb."),
    Stopper(r"\bdraughts?\b", "A draught.", "A draft."),
    Stopper(r"\bcallipers?\b", "A calliper.", "A caliper."),
    Stopper(r"\bcastor\b", "More castor.", "More caster."),
    Stopper(r"\bearth (strap|lead)s?\b", "Undo the earth strap.", "Undo the ground strap."),
    Stopper(r"\bpetrol\b", "Petrol.", "Gasoline."),
    Stopper(r"\bunderseal", "A coat of underseal.", "Undercoating."),
    Stopper(r"\blaths?\b", "A straight lath.", "A straight strip of wood."),
    Stopper(r"\blagging\b", "Old lagging.", "Old wrapping."),
    Stopper(r"\b(from|left) the works\b", "A bead from the works.", "A weld from the factory."),
    Stopper(r"\bburnt\b", "Burnt holes.", "Burned holes."),
    Stopper(r"\bhalf way\b", "Half way down.", "Halfway down."),
    Stopper(r"\b(to|after|for)wards\b(?<!forwards)", "Towards age.", "Toward age."),
    Stopper(r"\bwhilst\b|\bamongst\b", "Whilst you read.", "While you read."),
    Stopper(
        r"\b(turn(ed|ing)?( it| the level)?|all( the way)?|walk|go|gone|looked) round\b"
        r"|\bround (the|it|its|each|every|web|any)\b",
        "Turn it round; oil round each head; look all round.",
        "Turn it around; oil around each head; look all around.",
    ),
    # One word for one thing
    Stopper(
        r"\b(the|these|those|all|six|few|some|many|more|other|two more|both left) tapes\b"
        r"|\btapes (contradict|disagree|agree|lie|that)\b",
        "Some tapes contradict one another.",
        "Some measurements cannot all be right.",
    ),
    Stopper(
        r"\b(steel|plain|which|same tape,|string or|tape,) rule\b|\brule (upright|beside|and string)"
        r"|\bslide a rule\b|\bunder the rule\b|\bgood as a rule\b",
        "A steel rule.",
        "A steel ruler.",
    ),
    Stopper(r"\bset(ting)? (it |that |this )?down\b", "Set down what you see.", "Write it down."),
    Stopper(r"\bnoughts?\b", "It reads nought.", "It is straight."),
    Stopper(r"\bmade so\b", "It may be made so.", "It may be from the maker."),
    Stopper(r"\bwitness(es)?\b", "This witness is missing.", "This clue is missing."),
    Stopper(r"\bold crease\b", "A ripple or old crease.", "A kink: a sharp bend or crease."),
    Stopper(r"\bbent sharp\b", "Bent sharp, not round.", "A sharp bend or crease."),
    Stopper(r"\bpacking\b", "Packing under the body.", "Shims under the body."),
    # As a person would say it aloud
    Stopper(r"\baskew\b", "The axle stands askew.", "The axle is out of square."),
    Stopper(r"\banew\b|\bafresh\b", "Take it up anew.", "Start again."),
    Stopper(r"\breckon", "Every result reckons with it.", "Every result allows for that."),
    Stopper(
        r"\b(held|hold it|holds? them|holds? each \w+) against\b",
        "Held against the front, it is higher.",
        "Compared with the front, it is higher.",
    ),
    Stopper(r"\bcontradict\b", "They contradict each other.", "They cannot all be right."),
    Stopper(r"\bcannot tell yet\b", "Cannot tell yet.", "Not known yet."),
    Stopper(r"\bto settle it\b", "To settle it, read again.", "To find out, read again."),
    Stopper(r"\bit is not so\b", "You looked, and it is not so.", "You looked and found none."),
    Stopper(r"\bnothing to do at\b", "Nothing to do at: boxes.", "Nothing needs doing here."),
    Stopper(r"\bwants? (putting right|to be)\b", "It wants putting right.", "Put it right."),
    Stopper(
        r"\bthe joints come (first|before)\b", "The joints come first.", "Do the joints first."
    ),
    Stopper(r"\bnot the frame's\b", "They are not the frame's.", "You cannot trust them yet."),
    Stopper(r"\bfolded once\b", "It has folded once.", "It was once folded."),
    Stopper(r"\ba hint, no more\b", "A hint, no more.", "It is only a hint."),
    Stopper(r"\bno number means\b", "No number means anything.", "Measurements mean nothing."),
    Stopper(r"\bonly like\b", "Only like can be held so.", "You can only compare like with like."),
    Stopper(r"\bnothing after it\b", "A number with nothing after it.", "Only a number."),
    Stopper(r"\bat the least\b", "How old at the least?", "At least how old?"),
    Stopper(
        r"\bdates? a sag\b", "A hood that fits dates a sag.", "The sag is older than the hood."
    ),
    Stopper(
        r"\bthat is not there\b.*\bdraw|\bdraw a twist\b", "They draw a twist.", "They show it."
    ),
    Stopper(r"\btwice alike\b|\bread alike\b|\breads alike\b", "Twice alike.", "The same twice."),
    Stopper(r"\bhas no paint to tell\b", "It has no paint to tell.", "No paint left?"),
    Stopper(r"\bis not no\b", "No crack seen is not no crack.", "You can miss a crack."),
    Stopper(r"\bdoes not prove whole\b", "Tight does not prove whole.", "It can be cracked."),
    Stopper(r"\bshape is something\b", "Different shape is something.", "A different shape does."),
    Stopper(r"\bwould tell[.:]", "Two more would tell.", "To find out, read it twice more."),
    Stopper(r"\bruns? like a dog\b", "It runs like a dog.", "It runs crooked."),
)
"""In the order of the list that they come from."""

ALLOWED: dict[tuple[str, str], str] = {
    ("content/cautions.toml", "petrol"): "the title of a source",
    ("content/exposures.toml", "petrol"): "what somebody may write on a page",
    ("content/exposures.toml", "all round"): "what somebody may write on a page",
    ("content/steps/about-the-car.toml", "millimetres"): "what somebody may type",
    ("content/steps/stacked-shims.toml", "packing"): "an id, which stays",
}
"""Files that have one all the same, and which, each with its reason."""
ABROAD = re.compile(r"In Britain: [\w ]+")
"""The glossary gives the other country's word once."""
ALONE = re.compile(r"[\w{}.\[\]-]+")
"""A single word: an id, a key or what somebody types, and no sentence."""

NOT_YET: tuple[str, ...] = ()
"""Files that are not mended yet."""


def stopped(told: Iterable[Told]) -> list[tuple[str, str, str, str]]:
    """Where, which word, the sentence, and what is said instead."""
    found = []
    for where, sentence in dict.fromkeys(told):
        said = ABROAD.sub("", sentence)
        if not ALONE.fullmatch(said):
            found += [
                (where, word, said, one.better) for one in STOPPERS if (word := one.in_(said))
            ]
    return found


def refused(told: Iterable[Told]) -> list[tuple[str, str, str, str]]:
    """What nothing excuses."""
    found = stopped(told)
    return [row for row in found if row[0] not in NOT_YET and row[:2] not in ALLOWED]


def readme() -> tuple[Told, ...]:
    """The sentences of the README."""
    text = (HOME / "README.md").read_text(encoding="utf-8")
    return tuple(("README.md", s) for part in text.split("\n\n") for s in sentences(part))


def everything() -> tuple[Told, ...]:
    """Content, code and README."""
    return (*of_content(), *of_code(), *readme())


def test_content_code_and_readme_are_free_of_them() -> None:
    assert refused(everything()) == []


@pytest.mark.parametrize("one", STOPPERS, ids=lambda one: one.pattern)
def test_each_is_found_where_it_stands_and_not_in_what_is_said_instead(one: Stopper) -> None:
    assert one.in_(one.says)
    assert [other.pattern for other in STOPPERS if other.in_(one.better)] == []


def test_nothing_is_excused_that_is_no_longer_said() -> None:
    found = {row[:2] for row in stopped(everything())}
    assert [row for row in ALLOWED if row not in found] == []
    assert sorted(set(NOT_YET) - {where for where, _ in found}) == []


def test_the_other_country_s_word_stands_in_the_glossary_once() -> None:
    text = (HOME / "content" / "glossary.toml").read_text(encoding="utf-8")
    for word in ("bonnet", "wing", "tyre", "chassis"):
        assert len(re.findall(rf"In Britain: {word}\b", text)) == 1, word
