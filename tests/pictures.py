"""Small pictures made by hand, with whatever a camera or a stranger may write into them."""

from __future__ import annotations

import base64
import struct
import zlib

PLAIN = base64.b64decode(
    "/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAA0JCgsKCA0LCgsODg0PEyAVExISEyccHhcgLikxMC4pLSwzOko+MzZGNywt"
    "QFdBRkxOUlNSMj5aYVpQYEpRUk//2wBDAQ4ODhMREyYVFSZPNS01T09PT09PT09PT09PT09PT09PT09PT09PT09PT09P"
    "T09PT09PT09PT09PT09PT09PT0//wAARCAAQABgDASIAAhEBAxEB/8QAFwABAAMAAAAAAAAAAAAAAAAAAAQFBv/EABgQ"
    "AQADAQAAAAAAAAAAAAAAAAAFQ4HB/8QAFQEBAQAAAAAAAAAAAAAAAAAABQT/xAAeEQAABQUBAAAAAAAAAAAAAAAAAQMR"
    "YQQFEhNx4f/aAAwDAQACEQMRAD8AyCwi7c6nimquu9I08GeZ4FKa26VSUydo9AAQFB//2Q=="
)
"""A JPEG of 24 by 16 dots, its upper left quarter blue, the rest red."""
SECRETS = (
    b"SECRETMAKER",
    b"PLACE 52.52N",
    b"GPSLatitude",
    b"52/1",
    b"behind the end",
    b"colors of",
)
"""What must not be left of a photo."""


def segment(marker: int, body: bytes) -> bytes:
    """A segment of a JPEG."""
    return struct.pack(">BBH", 0xFF, marker, len(body) + 2) + body


def exif(turn: int = 1, taken: str = "2026:05:02 13:59:00", order: str = ">") -> bytes:
    """A camera's own words: its maker, which way up, the day, and where it was."""
    made, day = b"SECRETMAKER\0", taken.encode("ascii") + b"\0"
    gps = b"52/1, 31/1, 12/1\0"
    at = 8 + 2 + 4 * 12 + 4
    more = at + len(made)
    text = more + 2 + 12 + 4
    place = text + len(day)

    def entry(tag: int, kind: int, count: int, value: int) -> bytes:
        if kind == 3:
            return struct.pack(f"{order}HHIHH", tag, kind, count, value, 0)
        return struct.pack(f"{order}HHII", tag, kind, count, value)

    entries = [
        entry(0x010F, 2, len(made), at),
        entry(0x0112, 3, 1, turn),
        entry(0x8769, 4, 1, more),
        entry(0x8825, 4, 1, place),
    ]
    head = (b"MM" if order == ">" else b"II") + struct.pack(f"{order}HI", 42, 8)
    first = struct.pack(f"{order}H", len(entries)) + b"".join(entries) + b"\0\0\0\0"
    second = struct.pack(f"{order}H", 1) + entry(0x9003, 2, len(day), text) + b"\0\0\0\0"
    return head + first + made + second + day + gps


def jpeg(
    turn: int = 1, taken: str = "2026:05:02 13:59:00", pad: int = 0, order: str = ">"
) -> bytes:
    """The picture as a camera writes it; pad: so many bytes more in its coded dots."""
    written = [
        segment(0xE1, b"Exif\0\0" + exif(turn, taken, order)),
        segment(0xE1, b"http://ns.adobe.com/xap/1.0/\0<x>GPSLatitude 52.52</x>"),
        segment(0xE2, b"ICC_PROFILE\0colors of my own"),
        segment(0xED, b"Photoshop 3.0\0PLACE 52.52N"),
        segment(0xFE, b"PLACE 52.52N"),
    ]
    whole = PLAIN[:-2] + bytes(pad) + PLAIN[-2:]
    return whole[:2] + b"".join(written) + whole[2:] + b"behind the end"


def sized(width: int, height: int) -> bytes:
    """The same with another size in its head."""
    at = PLAIN.index(b"\xff\xc0")
    return PLAIN[: at + 5] + struct.pack(">HH", height, width) + PLAIN[at + 9 :]


def chunk(name: bytes, body: bytes) -> bytes:
    """A chunk of a PNG."""
    return struct.pack(">I4s", len(body), name) + body + struct.pack(">I", zlib.crc32(name + body))


def png(width: int = 3, height: int = 2, *more: bytes, depth: int = 8, color: int = 2) -> bytes:
    """A PNG of gray dots, with more chunks before the dots."""
    head = struct.pack(">IIBBBBB", width, height, depth, color, 0, 0, 0)
    rows = b"".join(b"\0" + b"\x80" * (3 * min(width, 4)) for _ in range(min(height, 4)))
    dots = chunk(b"IDAT", zlib.compress(rows))
    begun = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head)
    return begun + b"".join(more) + dots + chunk(b"IEND", b"") + b"behind the end"
