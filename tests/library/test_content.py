"""The program's own content: in order, and found beside the package or above it, never in the
working directory.
"""

import re
import tomllib
from pathlib import Path

import pytest

from wizard.library import load_library, paths
from wizard.library.fields import ContentError
from wizard.library.load import read_content
from wizard.library.paths import content_dir, samples_dir
from wizard.library.shapes import SEEN
from wizard.library.templates import misfit
from wizard.screens.page import choice_columns
from wizard.survey.prompts import expand

pytestmark = pytest.mark.quick


def test_the_content_has_no_fault() -> None:
    assert [str(f) for f in read_content(content_dir())[1]] == []


def test_every_file_of_the_folder_is_in_the_library() -> None:
    library, root = load_library(), content_dir()
    assert set(library.steps) == {p.stem for p in (root / "steps").glob("*.toml")}
    assert set(library.layouts) == {p.stem for p in (root / "layouts").glob("*.toml")}
    for name, ids in (
        ("limits", library.limits),
        ("cautions", library.cautions),
        ("tools", library.tools),
    ):
        rows = tomllib.loads((root / f"{name}.toml").read_text(encoding="utf-8"))[
            name.removesuffix("s")
        ]
        assert list(ids) == [r["id"] for r in rows]


def test_the_short_course_is_a_part_of_the_whole_one_and_reads_the_sag_before_the_lift() -> None:
    courses = load_library().courses
    assert set(courses["short"]) < set(courses["whole"])
    for course in courses.values():
        at = [
            course.index(i)
            for i in (
                "state",
                "tools",
                "string-set-up",
                "sag-loaded",
                "lift-engine",
                "sag-unloaded",
            )
        ]
        assert at == sorted(at)


def _sends_under_unsupported(course: tuple[str, ...]) -> list[str]:
    """Steps that come before the car is set up and yet send a person under it."""
    steps = load_library().steps
    before = course[: course.index("set-supports")]
    return [id for id in before if "under" in steps[id].exposes]


def test_nobody_is_sent_under_the_car_before_the_page_that_sets_it_up() -> None:
    courses = load_library().courses
    assert [id for course in courses.values() for id in _sends_under_unsupported(course)] == []
    whole = [id for id in courses["whole"] if id != "set-supports"]
    assert len(_sends_under_unsupported((*whole, "set-supports"))) > 10
    assert {"beside-lifted", "lifting", "rolling"} <= set(
        load_library().steps["set-supports"].exposes
    )


def test_what_sets_the_car_up_sends_nobody_under_it_and_ends_with_the_push_test() -> None:
    step = load_library().steps["set-supports"]
    assert "under" not in {*step.exposes, *(e for p in step.prompts for e in p.exposes)}
    for id in ("set-supports", "lift-engine", "lower-engine"):
        last = load_library().steps[id].prompts[-1]
        assert {c.stands for c in last.choices} >= {"still", "rocks"}, id


def test_what_only_a_car_that_is_together_shows_comes_before_it_is_lifted_and_in_the_short_course_too() -> (
    None
):
    courses = load_library().courses
    for name in ("whole", "short"):
        at = [
            courses[name].index(i)
            for i in ("consequences", "panel-gaps", "set-supports", "lift-engine")
        ]
        assert at == sorted(at), name
    assert courses["short"].index("pulley-hint") < courses["short"].index("lift-engine")


def test_every_why_and_how_fits_its_line() -> None:
    for step in load_library().steps.values():
        assert len(step.why) <= 77, step.id
        if step.id != "since-last-time":  # A page of words, with no drawing to make room for.
            assert [line for line in step.how if len(line) > 76] == [], step.id
        for one in step.worded:
            assert len(one.texts.get("why", "")) <= 77, step.id
            assert [line for line in one.texts.get("how", ()) if len(line) > 76] == [], step.id


def test_a_look_with_many_answers_shows_them_in_two_columns_so_that_its_moves_stay_in_sight() -> (
    None
):
    library = load_library()
    looks = [
        p for s in library.steps.values() for p in s.prompts if p.kind.looks and len(p.choices) > 6
    ]
    assert len(looks) > 8
    for prompt in looks:
        lines = [f"{c.letter}  {c.words}" for c in prompt.choices]
        assert len(choice_columns((*lines, "u  not sure"), 78)) == -(-(len(lines) + 1) // 2), lines[
            1
        ]


