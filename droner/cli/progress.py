"""Show on stderr how far long work has come.

Rule    one line that is rewritten when a person watches, one line a file when the output goes elsewhere; nothing
        at all when the command is told to be quiet. Safe to call from several threads.
"""

from __future__ import annotations

import sys
from threading import Lock
from time import monotonic
from typing import Self

REDRAWN_EVERY_SECONDS = 0.1
CLEAR_LINE = "\r\x1b[2K"


class Progress:
    """Counts `whole` units of work under way in several files at once."""

    def __init__(self, whole: int, files: int, *, quiet: bool) -> None:
        self._whole, self._files = max(whole, 1), files
        self._done: dict[str, int] = {}
        self._finished = 0
        self._shown = 0.0
        self._lock = Lock()
        self._quiet = quiet
        self._watched = not quiet and sys.stderr.isatty()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._watched:
            sys.stderr.write(CLEAR_LINE)
            sys.stderr.flush()

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
            elif not self._quiet:
                sys.stderr.write(f"{self._finished} of {self._files}: {name}\n")

    def _draw(self, name: str) -> None:
        self._shown = monotonic()
        share = min(sum(self._done.values()) * 100 // self._whole, 100)
        sys.stderr.write(f"{CLEAR_LINE}{share:3} %  {self._finished} of {self._files} files  {name}")
        sys.stderr.flush()
