"""Stand in for the machine's time and for an instrument, so that hours pass at once and nothing hangs unseen."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

LOOKING_TAKES_NS = 1_000
"""Each look at the clock takes a microsecond, so that whoever watches it gets on."""


class FakeClock:
    """A clock that sleeps exactly, and may be told to oversleep."""

    def __init__(self) -> None:
        self.ns = 5_000_000_000
        self.oversleeps_ns = 0
        self.when_asleep: Callable[[], None] | None = None

    def now_ns(self) -> int:
        self.ns += LOOKING_TAKES_NS
        return self.ns

    def sleep_ns(self, span: int) -> None:
        self.ns += max(span, 0) + self.oversleeps_ns
        self.oversleeps_ns = 0
        if self.when_asleep:
            self.when_asleep()


@dataclass(slots=True)
class Instrument:
    """Sixteen channels by MIDI 1.0: what sounds, the bends, the controllers; and all that was received, with times.

    Controller 121 lets go of bend, expression and pedal (RP-015); controller 123 ends the notes of its channel.
    """

    clock: FakeClock | None = None
    deaf: bool = False
    sounding: set[tuple[int, int]] = field(default_factory=set)
    bends: dict[int, int] = field(default_factory=dict)
    controllers: dict[tuple[int, int], int] = field(default_factory=dict)
    received: list[tuple[int, bytes]] = field(default_factory=list)

    def hear(self, wire: bytes) -> None:
        if self.deaf:
            return
        self.received.append((self.clock.ns if self.clock else 0, wire))
        kind, channel = wire[0] & 0xF0, (wire[0] & 0x0F) + 1
        if kind == 0x90 and wire[2]:
            self.sounding.add((channel, wire[1]))
        elif kind in (0x80, 0x90):
            self.sounding.discard((channel, wire[1]))
        elif kind == 0xE0:
            self.bends[channel] = wire[1] | wire[2] << 7
        elif kind == 0xB0:
            self.control(channel, wire[1], wire[2])

    def control(self, channel: int, number: int, value: int) -> None:
        self.controllers[channel, number] = value
        if number == 121:
            self.bends[channel] = 8192
            self.controllers[channel, 11] = 127
            self.controllers[channel, 64] = 0
        if number == 123:
            self.sounding = {one for one in self.sounding if one[0] != channel}

    @property
    def wires(self) -> list[bytes]:
        return [wire for _, wire in self.received]

    @property
    def struck(self) -> list[bytes]:
        return [wire for wire in self.wires if wire[0] & 0xF0 == 0x90 and wire[2]]
