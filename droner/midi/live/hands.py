"""Hear pedals and keys of a MIDI instrument as commands.

Rule    a pedal is pressed when its controller goes to 64 or more; a program change and a note that begins are presses.
        A press within a fifth of a second of another press of the same thing, or within a twentieth of its release, is
        a bounce or a flood: it is counted, and is no command. So a thing gives at most one command in 0.2 s, and one
        that floods without end gives one. A poll fetches a limited number of messages: no flood can hold up the music.
Units   channels 1..16; numbers and values 0..127; nanoseconds.
Source  controller values 0-63 are off and 64-127 on; note on with velocity 0 is a note off: MIDI 1.0.
        The spans are ours, by the hand: a person does not press the same pedal five times a second.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum

from droner.midi.live.commands import Command
from droner.midi.message import Kind

PRESSED = 64
APART_NS = 200_000_000
AFTER_RELEASE_NS = 50_000_000
MOST_AT_ONCE = 256
LISTEN_S = 0.01

Receive = Callable[[], bytes | None]


class Thing(Enum):
    """What sends the message."""

    CONTROLLER = "controller"
    PROGRAM = "program"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Press:
    """One pedal, button or key: its kind, channel and number. What is learned, and what commands hang on."""

    thing: Thing
    channel: int
    number: int

    def __str__(self) -> str:
        return f"{self.thing.value} {self.number} on channel {self.channel}"


@dataclass(frozen=True, slots=True)
class Mapping:
    """Which press gives which command."""

    pairs: tuple[tuple[Press, Command], ...] = ()

    def command(self, press: Press) -> Command | None:
        """The command of a press; None if it has none."""
        return dict(self.pairs).get(press)

    def with_pair(self, press: Press, command: Command) -> Mapping:
        """The same, but for one press."""
        return Mapping((*(pair for pair in self.pairs if pair[0] != press), (press, command)))


def heard(wire: bytes) -> tuple[Press, bool] | None:
    """What a message tells of: a press (True) or a release; None if of neither."""
    kind, channel = wire[0] & 0xF0, (wire[0] & 0x0F) + 1
    if kind == Kind.CONTROL.value and len(wire) == 3:
        return Press(Thing.CONTROLLER, channel, wire[1]), wire[2] >= PRESSED
    if kind == Kind.PROGRAM.value and len(wire) == 2:
        return Press(Thing.PROGRAM, channel, wire[1]), True
    if kind in (Kind.NOTE_ON.value, Kind.NOTE_OFF.value) and len(wire) == 3:
        return Press(Thing.NOTE, channel, wire[1]), kind == Kind.NOTE_ON.value and wire[2] > 0
    return None


class Hands:
    """Listens; `ignored` counts the presses that were bounces or floods."""

    def __init__(self, mapping: Mapping, now_ns: Callable[[], int] = time.monotonic_ns) -> None:
        self.ignored = 0
        self._mapping, self._now_ns = mapping, now_ns
        self._pressed: dict[Press, int] = {}
        self._released: dict[Press, int] = {}

    def hear(self, wire: bytes) -> Command | None:
        """The command that a message gives, if any."""
        told = heard(wire)
        if told is None:
            return None
        press, down = told
        now = self._now_ns()
        if not down:
            self._released[press] = now
            return None
        if self._is_bounce(press, now):
            self.ignored += 1
            return None
        return self._mapping.command(press)

    def poll(self, receive: Receive, give: Callable[[Command], None]) -> None:
        """Fetch what has come, and give its commands. For a player's `idle`."""
        for _ in range(MOST_AT_ONCE):
            wire = receive()
            if wire is None:
                return
            command = self.hear(wire)
            if command:
                give(command)

    def _is_bounce(self, press: Press, now: int) -> bool:
        last_press, last_release = self._pressed.get(press), self._released.get(press)
        self._pressed[press] = now
        too_soon = last_press is not None and now - last_press < APART_NS
        return too_soon or (last_release is not None and now - last_release < AFTER_RELEASE_NS)


def learn(receive: Receive, seconds: float = 10.0) -> Press | None:
    """Wait for the first press that is heard, whatever it is; None when none comes in so many seconds."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        wire = receive()
        if wire is None:
            time.sleep(LISTEN_S)
            continue
        told = heard(wire)
        if told and told[1]:
            return told[0]
    return None
