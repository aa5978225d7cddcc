"""Draw the screen of live music on stderr. (Shore: touches the terminal and one thread.)

Rule    nothing is drawn before there is something to show: C libraries are kept quiet while they start, and so is the
        stderr that is drawn on. Then at most ten times a second, from a thread of its own, and only what has changed:
        the cursor goes home and each line is written over, so that nothing flickers. The page stands on the terminal's
        other screen, and what was there before comes back at the end; where a terminal has one screen only, it is empty
        then. Without the room for a page, or when told to be
        quiet, it is one line that is rewritten. Without a terminal nothing is drawn. A terminal that has gone away
        stops nothing.
Source  ECMA-48: CUP (H), EL (K), ED (J); the other screen and the cursor, DEC private modes 1049 and 25, as xterm has
        them.
"""

from __future__ import annotations

import os
import sys
from contextlib import suppress
from threading import Event, RLock, Thread
from typing import TYPE_CHECKING

from droner.cli.play_letters import FULL_BLOCK, INK
from droner.cli.play_paper import Paper

if TYPE_CHECKING:
    from collections.abc import Callable

DRAWN_EVERY_S = 0.1
OTHER_SCREEN, OWN_SCREEN = "\x1b[?1049h\x1b[?25l\x1b[2J", "\x1b[?25h\x1b[?1049l"
HOME, REST_OF_LINE, REST_OF_PAGE, CLEAR_LINE = "\x1b[H", "\x1b[K", "\x1b[J", "\r\x1b[2K"
USUAL = (80, 24)
ENDS_WITHIN_S = 1.0
"""A terminal that takes no more text is not waited for."""


class Screen:
    """The screen: `page` lays out all lines, `line` is the one line. `enter` and `leave` may be called repeatedly."""

    def __init__(
        self, page: Callable[[Paper], list[str]], line: Callable[[], str], *, quiet: bool, keys: bool = True
    ) -> None:
        self._page, self._line, self._keys = page, line, keys
        self._watched = sys.stderr is not None and sys.stderr.isatty() and os.environ.get("TERM") != "dumb"
        self._number = sys.stderr.fileno() if self._watched else -1
        self._has_pages = self._watched and not quiet
        self._ink = FULL_BLOCK if self._can_write(FULL_BLOCK) else INK
        self._before: list[str] = []
        self._entered = False
        self._on_other_screen = False
        self._closed = Event()
        self._lock = RLock()
        self._thread = Thread(target=self._draw_again_and_again, name="droner screen", daemon=True)

    @property
    def is_watched(self) -> bool:
        """Whether there is a terminal to draw on."""
        return self._watched

    def start(self) -> None:
        """Begin to draw, as soon as the terminal is entered."""
        if self._watched:
            self._thread.start()

    def enter(self) -> bool:
        """Take the terminal; all is drawn anew."""
        with self._lock:
            self._entered, self._before = self._watched, []
        return True

    def leave(self) -> None:
        """Give it back as it was."""
        free = self._lock.acquire(timeout=ENDS_WITHIN_S)
        if self._entered and free:
            self._put(HOME + REST_OF_PAGE + OWN_SCREEN if self._on_other_screen else CLEAR_LINE)
        self._entered = self._on_other_screen = False
        if free:
            self._lock.release()

    def close(self) -> None:
        """Stop drawing, and give the terminal back."""
        self._closed.set()
        if self._thread.is_alive():
            self._thread.join(ENDS_WITHIN_S)
        self.leave()

    def _draw_again_and_again(self) -> None:
        while not self._closed.wait(DRAWN_EVERY_S):
            paper = self._paper()
            lines = self._page(paper) if paper.is_large else [self._line()[: paper.wide - 1]]
            with self._lock:
                if self._entered and any(lines) and lines != self._before:
                    self._draw(lines, paper)
                    self._before = lines

    def _draw(self, lines: list[str], paper: Paper) -> None:
        if not paper.is_large:
            self._put((OWN_SCREEN if self._on_other_screen else "") + CLEAR_LINE + lines[0])
            self._on_other_screen = False
            return
        text = f"{REST_OF_LINE}\r\n".join(lines)
        self._put(("" if self._on_other_screen else OTHER_SCREEN) + HOME + text + REST_OF_LINE + REST_OF_PAGE)
        self._on_other_screen = True

    def _paper(self) -> Paper:
        wide, high = USUAL
        with suppress(OSError, ValueError):
            size = os.get_terminal_size(self._number)
            wide, high = size.columns or wide, size.lines or high
        return Paper(wide, high if self._has_pages else 1, self._ink, self._keys)

    def _can_write(self, sign: str) -> bool:
        if not self._watched:
            return False
        try:
            sign.encode(sys.stderr.encoding or "ascii")
        except (UnicodeEncodeError, LookupError):
            return False
        return True

    def _put(self, text: str) -> None:
        data = text.encode(sys.stderr.encoding or "ascii", "replace")
        with suppress(OSError):
            while data:
                data = data[os.write(self._number, data) :]
