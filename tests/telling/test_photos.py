"""Photos in a report: found by number or name, of whatever kind they are, with nothing in them but
the picture.
"""

from __future__ import annotations

import base64
import os
import random
import re
import tracemalloc
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import html5lib
import pytest

from tests.checks.surveys import library
from tests.pictures import PLAIN, SECRETS, chunk, exif, jpeg, png, segment, sized
from wizard.command import main
from wizard.library.paths import samples_dir
from wizard.library.places import PromptId
from wizard.survey.file import load
from wizard.survey.record import Survey
from wizard.survey.rows import PointNote, Remark
from wizard.telling import photo_data
from wizard.telling.document import Document, Photo
from wizard.telling.html import html_of
from wizard.telling.markdown import markdown_of
from wizard.telling.papers import report_as, source_of
from wizard.telling.photo_data import NotAPhoto, photograph
from wizard.telling.photos import (
    ALL,
    MOST,
    NAMES,
    NoFolder,
    Photos,
    asked_by,
    found_in,
    named_in,
    photos_part,
)
from wizard.telling.text import PAPER, text_of

DAY = datetime(2026, 8, 1)
CAR = samples_dir() / "marigold-2026-05-02.toml"
RIVETS = PromptId("front-crossmember-rivets/left")


def survey(*numbers: str) -> Survey:
    """A survey in which photos of those numbers were noted at one place."""
    rows = tuple(
        Remark(id=f"m{n}", prompt=RIVETS, photo=number) for n, number in enumerate(numbers, 900)
    )
    return replace(load(CAR), rows={**load(CAR).rows, "remark": rows})


def found(folder: Path, *numbers: str) -> Photos:
    """What comes of looking for those numbers; of the photos that every record needs nothing."""
    photos = found_in(folder, survey(*numbers), library())
    noted = tuple(line for line in photos.missing if line.startswith("Photo "))
    return photos._replace(missing=noted)


# One photo ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("order", [">", "<"])
def test_of_a_jpeg_only_the_picture_is_left_and_its_day_is_read(order: str) -> None:
    photo = photograph(jpeg(order=order))
    assert (photo.kind, photo.width, photo.height, photo.day) == (
        "image/jpeg",
        24,
        16,
        "2026-05-02",
    )
    assert (
        photo.data
        == PLAIN[:20].replace(b"\x01\x01\x00\x00\x01", b"\x01\x02\x00\x00\x01") + (PLAIN[20:])
    )


@pytest.mark.parametrize("turn", range(1, 9))
def test_which_way_up_is_kept_and_nothing_else(turn: int) -> None:
    photo = photograph(jpeg(turn=turn))
    assert [s for s in SECRETS if s in photo.data] == []
    assert (photo.width, photo.height) == ((16, 24) if turn > 4 else (24, 16))
    assert photo_data._exif(photo.data[photo.data.find(b"Exif\0\0") + 6 :])[0] == turn


