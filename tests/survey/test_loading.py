"""Reading a file: whole or not at all, one sentence for what cannot be read, and never a byte
changed.
"""

import os
import re
from pathlib import Path

import pytest

from tests.survey.asking import one_sentence
from wizard.library.paths import samples_dir
from wizard.survey import file
from wizard.survey.file import TOO_LARGE, load, read, written
from wizard.survey.rows import Reading
from wizard.survey.toml import Unreadable

SAMPLES = sorted(samples_dir().glob("*.toml"))
GOOD = 'format = 1\n[survey]\ncar = "Bramble"\n[[reading]]\nid = "r1"\ntyped = "91 1/8"\n'
BROKEN: dict[str, bytes] = {
    "empty": b"",
    "not-toml": b"25 7/8 in, 91 1/8 in",
    "cut-off": GOOD.encode()[:-3],
    "not-utf8": GOOD.encode() + b'name = "\xff\xfe"\n',
    "utf16": GOOD.encode("utf-16"),
    "nul": GOOD.encode() + b"\x00",
    "nul-in-text": b'format = 1\n[survey]\ncar = "a\x00b"\n',
    "escape-in-key": b'format = 1\n"\x1b[2J" = 1\n',
    "newer": b"format = 3\n",
    "no-format": b'[survey]\ncar = "Bramble"\n',
    "deep-array": b"format = 1\nx = " + b"[" * 20_000,
    "deep-table": b"format = 1\nx = " + b"{a=" * 20_000,
    "deep-key": b"format = 1\n" + b".".join([b"a"] * 1500) + b" = 1\n",
    "long-int": b"format = 1\nx = " + b"9" * 5000 + b"\n",
    "long-hex": b"format = 1\nx = 0x" + b"f" * 5000 + b"\n",
    "long-id": b"format = 1\n[[reading]]\nid = 0x" + b"f" * 5000 + b"\n",
    "twice": b"format = 1\nformat = 1\n",
    "bool-typed": b"format = 1\n[[reading]]\ntyped = true\n",
    "surrogate": b'format = 1\nx = "\\ud800"\n',
}


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_file_gives_one_sentence_with_its_name(tmp_path: Path, name: str) -> None:
    path = tmp_path / f"{name}.toml"
    path.write_bytes(BROKEN[name])
    with pytest.raises(Unreadable) as refused:
        load(path)
    assert f"{name}.toml" in str(refused.value)
    assert one_sentence(str(refused.value)), str(refused.value)
    assert path.read_bytes() == BROKEN[name]
    assert os.listdir(tmp_path) == [path.name]


@pytest.mark.parametrize(
    "data",
    [
        GOOD.encode(),
        b"\xef\xbb\xbf" + GOOD.encode(),
        GOOD.replace("\n", "\r\n").encode(),
        GOOD.replace("\n", "\r").encode(),
        GOOD.encode() + b"x = nan\ny = inf\n",
        GOOD.encode() + b"x = " + b"9" * 4000 + b"\n",
        GOOD.encode() + b"x = " + b"[" * 60 + b"]" * 60 + b"\n",
    ],
    ids=["plain", "bom", "crlf", "cr", "nan", "4000-digits", "nested-60"],
)
def test_an_odd_but_sound_file_is_read(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "s.toml"
    path.write_bytes(data)
    assert [r.typed for r in load(path).table(Reading)] == ["91 1/8"]


def test_a_file_over_the_limit_is_refused_unread(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "big.toml"
    path.write_text(GOOD + "#" * TOO_LARGE)
    monkeypatch.setattr(file, "_bytes", lambda _: pytest.fail("it was read"))
    with pytest.raises(Unreadable, match=r"big\.toml is over 4 MB"):
        load(path)


def test_a_file_just_at_the_limit_is_read(tmp_path: Path) -> None:
    path = tmp_path / "full.toml"
    path.write_text(GOOD + "#" * (TOO_LARGE - len(GOOD)))
    assert load(path).car == "Bramble"


def test_what_is_no_file(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "round.toml").symlink_to("round.toml")
    (tmp_path / "plain.toml").write_text(GOOD)
    for path, says in [
        (tmp_path, "is not a file"),
        (tmp_path / "pipe.toml", "is not a file"),
        (tmp_path / "none.toml", "There is no file none.toml"),
        (tmp_path / "round.toml", "cannot be read"),
        (tmp_path / "plain.toml" / "under.toml", "cannot be read"),
        (tmp_path / ("n" * 300), "cannot be read"),
        (Path("/"), "/ is not a file"),
        (Path("a\0b"), "cannot be read as a survey"),
    ]:
        with pytest.raises(Unreadable, match=re.escape(says)) as refused:
            load(path)
        assert one_sentence(str(refused.value))


def test_a_file_name_cannot_drive_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "\x1b[2J\u202egnp.toml"
    path.write_bytes(b"format = 9")
    with pytest.raises(Unreadable) as refused:
        load(path)
    assert one_sentence(str(refused.value))
    assert "\u202e" not in str(refused.value)


# To look at only
# ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", SAMPLES, ids=lambda p: p.stem)
def test_a_survey_read_to_look_at_is_the_same_as_one_to_go_on_with(path: Path) -> None:
    assert read(path) == load(path)


def test_a_survey_read_to_look_at_may_be_one_that_cannot_be_written(tmp_path: Path) -> None:
    path = tmp_path / "old.toml"
    path.write_text("format = 1\n[survey]\nid = 'x'\nhour = 09:30:00\n", encoding="utf-8")
    assert read(path).id == "x"


def test_a_broken_file_is_refused_in_the_same_words(tmp_path: Path) -> None:
    path = tmp_path / "torn.toml"
    path.write_text(written(load(SAMPLES[0]))[:-40] + '\nx = "', encoding="utf-8")
    said = []
    for reader in (load, read):
        with pytest.raises(Unreadable, match=r"torn\.toml") as refused:
            reader(path)
        said.append(str(refused.value))
    assert said[0] == said[1]
