"""A file that holds what can be no frame: it opens, says so, leaves it out, and lets it be struck
and put back.
"""

import subprocess
import sys
from datetime import datetime
from pathlib import Path

import pytest

from tests.sitting.driving import BEGUN, READ, Driver
from tests.told import says
from wizard.command import main
from wizard.library import load_library
from wizard.library.places import PromptId
from wizard.sitting.words import first_words
from wizard.survey.file import load
from wizard.survey.rows import Answer, PointNote, Reading, Size
from wizard.telling.left_out import left_out, left_out_sentence

BAD = """
[[size]]
id = "z900"
name = "{name}"
typed = "{typed}"
"""
SIZES = (
    ("rail_depth", "4 mm"),
    ("rail_flange", "2 mm"),
    ("rail_thickness", "2 in"),
    ("rod", "0 mm"),
    ("track", "0 mm"),
    ("wheelbase", "-3"),
)
ROOT = Path(__file__).parents[2]
SAMPLE = ROOT / "sample_sessions" / "bramble-2026-04-11.toml"


def _bad(folder: Path, more: str, name: str = "s.toml") -> Path:
    path = folder / name
    path.write_text(SAMPLE.read_text(encoding="utf-8") + more, encoding="utf-8")
    return path


@pytest.mark.parametrize(("name", "typed"), SIZES)
@pytest.mark.parametrize(
    "command", ["tell", "tell --mentor", "tell --json", "report", "model", "ask", "sheet"]
)
def test_every_command_opens_it(
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
    command: str,
    name: str,
    typed: str,
) -> None:
    path = _bad(tmp_path, BAD.format(name=name, typed=typed))
    word, *rest = command.split()
    with open("/dev/null") as nothing:
        monkeypatch.setattr("sys.stdin", nothing)
        assert main([word, str(path), *rest]) == 0
    out = capsys.readouterr()
    assert out.err == ""
    if word in ("tell", "report"):
        assert "z900" in out.out


def test_it_says_so_in_one_sentence_and_the_survey_goes_on(tmp_path: Path) -> None:
    driver = Driver(tmp_path, path=_bad(tmp_path, BAD.format(name="rail_depth", typed="4 mm")))
    said = first_words(driver.sitting)
    assert says(said, "“rail depth: 4 mm” … is left out … /readings … . You stopped")
    driver.run("/verdict", "/remark still here")


def test_the_screen_says_so_too_and_loads_no_math_for_it(tmp_path: Path) -> None:
    path = _bad(tmp_path, BAD.format(name="rail_depth", typed="4 mm"))
    look = (
        "import sys; from pathlib import Path; from wizard.screens.desk import Desk\n"
        "desk = Desk(None, Path(sys.argv[1]).parent); desk.open(Path(sys.argv[1]))\n"
        "print(desk.said.says, 'numpy' in sys.modules)"
    )
    done = subprocess.run(
        [sys.executable, "-c", look, str(path)],
        capture_output=True,
        text=True,
        cwd=ROOT,
        check=True,
    )
    assert says(done.stdout, "“rail depth: 4 mm” … is left out … /readings")
    assert done.stdout.endswith("False\n")


def test_two_bad_rows_are_counted(tmp_path: Path) -> None:
    more = BAD.format(name="rail_depth", typed="4 mm") + BAD.format(name="rod", typed="0").replace(
        "z900", "z901"
    )
    survey = load(_bad(tmp_path, more))
    said = left_out_sentence(survey, load_library())
    assert says(said, "“rail depth: 4 mm” and 1 more … are left out … /readings")
    assert ". " not in said


