"""Leave nothing sounding: know every note that stands, and end it.

Rule    a note is written down before it is sent and struck out after its end is sent, so whatever falls in between,
        the end is sent once too often and never once too seldom. What is due together is written down together.
        `still` ends what sounds, and stops a MIDI clock that runs. `hush` does more: pedals up and all notes off on
        every channel that was used, then bends and controllers back. Both go through to the end even when a message
        fails, and raise that failure afterwards.
        `insist` says all notes off once more, for a system that lost a moment of it (JACK does when it is overrun).
        `hush_all` is for an instrument that was out of reach: it ends every key ever struck, for nobody knows which
        ends it heard.
Units   channels 1..16; keys 0..127. A hush is 4 messages a channel and a note's end for each that sounds, and one a
        channel when said again: 92 ms on a MIDI cable of 31,250 baud when a note sounds on all 16 channels.
Source  MIDI 1.0: controller 64 sustain, 123 all notes off, 121 reset all controllers (numbers from memory);
        a byte takes 320 microseconds: IEC 63035 (31,250 baud, ten bits a byte).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import NamedTuple

from droner.midi.controller_table import CENTRE_BEND, RESET_CONTROLLERS
from droner.midi.live.midi_clock import CONTINUE, START, STOP
from droner.midi.message import RELEASE_VELOCITY, Kind

SUSTAIN = 64
ALL_NOTES_OFF = 123
BYTE_NS = 320_000
"""How long a byte takes on a MIDI cable."""
HEARD_NS = 45_000_000
"""What a hush is given to be heard before it is said again, and that before the port is closed: two periods of JACK at
1024 frames and 48 kHz are 43 ms. Both together are done within a tenth of a second, and so is a MIDI cable."""

NOTE_OFF, NOTE_ON = Kind.NOTE_OFF.value, Kind.NOTE_ON.value
"""The upper half of a status byte."""

Send = Callable[[bytes], None]


class SoundingKey(NamedTuple):
    """A note that stands."""

    channel: int
    key: int


class Keeper:
    """Stands between the music and the port, and keeps the record of what sounds."""

    def __init__(self, send: Send) -> None:
        self._send = send
        self._sounding: dict[SoundingKey, None] = {}
        self._struck: dict[SoundingKey, None] = {}
        self._used: dict[int, None] = {}
        self._shut = False
        self._hushed = True
        self._clock_runs = False

    @property
    def sounding(self) -> tuple[SoundingKey, ...]:
        """What sounds now, the oldest first."""
        return tuple(self._sounding)

    def send(self, wire: bytes) -> None:
        """Send one message. After `hush_for_good` nothing is sent any more."""
        self.ready((wire,))(wire)
        self.sent((wire,))

    def ready(self, wires: Iterable[bytes]) -> Send:
        """Write down all that is about to begin, and give what sends it; `sent` is said afterwards."""
        if self._shut:
            return _send_nothing
        self._hushed = False
        for wire in wires:
            self._begins(wire)
        return self._send

    def sent(self, wires: Iterable[bytes]) -> None:
        """Strike out what has ended, and did not begin again after it. What `hush_for_good` kept back never began."""
        if self._shut:
            return
        for wire in wires:
            self._begins(wire)
            self._strike_out(wire)

    def still(self) -> int:
        """End what sounds. How many bytes that took."""
        return self._through(self._ends())

    def hush(self) -> int:
        """End what sounds, and set every used channel to rights; nothing, if nothing was sent since the last time."""
        if self._hushed:
            return 0
        took = self._through((*self._ends(), *self._rights()))
        self._hushed = True
        return took

    def insist(self) -> int:
        """Say all notes off once more. How many bytes that took."""
        return self._through(_control(channel, ALL_NOTES_OFF) for channel in self._used)

    def hush_all(self) -> int:
        """End every key that was ever struck, and set every used channel to rights."""
        return self._through((*(note_off(key) for key in self._struck), *self._rights()))

    def hush_for_good(self) -> int:
        """Hush, and let nothing through afterwards: for the end of the program, whatever still runs."""
        took = self.hush()
        self._shut = True
        return took + self.still()

    def _begins(self, wire: bytes) -> None:
        kind = wire[0] & 0xF0
        if kind == NOTE_ON:
            if wire[2]:
                key = SoundingKey((wire[0] & 0x0F) + 1, wire[1])
                self._sounding[key] = self._struck[key] = self._used[key.channel] = None
        elif wire in (START, CONTINUE):
            self._clock_runs = True

    def _ends(self) -> tuple[bytes, ...]:
        ends = tuple(note_off(key) for key in self._sounding)
        return (STOP, *ends) if self._clock_runs else ends

    def _rights(self) -> tuple[bytes, ...]:
        released = [wire for channel in self._used for wire in _released(channel)]
        return (*released, *(wire for channel in self._used for wire in _reset(channel)))

    def _through(self, wires: Iterable[bytes]) -> int:
        """Send all of them, though some may fail."""
        took, failures = 0, []
        for wire in wires:
            try:
                self._send(wire)
            except Exception as failure:  # noqa: BLE001 - the rest must go out first; it is raised below
                failures.append(failure)
            else:
                self._strike_out(wire)
            took += len(wire)
        if failures:
            raise failures[0]
        return took

    def _strike_out(self, wire: bytes) -> None:
        kind = wire[0] & 0xF0
        if kind == NOTE_OFF or (kind == NOTE_ON and not wire[2]):
            self._sounding.pop(SoundingKey((wire[0] & 0x0F) + 1, wire[1]), None)
        elif wire == STOP:
            self._clock_runs = False


def _send_nothing(_: bytes) -> None:
    """What is said after the end."""


def note_off(key: SoundingKey) -> bytes:
    """The end of a note."""
    return bytes((Kind.NOTE_OFF.value | key.channel - 1, key.key, RELEASE_VELOCITY))


def _released(channel: int) -> tuple[bytes, bytes]:
    return _control(channel, SUSTAIN), _control(channel, ALL_NOTES_OFF)


def _reset(channel: int) -> tuple[bytes, bytes]:
    bend = bytes((Kind.BEND.value | channel - 1, CENTRE_BEND & 0x7F, CENTRE_BEND >> 7))
    return bend, _control(channel, RESET_CONTROLLERS)


def _control(channel: int, number: int) -> bytes:
    return bytes((Kind.CONTROL.value | channel - 1, number, 0))
