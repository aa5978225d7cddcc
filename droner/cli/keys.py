"""Read single keys from the terminal. (Shore: touches the terminal and one thread.)

Rule    while it is entered the terminal hands over each key at once and does not show it; Ctrl-C and Ctrl-Z go on
        meaning what they mean. Leaving puts it back as it was; both may be done again and again. A program in the
        background leaves the terminal alone: the system would stop it. The same key within a fifth of a second is a
        finger that rests on it. Arrows are given as arrow signs; what else follows an escape sign is no command.
        Where there is no terminal no keys are read.
Units   seconds.
Source  POSIX.1, termios: ICANON, ECHO, VMIN, VTIME; a background process that reads is sent SIGTTIN.
        ECMA-48: a control sequence is ESC [, parameters, a last byte; cursor keys end in A to D (xterm; from memory).
        Windows: `getwch` gives 0 or E0 hex, then H, P, M or K for an arrow (Python's manual; from memory).
"""

from __future__ import annotations

import os
import re
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from threading import Event, Thread

APART_S = 0.2
LOOK_S = 0.05
READ_AT_ONCE = 256
UP, DOWN, RIGHT, LEFT = ARROWS = (
    "\N{UPWARDS ARROW}",
    "\N{DOWNWARDS ARROW}",
    "\N{RIGHTWARDS ARROW}",
    "\N{LEFTWARDS ARROW}",
)
_ARROW_OF_LAST = dict(zip("ABCD", ARROWS, strict=True))
_ESCAPED = re.compile(r"\x1b(?:[\[O][0-9;?]*(?P<last>[ -/]*[@-~])|[^\[O])", re.DOTALL)
_BEGUN = re.compile(r"\x1b(?:[\[O][0-9;? -/]*)?$")

Give = Callable[[str], None]


class Keys:
    """The keys of the terminal on stdin, each given to `give` as it is pressed, from a thread of its own."""

    def __init__(self, give: Give, apart_s: float = APART_S) -> None:
        self._terminal = terminal()
        self._give, self._apart_s = give, apart_s
        self._pressed: dict[str, float] = {}
        self._closed = Event()
        self._thread = Thread(target=self._read, name="droner keys", daemon=True)

    @property
    def are_read(self) -> bool:
        """Whether there are any keys."""
        return self._terminal is not None

    def start(self) -> None:
        """Begin to listen, as soon as the terminal is entered."""
        if self._terminal:
            self._thread.start()

    def enter(self) -> bool:
        """Let the terminal hand over each key at once. False in the background."""
        return self._terminal is None or self._terminal.enter()

    def leave(self) -> None:
        """Put the terminal back as it was."""
        if self._terminal:
            self._terminal.leave()

    def close(self) -> None:
        """Stop listening, and put the terminal back."""
        self._closed.set()
        self.leave()
        if self._thread.is_alive():
            self._thread.join()

    def _read(self) -> None:
        assert self._terminal is not None  # noqa: S101 - started only with one
        begun = ""
        while not self._closed.is_set():
            text = self._terminal.read(LOOK_S)
            if text is None:
                return
            # what does not go on by the next look was the escape key itself
            came, begun = whole_signs(begun + text) if text else ("", "")
            for sign in came:
                self._hear(sign)

    def _hear(self, sign: str) -> None:
        now = time.monotonic()
        before = self._pressed.get(sign)
        self._pressed[sign] = now
        if before is None or now - before >= self._apart_s:
            self._give(sign)


def whole_signs(text: str) -> tuple[str, str]:
    """The keys in a text, arrows as arrow signs; and a sequence at its end that is begun only."""
    begun = _BEGUN.search(text)
    whole = text[: begun.start()] if begun else text
    signs = _ESCAPED.sub(lambda found: _ARROW_OF_LAST.get(found["last"] or "", ""), whole)
    return signs.lower(), text[len(whole) :]


if sys.platform == "win32":
    import msvcrt

    ARROW_OF_SECOND = dict(zip("HPMK", ARROWS, strict=True))

    class Terminal:
        """A console of Windows: it hands over single keys as it is."""

        def enter(self) -> bool:
            """Nothing need be done."""
            return True

        def leave(self) -> None:
            """Nothing was done."""

        def read(self, within_s: float) -> str | None:
            """The keys that have come; "" for none so far."""
            if not msvcrt.kbhit():
                time.sleep(within_s)
                return ""
            sign = msvcrt.getwch()
            return ARROW_OF_SECOND.get(msvcrt.getwch(), "") if sign in "\0\xe0" else sign

    def terminal() -> Terminal | None:
        """The console on stdin, if it is one."""
        return Terminal() if sys.stdin is not None and sys.stdin.isatty() else None

else:
    import select
    import termios

    LOCAL_MODES, SPECIAL_SIGNS = 3, 6
    """Where `termios` keeps them."""

    class Terminal:
        """A terminal of POSIX."""

        def __init__(self, number: int) -> None:
            self._number = number
            self._before = termios.tcgetattr(number)
            self._entered = False

        def enter(self) -> bool:
            """Single keys, not shown; False in the background."""
            with suppress(OSError, termios.error):
                if self._entered or os.tcgetpgrp(self._number) != os.getpgrp():
                    return self._entered
                modes = termios.tcgetattr(self._number)
                modes[LOCAL_MODES] &= ~(termios.ICANON | termios.ECHO)
                modes[SPECIAL_SIGNS][termios.VMIN] = 1
                modes[SPECIAL_SIGNS][termios.VTIME] = 0
                termios.tcsetattr(self._number, termios.TCSANOW, modes)
                self._entered = True
            return self._entered

        def leave(self) -> None:
            """As it was."""
            if self._entered:
                self._entered = False
                with suppress(OSError, termios.error):
                    termios.tcsetattr(self._number, termios.TCSANOW, self._before)

        def read(self, within_s: float) -> str | None:
            """The keys that have come; "" for none so far, None when the terminal has gone."""
            if not self._entered:
                time.sleep(within_s)
                return ""
            try:
                ready, _, _ = select.select([self._number], [], [], within_s)
                if not ready or not self._entered:
                    return ""
                data = os.read(self._number, READ_AT_ONCE)
            except OSError:
                return None
            return data.decode("utf-8", "replace") if data else None

    def terminal() -> Terminal | None:
        """The terminal on stdin, if it is one."""
        with suppress(OSError, ValueError, AttributeError, termios.error):
            number = sys.stdin.fileno()
            return Terminal(number) if os.isatty(number) else None
        return None