@pytest.mark.parametrize(
    ("more", "id"),
    [
        ('[[tool]]\nid = "t900"\nkind = "tape"\nclass = "IX"\n', "t900"),
        ('[[limit]]\nid = "l900"\nlimit = "twist"\nband = "watch"\nupto = "plenty"\n', "l900"),
        ('[[limit]]\nid = "l900"\nlimit = "twist"\nband = "watch"\nupto = "-3 mm"\n', "l900"),
        ('[[limit]]\nid = "l900"\nlimit = "twist"\nband = "watch"\nupto = "10 %"\n', "l900"),
        ('[[limit]]\nid = "l900"\nlimit = "twist"\nband = "never"\nupto = "3 mm"\n', "l900"),
        (
            '[[place]]\nid = "w900"\nuse = "tape"\nplace = "own-x"\nname = "x"\nbehind = "90 m"\n',
            "w900",
        ),
        ('[[reading]]\nid = "r900"\nprompt = "level/rear/as-set"\ntyped = "ninety"\n', "r900"),
        ('[[reading]]\nid = "r900"\nprompt = "no/such"\ntyped = "1"\n', "r900"),
    ],
)
def test_whatever_cannot_be_used_is_named_by_tell(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], more: str, id: str
) -> None:
    path = _bad(tmp_path, more)
    assert [found.row.id for found in left_out(load(path), load_library())] == [id]
    assert main(["tell", str(path)]) == 0
    told = (
        capsys.readouterr()
        .out.split("Left out because it cannot be used")[1]
        .split("Every finding")[0]
    )
    assert f"- {id}  " in told


def test_a_sound_file_has_nothing_left_out(capsys: pytest.CaptureFixture[str]) -> None:
    assert left_out(load(SAMPLE), load_library()) == ()
    assert main(["tell", str(SAMPLE)]) == 0
    assert "Left out" not in capsys.readouterr().out


# /readings ----------------------------------------------------------------------------------------
# --------------


def test_readings_lists_all_by_page_and_marks_what_is_bad(tmp_path: Path) -> None:
    more = BAD.format(name="rail_depth", typed="4 mm")
    more += '[[reading]]\nid = "r901"\nprompt = "level/rear/as-set"\ntyped = "ninety"\n'
    driver = Driver(tmp_path, path=_bad(tmp_path, more))
    reply = driver.say("/readings")
    assert (reply.kind, reply.title) == ("told", "What you wrote down")
    flat = " ".join(reply.says.split())
    assert "z900 rail depth: 4 mm (cannot be used: " in flat
    assert "r901 ninety (cannot be used: " in flat
    assert flat.index("Sizes of this frame") > flat.index("Twist")
    pages = [
        f"{n}. {p.step.title}"
        for n, p in enumerate(driver.sitting.walk(), start=1)
        if any(driver.survey.readings_of(q.id) for q in p.prompts)
    ]
    assert len(pages) > 5
    assert [title for title in pages if f"\n{title}\n" not in f"\n{reply.says}\n"] == []
    assert all(r.typed in reply.says for r in driver.survey.standing(Reading))


def test_readings_has_a_way_to_each_page_and_the_number_of_each_reading(tmp_path: Path) -> None:
    driver = Driver(tmp_path, path=_bad(tmp_path, ""))
    said = driver.say("/readings").says
    number, title = next(
        line.split(". ", 1) for line in said.splitlines() if line.endswith("The widths")
    )
    driver.say(f"/go {number}")
    assert driver.sitting.step is not None
    assert driver.sitting.step.title == title
    flat = " ".join(said.split())
    assert all(f"{r.id}" in flat for r in driver.survey.standing(Reading) if _on_a_page(driver, r))


def test_readings_marks_the_reading_that_is_left_out_of_the_mean(driver: Driver) -> None:
    driver.run(*BEGUN, "/go long-diagonals", READ)
    prompt = driver.at
    for typed in ("96", "96 1/16", "100!"):
        while driver.at != prompt:
            driver.run("/back")
        driver.run(typed)
    slip = driver.survey.readings_of(PromptId(prompt))[-1]
    assert slip.typed == "100"
    flat = " ".join(driver.say("/readings").says.split())
    assert f"{slip.id} 100 (not used)" in flat
    assert flat.count("not used") == 1


def _on_a_page(driver: Driver, row: Reading) -> bool:
    return any(p.id == row.prompt for page in driver.sitting.pages() for p in page.prompts)


def test_readings_of_nothing(driver: Driver) -> None:
    assert driver.say("/readings").says == "You have written nothing down yet."


def test_readings_hide_the_first_readers_from_the_second(driver: Driver) -> None:
    driver.run(*BEGUN, "/go sag-loaded", READ, "17/32", "/back", "/second")
    reply = driver.say("/readings")
    assert "17/32" not in reply.says


