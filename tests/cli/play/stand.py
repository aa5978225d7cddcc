"""A player's terminal: run the program in a pseudoterminal, press its keys, and read its screen.

Rule    the screen is read by pyte, a terminal emulator that knows nothing of droner. Waiting is for what is shown,
        not for a time, so that a busy machine is only slower.
Source  POSIX.1 pseudoterminals and termios; DEC private mode 1049, the other screen, which pyte does not have: the raw
        text is looked at for it.
"""

from __future__ import annotations

import fcntl
import importlib
import os
import pty
import select
import signal
import struct
import subprocess
import termios
import time
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any, Self

import pytest

from tests.cli.programs import DRONER, surroundings

WITHIN_S = 20
LOOK_S = 0.02
OTHER_SCREEN, OWN_SCREEN, SHOW_CURSOR = b"\x1b[?1049h", b"\x1b[?1049l", b"\x1b[?25h"


def need_pyte() -> Any:
    """The library; else the test is skipped, or fails where every part is required."""
    try:
        return importlib.import_module("pyte")
    except ImportError:
        reason = "pyte is not installed"
        if os.environ.get("DRONER_REQUIRE_PARTS"):
            pytest.fail(reason, pytrace=False)
        pytest.skip(reason)


class Stand:
    """A program in a terminal of its own."""

    def __init__(
        self, folder: Path, command: Sequence[str], more: Mapping[str, str], columns: int = 80, lines: int = 24
    ) -> None:
        pyte = need_pyte()
        self.raw = b""
        self._screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self._screen)
        self._ours, self._theirs = pty.openpty()
        fcntl.ioctl(self._theirs, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))
        self.modes_before = self.modes
        self._process = subprocess.Popen(
            command,
            cwd=folder,
            env=surroundings(TERM="xterm", **more),
            stdin=self._theirs,
            stdout=self._theirs,
            stderr=self._theirs,
            start_new_session=True,
            preexec_fn=_take_terminal,  # noqa: PLW1509 - the only way; no thread of a test holds a lock of it
        )

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        if self._process.poll() is None:
            os.killpg(self._process.pid, signal.SIGKILL)
            self._process.wait()
        for number in (self._ours, self._theirs):
            os.close(number)

    @property
    def modes(self) -> list[Any]:
        """How the terminal is set."""
        return termios.tcgetattr(self._theirs)

    @property
    def echoes(self) -> bool:
        """Whether it shows what is typed, and waits for whole lines."""
        return bool(self.modes[3] & termios.ECHO and self.modes[3] & termios.ICANON)

    @property
    def lines(self) -> list[str]:
        """What is shown."""
        self._read()
        return [line.rstrip() for line in self._screen.display]

    @property
    def text(self) -> str:
        """The same as one text."""
        return "\n".join(self.lines)

    @property
    def is_on_own_screen(self) -> bool:
        """Whether the other screen was left, and the cursor shown."""
        self._read()
        last = self.raw.rfind(OTHER_SCREEN)
        return self.raw.rfind(OWN_SCREEN) >= last and self.raw.rfind(SHOW_CURSOR) >= last

    def press(self, keys: str) -> None:
        """Press keys."""
        os.write(self._ours, keys.encode())

    def until(self, what: str | Callable[[], bool]) -> None:
        """Wait until a text is shown, or something holds."""
        end = time.monotonic() + WITHIN_S
        while not (what in self.text if isinstance(what, str) else what()):
            assert time.monotonic() < end, f"{what!r} never came; the screen:\n{self.text}"
            assert self._process.poll() is None, f"{what!r} never came; it ended, and said:\n{self.text}"
            time.sleep(LOOK_S)

    def send(self, number: int) -> None:
        """Send a signal."""
        self._process.send_signal(number)

    def end(self) -> int:
        """Wait for the end; its code."""
        end = time.monotonic() + WITHIN_S
        while self._process.poll() is None:
            self._read()
            assert time.monotonic() < end, f"it does not end; the screen:\n{self.text}"
        self._read()
        return self._process.returncode

    def _read(self) -> None:
        while select.select([self._ours], [], [], LOOK_S)[0]:
            data = os.read(self._ours, 65536)
            self.raw += data
            self._stream.feed(data)


def _take_terminal() -> None:
    """In the new session: the terminal on stdin is its own."""
    fcntl.ioctl(0, termios.TIOCSCTTY, 0)


def play_in(folder: Path, more: Mapping[str, str], *arguments: str, columns: int = 80, lines: int = 24) -> Stand:
    """`droner play ARGUMENTS` in a terminal."""
    return Stand(folder, [*DRONER, "play", *arguments], more, columns, lines)