def test_of_a_png_only_the_picture_and_its_colors_are_left() -> None:
    more = (
        chunk(b"gAMA", b"\0\0\xb1\x8f"),
        chunk(b"tEXt", b"Location\x0052.52"),
        chunk(b"iTXt", b"XML:com.adobe.xmp\0GPSLatitude"),
        chunk(b"tIME", b"\x07\xea\x05\x02\x0d\x3b\x00"),
        chunk(b"eXIf", exif()),
        chunk(b"acTL", b"\0\0\0\x02\0\0\0\0"),
    )
    photo = photograph(png(3, 2, *more))
    assert (photo.kind, photo.width, photo.height, photo.day) == ("image/png", 3, 2, "2026-05-02")
    assert [s for s in (*SECRETS, b"52.52", b"tIME", b"eXIf", b"acTL") if s in photo.data] == []
    assert b"gAMA" in photo.data
    assert photo.data == png(3, 2, more[0]).removesuffix(b"behind the end")


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"", "is neither JPEG nor PNG"),
        (b"GIF89a" + bytes(40), "is neither JPEG nor PNG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "is neither JPEG nor PNG"),
        (b"\0\0\0\x18ftypheic" + bytes(40), "is neither JPEG nor PNG"),
        (b"\xff\xd8\xff", "is broken"),
        (b"\xff\xd8\xff\xe0 broken", "is broken"),
        (PLAIN[:60], "is broken"),
        (PLAIN[:-8], "ends too early"),
        (PLAIN.replace(b"\xff\xc0", b"\xff\xc9", 1), "rare kind of JPEG"),
        (PLAIN[:2] + PLAIN[PLAIN.index(b"\xff\xc0") :][:19] * 2 + PLAIN[2:], "is broken"),
        (sized(0, 16), "is broken"),
        (sized(60_000, 60_000), "is 60000 by 60000 dots; at most 20000 along a side"),
        (sized(16_000, 16_000), "is 16000 by 16000 dots"),
        (png(40_000, 40_000), "is 40000 by 40000 dots"),
        (png(2**31 - 1, 1), "is 2147483647 by 1 dots"),
        (png(0, 1), "is broken"),
        (png(depth=3), "is broken"),
        (png(color=7), "is broken"),
        (png().replace(b"IDAT", b"IDAX"), "is broken"),
        (png()[:44] + bytes([png()[44] ^ 1]) + png()[45:], "is broken"),
        (png()[:60], "is broken"),
        (png(3, 2, chunk(b"IHDR", bytes(13))), "is broken"),
        (png(3, 2)[:8] + chunk(b"IEND", b""), "is broken"),
    ],
)
def test_what_is_no_photo_is_said_in_a_few_words(data: bytes, why: str) -> None:
    with pytest.raises(NotAPhoto, match=re.escape(why)) as said:
        photograph(data)
    assert "\n" not in str(said.value)


@pytest.mark.parametrize("seed", range(40))
def test_a_photo_broken_anyhow_is_a_photo_or_none(seed: int) -> None:
    """Never a fault of the program, and never a secret left over."""
    rng = random.Random(seed)
    for whole in (jpeg(turn=6), png(3, 2, chunk(b"eXIf", exif()), chunk(b"tEXt", SECRETS[1]))):
        for _ in range(60):
            data = bytearray(whole)
            for _ in range(rng.randint(1, 6)):
                data[rng.randrange(3, len(data))] = rng.choice((0, 0xFF, rng.randrange(256)))
            cut = bytes(data[: rng.randint(0, len(data))] if rng.random() < 0.3 else data)
            try:
                photo = photograph(cut)
            except NotAPhoto:
                continue
            assert photo.width * photo.height <= photo_data.DOTS


@pytest.mark.parametrize(
    "taken", ["0000:00:00 00:00:00", "2026:13:45 13:59:00", " " * 19, "x" * 19]
)
def test_a_day_that_is_none_is_left_out(taken: str) -> None:
    assert photograph(jpeg(taken=taken)).day == ""


def test_a_camera_s_words_that_go_round_in_rings_are_passed_over() -> None:
    ring = b"MM\0*\0\0\0\x08" + b"\0\x01" + b"\x87\x69\0\4\0\0\0\1\0\0\0\x08" + bytes(4)
    data = PLAIN[:2] + segment(0xE1, b"Exif\0\0" + ring) + PLAIN[2:]
    assert photograph(data).data == photograph(PLAIN).data


# Too large, and made smaller ----------------------------------------------------------------------


