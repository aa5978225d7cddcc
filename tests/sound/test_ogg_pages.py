"""The stream number of an Ogg file is ours, and every page's checksum is right.

Referee  RFC 3533, section 6: the checksum is computed here bit by bit over the whole page, as the RFC says; and
         ffmpeg, which complains of a wrong one.
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest

from droner.sound.audio_file import write_audio
from droner.sound.ogg_pages import STREAM_NUMBER, fix_stream_number
from droner.units import Beats
from tests.sound.measure import DRONE_ALONE
from tests.sound.readers import by_ffmpeg
from tests.sound.scores import score, tone


def checksum(page: bytes) -> int:
    """CRC-32 with generator 0x04c11db7, register 0, no reflection, the checksum itself taken as nothing."""
    register = 0
    for byte in page[:22] + bytes(4) + page[26:]:
        register ^= byte << 24
        for _ in range(8):
            register = (register << 1) ^ (0x04C11DB7 if register >> 31 else 0)
            register &= 0xFFFFFFFF
    return register


def pages(data: bytes) -> list[bytes]:
    found = []
    while data:
        assert data[:4] == b"OggS"
        segments = data[26]
        length = 27 + segments + sum(data[27 : 27 + segments])
        found.append(data[:length])
        data = data[length:]
    return found


@pytest.mark.parametrize("name", ["ogg", "opus"])
def test_every_page_has_our_number_and_a_right_checksum(tmp_path: Path, name: str) -> None:
    path = tmp_path / f"drone.{name}"
    write_audio(path, score(Beats(4), drone=[tone(0, 4, "D3")]), DRONE_ALONE, name)
    found = pages(path.read_bytes())
    assert len(found) > 3
    for number, page in enumerate(found):
        assert int.from_bytes(page[14:18], "little") == STREAM_NUMBER
        assert int.from_bytes(page[18:22], "little") == number
        assert int.from_bytes(page[22:26], "little") == checksum(page)
    assert len(by_ffmpeg(path)) == 4 * 48_000


def test_a_file_that_is_no_ogg_is_refused() -> None:
    with pytest.raises(ValueError, match="no Ogg page at byte 0"):
        fix_stream_number(io.BytesIO(b"RIFF" + bytes(100)))
