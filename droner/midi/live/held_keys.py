"""Know which keys are held on a MIDI keyboard, once a hand has settled.

Rule    keys pressed together never come at one moment, and are never let go at one. So what is held counts when nothing
        has been pressed for 40 ms, and nothing let go for a quarter of a second. When the last key is let go nothing is
        told: what was held last stands, for the hand goes back to the instrument.
Units   MIDI key numbers; nanoseconds.
Source  note on with velocity 0 is a note off; controllers 120 and 123 end all notes of their channel: MIDI 1.0 (numbers
        from memory). The spans are ours, by the hand.
"""

from __future__ import annotations

import time
from collections.abc import Callable

from droner.midi.live.hands import MOST_AT_ONCE, Receive, Thing, heard
from droner.midi.live.silence import ALL_NOTES_OFF
from droner.midi.message import Kind

PRESSED_NS = 40_000_000
RELEASED_NS = 250_000_000
ALL_SOUND_OFF = 120
ENDS_ALL = frozenset({ALL_SOUND_OFF, ALL_NOTES_OFF})


class HeldKeys:
    """Listens to a keyboard."""

    def __init__(self, now_ns: Callable[[], int] = time.monotonic_ns) -> None:
        self._now_ns = now_ns
        self._down: set[tuple[int, int]] = set()
        self._settles_ns: int | None = None

    def hear(self, wire: bytes) -> None:
        """Take one message in."""
        if wire[0] & 0xF0 == Kind.CONTROL.value and wire[1] in ENDS_ALL:
            self.let_go(wire[0] & 0x0F)
            return
        told = heard(wire)
        if told is None or told[0].thing is not Thing.NOTE:
            return
        press, is_down = told
        if is_down:
            self._down.add((press.channel, press.number))
        else:
            self._down.discard((press.channel, press.number))
        self._settles_ns = self._now_ns() + (PRESSED_NS if is_down else RELEASED_NS)

    def let_go(self, channel: int | None = None) -> None:
        """All keys are let go, or those of one channel (from 0): they were told so, or the keyboard has gone."""
        self._down = {key for key in self._down if channel is not None and key[0] != channel + 1}
        self._settles_ns = self._now_ns() + RELEASED_NS

    def settled(self) -> tuple[int, ...]:
        """The keys that are held, rising, once after each change that has settled; else nothing."""
        if self._settles_ns is None or self._now_ns() < self._settles_ns:
            return ()
        self._settles_ns = None
        return tuple(sorted({number for _, number in self._down}))

    def poll(self, receive: Receive, give: Callable[[tuple[int, ...]], None]) -> None:
        """Fetch what has come, and give what is held. For a player's `idle`."""
        for _ in range(MOST_AT_ONCE):
            wire = receive()
            if wire is None:
                break
            self.hear(wire)
        if keys := self.settled():
            give(keys)
