"""Let signals end a live day in order, and let Ctrl-Z find the terminal as it was. (Shore: touches signals.)

Rule    while a piece plays its player notes the signals, and obeys them once it is silent; what they then do is said
        here: SIGTERM, SIGHUP and the like leave the program by way of every `finally`. Ctrl-Z first puts the terminal
        back; when the program goes on, it is taken again.
        The players note Ctrl-Z with a handler of their own, which is hung behind ours each time it is new: `watch` is
        called between two messages.
Source  a shell gives 128 and the number of the signal as the exit code.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from types import FrameType
from typing import Protocol

from droner.cli.screen import tell
from droner.live.noted_signals import SLEEPING, noted_signals

ENDING = ("SIGTERM", "SIGHUP", "SIGQUIT", "SIGBREAK")
SIGNALS_ADD = 128


class Taken(Protocol):
    """What is taken from the terminal, and given back before the program sleeps."""

    def enter(self) -> bool:
        """Take it; nothing, if it is taken already. False while it is not to be had."""

    def leave(self) -> None:
        """Give it back; nothing, if it was."""


@contextmanager
def ending_in_order() -> Iterator[None]:
    """Inside the block a signal that ends the program leaves it by `SystemExit`. Those that are ignored stay so."""
    numbers = [getattr(signal, name) for name in ENDING if hasattr(signal, name)]
    before = {number: signal.getsignal(number) for number in numbers}
    heeded = {number: usual for number, usual in before.items() if usual is signal.SIG_DFL}
    for number in heeded:
        signal.signal(number, _leave)
    try:
        yield
    finally:
        for number, usual in heeded.items():
            signal.signal(number, usual)


@contextmanager
def told_when_stopped() -> Iterator[None]:
    """Say a word when a signal ends the music, once the terminal is as it was. Ctrl-C is told elsewhere."""
    try:
        yield
    except SystemExit as left:
        if isinstance(left.code, int) and left.code > SIGNALS_ADD:
            tell("stopped")
        raise


@contextmanager
def undisturbed_end(close: Callable[[], None]) -> Iterator[None]:
    """At the end of the block close, and let no signal fall into that: it acts afterwards."""
    try:
        yield
    finally:
        with noted_signals():
            close()


class Sleeper:
    """Gives the terminal back before Ctrl-Z, and takes it again; a program in the background has no terminal."""

    def __init__(self, *taken: Taken) -> None:
        self._taken = taken
        self._has = self._goes_to_sleep = False
        self._number = getattr(signal, SLEEPING, None)
        self._between, self._within = self._sleep_between, self._sleep_within
        self._players_own: Callable[[int, FrameType | None], object] | None = None

    def start(self) -> None:
        """Take the terminal, and heed Ctrl-Z, unless it is ignored."""
        if self._number is not None and signal.getsignal(self._number) is signal.SIG_DFL:
            signal.signal(self._number, self._between)
        self.watch()

    def close(self) -> None:
        """Leave Ctrl-Z as it was."""
        if self._number is not None and signal.getsignal(self._number) is self._between:
            signal.signal(self._number, signal.SIG_DFL)

    def watch(self) -> None:
        """Hang the player's own handler behind ours; take the terminal, if it is to be had. In the main thread."""
        if self._number is not None:
            heeded = signal.getsignal(self._number)
            if heeded is not self._within and heeded is not self._between and callable(heeded):
                self._players_own, self._goes_to_sleep = heeded, False
                signal.signal(self._number, self._within)
        if not self._has and not self._goes_to_sleep:
            self._has = all(each.enter() for each in self._taken)

    def _give_back(self) -> None:
        self._has = False
        for each in self._taken:
            each.leave()

    def _sleep_within(self, number: int, frame: FrameType | None) -> None:
        """While something plays: the player ends what sounds, then sleeps, and heeds Ctrl-Z itself when it awakes."""
        self._give_back()
        self._goes_to_sleep = True
        assert self._players_own is not None  # noqa: S101 - hung there before
        self._players_own(number, frame)

    def _sleep_between(self, number: int, _: FrameType | None) -> None:
        """Between two pieces nothing sounds."""
        self._give_back()
        signal.signal(number, signal.SIG_DFL)
        signal.raise_signal(number)
        signal.signal(number, self._between)
        self.watch()


def _leave(number: int, _: FrameType | None) -> None:
    raise SystemExit(SIGNALS_ADD + number)
