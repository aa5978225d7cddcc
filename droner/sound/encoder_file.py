"""Hand an open file to libsndfile, and keep what goes wrong.

Rule    the encoder writes after what already stands in the file (the tag of an MP3), as if its own first byte
        were the first. libsndfile can pass over a full disk in silence, so every failure is kept here and
        raised again as soon as the encoder has come back.
Units   bytes.
"""

from __future__ import annotations

import os
from typing import BinaryIO, Self


class EncoderFile:
    """An open file as the encoder sees it, from where the file stands now. Use it in a `with` block."""

    def __init__(self, file: BinaryIO) -> None:
        self._file = file
        self._first = file.tell()
        self._place = 0
        self._failure: BaseException | None = None

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.raise_failure()

    def write(self, data: bytes) -> int:
        """Take the bytes; 0 tells the encoder that they were not taken."""
        try:
            taken = self._file.write(data)
        except BaseException as why:  # noqa: BLE001 - nothing may pass through the C code; raised again below
            self._failure = self._failure or why
            return 0
        self._place += taken
        return taken

    def seek(self, offset: int, whence: int = os.SEEK_SET) -> int:
        """Go to a place, counted as the encoder counts."""
        try:
            place = offset + self._first if whence == os.SEEK_SET else offset
            self._place = self._file.seek(place, whence) - self._first
        except BaseException as why:  # noqa: BLE001 - as above
            self._failure = self._failure or why
            return -1
        return self._place

    def tell(self) -> int:
        """The place, counted as the encoder counts. It asks before every write: the disk is not asked."""
        return self._place

    def raise_failure(self) -> None:
        """Raise what went wrong, if anything did."""
        if self._failure is not None:
            raise self._failure
