"""A frame of none of the kinds that there are: set up, kept beside the surveys, taken over, carried
along, sent to somebody else.
"""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from tests.sitting.driving import READ, Driver, files, likely
from tests.sitting.own_frame import BEFORE, FILE, LINES, PAGE, set_up
from wizard.command import main
from wizard.library import load_library
from wizard.library.fields import Fault
from wizard.library.shapes import Layout
from wizard.sitting.own_frames import read_in
from wizard.survey.built_frame import layout_in, layout_text
from wizard.survey.file import load, save
from wizard.survey.own_frame import base_of, carried, missing, same_kind
from wizard.survey.rows import Answer, OwnFrame
from wizard.telling.left_out import left_out, left_out_sentence
from wizard.telling.sheet import sheet_of
from wizard.telling.step_drawing import drawing_for

LIBRARY = load_library()
LAST = "string-to"


def released(driver: Driver) -> Path:
    """The sitting is over; its file."""
    assert driver.sitting.kept
    assert driver.sitting.path
    driver.sitting.kept.release()
    return driver.sitting.path


def picked(folder: Path) -> Driver:
    """The next survey, of which the frame was chosen by its name."""
    driver = Driver(folder).run("Bramble", "i")
    return driver.run("frame of bramble", "w", "o", "r")


# Set up -------------------------------------------------------------------------------------------


def test_a_frame_is_set_up_in_twenty_five_lines_and_is_a_layout(tmp_path: Path) -> None:
    driver = set_up(tmp_path)
    assert len(driver.typed[2:3] + driver.typed[6:]) <= 25, "the kind of frame, and the page"
    assert driver.at == "state/engine"
    layout = base_of(driver.survey, LIBRARY)
    assert [(p.id, p.name, round(p.x), round(2 * p.half_width), p.kind) for p in layout.places] == [
        ("tip", "horn tip", -432, 635, "hole"),
        ("front", "front", 0, 660, "rivet"),
        ("pair-2", "cowl", 965, 762, "hole"),
        ("center", "gearbox", 1575, 864, "bolt"),
        ("rear", "rear", 2565, 914, "rivet"),
    ]
    assert [b.id for b in layout.boxes] == ["whole", "front-box", "box-2", "rear-box", "horns"]
    assert [s.name for s in layout.stations] == [
        "spot 13 in from the front block",
        "rear engine mount",
        "cowl",
        "spot 52 in from the front block",
        "gearbox",
    ]
    assert [v.id for v in layout.levels] == ["horns", "front", "center", "rear"]
    assert layout.figures["wheelbase"] == pytest.approx(108 * 25.4)
    assert {"open-rails", "riveted"} < set(layout.traits)


def test_the_drawing_grows_with_each_pair(tmp_path: Path) -> None:
    driver, seen = Driver(tmp_path).run(*BEFORE), []
    while driver.at.startswith(PAGE):
        driver.run(LINES[driver.at.partition("/")[2]])
        prompt = driver.sitting.prompt
        assert prompt
        if prompt.step == PAGE:
            step = LIBRARY.steps[prompt.step]
            seen.append(drawing_for(driver.survey, LIBRARY, step, prompt, 76, 9, "ascii"))
    said = list(dict.fromkeys(d.words.partition("set up: ")[2] for d in seen))
    assert said == [
        "",
        "front.",
        "front, cowl.",
        "front, cowl, gearbox.",
        "front, cowl, gearbox, rear.",
        "front, cowl, gearbox, rear; the horns.",
        "front, cowl, gearbox, rear; the horns, the axles.",
    ]
    assert len({"\n".join(d.lines) for d in seen}) > 6
    assert "gearbox" in "\n".join(seen[-1].lines)


def test_the_names_of_the_pairs_stand_between_the_rails_and_on_none_of_them(
    tmp_path: Path,
) -> None:
    """In a low picture the rails lie close together, and a name beside one was written over it."""
    driver = Driver(tmp_path).run(*BEFORE)
    while driver.at != f"{PAGE}/string-to":
        driver.run(LINES[driver.at.partition("/")[2]])
    prompt = driver.sitting.prompt
    assert prompt
    drawn = drawing_for(driver.survey, LIBRARY, LIBRARY.steps[PAGE], prompt, 78, 7, "ascii")
    for name in ("front", "cowl", "gearbox", "rear"):
        (line,) = (line for line in drawn.lines if name in line.partition(" ")[2])
        assert "=" not in line, line