def test_every_step_says_how_it_is_spoiled_and_how_to_know_that_it_is_good() -> None:
    for step in load_library().steps.values():
        assert step.how, step.id
        assert step.spoils, step.id
        assert step.good, step.id


def test_every_look_can_say_that_nothing_was_found() -> None:
    for step in load_library().steps.values():
        for prompt in step.prompts:
            if prompt.kind.looks:
                assert "nothing-found" in {c.token for c in prompt.choices}, step.id
                assert not {c.letter for c in prompt.choices} & {*SEEN, "u"}, step.id


def test_every_caution_ends_with_the_local_rules() -> None:
    for caution in load_library().cautions.values():
        assert caution.lines[-1] == "Your local rules and a licensed professional come first."


def test_nothing_in_the_content_calls_a_car_safe() -> None:
    for path in content_dir().rglob("*.toml"):
        assert "safe to drive" not in path.read_text(encoding="utf-8").lower(), path.name


# Where it is found
# --------------------------------------------------------------------------------------------


def test_a_stray_folder_in_the_working_directory_is_not_the_content(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "content").mkdir()
    (tmp_path / "sample_sessions").mkdir()
    monkeypatch.chdir(tmp_path)
    assert tmp_path not in content_dir().parents
    assert tmp_path not in samples_dir().parents


def test_beside_the_package_comes_before_above_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "wizard"
    (tmp_path / "content").mkdir()
    package.mkdir()
    monkeypatch.setattr(paths, "PACKAGE", package)
    assert content_dir() == tmp_path / "content"
    (package / "content").mkdir()
    assert content_dir() == package / "content"


def test_an_installation_without_content_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(paths, "PACKAGE", tmp_path / "wizard")
    with pytest.raises(FileNotFoundError, match="install crosstape again"):
        content_dir()


def test_faulty_content_of_its_own_is_never_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.library.paths.content_dir", lambda: tmp_path)
    with pytest.raises(ContentError, match=r"tools\.toml: file: is missing; put it back"):
        load_library.__wrapped__()


def test_the_content_for_one_kind_of_frame_is_the_whole_content() -> None:
    assert load_library("x-braced") == load_library()


def test_how_near_a_mounting_counts_is_one_figure_wherever_it_is_said() -> None:
    """GOV.UK inspection manual, appendix A: within 30 cm of a mounting; a page that says so cites it."""
    library = load_library()
    far = re.compile(r"within (\d+) mm,? (?:\(|about )(\d+) in", re.IGNORECASE)
    lines = [(s.id, line) for s in library.steps.values() for line in s.how]
    lines += [(s.id, p.ask) for s in library.steps.values() for p in s.prompts]
    said = {id for id, line in lines if far.search(line)}
    texts = [line for _, line in lines] + [w.meaning for w in library.words.values()]
    texts += [text for q in library.quantities.values() for text in q.says.values()]
    assert len(said) > 8
    assert {m.groups() for text in texts for m in far.finditer(text)} == {("300", "12")}
    assert [id for id in sorted(said) if "GOV.UK" not in library.steps[id].source] == []


def test_no_two_answers_of_a_page_stand_under_one_name() -> None:
    """In the list of what was answered there would be no telling them apart."""
    library = load_library()
    for layout in library.layouts.values():
        for step in library.steps.values():
            names = [p.short or p.ask for p in expand(step, layout, library.tools)]
            assert len(set(names)) == len(names), (layout.id, step.id)


@pytest.mark.parametrize("kind", ["cruciform", "backbone"])
def test_where_a_frame_has_no_rails_its_pages_speak_of_none(kind: str) -> None:
    """Its questions name the sides, and the kind's own text and the first page below say what they are."""
    library = load_library()
    layout = library.layouts[kind]
    said = {}
    for step in (s.on(layout) for s in library.steps.values() if not misfit(s.needs, layout)):
        parts = (step.why, *step.how, *step.spoils, step.good, step.paper, step.alone)
        texts = (*parts, step.mentor, step.instead)
        found = [text for text in texts if re.search(r"\brails?\b", text, re.IGNORECASE)]
        said.update({step.id: found} if found else {})
    assert said == {}
    assert "what pages call the left side" in library.steps["left-rail"].on(layout).why
    assert "The left side is the box's left wall" in layout.about
