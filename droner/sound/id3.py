"""Write the tag that stands before the sound of an MP3 file.

Rule    text is UTF-16 with its byte order mark, the only coding of version 2.3 that holds every letter; a
        four-figure year and the day go into frames of their own. Empty tags make no tag at all.
Units   bytes; the tag's length is written in seven bits a byte, a frame's in eight.
Source  ID3 tag version 2.3.0 (id3.org): 3.1 header, 3.3 frames, 4.2 text frames, 4.11 comments.
"""

from __future__ import annotations

import re

from droner.sound.tags import Tags

_UTF16 = b"\x01"
_NO_FLAGS = b"\x00\x00"
_DATE = re.compile(r"(?P<year>\d{4})(?:-(?P<month>\d\d)-(?P<day>\d\d))?")


def id3_tag(tags: Tags) -> bytes:
    """The whole tag, or nothing when there is nothing to say."""
    frames = b"".join(
        _text_frame(name, text)
        for name, text in (
            ("TIT2", tags.title),
            ("TALB", tags.album),
            ("TRCK", tags.track_of_total),
            ("TPE1", tags.artist),
            *_date_frames(tags.date),
        )
        if text
    ) + _comment_frame(tags.comment)
    return b"ID3\x03\x00\x00" + _seven_bits_a_byte(len(frames)) + frames if frames else b""


def _date_frames(date: str) -> tuple[tuple[str, str], ...]:
    found = _DATE.fullmatch(date)
    if not found:
        return ()
    year = ("TYER", found["year"])
    return (year, ("TDAT", found["day"] + found["month"])) if found["day"] else (year,)


def _text_frame(name: str, text: str) -> bytes:
    return _frame(name, _UTF16 + _utf16(text))


def _comment_frame(text: str) -> bytes:
    """A comment in English with an empty description."""
    return _frame("COMM", _UTF16 + b"eng" + _utf16("") + b"\x00\x00" + _utf16(text)) if text else b""


def _frame(name: str, body: bytes) -> bytes:
    return name.encode("ascii") + len(body).to_bytes(4, "big") + _NO_FLAGS + body


def _utf16(text: str) -> bytes:
    return b"\xff\xfe" + text.encode("utf-16-le")


def _seven_bits_a_byte(size: int) -> bytes:
    return bytes(size >> shift & 0x7F for shift in (21, 14, 7, 0))
