"""A photo's file as bytes: what kind it is, how large, which way up, of what day; and the same with
all else taken out that a camera or a person wrote into it, the place above all.

Nothing is believed but the content. What is kept of a JPEG: its tables, its frame and its scans, and
which way up it is, written anew. Of a PNG: what a picture cannot be drawn without, and its colors.
Sources: ITU-T T.81 (JPEG), ISO/IEC 15948 (PNG), the TIFF 6.0 layout that Exif has.
"""

from __future__ import annotations

import importlib
import io
import re
import struct
import zlib
from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Any, NamedTuple

DOTS = 64_000_000
"""Dots of a picture at most: a header that says more is a slip or a trap."""
SIDE = 20_000
"""Dots along one side at most."""
LARGEST = 6_000_000
"""Bytes of a photo that is taken as it is."""
LARGEST_TO_SHRINK = 40_000_000
"""Bytes of a photo that is read where it can be made smaller."""
FINE = 600_000
"""Bytes from which on a photo is made smaller, where that can be done."""
LONG = 1800
"""Dots along the longer side of one that was made smaller: a hand's breadth in print."""
EXTRA = "crosstape[photos]"
"""What brings the picture library."""

JPEG, PNG = "image/jpeg", "image/png"


class NotAPhoto(ValueError):
    """Why a file is not set into a paper; the message goes on from its name."""


class Photograph(NamedTuple):
    """A picture ready to be set into a paper."""

    kind: str
    """image/jpeg or image/png"""
    data: bytes
    width: int
    """Dots across, as it is looked at."""
    height: int
    day: str
    """The day that the camera wrote into it, like 2026-05-02; empty for none."""


class _Read(NamedTuple):
    """What a file's own bytes say."""

    kind: str
    data: bytes
    """With nothing in it but the picture and which way up it is."""
    size: tuple[int, int]
    turn: int
    """Exif's number for which way up it is: 1 as it is, 5 to 8 lying on its side."""
    day: str


def kind_of(head: bytes) -> str:
    """The kind of picture that a file begins like; empty for any other."""
    if head.startswith(b"\xff\xd8\xff"):
        return JPEG
    return PNG if head.startswith(_SIGNATURE) else ""


def photograph(data: bytes) -> Photograph:
    """The picture in a file's bytes, made smaller where it is large and that can be done.

    Raises NotAPhoto.
    """
    reader = {JPEG: _jpeg, PNG: _png}.get(kind_of(data))
    if reader is None:
        raise NotAPhoto("is neither JPEG nor PNG; save it as one of these")
    try:
        read = reader(data)
    except (struct.error, IndexError):
        raise NotAPhoto(BROKEN) from None
    shrink = _shrinker() if len(data) > FINE else None
    if shrink is not None:
        return shrink(read)
    if len(read.data) > LARGEST:
        raise NotAPhoto(too_large(len(read.data)))
    width, height = read.size[::-1] if read.turn >= _LYING else read.size
    return Photograph(read.kind, read.data, width, height, read.day)


BROKEN = "is broken and cannot be read whole"
_LYING = 5
"""From this of Exif's numbers on, height and width change places."""


def can_shrink() -> bool:
    """Whether the picture library is there."""
    return _shrinker() is not None


def too_large(size: int) -> str:
    """Why a file of so many bytes is left out."""
    most = LARGEST_TO_SHRINK if can_shrink() else LARGEST
    said = f"has {megabytes(size)}, and a report takes photos up to {megabytes(most)}"
    more = f"; with {EXTRA} installed they are made smaller"
    return said if can_shrink() else said + more


def megabytes(size: int) -> str:
    """`6 MB`, `6.4 MB`."""
    return f"{size / 1e6:.1f}".removesuffix(".0") + " MB"


def _checked(width: int, height: int) -> tuple[int, int]:
    if not width or not height:
        raise NotAPhoto(BROKEN)
    if max(width, height) > SIDE or width * height > DOTS:
        most = f"at most {SIDE} along a side and {DOTS // 1_000_000} million in all are taken"
        raise NotAPhoto(f"is {width} by {height} dots; {most}")
    return width, height


# JPEG ---------------------------------------------------------------------------------------------

