"""Write one channel message at its moment: the shape that a file and a live port share.

Rule    at one moment notes end first, then controllers and bends, then programs, and notes begin last.
        Messages that tie keep the order in which they were made.
Units   moment in quarter notes (Beats); channel 1..16; data bytes 0..127 as on the wire.
Source  MIDI 1.0 channel voice messages (statuses from memory; 0x80, 0x90, 0xC0 also in SMF 1.0's example).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import Enum

from droner.midi.channel_table import Part
from droner.units import Beats

RELEASE_VELOCITY = 64


class Kind(Enum):
    """What a message does. The value is the status byte of channel 1."""

    NOTE_OFF = 0x80
    NOTE_ON = 0x90
    CONTROL = 0xB0
    PROGRAM = 0xC0
    BEND = 0xE0


RANKS = {Kind.NOTE_OFF: 0, Kind.CONTROL: 1, Kind.BEND: 1, Kind.PROGRAM: 2, Kind.NOTE_ON: 3}


@dataclass(frozen=True, slots=True)
class TimedMessage:
    """One message of a part, due at `moment`."""

    moment: Beats
    part: Part
    channel: int
    kind: Kind
    data: tuple[int, ...]

    @property
    def rank(self) -> int:
        """Its turn among the messages of the same moment."""
        return RANKS[self.kind]

    @property
    def wire(self) -> bytes:
        """The bytes as an instrument receives them."""
        return bytes((self.kind.value | self.channel - 1, *self.data))


@dataclass(frozen=True, slots=True)
class Voice:
    """Makes the messages of one part on one channel."""

    part: Part
    channel: int

    def control(self, moment: Beats, number: int, value: int) -> TimedMessage:
        """Set a controller."""
        return TimedMessage(moment, self.part, self.channel, Kind.CONTROL, (number, value))

    def program(self, moment: Beats, number: int) -> TimedMessage:
        """Choose an instrument, 0..127."""
        return TimedMessage(moment, self.part, self.channel, Kind.PROGRAM, (number,))

    def bend(self, moment: Beats, amount: int) -> TimedMessage:
        """Bend the whole channel: 14 bits, low seven first."""
        return TimedMessage(moment, self.part, self.channel, Kind.BEND, (amount & 0x7F, amount >> 7))

    def note(self, onset: Beats, end: Beats, key: int, velocity: int) -> tuple[TimedMessage, TimedMessage]:
        """A note, as its beginning and its end."""
        if end <= onset:
            raise ValueError(f"the {self.part.value.lower()} note at beat {onset.exact} has no length")
        begin = TimedMessage(onset, self.part, self.channel, Kind.NOTE_ON, (key, velocity))
        finish = TimedMessage(end, self.part, self.channel, Kind.NOTE_OFF, (key, RELEASE_VELOCITY))
        return begin, finish


def in_order(messages: Iterable[TimedMessage]) -> tuple[TimedMessage, ...]:
    """Messages as they are to be sent."""
    return tuple(sorted(messages, key=lambda message: (message.moment.exact, message.rank)))