def test_back_and_undo_lead_to_the_line_before(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run(*BEFORE, "3", "front, hole", "26", "cowl, bolt", "40")
    assert driver.at == "my-points/across-2"
    driver.run("/undo")
    assert driver.at == "my-points/behind-2"
    driver.run("41", "/back")
    assert driver.at == "my-points/behind-2"
    driver.run("42")
    assert base_of(driver.survey, LIBRARY).places[1].x == pytest.approx(42 * 25.4)


def test_nothing_is_lost_where_it_is_cut_off(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run(*BEFORE, "4", "front, hole", "26", "cowl, bolt", "40", "30")
    again = driver.again()
    assert again.at == "my-points/name-3"
    assert [p.name for p in base_of(again.survey, LIBRARY).places][:2] == ["front", "cowl"]


@pytest.mark.parametrize(
    ("lines", "says"),
    [
        (("3", "front"), "Say what it is and which it has, rivet, hole, bolt or edge"),
        (("3", "a, rivet", "26", "a, bolt"), "Another pair is called a already"),
        (("3", "front, hole", "3 mm"), "Here a width is between"),
        (("4", "a, hole", "26", "b, hole", "40", "26", "c, hole", "42"), "must be at least"),
    ],
)
def test_what_no_frame_is_is_refused_at_once(
    tmp_path: Path, lines: tuple[str, ...], says: str
) -> None:
    driver = Driver(tmp_path).run(*BEFORE, *lines[:-1])
    reply = driver.say(lines[-1])
    assert (reply.kind, says in reply.says) == ("refused", True), reply


def test_nothing_is_read_before_it_is_set_up_and_it_stays_once_something_is(tmp_path: Path) -> None:
    driver = Driver(tmp_path).run(*BEFORE, "3", "front, hole", "26", "/go widths", READ)
    reply = driver.say("26")
    assert reply.kind == "refused"
    assert "“Pair 2: what is it?” is open. Type /go my-points first." in reply.says
    driver = set_up(tmp_path / "other")
    driver.run("/go widths", READ, "26", "/go my-points")
    driver.sitting.stand_before(driver.sitting.walk()[2].prompts[2].id)
    reply = driver.say("28")
    assert (reply.kind, reply.says[:32]) == ("refused", "You have written readings down a")


# Kept, taken over, carried along ------------------------------------------------------------------


def test_it_is_saved_beside_the_surveys_and_in_order(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    driver = set_up(tmp_path, {name: line for name, line in LINES.items() if name != LAST})
    assert files(tmp_path) == [FILE], "not before it is whole"
    said = driver.say(LINES[LAST]).says
    assert said == f"Set up, and saved as layouts/{FILE} for the next survey."
    assert files(tmp_path) == [FILE, "layouts"]
    path = tmp_path / "layouts" / FILE
    assert main(["content", str(path)]) == 0
    assert capsys.readouterr().out == (
        "The layout is in order: frame of Bramble, 4 pairs of points.\n"
    )
    found = read_in(path, LIBRARY)
    assert isinstance(found, Layout)
    assert layout_in(layout_text(found), LIBRARY) == found
    # What no reading tells of a kind is the program's own word: nobody else may write it.
    refused = layout_in('cannot = ["It may be driven."]\n' + layout_text(found), LIBRARY)
    assert isinstance(refused, Fault)
    assert refused.key == "cannot"
    assert "own-points" not in found.traits


def test_the_next_survey_offers_it_by_name_and_needs_no_file(tmp_path: Path) -> None:
    first = released(set_up(tmp_path))
    driver = picked(tmp_path)
    assert driver.at == "state/engine", "it is set up already"
    assert carried(driver.survey)
    path = released(driver)
    far = tmp_path / "far"
    far.mkdir()
    there = Driver(far, path=Path(shutil.copy(path, far)))
    assert there.at == "state/engine"
    there.run("/go widths", READ)
    assert there.sitting.prompt
    assert there.sitting.prompt.ask == "left front to right front"
    assert same_kind(load(first), there.survey, LIBRARY)
    assert not left_out(there.survey, LIBRARY)


def test_a_file_that_was_sent_is_offered_there(tmp_path: Path) -> None:
    released(set_up(tmp_path))
    theirs = tmp_path / "theirs"
    shutil.copytree(tmp_path / "layouts", theirs / "layouts")
    driver = Driver(theirs).run("Old Post", "m")
    assert driver.sitting.prompt
    more = [c.words for c in driver.sitting.prompt.choices if c.brings]
    assert more == ["frame of Bramble"]
    assert "frame of Bramble" in driver.say("/why").says


def test_undo_takes_back_what_was_chosen(tmp_path: Path) -> None:
    released(set_up(tmp_path))
    driver = Driver(tmp_path).run("Bramble", "i", "frame of bramble", "/undo", "s", "w", "o")
    assert driver.survey.layout == "straight-ladder"
    assert base_of(driver.again().survey, LIBRARY) is LIBRARY.layouts["straight-ladder"]
    [brought] = driver.saved.table(OwnFrame)
    assert brought.struck == "undone"  # nothing of it counts, and it stays in the file
    back = Driver(tmp_path).run("Old Post", "i", "frame of bramble", "/strike !", "/undo")
    assert [f.struck for f in back.saved.table(OwnFrame)] == [""]
    assert base_of(back.survey, LIBRARY).id == brought.layout


def test_a_recheck_has_the_same_frame(tmp_path: Path) -> None:
    driver = set_up(tmp_path)
    driver.run("/go widths", READ, "26")
    from wizard.sitting.recheck import start

    path = released(driver)
    again = Driver(tmp_path, path=start(path, LIBRARY, driver.clock(), tmp_path))
    assert same_kind(load(path), again.survey, LIBRARY)
    assert not missing(again.survey, LIBRARY)
    assert PAGE not in {p.step.id for p in again.sitting.walk() if p.asks and p.prompts == ()}
    released(again)
    of_carried = picked(tmp_path)
    of_carried.run("/go widths", READ, "26")
    path = released(of_carried)
    again = Driver(tmp_path, path=start(path, LIBRARY, driver.clock(), tmp_path))
    assert base_of(again.survey, LIBRARY) == base_of(of_carried.survey, LIBRARY)


def test_it_goes_on_paper(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = released(set_up(tmp_path))
    folder = ["--folder", str(tmp_path)]
    for asked in (["sheet", str(path)], ["sheet", "--layout", path.stem]):
        assert main([*folder, *asked]) == 0
        told = " ".join(capsys.readouterr().out.split())
        assert "left cowl to right cowl" in told
        assert "spot 52 in from the front block" in told
    assert main([*folder, "sheet", "--layout", "own-points"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "Pair 2: how far behind pair 1?" in told
    assert "left front to right rear" not in told, "its points have no names yet"


def test_its_page_is_filled_in_on_paper_and_typed_in(tmp_path: Path) -> None:
    asked_one_by_one = set_up(tmp_path / "one")
    met = {a.prompt for a in asked_one_by_one.survey.standing(Answer)}
    assert LIBRARY.own
    sheet = sheet_of(LIBRARY, LIBRARY.own.id)
    boxes = [box.ask.prompt for step in sheet.steps if step.id == PAGE for box in step.boxes]
    driver = Driver(tmp_path / "typed").run(*BEFORE)
    for prompt in boxes:
        if prompt.id in met:  # a box of a pair that there is not stays empty
            driver.run(LINES[prompt.name])
    assert not driver.at.startswith(PAGE)
    assert base_of(driver.survey, LIBRARY) == base_of(asked_one_by_one.survey, LIBRARY)


# From a file that was made to harm ----------------------------------------------------------------

HARM = {
    "no-toml": "x = [",
    "not-a-layout": "format = 1",
    "deep": "x = " + "[" * 5000 + "]" * 5000,
    "far": layout_text(LIBRARY.layouts["straight-ladder"]).replace("x = 1000", "x = 1e300"),
    "twice": layout_text(LIBRARY.layouts["straight-ladder"]).replace('"center"', '"front"'),
    "braces": layout_text(LIBRARY.layouts["straight-ladder"]).replace(
        'name = "center"', 'name = "{side.__class__}"'
    ),
    "one-place": layout_text(LIBRARY.layouts["straight-ladder"]).replace("x = 2200", "x = 1000"),
    "no-box": layout_text(LIBRARY.layouts["straight-ladder"]).replace('"rear-box"', '"box"'),
    "nan": layout_text(LIBRARY.layouts["straight-ladder"]).replace("x = 1000", "x = nan"),
    "long": "#" * 100_000,
}


@pytest.mark.parametrize("harm", HARM)
def test_a_hostile_layout_is_one_sentence_and_the_survey_opens(
    tmp_path: Path, harm: str, capsys: pytest.CaptureFixture[str]
) -> None:
    released(set_up(tmp_path))
    path = released(picked(tmp_path))
    survey = load(path)
    row = carried(survey)
    assert row
    bad = OwnFrame(id=row.id, layout=row.layout, text=HARM[harm])
    save(path, survey.with_replaced(bad))
    driver = Driver(tmp_path, path=path)
    said = left_out_sentence(driver.survey, LIBRARY)
    assert said.startswith(f"“the kind of frame {row.layout}” cannot be used")
    assert "cannot be used" in left_out(driver.survey, LIBRARY)[0].why
    assert driver.at == "my-points/pairs", "it can be set up anew"
    driver.run("/readings", "3")
    released(driver)
    assert main(["tell", str(path)]) == 0
    assert capsys.readouterr().out


@pytest.mark.parametrize("harm", HARM)
def test_a_hostile_file_is_not_offered_and_says_why(
    tmp_path: Path, harm: str, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "layouts").mkdir()
    path = tmp_path / "layouts" / "theirs.toml"
    path.write_text(HARM[harm], encoding="utf-8")
    driver = Driver(tmp_path).run("Bramble", "i")
    assert driver.sitting.prompt
    assert not [c for c in driver.sitting.prompt.choices if c.brings]
    assert main(["content", str(path)]) == 1
    assert capsys.readouterr().out.startswith("theirs.toml: ")


def test_strange_answers_in_a_file_leave_a_frame_that_can_be(tmp_path: Path) -> None:
    path = released(set_up(tmp_path))
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace('"62 in"', '"1e9 mm"').replace('"84 in"', '"-3"'))
    driver = Driver(tmp_path, path=path)
    assert missing(driver.survey, LIBRARY) == "frame.behind-3"
    assert base_of(driver.survey, LIBRARY).places
    assert likely(driver.sitting.prompt) if driver.sitting.prompt else True