def test_without_the_picture_library_a_large_one_is_left_out_and_the_way_out_named(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(photo_data, "_shrinker", lambda: None)
    (tmp_path / "IMG_0031.JPG").write_bytes(jpeg(pad=6_500_000))
    (tmp_path / "IMG_0032.JPG").write_bytes(jpeg(pad=4_500_000))
    photos = found(tmp_path, "31", "32")
    assert [s.named.key for s in photos.shots] == ["32"]
    assert photos.left_out == (
        "IMG_0031.JPG has 6.5 MB, and a report takes photos up to 6 MB; with crosstape[photos]"
        " installed they are made smaller.",
    )


def test_with_the_picture_library_a_large_one_is_made_smaller_and_stands_upright() -> None:
    images = pytest.importorskip("PIL.Image")
    import io

    out = io.BytesIO()
    picture = images.effect_noise((3000, 2000), 90).convert("RGB")
    words = images.Exif()
    words[0x0112] = 6
    picture.save(out, "JPEG", exif=words, quality=90)
    assert len(out.getvalue()) > photo_data.FINE
    photo = photograph(out.getvalue())
    assert (photo.width, photo.height) == (1200, 1800)
    assert len(photo.data) < len(out.getvalue()) / 2
    assert b"Exif" not in photo.data


def test_what_is_left_of_a_photo_shows_the_same_dots() -> None:
    images = pytest.importorskip("PIL.Image")
    import io

    before, after = (images.open(io.BytesIO(d)) for d in (PLAIN, photograph(jpeg()).data))
    assert before.tobytes() == after.tobytes()


# Found in a folder --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("31", "IMG_0031.JPG"),
        ("0031", "img_31.jpeg"),
        ("31", "31.png.jpg"),
        ("IMG_0031", "IMG_0031.JPG"),
        ("img 0031.jpg", "IMG_0031.JPG"),
        ("left joint", "Left_Joint.jpg"),
        ("31", "no-ending-31"),
    ],
)
def test_a_photo_is_found_by_its_number_or_its_name(tmp_path: Path, key: str, name: str) -> None:
    (tmp_path / name).write_bytes(jpeg())
    (tmp_path / "IMG_1310.JPG").write_bytes(jpeg())
    photos = found(tmp_path, key)
    assert [name in shot.photo.caption for shot in photos.shots] == [True], photos


def test_of_two_files_of_a_number_the_one_that_is_a_picture_is_taken(tmp_path: Path) -> None:
    (tmp_path / "IMG_0031.CR2").write_bytes(b"II*\0raw")
    (tmp_path / "IMG_0031.MOV").write_bytes(b"\0\0\0\x14ftypqt")
    (tmp_path / "IMG_0031.JPG").write_bytes(jpeg())
    assert "IMG_0031.JPG" in found(tmp_path, "31").shots[0].photo.caption


def test_a_number_that_two_photos_have_is_asked_about(tmp_path: Path) -> None:
    for name in ("IMG_0031.JPG", "DSC_0031.JPG"):
        (tmp_path / name).write_bytes(jpeg())
    photos = found(tmp_path, "31")
    assert photos.shots == ()
    assert photos.left_out == (
        "Photo 31 could be DSC_0031.JPG or IMG_0031.JPG; note it by the file's whole name.",
    )


def test_it_stands_at_the_place_that_it_shows_with_its_day_and_what_was_found(
    tmp_path: Path,
) -> None:
    (tmp_path / "IMG_0031.JPG").write_bytes(jpeg())
    photo = found(tmp_path, "31").shots[0].photo
    assert photo.title == library().steps[library().paper.photos["left-front"].at].title
    assert photo.caption == (
        "The front crossmember's rivets, left: a loose rivet: it weeps or moves. Photo 31, file"
        " IMG_0031.JPG, taken 2026-05-02."
    )


def test_what_is_not_there_is_named(tmp_path: Path) -> None:
    photos = found_in(tmp_path, survey("31"), library())
    assert photos.missing[0].startswith("There is no photo of the car as it stands")
    assert len([m for m in photos.missing if m.startswith("There is no photo of")]) == 8
    assert any(
        m.startswith("Photo 31 is not in the folder: The front cross") for m in photos.missing
    )


def test_those_that_every_record_needs_are_found_by_number_or_by_their_own_name(
    tmp_path: Path,
) -> None:
    (tmp_path / "Left Front Corner.jpg").write_bytes(jpeg())
    (tmp_path / "P1010077.jpg").write_bytes(jpeg())
    rows = (Remark(id="m900", prompt=RIVETS, photo="1010077", shows="car"),)
    record = replace(load(CAR), rows={**load(CAR).rows, "remark": rows})
    photos = found_in(tmp_path, record, library())
    assert [s.named.asked for s in photos.shots] == ["car", "left-front"]
    assert len(photos.missing) == 6


