"""What SQLite refuses, in plain words.

Rule    one result code a row: the lowest byte of an extended one.
Source  SQLite documentation, "Result and Error Codes".
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

BUSY, READ_ONLY, IO, CANNOT_OPEN, PROTOCOL, NOT_A_DATABASE = 5, 8, 10, 14, 15, 26
_HELD = "another program has held it for too long; try again when that one is done"
_DAMAGED = "it is damaged; keep a copy of it as it is"

IN_WORDS: Mapping[int, str] = MappingProxyType(
    {
        3: "permission denied",  # PERM
        BUSY: _HELD,
        6: _HELD,  # LOCKED
        7: "there is not enough memory",  # NOMEM
        READ_ONLY: "it can be read, but permission or room to write it is missing",
        IO: "the disk does not read or write it",
        11: _DAMAGED,  # CORRUPT
        13: "no space left on the disk",  # FULL
        CANNOT_OPEN: "it cannot be opened",
        PROTOCOL: _HELD,
        22: "it is too large for this machine",  # NOLFS
    }
)


def in_words(code: int, why: str) -> str:
    """A refusal in plain words; what SQLite says of it, where there are none."""
    return IN_WORDS.get(code, f"it cannot be used: {why}")
