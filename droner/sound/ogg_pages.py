"""Give an Ogg file the same stream number every time.

Rule    libsndfile draws the number by chance, so the same track would never make the same file twice. The
        number stands in every page, and under every page's checksum. A checksum is linear over bits: what
        changes in it is the checksum of the change alone, four bytes followed by nothing. So no sound is
        read again: of each page only its head.
Units   bytes; polynomials over GF(2) as whole numbers, bit k for x^k.
Source  RFC 3533 (Ogg), section 6: page layout, and CRC-32 with 0x04c11db7, initial value 0, not reflected.
"""

from __future__ import annotations

from functools import cache
from typing import BinaryIO

STREAM_NUMBER = 1
_GENERATOR = 0x1_04C1_1DB7
_CHECKED = 0xFFFF_FFFF
_HEAD = 27
_NUMBER = slice(14, 18)
_CHECKSUM = slice(22, 26)
_AFTER_NUMBER = 18
_SEGMENTS = 26


def fix_stream_number(file: BinaryIO) -> None:
    """Rewrite the head of every page of a complete Ogg file that is open for reading and writing."""
    place = 0
    while True:
        file.seek(place)
        head = bytearray(file.read(_HEAD))
        if not head:
            return
        if len(head) < _HEAD or head[:4] != b"OggS":
            raise ValueError(f"no Ogg page at byte {place}")
        length = _HEAD + head[_SEGMENTS] + sum(file.read(head[_SEGMENTS]))
        change = int.from_bytes(head[_NUMBER]) ^ int.from_bytes(STREAM_NUMBER.to_bytes(4, "little"))
        checksum = int.from_bytes(head[_CHECKSUM], "little") ^ _moved(change, length - _AFTER_NUMBER)
        head[_NUMBER] = STREAM_NUMBER.to_bytes(4, "little")
        head[_CHECKSUM] = checksum.to_bytes(4, "little")
        file.seek(place)
        file.write(head)
        place += length


def _moved(change: int, bytes_after: int) -> int:
    """The checksum of four changed bytes with so many unchanged bytes after them."""
    powers = _powers()
    while len(powers) <= bytes_after:
        powers.append(_a_byte_further(powers[-1]))
    return _times(change, powers[bytes_after])


@cache
def _powers() -> list[int]:
    """The powers of x: 32, and 8 more from place to place, modulo the generator. Grows as far as pages are long."""
    return [_GENERATOR & _CHECKED]


def _a_byte_further(power: int) -> int:
    return (power << 8 & _CHECKED) ^ _bytes_out()[power >> 24]


@cache
def _bytes_out() -> tuple[int, ...]:
    """What a byte that is moved out at the top leaves behind."""
    return tuple(_times(byte, _GENERATOR & _CHECKED) for byte in range(256))


def _times(one: int, other: int) -> int:
    """The product of two polynomials, modulo the generator."""
    product = 0
    while other:
        if other & 1:
            product ^= one
        one <<= 1
        if one >> 32:
            one ^= _GENERATOR
        other >>= 1
    return product