_FRAMES = (0xC0, 0xC1, 0xC2)
"""Baseline, extended, progressive: what every browser shows."""
_OTHER_FRAMES = tuple(n for n in range(0xC3, 0xD0) if n not in (0xC4, 0xC8, 0xCC))
_TABLES = (0xC4, 0xDB, 0xDC, 0xDD)
"""Huffman and quantization tables, number of lines, restart interval."""
_SCAN, _END, _APP0, _EXIF_APP, _ADOBE = 0xDA, 0xD9, 0xE0, 0xE1, 0xEE
_AFTER_SCAN = re.compile(rb"\xff+[^\x00\xd0-\xd7\xff]")
"""Where the coded dots end: a marker that is neither a stuffed byte nor a restart."""
_JFIF = b"\xff\xe0\x00\x10JFIF\x00\x01\x02\x00\x00\x01\x00\x01\x00\x00"
_EXIF = b"Exif\x00\x00"


class _Segment(NamedTuple):
    marker: int
    body: bytes
    """Without marker and length; of a scan with the coded dots behind its head."""


def _segments(data: bytes) -> Iterator[_Segment]:
    """Every segment up to the end of the picture; what lies behind that is none of it."""
    at = 2
    while True:
        if data[at] != 0xFF:
            raise NotAPhoto(BROKEN)
        while data[at] == 0xFF:
            at += 1
        marker = data[at]
        if marker == _END:
            return
        (length,) = struct.unpack_from(">H", data, at + 1)
        end = at + 1 + length
        if length < 2 or end > len(data):
            raise NotAPhoto(BROKEN)
        if marker == _SCAN:
            if length != 2 * data[at + 3] + 6:
                raise NotAPhoto(BROKEN)
            behind = _AFTER_SCAN.search(data, end)
            if behind is None:
                raise NotAPhoto("ends too early: it was not copied whole")
            end = behind.start()
        yield _Segment(marker, data[at + 3 : end])
        at = end


def _jpeg(data: bytes) -> _Read:
    kept, frames, met = list[bytes](), list[bytes](), set[int]()
    turn, day = 1, ""
    for marker, body in _segments(data):
        met.add(marker)
        kept.append(_segment(marker, body))
        if marker in _FRAMES:
            frames.append(body)
        elif marker == _EXIF_APP and body.startswith(_EXIF):
            turn, day = _exif(body[len(_EXIF) :])
    if met & set(_OTHER_FRAMES):
        raise NotAPhoto("is a rare kind of JPEG; save it again as an ordinary one")
    if len(frames) != 1 or _SCAN not in met:
        raise NotAPhoto(BROKEN)
    height, width = struct.unpack_from(">HH", frames[0], 1)
    upright = _app1(turn) if turn != 1 else b""
    head = [b"\xff\xd8", _JFIF if _APP0 in met else b"", upright]
    return _Read(JPEG, b"".join([*head, *kept, b"\xff\xd9"]), _checked(width, height), turn, day)


def _segment(marker: int, body: bytes) -> bytes:
    """As it is written out; nothing for what the picture can be drawn without."""
    if marker == _ADOBE and body.startswith(b"Adobe") and len(body) == 12:
        return b"\xff\xee\x00\x0eAdobe\x00\x64\x00\x00\x00\x00" + body[11:]
    if marker in (*_FRAMES, *_TABLES):
        return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body
    if marker == _SCAN:
        head = 2 * body[0] + 4
        return struct.pack(">BBH", 0xFF, marker, head + 2) + body
    return b""


def _app1(turn: int) -> bytes:
    """Which way up it is, and nothing else."""
    entry = struct.pack(">HHIHH", _TURN, _SHORT, 1, turn, 0)
    tiff = b"MM\x00*\x00\x00\x00\x08" + b"\x00\x01" + entry + b"\x00\x00\x00\x00"
    return struct.pack(">BBH", 0xFF, _EXIF_APP, len(_EXIF) + len(tiff) + 2) + _EXIF + tiff


# Exif ---------------------------------------------------------------------------------------------

_TURN, _CHANGED, _MORE, _TAKEN = 0x0112, 0x0132, 0x8769, 0x9003
_SHORT, _TEXT = 3, 2
_MOST = 500
"""Entries of a directory that are looked at."""


def _exif(tiff: bytes) -> tuple[int, str]:
    """Which way up, and the day; (1, "") where it cannot be read: the picture is what counts."""
    try:
        order = {b"II": "<", b"MM": ">"}[tiff[:2]]
        (first,) = struct.unpack_from(f"{order}I", tiff, 4)
        head = dict(_entries(tiff, order, first))
        more = dict(_entries(tiff, order, head[_MORE])) if _MORE in head else {}
    except (KeyError, struct.error):
        return 1, ""
    turn = head.get(_TURN, 1)
    return (turn if turn in range(1, 9) else 1), _day(more.get(_TAKEN) or head.get(_CHANGED))


