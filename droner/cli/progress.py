"""Show on stderr how far long work has come.

Rule    one line that is rewritten when a person watches, one line a file when several go elsewhere; nothing at all
        when the command is told to be quiet. The line is cut to the terminal, since a longer one cannot be rewritten.
        Safe to call from several threads. A terminal that has gone away stops nothing.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from threading import Lock
from time import monotonic
from typing import Self

REDRAWN_EVERY_SECONDS = 0.1
CLEAR_LINE = "\r\x1b[2K"
USUAL_COLUMNS = 80


class Progress:
    """Counts `whole` units of work under way in several files at once."""

    def __init__(self, whole: int, files: int, *, quiet: bool) -> None:
        self._whole, self._files = max(whole, 1), files
        self._done: dict[str, int] = {}
        self._finished = 0
        self._shown = 0.0
        self._lock = Lock()
        self._quiet = quiet or sys.stderr is None
        self._watched = not self._quiet and sys.stderr.isatty() and os.environ.get("TERM") != "dumb"

    def __enter__(self) -> Self:
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        with self._lock:
            if self._watched:
                _put(CLEAR_LINE)
                self._watched = False
            if kind is not None and self._finished and not self._quiet:
                _put(f"{self._finished} of {self._files} files finished\n")

    def at(self, name: str, done: int) -> None:
        """A file has come so far."""
        with self._lock:
            self._done[name] = done
            if self._watched and monotonic() - self._shown > REDRAWN_EVERY_SECONDS:
                self._draw(name)

    def finished(self, name: str) -> None:
        """A file is whole."""
        with self._lock:
            self._finished += 1
            if self._watched:
                self._draw(name)
            elif not self._quiet and self._files > 1:
                _put(f"{name}: written, {self._finished} of {self._files}\n")

    def _draw(self, name: str) -> None:
        self._shown = monotonic()
        share = min(sum(self._done.values()) * 100 // self._whole, 100)
        several = f"{self._finished} of {self._files} files  " if self._files > 1 else ""
        _put(CLEAR_LINE + f"{share:3} %  {several}{name}"[: _columns() - 1])


def _columns() -> int:
    with suppress(OSError, ValueError):
        return os.get_terminal_size(sys.stderr.fileno()).columns or USUAL_COLUMNS
    return USUAL_COLUMNS


def _put(text: str) -> None:
    with suppress(OSError):
        sys.stderr.write(text)
        sys.stderr.flush()