def test_a_point_s_photo_is_looked_for_too() -> None:
    row = PointNote(id="q900", point="front-left", mark="punch dot", photo="112")  # type: ignore[arg-type]
    named = named_in(survey().with_row(row), library())
    assert [(n.key, n.says) for n in named if n.noted] == [("112", "Point left front. punch dot")]


@pytest.mark.parametrize(
    ("said", "means"),
    [
        ("112", ("", "")),
        ("left front corner 112", ("left-front", "112")),
        ("112 left front corner", ("left-front", "112")),
        ("Left-Front 112", ("left-front", "112")),
        ("left-front", ("left-front", "")),
        ("car as it stands IMG_7", ("car", "IMG_7")),
        ("left frontal 7", ("", "")),
    ],
)
def test_which_of_those_is_meant(said: str, means: tuple[str, str]) -> None:
    assert asked_by(said, survey(), library()) == means


# Hostile ------------------------------------------------------------------------------------------


def test_links_pipes_and_folders_are_left_out_by_name(tmp_path: Path) -> None:
    target = tmp_path / "elsewhere"
    target.mkdir()
    (target / "secret.jpg").write_bytes(jpeg())
    (tmp_path / "IMG_0001.JPG").symlink_to(target / "secret.jpg")
    os.mkfifo(tmp_path / "IMG_0002.JPG")
    (tmp_path / "IMG_0003.JPG").mkdir()
    (tmp_path / "IMG_0004.JPG").symlink_to("/dev/zero")
    (tmp_path / "IMG_0005.JPG").write_bytes(b"")
    photos = found(tmp_path, "1", "2", "3", "4", "5")
    assert photos.shots == ()
    assert photos.left_out == (
        "IMG_0001.JPG is a link, and links are not followed.",
        "IMG_0002.JPG is no file.",
        "IMG_0003.JPG is no file.",
        "IMG_0004.JPG is a link, and links are not followed.",
        "IMG_0005.JPG is neither JPEG nor PNG; save it as one of these.",
    )


def test_no_name_leads_out_of_the_folder(tmp_path: Path) -> None:
    inner = tmp_path / "photos"
    inner.mkdir()
    (tmp_path / "secret.jpg").write_bytes(jpeg())
    photos = found(inner, "../secret.jpg", "/etc/passwd", str(tmp_path / "secret"))
    assert photos.shots == ()
    assert len(photos.missing) == 3


def test_markup_and_control_in_names_and_words_stay_text(tmp_path: Path) -> None:
    name = "<img src=x onerror=alert(1)>\x1b[2J 31.jpg"
    (tmp_path / name).write_bytes(jpeg())
    record = survey().with_row(
        Remark(id="m990", prompt=RIVETS, photo="31", text='"><script>alert(1)</script>`#')
    )
    blocks = tuple(photos_part(found_in(tmp_path, record, library()), record, library()))
    page = html_of(Document("t", blocks))
    assert "<script>" not in page
    assert "<img src=x" not in page
    for text in (page, markdown_of(Document("t", blocks)), text_of(Document("t", blocks), PAPER)):
        assert "\x1b" not in text


def test_what_is_no_folder_is_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for path in (tmp_path / "none", CAR):
        with pytest.raises(NoFolder, match="cannot be looked into for photos"):
            found_in(path, survey(), library())
        assert main(["report", str(CAR), "--photos", str(path)]) == 1
        assert capsys.readouterr().err.count("\n") == 1