def _entries(tiff: bytes, order: str, at: Any) -> Iterator[tuple[int, Any]]:
    """Tag and value of the entries that are read here: short numbers, offsets, texts."""
    (count,) = struct.unpack_from(f"{order}H", tiff, at)
    for n in range(min(count, _MOST)):
        entry = at + 2 + 12 * n
        tag, kind, length = struct.unpack_from(f"{order}HHI", tiff, entry)
        if tag == _TURN and kind == _SHORT:
            yield tag, struct.unpack_from(f"{order}H", tiff, entry + 8)[0]
        elif tag == _MORE:
            yield tag, struct.unpack_from(f"{order}I", tiff, entry + 8)[0]
        elif tag in (_TAKEN, _CHANGED) and kind == _TEXT and length == 20:
            (start,) = struct.unpack_from(f"{order}I", tiff, entry + 8)
            yield tag, tiff[start : start + 19]


def _day(text: Any) -> str:
    """`2026:05:02 13:40:00` as 2026-05-02; empty for what is no time."""
    try:
        return f"{datetime.strptime(text.decode('ascii'), '%Y:%m:%d %H:%M:%S'):%Y-%m-%d}"
    except (AttributeError, ValueError):
        return ""


# PNG ----------------------------------------------------------------------------------------------

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_KEPT = (b"IHDR", b"PLTE", b"IDAT", b"IEND", b"tRNS", b"gAMA", b"cHRM", b"sRGB")
_DEPTHS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
"""Bits that each kind of color may have."""


def _chunks(data: bytes) -> Iterator[tuple[bytes, bytes]]:
    """Every chunk up to the end of the picture, each with a right checksum."""
    at = len(_SIGNATURE)
    while True:
        length, name = struct.unpack_from(">I4s", data, at)
        end = at + 8 + length
        (known,) = struct.unpack_from(">I", data, end)
        body = data[at + 8 : end]
        if zlib.crc32(body, zlib.crc32(name)) != known:
            raise NotAPhoto(BROKEN)
        yield name, body
        if name == b"IEND":
            return
        at = end + 4


def _png(data: bytes) -> _Read:
    kept, names, day = [_SIGNATURE], list[bytes](), ""
    size = (0, 0)
    for name, body in _chunks(data):
        if name == b"IHDR":
            size = _headed(body)
        elif name == b"eXIf":
            day = _exif(body)[1]
        if name in _KEPT:
            names.append(name)
            kept.append(struct.pack(">I4s", len(body), name) + body)
            kept.append(struct.pack(">I", zlib.crc32(body, zlib.crc32(name))))
    if names[0] != b"IHDR" or names.count(b"IHDR") != 1 or b"IDAT" not in names:
        raise NotAPhoto(BROKEN)
    return _Read(PNG, b"".join(kept), size, 1, day)


def _headed(body: bytes) -> tuple[int, int]:
    """Width and height; the rest of the head must be one that there is."""
    width, height, depth, color, packed, filtered, laced = struct.unpack(">IIBBBBB", body)
    if depth not in _DEPTHS.get(color, ()) or packed or filtered or laced > 1:
        raise NotAPhoto(BROKEN)
    return _checked(width, height)


# Made smaller -------------------------------------------------------------------------------------


def _shrinker() -> Callable[[_Read], Photograph] | None:
    """What makes a picture smaller; None where the picture library is not there."""
    try:
        images = importlib.import_module("PIL.Image")
        turns = importlib.import_module("PIL.ImageOps")
    except ImportError:
        return None

    def shrink(read: _Read) -> Photograph:
        try:
            with images.open(io.BytesIO(read.data), formats=("JPEG", "PNG")) as opened:
                opened.draft("RGB", (LONG, LONG))  # a JPEG is opened no larger than is wanted
                upright = turns.exif_transpose(opened).convert("RGB")
            upright.thumbnail((LONG, LONG))
            out = io.BytesIO()
            upright.save(out, "JPEG", quality=82)
        except Exception:  # a picture that is broken within shows itself in many ways
            raise NotAPhoto(BROKEN) from None
        width, height = upright.size
        return Photograph(JPEG, out.getvalue(), width, height, read.day)

    return shrink