def test_readings_hide_the_drill_until_it_is_in(driver: Driver) -> None:
    driver.run(*BEGUN, "/go your-hand", READ)
    assert driver.at.startswith("your-hand")
    driver.run("25 11/16")
    assert "25 11/16" not in driver.say("/readings").says


# Struck and undone
# ----------------------------------------------------------------------------------------------


def test_a_bad_row_is_struck_by_its_number_and_put_back(tmp_path: Path) -> None:
    driver = Driver(tmp_path, path=_bad(tmp_path, BAD.format(name="rail_depth", typed="4 mm")))
    reply = driver.say("/strike z900 slip of the unit!")
    assert says(reply.says, "Struck: rail depth 4 mm. … stays in the file")
    assert [z.struck for z in driver.saved.table(Size) if z.id == "z900"] == ["slip of the unit"]
    assert left_out(driver.saved, load_library()) == ()
    assert driver.say("/undo").says == "Undone: rail depth 4 mm stands again."
    assert [z.struck for z in driver.saved.table(Size) if z.id == "z900"] == [""]


def test_undo_takes_the_bad_size_out_too(tmp_path: Path) -> None:
    driver = Driver(
        tmp_path,
        path=_bad(tmp_path, BAD.format(name="rail_depth", typed="4 mm").replace("z900", "z99999")),
    )
    driver.run("/undo")
    assert left_out(driver.saved, load_library()) == ()


def test_a_bad_tool_is_struck_and_put_back(tmp_path: Path) -> None:
    path = _bad(tmp_path, '[[tool]]\nid = "t900"\nkind = "tape"\nclass = "IX"\n')
    driver = Driver(tmp_path, path=path)
    driver.run("/strike t900!")
    assert driver.survey.tool("tape").id != "t900"  # type: ignore[union-attr]
    driver.run("/undo")
    assert driver.survey.tool("tape").id == "t900"  # type: ignore[union-attr]
    assert driver.clock() == datetime(2026, 4, 11, 9, 0)


# Taken back whole
# -----------------------------------------------------------------------------------------------


def test_a_struck_answer_comes_back_with_the_tool_it_brought(driver: Driver) -> None:
    driver.run(*BEGUN, "/go Which tape?", "o", "m")
    before = driver.survey.tool("tape")
    answer = [a.id for a in driver.survey.standing(Answer) if a.keeps == "tool.tape"][-1]
    driver.run(f"/strike {answer}!")
    assert driver.survey.tool("tape") is None
    driver.run("/undo")
    assert driver.survey.tool("tape") == before
    assert driver.saved.answer_to("tools/tape") == "ordinary-tape"


def test_two_things_seen_and_struck_come_back_together(driver: Driver) -> None:
    driver.run(*BEGUN, "/go rail-tops", READ, "b t")
    prompt = driver.at
    letters = [c.letter for c in driver.sitting.prompt.choices if c.token != "nothing-found"][:2]  # type: ignore[union-attr]
    driver.run(f"b {' '.join(letters)}", "/strike !")
    assert driver.survey.looks_at(prompt) == ()
    driver.run("/undo")
    assert len(driver.saved.looks_at(prompt)) == 2


def test_a_point_described_anew_gets_its_old_words_back(driver: Driver) -> None:
    driver.run(
        *BEGUN, "/point front-left punch dot, photo 7", "/point front-left bolt head", "/undo"
    )
    assert [(n.mark, n.photo) for n in driver.saved.standing(PointNote)] == [("punch dot", "7")]
    driver.run("/undo")
    assert driver.saved.standing(PointNote) == ()


def test_a_skip_stands_again_once_the_answer_is_taken_back(driver: Driver) -> None:
    driver.run(*BEGUN, "/go sag-loaded", READ, "/skip lamp broke")
    driver.run("/back", "17/32", "/undo")
    assert driver.saved.skipped("sag-loaded/front-crossmember/left") == "lamp broke"


@pytest.mark.parametrize("number", ["z999", "r1", "a0"])
def test_a_number_that_there_is_not_strikes_nothing(driver: Driver, number: str) -> None:
    driver.run(*BEGUN)
    before = driver.survey
    assert driver.say(f"/strike {number}").kind == "refused"
    assert driver.survey is before