def test_names_beyond_what_is_looked_at_are_counted(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("wizard.telling.photos.NAMES", 3)
    for n in range(5):
        (tmp_path / f"IMG_{n}.JPG").write_bytes(jpeg())
    assert NAMES == 5_000
    assert found(tmp_path).left_out == (
        "The folder holds more than 3 names; 2 were not looked at.",
    )


def test_two_hundred_photos_are_read_one_at_a_time(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photo_data, "_shrinker", lambda: None)
    first = tmp_path / "IMG_1000.JPG"
    first.write_bytes(jpeg(pad=1_500_000))
    for n in range(1001, 1200):
        os.link(first, tmp_path / f"IMG_{n}.JPG")
    record = survey(*map(str, range(1000, 1200)))
    tracemalloc.start()
    photos = found_in(tmp_path, record, library())
    _, most = tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert sum(len(s.photo.data) for s in photos.shots) <= ALL
    assert most < ALL + 16_000_000
    assert len(photos.shots) + len(photos.left_out) == 200
    assert "would be more than 60 photos or 24 MB in one report" in photos.left_out[-1]


def test_no_more_than_so_many_photos_stand_in_one_report(tmp_path: Path) -> None:
    for n in range(1000, 1100):
        (tmp_path / f"IMG_{n}.JPG").write_bytes(jpeg())
    assert len(found(tmp_path, *map(str, range(1000, 1100))).shots) == MOST


# In a report --------------------------------------------------------------------------------------


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "IMG_0031.JPG").write_bytes(jpeg(turn=6))
    (tmp_path / "left front corner.png").write_bytes(png(3, 2, chunk(b"tEXt", b"PLACE 52.52N")))
    return tmp_path


def test_the_page_holds_them_itself_and_no_place_is_left(folder: Path) -> None:
    photos = found_in(folder, load(CAR), library())
    page = report_as(load(CAR), library(), DAY, source_of(CAR), ".html", photos=photos)
    html5lib.HTMLParser(strict=True).parse(page)
    assert "img-src data:" in page
    data = re.findall(r'src="data:image/(?:jpeg|png);base64,([^"]+)"', page)
    assert len(data) == 2 == page.count("<img ")
    assert [s for s in SECRETS for d in data if s in base64.b64decode(d)] == []
    assert all('alt="' in tag for tag in re.findall(r"<img [^>]*>", page))


def test_where_they_are_many_they_stand_in_the_appendix_and_their_numbers_before_it(
    tmp_path: Path,
) -> None:
    for n in range(1000, 1009):
        (tmp_path / f"IMG_{n}.JPG").write_bytes(jpeg())
    record = survey(*map(str, range(1000, 1009)))
    photos = found_in(tmp_path, record, library())
    page = report_as(record, library(), DAY, source_of(CAR), ".html", photos=photos)
    before, _, appendix = page.partition("Appendix: ")
    assert (before.count("<img "), appendix.count("<img ")) == (0, 9)
    assert "Photo 1000: The front crossmember" in before


def test_a_page_without_photos_loads_no_pictures_and_names_their_numbers() -> None:
    page = report_as(load(CAR), library(), DAY, source_of(CAR), ".html")
    assert "Photo 31: The front crossmember" in page
    assert "no number was noted: car as it stands; " in page
    assert page.count(">Photos<") == 1
    assert "img-src" not in page
    assert "<img" not in page


@pytest.mark.parametrize("suffix", [".html", ".md", ".txt"])
def test_every_form_names_each_photo_its_day_and_what_is_missing(folder: Path, suffix: str) -> None:
    photos = found_in(folder, load(CAR), library())
    said = report_as(load(CAR), library(), DAY, source_of(CAR), suffix, photos=photos)
    plain = " ".join(said.replace("\\", "").split())
    assert "IMG_0031.JPG, taken 2026-05-02" in plain
    assert "There is no photo of the right rear corner" in plain
    assert "Photo 47 is not in the folder" in plain


def test_the_command_says_what_is_missing_beside_the_report(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    out = folder / "r.html"
    assert main(["report", str(CAR), "--photos", str(folder), "-o", str(out)]) == 0
    assert "Photo 47 is not in the folder" in capsys.readouterr().err
    assert "<img" in out.read_text(encoding="utf-8")


def test_a_brief_with_photos_is_refused(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(CAR), "--brief", "--photos", "."]) == 1
    assert "leave out --photos" in capsys.readouterr().err


def test_a_photo_in_a_text_is_told_in_words() -> None:
    photo = Photo("Left front", "Caption.", "corner", "image/jpeg", PLAIN, 24, 16)
    assert text_of(Document("t", (photo,)), PAPER).count("[photo] Left front. Caption.") == 1
